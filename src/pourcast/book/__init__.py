"""Book: what was forecast, what came out, and what does that leave in stock and money?"""
