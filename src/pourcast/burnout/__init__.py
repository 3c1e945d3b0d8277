"""Is the cavity clean, is the block whole, and by which curve?"""
