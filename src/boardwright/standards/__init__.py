"""Editions of the standard: figures with their pedigree, as data."""
