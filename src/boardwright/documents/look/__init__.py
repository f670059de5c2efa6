"""How every paper looks: tokens, typeface, marks of a verdict."""
