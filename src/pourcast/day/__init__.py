"""Day: how is it going in the kiln, and what is to be done next?"""
