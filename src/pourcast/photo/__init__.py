"""Photo: what are the parts of the original, read from one or two photographs?"""
