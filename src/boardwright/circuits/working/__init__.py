"""Workings: each number of a circuit opened to its formula, its values and its clause."""
