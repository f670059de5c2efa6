"""Every number opened to its working."""
