"""The duty of the SPD on paper: what stands ahead of it, how it wears, an owner's decline."""
