"""Learn: what do this studio's own castings and tests say of what nobody knows exactly?"""
