"""Spreadsheet: texts in a cell of CSV that no spreadsheet runs.

A text that begins like a formula gets an apostrophe before it, so that no spreadsheet
runs what somebody wrote into a name.  A text that is a plain amount, such as -5.30,
stays as it is.

Common practice, no source.
"""

_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def cell_of(text: str) -> str:
    """Return a text as it may stand in a cell.

    Parameters
    ----------
    text : str

    Examples
    --------
    >>> cell_of("=1+1"), cell_of("-5.30"), cell_of("bract")
    ("'=1+1", '-5.30', 'bract')
    """
    if text.startswith(_FORMULA) and not _is_amount(text):
        return f"'{text}"
    return text


def _is_amount(text: str) -> bool:
    return text.removeprefix("-").replace(".", "", 1).isdecimal()
