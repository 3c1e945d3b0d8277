"""Tests of `pourcast.forecast`."""
