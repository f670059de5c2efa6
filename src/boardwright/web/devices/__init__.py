"""The devices that were let in, how they are, and who changes something on them."""
