"""Figures, names and sentences as every paper writes them."""
