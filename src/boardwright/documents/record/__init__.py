"""The design file: the whole result as JSON, in a published form."""
