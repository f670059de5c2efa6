"""One module a step; its number says its place."""
