"""App: the pages of pourcast in a browser, served from this machine alone."""
