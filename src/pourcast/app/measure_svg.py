"""Measure pictures: what each box of the sheet measures, drawn small.

The thing is in ink, the measure in the warm colour with a tick at each end.
The words beside say the same, so a reader who does not see it misses nothing.
"""

from collections.abc import Mapping

from markupsafe import Markup

_BUTTON = "M14,54H74L52,22H36Z"
_FLASK = "M20,10V56H68V10"
_ROD = "M10,24L78,28V36L10,40Z"
_BLADE = "M10,32C28,12 58,14 78,32C58,50 28,52 10,32Z"
_EDGE = "M10,29L78,31V33L10,35Z"
_STALK = "M40,60V6H48V60Z"
_LEAF = "M48,30C58,22 70,18 80,20C74,28 62,36 48,34Z"
_DROP = "M44,8C58,26 62,36 62,42A18,18 0 0 1 26,42C26,36 30,26 44,8Z"


def _across(left: float, right: float, at: float) -> str:
    return f"M{left},{at}H{right}M{left},{at - 4}v8M{right},{at - 4}v8"


def _down(top: float, foot: float, at: float) -> str:
    return f"M{at},{top}V{foot}M{at - 4},{top}h8M{at - 4},{foot}h8"


_DRAWN: Mapping[str, tuple[str, str]] = {
    "button.diameter_mm": (_BUTTON, _across(14, 74, 60)),
    "button.height_mm": (_BUTTON, _down(22, 54, 80)),
    "button.gate_diameter_mm": (_BUTTON, _across(36, 52, 15)),
    "button.tilt_deg": ("M30,12L70,12L56,30H44ZM50,30L34,60", "M50,60V34M50,58A26,26 0 0 1 36,56"),
    "button.top": ("M14,30H74L60,56H28Z", "M14,26C26,18 34,28 44,22S62,28 74,22"),
    "button.material": (_BUTTON, ""),
    "flask.inside_diameter_mm": (_FLASK, _across(20, 68, 30)),
    "flask.height_mm": (_FLASK, _down(10, 56, 78)),
    "flask.wall_mm": ("M20,8H30V58H20ZM58,8H68V58H58Z", _across(20, 30, 4) + "M30,4H42"),
    "flask.wall": (_FLASK, "M20,20h.1M20,30h.1M20,40h.1M68,20h.1M68,30h.1M68,40h.1"),
    "flask.temperature_C": (_FLASK, "M44,44V20M44,48a4,4 0 1 0 .1,0M48,24h5M48,32h5M48,40h5"),
    "metal.pour_temperature_C": (
        "M16,20L24,56H58L66,20",
        "M40,44V6M46,12h6M46,20h6M46,28h6M20,32H62",
    ),
    "metal.on_hand_g": ("M18,38H70L62,26H26ZM14,54H74V46H14Z", "M44,46V40"),
    "metal.returns_g": (
        "M26,36L34,14H42L40,36ZM50,36L46,20H56L58,36ZM14,54H74V46H14Z",
        "M44,46V40",
    ),
    "metal.poured_g": ("M14,10H44L40,30H20Z", "M44,12C54,14 56,26 56,40M48,54H66"),
    "investment.water_to_powder": (
        "M8,54V24H36V54ZM52,54V12H80V54Z",
        "M8,36C16,32 22,40 28,36S34,36 36,36M42,28h4M42,36h4",
    ),
    "investment.mixed_at_C": ("M18,18V56H60V18", "M40,46V8M46,14h6M46,22h6M46,30h6M18,30H60"),
    "assist.vacuum_kPa": (
        "M44,10a22,22 0 1 0 .1,0",
        "M44,32L58,20M28,44L31,41M44,14v4M60,44l-3,-3",
    ),
    "assist.pump_time_s": ("M44,14a22,22 0 1 0 .1,0M40,6H48M44,6V14", "M44,36V20"),
    "assist.lead_time_s": ("M44,14a22,22 0 1 0 .1,0M40,6H48M44,6V14", "M44,36L56,42"),
    "assist.seal": ("M22,8V40H66V8M10,46H78V56H10Z", "M22,43H66"),
    "kiln.litres": (
        "M12,22L30,8H78V42L60,56H12ZM12,22H60V56M60,22L78,8",
        "M12,60H60M64,58L80,46M8,22V56",
    ),
    "kiln.kW": ("M16,10H72V54H16Z", "M48,16L36,34H46L40,48"),
    "kiln.air_changes_per_h": (
        "M14,14H74V54H14Z",
        "M30,10C30,2 40,2 40,-2M44,26A10,10 0 1 1 34,36M34,36l-4,-5M34,36l5,-4",
    ),
    "kiln.step.to_C": ("M6,54L34,20H62L82,40", "M30,20H40M6,20h2M14,20h2M22,20h2"),
    "kiln.step.ramp_C_per_h": ("M6,54L34,20H62L82,40", "M10,54H32M32,54V24"),
    "kiln.step.hold_h": ("M6,54L34,20H62L82,40", _across(34, 62, 12)),
    "original.days_dried": (_BLADE + "M10,32H78", ""),
    "measured.displaced_ml": (
        "M24,10V56H60V10M40,20a8,10 0 1 0 .1,0",
        "M24,14H60M62,16C70,18 70,30 70,40",
    ),
    "measured.weight_g": ("M30,40a14,10 0 1 1 28,0ZM12,54H76V46H12Z", "M44,46V41"),
    "part.length_mm": (_ROD, _across(10, 78, 52)),
    "part.diameter_mm": (_ROD, _down(24, 40, 10) + _down(28, 36, 78)),
    "part.width_mm": (_BLADE, _down(18, 46, 34) + _down(26, 38, 70)),
    "part.thickness_mm": (_EDGE, "M20,12V29M20,35V52M17,25l3,4l3,-4M17,39l3,-4l3,4"),
    "part.angle_deg": (_STALK + _LEAF, "M44,32V10M44,14A20,20 0 0 1 60,24"),
    "part.turn_deg": (
        "M44,32m-6,0a6,6 0 1 0 12,0a6,6 0 1 0 -12,0M52,30L78,26V36L52,34Z",
        "M44,10A22,22 0 0 1 64,24M64,24l-1,-6M64,24l-6,-1",
    ),
    "part.turn_step_deg": (
        "M44,32m-6,0a6,6 0 1 0 12,0a6,6 0 1 0 -12,0M52,30L78,26V36L52,34ZM42,24L36,4H46L46,24Z",
        "M46,10A22,22 0 0 1 66,26",
    ),
    "part.bend_deg": (
        "M10,48C30,50 56,42 70,12L76,16C62,48 34,58 10,56Z",
        "M10,52H70M44,52A34,34 0 0 0 58,42",
    ),
    "part.at": (_STALK + "M48,22L70,12V16L48,28ZM40,40L18,30V34L40,46Z", _down(24, 60, 60)),
    "part.count": (
        _STALK + "M48,16L72,8V12L48,22ZM40,26L16,18V22L40,32ZM48,36L72,28V32L48,42Z",
        "M78,10h.1M10,20h.1M78,30h.1",
    ),
    "part.coat_mm": ("M18,20H70V44H18Z", "M12,14H76V50H12ZM76,32H84"),
    "part.tip_on": (
        _STALK + "M10,40C16,20 26,14 40,18L40,22C28,20 20,26 14,42Z",
        "M40,20m-4,0a4,4 0 1 0 8,0a4,4 0 1 0 -8,0",
    ),
    "part.tip_at": (
        _STALK + "M10,40C16,20 26,14 40,18L40,22C28,20 20,26 14,42Z",
        _down(20, 60, 60),
    ),
    "part.on": (_STALK + "M48,22L78,12V16L48,28Z", "M48,25m-5,0a5,5 0 1 0 10,0a5,5 0 1 0 -10,0"),
    "part.material": (_DROP, ""),
    "vent.diameter_mm": ("M10,28H78V34H10Z", "M44,12V28M44,34V50M41,24l3,4l3,-4M41,38l3,-4l3,4"),
    "vent.length_mm": ("M10,28H78V34H10Z", _across(10, 78, 46)),
    "vent.on": (_LEAF + _STALK, "M80,20C84,14 82,8 76,6"),
    "vent.leads_to": ("M20,10V56H68V10", "M44,44C50,34 40,26 44,2M41,6l3,-4l3,4"),
    "studio.altitude_m": ("M4,54L34,14L50,36L60,26L84,54Z", _down(14, 54, 78)),
}


def drawing(words: str) -> Markup:
    """Return the picture of a box by its words' key; empty where there is nothing to draw."""
    if words not in _DRAWN:
        return Markup("")
    thing, measure = _DRAWN[words]
    return Markup(
        f'<svg class="measure" viewBox="0 0 88 64" aria-hidden="true">'
        f'<path class="thing" d="{thing}"/><path class="way" d="{measure}"/></svg>'
    )
