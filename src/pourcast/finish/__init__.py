"""Finish: can it be cleaned without bending it, where is it cut, what comes back?"""
