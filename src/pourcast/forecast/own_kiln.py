"""Own kiln: how fast does the kiln of this studio heat and cool, where its days have told?

These numbers are not drawn: they make the curve of a step that names no ramp, and one
curve holds for all draws.  So what a studio has learnt of them goes into the book of
values itself, before a draw is made.

Left out: a written ramp that is steeper than the kiln can do; it is taken as written.
"""

from dataclasses import replace

from pourcast.errors import require_between, require_positive
from pourcast.forecast.model import Calibration, Override
from pourcast.materials import Library, Value

OF_THE_KILN = ("kiln.fastest_ramp", "kiln.fastest_cooling")
"""Keys of what a kiln day tells."""


def with_own_kiln(
    library: Library, calibration: Calibration | None
) -> tuple[Library, Calibration | None]:
    """Return the book of values with the studio's own kiln, and the rest of a calibration.

    Parameters
    ----------
    library : Library
    calibration : Calibration or None

    Returns
    -------
    tuple of Library and Calibration or None
        None: nothing of it is left to be drawn.

    Raises
    ------
    InputError
        If a value is not above 0, or outside its own range.
    """
    if calibration is None:
        return library, None
    mine = [each for each in calibration.overrides if each.key in OF_THE_KILN]
    if not mine:
        return library, calibration
    kiln = library.kiln
    own = {each.key: _own(kiln[each.key.removeprefix("kiln.")], each) for each in mine}
    values = {name: own.get(value.key, value) for name, value in kiln.values.items()}
    group = replace(library.groups["kiln"], materials={"kiln": replace(kiln, values=values)})
    rest = tuple(each for each in calibration.overrides if each.key not in OF_THE_KILN)
    return (
        replace(library, groups={**library.groups, "kiln": group}),
        replace(calibration, overrides=rest) if rest else None,
    )


def _own(value: Value, override: Override) -> Value:
    require_positive(override.key, override.low, value.unit)
    require_between(override.key, override.value, value.unit, override.low, override.high)
    return replace(
        value,
        value=override.value,
        low=override.low,
        high=override.high,
        kind=override.kind,
        source=override.source,
    )
