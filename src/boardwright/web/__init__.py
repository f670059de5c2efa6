"""The page of a job on this machine: thin routes over the same functions as the command line."""
