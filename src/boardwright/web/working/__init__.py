"""What is worked out for a page: once for all who ask, behind their backs, or only tried."""
