"""What can be bought: devices, enclosures, cables and appliances, as data files."""
