"""What do I weigh, and when do I do what: on paper, on a terminal and in a calendar?"""
