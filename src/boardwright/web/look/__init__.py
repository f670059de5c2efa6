"""How the page looks: light and dark, drawings, moments, and the files that it is served with."""
