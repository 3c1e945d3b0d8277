"""Pour: does the metal get there, and what stops it?"""
