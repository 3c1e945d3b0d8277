"""Push levers: pump, seal, head and metal, and vacuum where the caster pours by gravity.

Steps and limits.  A vacuum is drawn deeper by 10 kPa, or to 80 kPa, where it is usual to
begin (estimate), at once; to 0.9 of the air of the place at most (estimate; what a worn
pump of a studio still draws).  The pump runs 5 s longer before the pour, to 30 s at
most: it also draws room air through the hot block (estimate).  A seal is mended by 0.05,
and to 0.95 at once, as a new ring makes it (estimate).  A button grows by 10 mm.
"""

import math
from collections.abc import Iterator

from pourcast import units as si
from pourcast.change.ask import Ask, offer, plainly_out, shown, tidy
from pourcast.change.edit_plan import setting
from pourcast.change.model import Cost, Lever, Refused
from pourcast.forecast.air import air_of
from pourcast.sheet.edit import Edit
from pourcast.speech import Gauge, said

VACUUM_STEP = 10e3  # Pa, see above
DEEPEST = 0.9  # of the air, see above
LEAD_STEP = 5.0  # s, see above
MOST_LEAD = 30.0  # s, see above
USUAL_VACUUM = 80e3  # Pa, see above
SEAL_STEP, NEW_SEAL = 0.05, 0.95  # see above
HEAD_STEP = 10e-3  # m, see above
_LEAST_MORE = 2e3  # Pa; less a gauge does not tell (`pour.gauge_error`)


def push_levers(ask: Ask) -> Iterator[Lever | Refused]:
    """Yield the levers of what drives the metal in.

    Parameters
    ----------
    ask : Ask

    Yields
    ------
    Lever or Refused
    """
    if ask.plan.assist.kind == "vacuum":
        yield from _deeper(ask)
        yield from _longer(ask)
        yield from _seal(ask)
    else:
        yield from _pump(ask)
    yield from _head(ask)
    yield from _metal(ask)


def _deeper(ask: Ask) -> Iterator[Lever | Refused]:
    now = ask.plan.assist.vacuum or 0.0
    most = DEEPEST * air_of(ask.plan.studio)
    if ask.at_hand.vacuum is not None:
        most = min(most, ask.at_hand.vacuum)
    to = min(max(now + VACUUM_STEP, USUAL_VACUUM), most)
    if to - now < _LEAST_MORE:
        return
    to = ask.plan.speech.as_read(to)
    written = tidy(si.from_si(to, "kPa"), 9)
    yield offer(
        ask,
        "vacuum",
        moved="vacuum",
        act=said("Pump {more} deeper, to {to}", more=Gauge(to - now), to=Gauge(to)),
        before=shown(si.from_si(now, "kPa")),
        after=shown(written),
        unit="kPa",
        edits=setting(("assist", "vacuum_kPa"), written),
        cost=Cost(
            time=600.0,
            words="a tight hose and seal; try it on the empty table first",
            risk="A thin end of the block may be sucked out; fins where it has cracks.",
        ),
    )


def _longer(ask: Ask) -> Iterator[Lever | Refused]:
    now = ask.plan.assist.lead_time
    to = min(now + LEAD_STEP, MOST_LEAD)
    if to - now < 1.0:
        return
    yield offer(
        ask,
        "pump",
        moved="pump on before the pour",
        act=f"Start the pump {shown(to - now)} s earlier",
        before=shown(now),
        after=shown(to),
        unit="s",
        edits=setting(("assist", "lead_time_s"), tidy(to, 1)),
        cost=Cost(
            words="seconds at the pour",
            risk="The pump draws room air through the hot block and cools it; that is not in "
            "this chance.",
        ),
    )


def _seal(ask: Ask) -> Iterator[Lever | Refused]:
    now = ask.plan.assist.seal
    to = min(max(now + SEAL_STEP, NEW_SEAL), 1.0)
    if to - now < 0.5 * SEAL_STEP:
        return
    yield offer(
        ask,
        "seal",
        moved="seal",
        act="Seal the flask better",
        before=shown(now),
        after=shown(to),
        unit="",
        edits=setting(("assist", "seal"), tidy(to)),
        cost=Cost(time=900.0, words="a new ring or a bed of fibre, and a test on the gauge"),
    )


def _pump(ask: Ask) -> Iterator[Lever | Refused]:
    vacuum = ask.at_hand.vacuum
    if vacuum is None:
        return
    to = min(vacuum, DEEPEST * air_of(ask.plan.studio))
    to = ask.plan.speech.as_read(to)
    written = tidy(si.from_si(to, "kPa"), 9)
    edits: list[Edit] = [*setting(("assist", "kind"), "vacuum")]
    edits += setting(("assist", "vacuum_kPa"), written)
    for place, vent in enumerate(ask.plan.piece.vents):
        if vent.leads_to == "air":
            edits += setting(("vent", place, "leads_to"), "vacuum")
    yield offer(
        ask,
        "assist",
        moved="what drives the metal in",
        act=said("Pour under a vacuum of {to}", to=Gauge(to)),
        before="gravity",
        after="vacuum",
        unit="",
        edits=edits,
        cost=Cost(
            time=1800.0,
            words="the vacuum table, and a seal that holds in the heat",
            risk="A thin end of the block may be sucked out; vents to the air must be shut.",
        ),
    )


def _head(ask: Ask) -> Iterator[Lever | Refused]:
    now = ask.plan.piece.button.height
    to = now + HEAD_STEP
    written = tidy(si.from_si(to, "mm"), 1)
    yield offer(
        ask,
        "head",
        moved="height of the button",
        act=f"Button {shown(si.from_si(HEAD_STEP, 'mm'))} mm taller",
        before=shown(si.from_si(now, "mm")),
        after=shown(written),
        unit="mm",
        edits=setting(("button", "height_mm"), written),
        cost=Cost(
            time=900.0,
            words="wax, metal, and that much less block over the far end",
        ),
    )


def _metal(ask: Ask) -> Iterator[Lever | Refused]:
    poured, account = ask.plan.charge.poured, ask.ready.metal
    if poured is None or poured >= account.metal:
        return
    written = tidy(si.from_si(account.metal, "g"), 0)
    # Out by more than the half of what the need itself is unsure by.
    step = account.metal - account.metal_low
    yield offer(
        ask,
        "metal",
        moved="metal weighed out",
        act="Weigh out as much metal as is advised",
        before=shown(si.from_si(poured, "g")),
        after=shown(written),
        unit="g",
        edits=setting(("metal", "poured_g"), written),
        cost=Cost(words=f"{shown(written - si.from_si(poured, 'g'), 3)} g more to melt"),
        plainly=plainly_out(poured, step, account.metal_low, math.inf),
    )
