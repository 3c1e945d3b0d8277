"""Page: the forecast as one sheet of HTML, for screen and paper."""
