"""The homes that the page shows and changes, with all that is kept of them."""
