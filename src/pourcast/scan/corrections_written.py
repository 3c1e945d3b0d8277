"""Corrections written: the file that `pourcast.scan.corrections` reads, from corrections made.

What was put right on a page is kept in the form in which it could have been typed, so
that one reader takes both.  A place is written to 0.1 mm, as the piece file says it; a
size to 1 µm.
"""

import json

from pourcast import units as si
from pourcast.scan.corrections import Corrections
from pourcast.scan.groups import Group
from pourcast.scan.model import Correction


def written_corrections(corrections: Corrections) -> str:
    """Return the text of a corrections file; "" of none.

    Parameters
    ----------
    corrections : tuple of (Correction or Group)

    Returns
    -------
    str
    """
    return "\n".join(_group(one) if isinstance(one, Group) else _part(one) for one in corrections)


def _part(one: Correction) -> str:
    at = ", ".join(f"{1e3 * place:.1f}" for place in one.at)
    lines = ["[[part]]", f"at_mm = [{at}]", *_said(one)]
    if one.width is not None and one.width == one.thickness:
        lines.append(f"diameter_mm = {_pair(one.width)}")
    else:
        for key, pair in (("width_mm", one.width), ("thickness_mm", one.thickness)):
            if pair is not None:
                lines.append(f"{key} = {_pair(pair)}")
    if one.length is not None:
        lines.append(f"length_mm = {_mm(one.length)}")
    if len(lines) == 2:
        # It goes before a group that would drop the part.
        lines.append("drop = false")
    return "\n".join(lines) + "\n"


def _group(one: Group) -> str:
    lines = ["[[group]]"]
    if one.shape is not None:
        lines.append(f'shape = "{one.shape}"')
    if one.order is not None:
        lines.append(f"order = {one.order}")
    for key, limits in (("length_mm", one.length), ("width_mm", one.width)):
        if limits is not None:
            lines.append(f"{key} = [{_mm(limits[0])}, {_mm(limits[1])}]")
    if one.colour is not None:
        lines.append('colour = "#{:02x}{:02x}{:02x}"'.format(*one.colour))
    return "\n".join(lines + _said(one)) + "\n"


def _said(one: Correction | Group) -> list[str]:
    """Return the lines of what both may say."""
    lines = []
    for key, text in (("name", one.name), ("material", one.material)):
        if text is not None:
            # Of a text on one line JSON and TOML have the same escapes.
            lines.append(f"{key} = {json.dumps(text, ensure_ascii=False)}")
    lines += [f"{key} = true" for key, said in (("drop", one.drop), ("join", one.join)) if said]
    return lines


def _pair(pair: tuple[si.Metre, si.Metre]) -> str:
    first, last = map(_mm, pair)
    return first if first == last else f"[{first}, {last}]"


def _mm(length: si.Metre) -> str:
    # A figure with a point is a number to the reader, with or without figures behind it.
    return f"{1e3 * length:.3f}".rstrip("0").rstrip(".")
