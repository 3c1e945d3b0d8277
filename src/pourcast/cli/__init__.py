"""Command line: read a piece file, forecast, write."""
