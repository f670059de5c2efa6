"""History that is never overwritten: jobs as versions, and what was done at the board."""
