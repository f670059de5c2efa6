"""The rail: what makes an arrangement legal, and the search for the best one."""
