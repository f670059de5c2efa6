"""Errors and findings: what every room may say. Knows no electricity."""
