"""Values made wrong: which lines of a data file, and how.

A value is made 1.3 times as large together with its low and high end, so that the
loader, which refuses a value outside its range, has nothing to say and the draws shift
with it.
"""

import re
from collections.abc import Iterator

FACTOR = 1.3

_NUMBER = r"(-?[\d.]+(?:[eE][-+]?\d+)?)"
_LINE = re.compile(rf"^(\w+) = {{ value = {_NUMBER}, low = {_NUMBER}, high = {_NUMBER},")
_SECTION = re.compile(r"^\[([\w.]+)\]$")


def wrong_values(text: str) -> Iterator[tuple[str, str]]:
    """Yield a name and the wrong text for each value of a data file that is not 0.

    Parameters
    ----------
    text : str
        Of the data file.
    """
    lines = text.splitlines(keepends=True)
    section = ""
    for number, line in enumerate(lines):
        if heading := _SECTION.match(line.strip()):
            section = heading.group(1)
        found = _LINE.match(line)
        if found is None or float(found.group(2)) == 0.0:
            continue
        key, *kept = found.groups()
        value, low, high = (f"{float(one) * FACTOR:.9g}" for one in kept)
        wrong = f"{key} = {{ value = {value}, low = {low}, high = {high},"
        yield (
            f"{section}.{key}: {kept[0]} → {value}",
            "".join([*lines[:number], wrong + line[found.end() :], *lines[number + 1 :]]),
        )
