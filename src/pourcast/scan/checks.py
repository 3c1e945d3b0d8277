"""Checks: what a scan tells the caster.

Limits: 1 mm for a gap is common practice without a source; the others are
estimates from a few test meshes of our own.
"""

from pourcast import units as si
from pourcast.findings import Finding, Kind, Level
from pourcast.piece.model import NINE_OF_TEN
from pourcast.scan.model import Scanned, ScannedPart
from pourcast.scan.neighbours import NARROW
from pourcast.scan.share import TORN, WINDING
from pourcast.scan.unseen import TOLD

THIN = 0.8e-3
"""Ways thinner than this are named [m]; common practice, no source."""

UNSEEN = 0.05
"""Of the surface that may belong to no part; estimate."""

VOLUME_GAP = 0.05
"""Between the volume of the mesh and that of the parts; estimate."""

WALLS_READ = 0.5
"""Of the surface of a part, from which its wall must be read; estimate."""

_MOST_TOLD = 6  # of one kind; more are counted


def findings(scanned: Scanned) -> tuple[Finding, ...]:
    """Tell the caster what to look at before the piece file is used.

    Parameters
    ----------
    scanned : Scanned

    Returns
    -------
    tuple of Finding
    """
    return (
        *_volume(scanned),
        *_torn(scanned),
        *_lost(scanned),
        *_thin(scanned),
        *_walls(scanned),
        *_unsure(scanned),
        *_touching(scanned),
        *_narrow(scanned),
        *_hollow(scanned),
    )


def _volume(scanned: Scanned) -> tuple[Finding, ...]:
    held = sum(part.volume for part in scanned.parts)
    apart = held / scanned.mesh_volume - 1.0
    text = (
        f"The mesh holds {1e6 * scanned.mesh_volume:.3f} ml, the parts of the piece file "
        f"{1e6 * held:.3f} ml: {100 * abs(apart):.1f} % apart"
    )
    if abs(apart) <= VOLUME_GAP:
        return (
            _finding("mesh-volume", "GOOD", f"{text}.", 100 * abs(apart), 100 * VOLUME_GAP, "%"),
        )
    text += (
        f", more than {100 * VOLUME_GAP:.0f} %. A part is missing, joined to another or taken for "
        "another shape: hold the picture beside the original."
    )
    return (_finding("mesh-volume", "WATCH", text, 100 * abs(apart), 100 * VOLUME_GAP, "%"),)


def _torn(scanned: Scanned) -> tuple[Finding, ...]:
    if scanned.bad_lines <= WINDING:
        return ()
    text = (
        f"{100 * scanned.bad_lines:.1f} % of the scan lines meet a hole (up to "
        f"{100 * TORN:.0f} % can be worked with); the shape there is filled by estimate, and its "
        "volume comes out too small rather than too large."
    )
    return (_finding("torn-mesh", "WATCH", text, 100 * scanned.bad_lines, 100 * WINDING, "%"),)


def _lost(scanned: Scanned) -> tuple[Finding, ...]:
    found = []
    if scanned.loose:
        text = (
            f"{scanned.loose} loose pieces hold {100 * scanned.loose_share:.1f} % of the volume; "
            "nothing leads to them from the gate, so no metal would. Join them with wax, or take "
            "them out of the scan."
        )
        found.append(_finding("scan-loose", "WATCH", text, float(scanned.loose), 0.0, ""))
    if scanned.unseen_share > UNSEEN:
        text = (
            f"{100 * scanned.unseen_share:.1f} % of the surface belongs to no part of the piece "
            f"file; it should be under {100 * UNSEEN:.0f} %. Pick the gate by hand, or add what "
            "is missing as [[part]]."
        )
        found.append(
            _finding("surface-unread", "WATCH", text, 100 * scanned.unseen_share, 100 * UNSEEN, "%")
        )
    if scanned.too_small:
        text = (
            f"{scanned.too_small} ends are too short to be parts in cells of "
            f"{1e3 * scanned.cell:.2g} mm and were left with what they grow on. Hairs and teeth "
            "fill last; finer cells (--voxel) show more of them."
        )
        found.append(_finding("ends-too-short", "GOOD", text, float(scanned.too_small), 0.0, ""))
    return tuple(found)


def _thin(scanned: Scanned) -> tuple[Finding, ...]:
    thin = [(min(*p.thickness, *p.width), p) for p in scanned.parts]
    thin = sorted((pair for pair in thin if pair[0] < THIN), key=lambda pair: pair[0])
    return tuple(
        _finding(
            "thin-way",
            "WATCH",
            f"{part.name} is {1e3 * size:.2f} mm across at its thinnest, under "
            f"{1e3 * THIN:.1f} mm; the ways this thin are the first that stay empty. Thicken it "
            "with wax, or count on losing some.",
            1e3 * size,
            1e3 * THIN,
            "mm",
            part=part,
            kind="common practice",
        )
        for size, part in thin[:_MOST_TOLD]
    )


def _walls(scanned: Scanned) -> tuple[Finding, ...]:
    return tuple(
        _finding(
            "walls-unread",
            "WATCH",
            f"The thickness of {part.name} could be read at {100 * part.walls_read:.0f} % of its "
            f"surface; it must be {100 * WALLS_READ:.0f} %. Measure it with a caliper and put it "
            "into the corrections file.",
            100 * part.walls_read,
            100 * WALLS_READ,
            "%",
            part=part,
        )
        for part in scanned.parts
        if part.walls_read < WALLS_READ
    )


def _unsure(scanned: Scanned) -> tuple[Finding, ...]:
    found = [
        _finding(
            "section-unsure",
            "WATCH",
            f"Width and thickness of {part.name} are within {100 * NINE_OF_TEN * error:.0f} % nine "
            f"times of ten: {_cause(part)}. The forecast draws them so; measure them with a "
            "caliper and put them into the corrections file.",
            100 * NINE_OF_TEN * error,
            100 * NINE_OF_TEN * TOLD,
            "%",
            part=part,
        )
        for part, error in sorted(
            ((part, part.section_error or 0.0) for part in scanned.parts),
            key=lambda pair: -pair[1],
        )
        if error > TOLD
    ]
    return _told(found, "more parts are as unsure.")


def _cause(part: ScannedPart) -> str:
    if part.unseen >= 0.01:
        return f"{100 * part.unseen:.0f} % of its walls lie in holes that were closed"
    return "the grid of cells is too coarse for it"


def _touching(scanned: Scanned) -> tuple[Finding, ...]:
    found = [
        _finding(
            "scan-touching",
            "WATCH",
            f"{scanned.parts[a].name} and {scanned.parts[b].name} touch, or come within a cell of "
            f"{1e3 * scanned.cell:.2g} mm; they will be one in metal. Part them, or take it so.",
            None,
            1e3 * scanned.cell,
            "mm",
            part=scanned.parts[a],
        )
        for a, b in scanned.touching
    ]
    return _told(found, "more pairs of parts touch.")


def _narrow(scanned: Scanned) -> tuple[Finding, ...]:
    found = [
        _finding(
            "scan-narrow",
            "WATCH",
            f"Between {scanned.parts[a].name} and {scanned.parts[b].name} are {1e3 * gap:.2f} mm; "
            f"slurry hardly enters a gap under {1e3 * NARROW:.0f} mm, and a bubble there becomes "
            "metal. Spread them, or fill the gap with wax.",
            1e3 * gap,
            1e3 * NARROW,
            "mm",
            part=scanned.parts[a],
            kind="common practice",
        )
        for a, b, gap in sorted(scanned.narrow, key=lambda pair: pair[2])
    ]
    return _told(found, f"more gaps are under {1e3 * NARROW:.0f} mm.")


def _hollow(scanned: Scanned) -> tuple[Finding, ...]:
    return tuple(
        _finding(
            "hollow-part",
            "WATCH",
            f"{part.name} is hollow, with a wall of {1e3 * part.thickness[0]:.2f} mm. Slurry must "
            "get in and stay whole as a core; the piece file has the wall as a blade that is as "
            "wide as its girth.",
            1e3 * part.thickness[0],
            None,
            "mm",
            part=part,
        )
        for part in scanned.parts
        if part.hollow
    )


def _told(found: list[Finding], rest: str) -> tuple[Finding, ...]:
    """Return the first findings of a kind, and how many there are beside them."""
    if len(found) <= _MOST_TOLD:
        return tuple(found)
    left = len(found) - _MOST_TOLD
    return (
        *found[:_MOST_TOLD],
        _finding(found[0].key, "WATCH", f"{left} {rest}", float(left), None, ""),
    )


def _finding(
    key: str,
    level: Level,
    text: str,
    value: si.Ratio | None,
    limit: si.Ratio | None,
    unit: str,
    *,
    part: ScannedPart | None = None,
    kind: Kind = "estimate",
) -> Finding:
    source = "common practice, no source" if kind == "common practice" else "estimate"
    return Finding(
        stage="scan",
        key=key,
        level=level,
        text=text,
        part=None if part is None else part.name,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        kind=kind,
    )
