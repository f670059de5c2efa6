"""Design a home's consumer unit, its surge protection and its papers."""

__version__ = "0.1.0"
