"""Does a wrong constant turn a test red?  See `tests.mutation.run`."""
