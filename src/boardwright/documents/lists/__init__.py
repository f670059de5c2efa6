"""The papers that are text or a table."""
