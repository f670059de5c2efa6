"""The board to scale: geometry from the design, ink from the look, one SVG template."""
