"""Tests of the freeze stage."""
