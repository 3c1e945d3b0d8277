"""Where does the piece freeze last, what feeds it, where does it shrink, when to quench?"""
