"""Back-off: how long to wait before a way that broke is tried again?

The wait doubles from `FIRST` to `LONGEST`, so that a laptop does not hammer a broker
that is down, and begins anew once something was heard.
"""

from collections.abc import Iterator

from pourcast import units as si

FIRST, LONGEST = 0.5, 30.0
"""s; our own choice: a kiln is looked at each quarter of an hour."""


def waits(first: si.Second = FIRST, longest: si.Second = LONGEST) -> Iterator[si.Second]:
    """Yield how long to wait before each try [s].

    Parameters
    ----------
    first, longest : float [s]

    Examples
    --------
    >>> made = waits()
    >>> [next(made) for _ in range(8)]
    [0.5, 1.0, 2.0, 4.0, 8.0, 16.0, 30.0, 30.0]
    """
    wait = first
    while True:
        yield wait
        wait = min(2.0 * wait, longest)
