"""Sweep: how does the chance move over a range of what can be set?"""
