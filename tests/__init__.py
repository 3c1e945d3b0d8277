"""Tests of pourcast; a mirror of its folders."""
