"""Readings after the work: what was typed on site, held against the limits of the design."""
