"""Tests of the stage `pourcast.mould`."""
