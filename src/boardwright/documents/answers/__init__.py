"""One question answered, as text for a terminal and as JSON."""
