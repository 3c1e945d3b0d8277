"""Piece: what is the shape of the original, and how does it stand in the flask?"""
