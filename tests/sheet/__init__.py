"""Tests of `pourcast.sheet`."""
