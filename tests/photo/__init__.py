"""Tests of the reader of photographs."""
