"""Migrations: the steps from one form of the book to the next."""
