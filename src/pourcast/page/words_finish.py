"""What may touch the casting, sentence by sentence."""

from collections.abc import Sequence

from pourcast.finish.acts import BENDS_AT_MOST
from pourcast.finish.model import Act, FinishResult, PartFinish
from pourcast.page.figures import clean, grams, in_100, number
from pourcast.page.words import quoted

TOOLS: dict[Act, str] = {
    "wheel": "wire wheel",
    "hand brush": "hand brush",
    "pressure blast": "pressure blast",
    "light blast only": "light blast",
}
"""What each act is called in the picture, the roughest first."""

_ANSWERS: dict[Act, str] = {
    "wheel": "Every part bears brush, blast and wire wheel.",
    "hand brush": "Hand brush and blast; a wire wheel bends {weak}.",
    "pressure blast": "Blast only: a brush bends {weak}.",
    "light blast only": "A light blast from afar and nothing else on {weak}.",
    "leave": "Leave {weak} as it comes from the water.",
}


def answer(finish: FinishResult) -> str:
    """Return what the weakest parts bear."""
    order = list(_ANSWERS)
    worst = max((part.act for part in finish.parts), key=order.index)
    weak = [part for part in finish.parts if part.act == worst]
    return _ANSWERS[worst].format(weak=_named(weak))


def break_out(finish: FinishResult) -> str:
    """Return what a water jet does to the parts."""
    weak = [part for part in finish.parts if part.bent_by_water > BENDS_AT_MOST]
    if not weak:
        return "No part bends under a jet of water at the break-out."
    return f"A hard jet of water bends {_named(weak)}: soak and swill."


def cuts(finish: FinishResult) -> str:
    """Return where it is cut."""
    places = [
        (f"{cut.count} times " if cut.count > 1 else "")
        + f"{clean(cut.place)} ({number(1e6 * cut.area, 2)} mm²)"
        for cut in finish.cuts
    ]
    return f"Cut at: {', '.join(places)}." if places else ""


def metal(finish: FinishResult) -> str:
    """Return where the metal is after the casting."""
    balance = finish.balance
    cut_off = balance.feeds + balance.vents
    said = (
        f"Of {grams(balance.charged)} melted, {grams(balance.work)} are the piece, "
        f"{grams(balance.button)} the button"
    )
    if cut_off > 0.0:
        said += f", {grams(cut_off)} feeds and vents"
    return f"{said}, {grams(balance.lost)} are lost; {grams(balance.back)} go back into the pot."


def in_words(part: PartFinish, act: Act) -> str:
    """Return whether a part bears an act, in words."""
    if act in part.allowed:
        return "bears it"
    share = part.bent.get(act, 1.0)
    return f"bends in {in_100(share)} of 100"


def _named(parts: Sequence[PartFinish], most: int = 3) -> str:
    names = [quoted(part.name) for part in parts]
    shown = names[:most]
    if len(names) > most:
        return f"{', '.join(shown)} and {len(names) - most} more"
    return " and ".join(filter(None, [", ".join(shown[:-1]), shown[-1]]))
