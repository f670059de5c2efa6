"""The papers set as PDF: the pack, and the page of schemes."""
