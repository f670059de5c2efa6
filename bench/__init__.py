"""Speed, as ratios against a named reference of the same run: ./run bench [NAME]."""
