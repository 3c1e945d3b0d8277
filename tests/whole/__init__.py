"""Tests of the forecast as a whole."""
