"""Gating: which flask, and which gates, feeders, vents and leans are worth a trial?"""
