"""Torn: from the bytes of a line that may break at any sign to whole lines.

A line counts once its end has come.  Where the way was broken and taken up again the
first piece may lack its beginning ("1.5" of "371.5" is a reading, and a wrong one), and
what stood without an end when it broke may lack the rest.  Both are told and left out.
"""

from pourcast.probe.lines import LONGEST

_END = b"\n"


class Lines:
    """Bytes in, whole lines out.

    A line is begun in the middle after each `broken`, and at the very start, for nobody
    knows what the instrument was saying as it was plugged in.
    """

    def __init__(self) -> None:
        self._left = b""
        self._middle = True

    def add(self, more: bytes) -> tuple[list[str], list[str]]:
        """Return the lines that are whole now, and the pieces that are not to be read.

        Parameters
        ----------
        more : bytes
        """
        *whole, self._left = (self._left + more.replace(b"\r", _END)).split(_END)
        lines = [_text(each) for each in whole]
        torn: list[str] = []
        if lines and self._middle:
            first, self._middle = lines.pop(0), False
            torn += [first] if first.strip() else []
        if len(self._left) > LONGEST:
            # No instrument says so much at once: the line runs at another speed.
            torn.append(_text(self._left[:LONGEST]))
            self._left, self._middle = b"", True
        return [line for line in lines if line.strip()], torn

    def broken(self) -> list[str]:
        """Return the piece that stood without an end as the way broke."""
        left, self._left, self._middle = _text(self._left), b"", True
        return [left] if left.strip() else []


def _text(line: bytes) -> str:
    return line.decode("utf-8", "replace")
