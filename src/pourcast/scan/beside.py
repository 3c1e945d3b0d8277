"""Beside: the material file and the pictures that an OBJ names, read by names that stay beside it.

An OBJ has no colour of its own: `mtllib` names a material file, and `map_Kd` in that
a picture.  Both names come from the file and may lead anywhere.  One with `..` is
refused; of one from the root of another machine the last step alone is looked for.
What is read is held against limits before a library sees it, and the library gets the
colours and the pictures alone, whatever else the material file says.

Left out: that the colour of a material is laid over its picture, and where an option of
`map_Kd` moves or scales the picture.

Source: the material format of the OBJ files, keywords newmtl, Kd, map_Kd (from memory).
"""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from io import BytesIO
from typing import TypeAlias

from pourcast.errors import InputError
from pourcast.scan.paint import MOST_PIXELS, PICTURES, require_size

Beside: TypeAlias = Callable[[str, int], bytes | None]
"""Gives a file by its name and the most bytes that are wanted; None: it is not there."""

MOST_MATERIALS = 1_000_000
"""Bytes of a material file; our own choice."""

MOST_PICTURE = 60_000_000
"""Bytes of a picture, as of a photograph; our own choice."""

_MOST_FILES = 50  # material files, and pictures; our own choice
_LIBRARY = re.compile(rb"^[ \t]*mtllib[ \t]+([^\r\n]+)", re.MULTILINE)
_OUTSIDE = re.compile(r"^(/|[A-Za-z]:)")


@dataclass(frozen=True, kw_only=True)
class Materials(Mapping[str, bytes]):
    """What an OBJ names, in the form in which its library asks for it.

    Parameters
    ----------
    text : bytes
        One material file, with colours and pictures alone.
    pictures : dict of str to bytes
        By the names that stand in ``text``.
    """

    text: bytes
    pictures: Mapping[str, bytes]

    def __getitem__(self, name: str) -> bytes:
        """Return a picture by its name; the material file, whatever it is called."""
        return self.pictures.get(name, self.text)

    def __iter__(self) -> Iterator[str]:
        """Give the names of the pictures."""
        return iter(self.pictures)

    def __len__(self) -> int:
        """Return how many pictures there are."""
        return len(self.pictures)


def materials_of(content: bytes, beside: Beside) -> Materials | None:
    """Return the materials that an OBJ names; None: it names none that is there.

    Parameters
    ----------
    content : bytes
        The whole OBJ.
    beside : function of a name and a number of bytes

    Raises
    ------
    InputError
        If a name leads out of the folder, or what it names is too large.
    """
    said = [found.decode("utf-8", "replace").strip() for found in _LIBRARY.findall(content)]
    lines: list[str] = []
    pictures = _Pictures(beside)
    for name in dict.fromkeys(said):
        for text in _libraries(name, beside):
            lines += _cleaned(text, pictures)
    if not lines:
        return None
    return Materials(text="\n".join(lines).encode(), pictures=pictures.packed)


def _libraries(name: str, beside: Beside) -> list[str]:
    """Return the texts under a name, or under each word of it if nothing has the whole of it."""
    whole = _found(name, MOST_MATERIALS, beside)
    words = name.split()
    if whole is None and len(words) > _MOST_FILES:
        raise _refusal(f"{len(words)} material files", f"at most {_MOST_FILES}")
    some = [whole] if whole is not None else [_found(w, MOST_MATERIALS, beside) for w in words]
    return [text.decode("utf-8", "replace") for text in some if text is not None]


def _cleaned(text: str, pictures: "_Pictures") -> list[str]:
    """Return the lines of a material file that are wanted; its pictures are taken in."""
    lines = []
    for line in text.splitlines():
        key, _, rest = line.strip().partition(" ")
        rest = rest.strip()
        if not rest:
            continue
        if key.lower() in ("newmtl", "kd"):
            lines.append(f"{key} {rest}")
        elif key.lower() == "map_kd":
            # An option has its numbers before the name, which then is the last word.
            name = rest.split()[-1] if rest.startswith("-") else rest
            if known := pictures.known(name):
                lines.append(f"map_Kd {known}")
    return lines


class _Pictures:
    """The pictures that were taken in, each once, and how much they unpack to together."""

    def __init__(self, beside: Beside) -> None:
        self._beside = beside
        self._names: dict[str, str] = {}
        self._pixels = 0
        self.packed: dict[str, bytes] = {}

    def known(self, name: str) -> str:
        """Return the name that a picture goes by from here on; "": it is not there, or is none."""
        if name not in self._names:
            if len(self._names) >= _MOST_FILES:
                raise _refusal(f"more than {_MOST_FILES} pictures", f"at most {_MOST_FILES}")
            self._names[name] = self._taken(name)
        return self._names[name]

    def _taken(self, name: str) -> str:
        from PIL import Image

        packed = _found(name, MOST_PICTURE, self._beside)
        if packed is None:
            return ""
        try:
            wide, tall = Image.open(BytesIO(packed), formats=PICTURES).size
        except Image.DecompressionBombError:
            raise _refusal("of over 178 million pixels", f"at most {MOST_PIXELS}") from None
        except OSError:
            return ""
        require_size(f"{wide} x {tall}", wide, tall)
        self._pixels += wide * tall
        if self._pixels > MOST_PIXELS:
            million = f"{MOST_PIXELS // 10**6} million pixels in all its pictures"
            raise _refusal(f"more than {million}", "fewer", "Export them smaller, or without.")
        known = f"picture {len(self.packed)}"
        self.packed[known] = packed
        return known


def _found(name: str, most: int, beside: Beside) -> bytes | None:
    path = name.replace("\\", "/")
    steps = path.split("/")
    if ".." in steps or "\0" in path:
        raise _refusal(
            f"one that leads outside: {name[:60]!r}",
            "a file beside the OBJ, or in a folder beside it",
            "It may be harmful; take the line out, or put the file beside the OBJ.",
        )
    content = beside(steps[-1] if _OUTSIDE.match(path) else path, most)
    if content is not None and len(content) > most:
        raise _refusal(f"over {most // 10**6} MB: {name[:60]!r}", "smaller")
    return content


def _refusal(value: str, must: str, hint: str = "") -> InputError:
    return InputError("material file or picture of an OBJ", value, "", must, hint)
