"""Pour: from the furnace that is lit to the piece in the water.

The end of the kiln curve is when the flask leaves the kiln.  Backwards from it the
metal is ready, and the furnace lit; forwards come pour, hold, quench and
break-out.  How long vacuum and quench wait comes from the freezing where it is
worked out, else from common practice.

Left out: a furnace that is still hot from another melt, and a melt that is not
ready: then the flask waits in the kiln, not in the air.
"""

from pourcast import units as si
from pourcast.errors import InputError
from pourcast.findings import Kind
from pourcast.forecast.model import Forecast
from pourcast.materials import Library, Value
from pourcast.runsheet import break_out
from pourcast.runsheet.break_out import between
from pourcast.runsheet.figures import degrees, gauge, grams, marked, span
from pourcast.runsheet.model import Act, Reading, Window
from pourcast.runsheet.usual import Lengths


def acts(
    forecast: Forecast,
    out: si.Second,
    lengths: Lengths,
    hold: Window,
    kind: Kind | None,
    top: Value,
) -> list[Act]:
    """Return the acts of the pour and the break-out.

    Parameters
    ----------
    forecast : Forecast
    out : float [s]
        When the flask leaves the kiln, since the start.
    lengths : Lengths
    hold : Window
    kind : str or None
        How sure the end of the curve is.
    top : Value
        Usual top of a burnout.

    Returns
    -------
    list of Act

    Raises
    ------
    InputError
        If the furnace would have to be lit before the start.
    """
    ready_at = out - lengths.ahead.si
    light = ready_at - lengths.furnace.si
    if light < 0.0:
        raise InputError(
            "furnace", f"{lengths.furnace.si / 60.0:g}", "min", "shorter than the job before it"
        )
    pour = out + lengths.carrying.si
    return [
        *_melt(forecast, light, ready_at, out, lengths),
        *_pour(forecast, out, pour, lengths, hold, kind, top),
        *break_out.acts(forecast, pour, lengths),
    ]


def _melt(
    forecast: Forecast,
    light: si.Second,
    ready_at: si.Second,
    out: si.Second,
    lengths: Lengths,
) -> list[Act]:
    charge, speech = forecast.plan.charge, forecast.plan.speech
    mass = forecast.metal.metal if charge.poured is None else charge.poured
    furnace = lengths.furnace
    own = furnace.si_low == furnace.si_high
    takes = f"{span(furnace.si)}, as you said"
    if not own:
        takes = f"{marked(span(furnace.si), furnace.kind)}, {span(furnace.si_low)} to "
        takes += span(furnace.si_high)
    return [
        Act(
            key="light",
            stage="pour",
            at=light,
            late=max(out - furnace.si, light),
            what=f"Light the furnace. {grams(mass)} of metal, warmed and dry, into the pot.",
            why=f"It takes {takes}. Metal waits badly, a flask in the kiln waits well.",
            kind=None if own else furnace.kind,
            source=furnace.source,
            cautions=("moisture", "metal_fume", "ppe"),
            alarm=900.0,
        ),
        Act(
            key="metal_ready",
            stage="pour",
            at=ready_at,
            late=out,
            what=f"Metal at {degrees(charge.pour_temperature, speech)} in the pot. Skim once, "
            "do not stir.",
            why="Metal is molten before the flask leaves the kiln.",
            kind=lengths.ahead.kind,
            source=lengths.ahead.source,
            readings=(Reading(what="metal", unit=speech.unit),),
            cautions=("metal_fume",),
        ),
    ]


def _pour(
    forecast: Forecast,
    out: si.Second,
    pour: si.Second,
    lengths: Lengths,
    hold: Window,
    kind: Kind | None,
    top: Value,
) -> list[Act]:
    assist, speech = forecast.plan.assist, forecast.plan.speech
    carrying = lengths.carrying
    made = [
        Act(
            key="out",
            stage="pour",
            at=out,
            what="Look at the gate. Flask out, gate up, set down.",
            why=f"From kiln to metal {marked(span(carrying.si_high), carrying.kind)} at most: it "
            "cools from the gate.",
            kind=kind,
            source="end of the kiln curve",
            cautions=("hot_kiln", "compressed_air"),
            readings=(
                Reading(what="gate", choices=("white", "grey", "black")),
                Reading(what="smell", choices=("none", "some")),
                Reading(what="a puff glows", choices=("no", "yes")),
                Reading(what="flask", unit=speech.unit),
                Reading(what="hottest of the day", unit=speech.unit),
                Reading(what=f"over {marked(degrees(top.si, speech), top.kind)}", unit="h"),
            ),
            alarm=900.0,
        )
    ]
    if assist.kind == "vacuum":
        deep = ""
        if assist.vacuum is not None:
            shows = gauge(assist.vacuum, speech)
            deep = f" The gauge should show {shows} below the air outside."
        made.append(
            Act(
                key="pump",
                stage="pour",
                at=max(pour - assist.lead_time, out),
                what=f"Pump on, {assist.lead_time:.0f}\u00a0s before the pour.{deep}",
                why="A fall or a thunk: the end of the block has gone. Do not pour.",
                kind=None,
                source="lead time of the piece file",
                cautions=("hot_flask_vacuum",),
                readings=(Reading(what="gauge at the start", unit=speech.gauge),),
            )
        )
    made.append(
        Act(
            key="pour",
            stage="pour",
            at=pour,
            late=out + max(carrying.si_high, carrying.si),
            what="Pour: one unbroken stream, lip close, cup kept full.",
            why="A broken stream leaves a seam.",
            kind=carrying.kind,
            source=carrying.source,
            cautions=("moisture", "metal_fume", "so2", "ppe"),
            readings=(
                Reading(what="poured at", unit="o’clock"),
                *(
                    (Reading(what="gauge in the pour", unit=speech.gauge),)
                    if assist.kind == "vacuum"
                    else ()
                ),
            ),
        )
    )
    if forecast.plan.piece.button.top == "covered":
        made.append(
            Act(
                key="cover",
                stage="pour",
                at=pour,
                what="Cover the button at once, with dry fibre or dry powder.",
                why="Open it sets before the piece and feeds it no more. Damp in the cover throws "
                "metal.",
                kind=carrying.kind,
                source="top of the button in the piece file",
                cautions=("moisture", "silica_dust", "ppe"),
            )
        )
    if assist.kind == "vacuum":
        made.append(
            Act(
                key="hold",
                stage="pour",
                at=pour + hold.opens,
                early=pour + hold.opens,
                late=pour + hold.shuts,
                what=f"Pump off, {marked(between(hold), hold.kind)} after the pour and not before "
                "the button has lost its shine.",
                why="Off too soon, thin parts drain back.",
                kind=hold.kind,
                source=hold.source,
                cautions=("hot_flask_vacuum",),
                readings=(Reading(what="off at", unit="o’clock"),),
            )
        )
    return made


def alloy_told(forecast: Forecast, book: Library) -> tuple[str, ...]:
    """Return what is to be known of the alloy before it is melted.

    Parameters
    ----------
    forecast : Forecast
    book : Library
    """
    alloy = book.alloy(forecast.plan.charge.alloy)
    flag = forecast.plan.speech.text(alloy.flag)
    return (f"{alloy.name}: {flag.rstrip('.')}.",) if flag else ()


def ready(forecast: Forecast) -> tuple[str, ...]:
    """Return what to have ready at the pour.

    Parameters
    ----------
    forecast : Forecast
    """
    told = [
        "face shield, apron, gauntlets, gaiters",
        "crucible and tongs tried cold, tools dry and warm",
        "skimmer, dip thermometer, dry sand below",
        "a clear way from kiln to pour",
        "warm ingot mould",
    ]
    if forecast.plan.piece.button.top == "covered":
        told.append("dry fibre or dry powder for the button, within reach")
    if forecast.plan.assist.kind == "vacuum":
        told.append("pump tried, gasket whole and dry")
    return tuple(told)
