"""The survey: what was seen and measured in a home, and what is wished."""
