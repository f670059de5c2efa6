"""Go or no go: what must be done before a board may be replaced."""
