"""Tests of `pourcast.page`."""
