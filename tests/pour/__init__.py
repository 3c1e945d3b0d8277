"""Tests of `pourcast.pour`."""
