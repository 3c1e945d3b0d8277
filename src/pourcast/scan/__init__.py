"""Scan: which network of parts does a mesh of the original come to?"""
