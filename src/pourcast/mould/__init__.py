"""Mould: what do I mix, and does the block hold the piece?"""
