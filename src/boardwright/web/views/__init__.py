"""What each page shows, as plain frozen values: the templates set it and know nothing else."""
