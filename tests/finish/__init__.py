"""Tests of the stage `pourcast.melt`."""
