"""Tests of `pourcast.piece`."""
