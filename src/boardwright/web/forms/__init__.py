"""What a form brings, as edits and events of a home."""
