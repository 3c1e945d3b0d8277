"""Versions: one file for each form of the book, the oldest first."""
