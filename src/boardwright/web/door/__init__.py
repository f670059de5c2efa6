"""What every request passes before a route: name, device, origin, size and kind."""
