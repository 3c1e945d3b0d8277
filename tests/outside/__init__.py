"""Outside numbers: what they are held against, and the table of the misses."""
