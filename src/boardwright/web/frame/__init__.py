"""What every page has in common: template, rule of tasks, tools, faults, and what routes reach."""
