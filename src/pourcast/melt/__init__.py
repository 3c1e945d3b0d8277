"""Melt: is there metal enough, and what is to be weighed out?"""
