"""Surge protection: the need, the device, its back-up and its conductors."""
