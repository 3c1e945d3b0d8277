"""Signs: what a mark on a casting says of its cause."""
