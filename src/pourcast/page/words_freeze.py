"""What the freezing says, sentence by sentence: feeding, holes, and the quench."""

from pourcast import units as si
from pourcast.findings import in_100_draws
from pourcast.forecast.model import FreezeForecast
from pourcast.freeze.checks import HALF
from pourcast.freeze.quench import MARGIN
from pourcast.freeze.usual import USUAL_QUENCH
from pourcast.page.figures import JOIN, number, with_unit
from pourcast.page.words import quoted
from pourcast.speech import CELSIUS, Speech

_MINUTE = 60.0


def answer(freeze: FreezeForecast) -> str:
    """Return what is solid last, and where holes form."""
    last = max(freeze.last, key=freeze.last.__getitem__)
    first = (
        "The button sets last, as it should."
        if last == "button"
        else f"{quoted(last)} sets after the button, and nothing feeds it."
    )
    likely = [spot for spot in freeze.spots if spot.chance >= HALF]
    if not likely:
        rare = max(freeze.spots, key=lambda spot: spot.chance, default=None)
        if rare is None:
            return f"{first} No hollow is to be expected."
        often = in_100_draws(rare.chance)
        return f"{first} A hollow in {quoted(rare.part)} in {often} of 100 castings, else none."
    worst = likely[0]
    return f"{first} Expect {hollow(worst.total)} of hollow in {quoted(worst.part)}."


def spread(freeze: FreezeForecast) -> str:
    """Return how much the piece must shrink without being fed, with its spread."""
    low, high = (hollow(volume) for volume in (freeze.lack.p10, freeze.lack.p90))
    if freeze.all_solid is None:
        return f"All places together lack {low} to {high}."
    early, late = freeze.all_solid.p10 / _MINUTE, freeze.all_solid.p90 / _MINUTE
    return (
        f"All places together lack {low} to {high} of metal. All is solid "
        f"{number(early, 2)} to {with_unit(late, 'min', 2)} after the pour began."
    )


def top(freeze: FreezeForecast) -> str:
    """Return whether the button is covered."""
    if freeze.top == "covered":
        return "The button is covered after the pour."
    return "The button is left open; fibre or dry powder on it keeps it feeding longer."


def quench(freeze: FreezeForecast) -> str:
    """Return when it may go into water."""
    first, last = freeze.quench_from.p90, freeze.quench_to.p50
    begin = (
        "Not into water by the clock: the button is not known to be solid"
        if first is None
        else f"Not into water before {_minutes(first)} after the pour by this forecast, and not "
        f"while the button still glows; usual for bronze are {USUAL_QUENCH.low:g} to "
        f"{USUAL_QUENCH.high:g} min by size"
    )
    if last is None:
        return f"{begin}."
    return f"{begin}. The powder bursts off in water until about {_minutes(last)}."


def quench_spread(freeze: FreezeForecast, speech: Speech = CELSIUS) -> str:
    """Return how far the two ends of the window may lie."""
    first, last = freeze.quench_from, freeze.quench_to
    told = []
    if first.p10 is not None and first.p90 is not None:
        told.append(
            f"Solid, and the button {speech.step(MARGIN)} under its solidus, after "
            f"{_bare(first.p10)} to {_minutes(first.p90)} in 80 of 100."
        )
    if last.p10 is not None and last.p90 is not None:
        told.append(
            f"The powder has set too cold to burst off after {_bare(last.p10)} to "
            f"{_minutes(last.p90)}."
        )
    return " ".join(told)


def hollow(volume: si.CubicMetre) -> str:
    """Return a small volume [m³] in mm³, in cm³ from a tenth of one on."""
    cubic = 1e9 * volume
    if cubic >= 100.0:
        return f"{number(cubic / 1000.0, 2)}{JOIN}cm³"
    return f"{number(cubic, 2)}{JOIN}mm³" if cubic >= 0.05 else f"0{JOIN}mm³"


def _minutes(time: si.Second) -> str:
    return with_unit(time / _MINUTE, "min", 2)


def _bare(time: si.Second) -> str:
    return number(time / _MINUTE, 2)
