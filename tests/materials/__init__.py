"""Tests of `pourcast.materials`."""
