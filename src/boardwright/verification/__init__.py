"""Checks over the whole design, from the stages' results."""
