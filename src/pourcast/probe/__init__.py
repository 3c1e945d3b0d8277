"""Probe: what do thermometers of their own say, and how does it get into the day?"""
