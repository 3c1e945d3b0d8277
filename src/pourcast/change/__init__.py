"""Change: what should the caster change first, and how do two plans differ?"""
