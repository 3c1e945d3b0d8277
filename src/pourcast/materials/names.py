"""By which names a material is asked for, and what to say when none fits."""

import difflib
from collections.abc import Iterable

from pourcast.errors import SourceError

_STANDARDS = ("UNS ", "EN ")  # people leave these out


def written_names(designation: str) -> tuple[str, ...]:
    """Return the names in a designation, with and without that of the standard.

    Parameters
    ----------
    designation : str
        Names parted by commas; what stands in round brackets is not a name.

    Returns
    -------
    tuple of str

    Examples
    --------
    >>> written_names("UNS C90700, EN CuSn10")
    ('UNS C90700', 'EN CuSn10', 'C90700', 'CuSn10')
    """
    written = [part.partition("(")[0].strip() for part in designation.split(",")]
    short = [part.partition(" ")[2] for part in written if part.startswith(_STANDARDS)]
    return (*filter(None, written), *short)


def plain(text: str) -> str:
    """Return a name without what people write in different ways.

    Examples
    --------
    >>> plain("UNS C-87300") == plain("uns c87300")
    True
    """
    return "".join(text.split()).replace("-", "").replace("_", "").casefold()


def unknown(fault: str, wanted: str, known: Iterable[str]) -> SourceError:
    """Return the error that names what was wanted and which known names come near."""
    near = {name.casefold(): name for name in known}
    close = difflib.get_close_matches(wanted.casefold(), near, n=3, cutoff=0.6)
    hint = "; did you mean " + " or ".join(f'"{near[name]}"' for name in close) + "?"
    return SourceError(f'{fault} "{wanted}"' + (hint if close else ""))
