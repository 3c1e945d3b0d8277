"""Tests of `pourcast.scan`."""
