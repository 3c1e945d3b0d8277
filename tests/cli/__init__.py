"""Tests of `pourcast.cli`."""
