"""Which values the caster has chosen, and what is usual for each.

The usual ranges are records of the materials library.  A value without such a
record is shown without a band.
"""

from dataclasses import dataclass, replace

import numpy as np

from pourcast import units as si
from pourcast.errors import SourceError
from pourcast.forecast.model import Forecast
from pourcast.materials.load import library
from pourcast.materials.model import Material, Value
from pourcast.page.figures import number, unit_text
from pourcast.speech import Speech

_AT_THE_TOP = 5.0  # K under the hottest that still counts as held there


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """One value of the plan, as it stands on the page.

    Parameters
    ----------
    label : str
    value : float or None [-]
        In ``unit``; None: the plan does not say.
    unit : str
        As in `pourcast.units`.
    usual : pair of float or None [-]
        In ``unit``.
    note : str
        Where the usual range comes from, or "".
    """

    label: str
    value: si.Ratio | None
    unit: str
    usual: tuple[si.Ratio, si.Ratio] | None = None
    note: str = ""

    @property
    def shown(self) -> str:
        """The value as text, without its unit."""
        return "not said" if self.value is None else number(self.value, 4)

    @property
    def shown_unit(self) -> str:
        """The unit as people write it; "" where no value is said."""
        return "" if self.value is None else unit_text(self.unit)

    @property
    def said(self) -> str:
        """What is usual, in words; "" where nothing is kept."""
        if self.usual is None:
            return ""
        low, high = (number(end, 4) for end in self.usual)
        return f"usual {low} to {high}; {self.note}"


def as_told(chosen: Chosen, speech: Speech) -> Chosen:
    """Return a value with its usual range as the caster is told them.

    Parameters
    ----------
    chosen : Chosen
    speech : Speech
    """
    usual = chosen.usual
    if usual is not None:
        low, high = (speech.measure(end, chosen.unit)[0] for end in usual)
        usual = (low, high)
    return replace(
        chosen,
        value=None if chosen.value is None else speech.measure(chosen.value, chosen.unit)[0],
        unit=speech.measure(0.0, chosen.unit)[1],
        usual=usual,
    )


def bench_values(forecast: Forecast) -> list[Chosen]:
    """Return the values that the caster sets at the bench."""
    tilt = si.from_si(forecast.plan.piece.button.tilt, "deg")
    coats = {
        part.coat: si.from_si(part.coat, "mm") for part in forecast.plan.piece.parts if part.coat
    }
    rows = [Chosen(label="Tilt of the piece", value=tilt, unit="deg")]
    rows += [
        Chosen(label="Wax or lacquer on the parts that have it", value=coat, unit="mm")
        for _, coat in sorted(coats.items())
    ]
    return rows


def mix_values(forecast: Forecast) -> list[Chosen]:
    """Return the values that the caster sets when mixing."""
    mix = forecast.plan.mix
    return [
        Chosen(
            label="Water to 100 of powder, by weight",
            value=100.0 * mix.water_to_powder,
            unit="-",
        ),
        Chosen(
            label="Water and powder are at", value=si.from_si(mix.temperature, "degC"), unit="degC"
        ),
    ]


def burn_values(forecast: Forecast) -> list[Chosen]:
    """Return the values that the caster sets at the kiln."""
    burnout = forecast.burnout
    if burnout is None:
        return []
    limits, kiln = library().investment["limits"], library().kiln
    changes = forecast.plan.kiln.air_changes
    top = float(burnout.kiln.max())
    hold = float(np.ptp(burnout.time[burnout.kiln >= top - _AT_THE_TOP]))
    return [
        _with_records("Hottest", si.from_si(top, "degC"), "degC", [limits["burnout_peak_default"]]),
        _with_records("Held there", si.from_si(hold, "h"), "h", [limits["hold_730"]], "for wax, "),
        _with_records(
            "Air of the kiln changes in an hour",
            None if changes is None else si.from_si(changes, "1/h"),
            "1/h",
            [kiln["air_changes_closed"], kiln["air_changes_vented"]],
            "door closed to vented, ",
        ),
    ]


def pour_values(forecast: Forecast) -> list[Chosen]:
    """Return the values that the caster sets at the pour."""
    plan = forecast.plan
    alloy = _alloy(plan.charge.alloy)
    flask = plan.flask.temperature
    rows = [
        _with_records(
            "Flask at the pour",
            None if flask is None else si.from_si(flask, "degC"),
            "degC",
            [alloy[key] for key in alloy if key.startswith("flask_")] if alloy else [],
            "hotter for thinner parts, ",
        ),
        _with_records(
            "Metal at the pour",
            si.from_si(plan.charge.pour_temperature, "degC"),
            "degC",
            [alloy["pour"]] if alloy and "pour" in alloy else [],
        ),
    ]
    if plan.assist.kind == "vacuum":
        vacuum = plan.assist.vacuum
        kiln = library().kiln
        rows.append(
            _with_records(
                "Vacuum below the air outside",
                None if vacuum is None else si.from_si(vacuum, "kPa"),
                "kPa",
                [kiln["vacuum_assist"]] if "vacuum_assist" in kiln else [],
            )
        )
        rows.append(Chosen(label="Pump on, before the pour", value=plan.assist.lead_time, unit="s"))
    return rows


def _alloy(key: str) -> Material | None:
    try:
        return library().alloy(key)
    except SourceError:
        return None


def _with_records(
    label: str, value: si.Ratio | None, unit: str, records: list[Value], before: str = ""
) -> Chosen:
    if not records:
        return Chosen(label=label, value=value, unit=unit)
    low = min(si.from_si(record.si_low, unit) for record in records)
    high = max(si.from_si(record.si_high, unit) for record in records)
    kinds = " and ".join(dict.fromkeys(record.kind for record in records))
    return Chosen(label=label, value=value, unit=unit, usual=(low, high), note=f"{before}{kinds}")
