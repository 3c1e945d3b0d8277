"""Clock: by when must each act of the mixing be done, and when must the slurry be still?

Acts follow each other from the first powder: mixing, vacuum in the bowl, pour,
vacuum in the flask.  The setting times of the powder hold at 21 °C and 40 parts
of water to 100.  They are all multiplied by

    f = (w/0.40)^n · (1 - 12 s/K · (T - 21 °C)/work time)                      (1)

so that the work time is 1 min shorter for each 5 K warmer.  The slurry is not
moved after

    still by = the earlier of the work time and gloss-off less 1.5 to 2 min   (2)

Left out: an old or damp powder, of which a small test mix to gloss-off tells;
salts, sap and set crumbs in the bowl, which hasten the setting; faster mixers.

Sources: common practice, no source: "finish at 8 to 8.5 min", "at 7"; (1)
estimate, with the exponent of the records.
"""

from collections.abc import Mapping

import numpy as np

from pourcast import units as si
from pourcast.errors import InputError, require_between, require_positive
from pourcast.mould.model import ClockCase, Mix, MixClock

USUAL_WATER = 0.40
USUAL_TEMPERATURE = 294.15  # K, 21 °C: middle of the 20 to 22 °C that the records name
_SHORTER = 12.0  # s/K: 1 min for 5 K, estimate
_LEAST, _MOST = 0.3, 3.0  # of (1): beyond it no mix is worked with (estimate)

_NAMES = (
    "mix_time",
    "first_vacuum",
    "pour_time",
    "second_vacuum",
    "work_time",
    "gloss_off",
    "hard_set",
    "still_before_gloss",
    "bench_time",
)


def clock_case(drawn: Mapping[str, si.Seconds], bench_time: si.Second) -> ClockCase:
    """Return what the clock starts from, out of draws of the records of the slurry.

    Parameters
    ----------
    drawn : mapping of str to array [s], shape (draws,)
        Under the last part of the key in "fresh"; ``set_water_exponent`` is a pure number.
    bench_time : float [s]
        Before the gate is opened.

    Returns
    -------
    ClockCase
    """
    return ClockCase(
        mix_time=drawn["mix_time"],
        first_vacuum=drawn["debubble_time"],
        pour_time=drawn["pour_time"],
        second_vacuum=drawn["debubble_time"],
        work_time=drawn["work_time"],
        gloss_off=drawn["gloss_off"],
        hard_set=drawn["hard_set"],
        still_before_gloss=drawn["still_before_gloss"],
        water_exponent=drawn["set_water_exponent"],
        bench_time=np.full_like(drawn["mix_time"], bench_time),
    )


def mix_clock(mix: Mix, case: ClockCase) -> MixClock:
    """Return the clock of a mix, from the first powder to the kiln.

    Parameters
    ----------
    mix : Mix
    case : ClockCase

    Returns
    -------
    MixClock

    Raises
    ------
    InputError
        If a value is outside its limits, or the shapes do not go together.
    """
    require_between("water_to_powder", mix.water_to_powder, "", 0.2, 1.0)
    require_between("mix temperature", mix.temperature, "K", 273.15, 323.15)
    draws = np.shape(case.work_time)
    for name in (*_NAMES, "water_exponent"):
        value = getattr(case, name)
        if np.shape(value) != draws:
            raise InputError(name, np.shape(value), "", f"of shape {draws}")
        if name != "water_exponent":
            require_positive(name, value, "s")
    warmer = _SHORTER * (mix.temperature - USUAL_TEMPERATURE)
    by_water = (mix.water_to_powder / USUAL_WATER) ** case.water_exponent
    factor = np.clip(by_water * (1.0 - warmer / case.work_time), _LEAST, _MOST)
    work, gloss = case.work_time * factor, case.gloss_off * factor
    mixed = case.mix_time
    debubbled = mixed + case.first_vacuum
    poured = debubbled + case.pour_time
    done = poured + case.second_vacuum
    still = np.minimum(work, gloss - case.still_before_gloss)
    hard = np.maximum(case.hard_set * factor, gloss)
    return MixClock(
        mixed=mixed,
        debubbled=debubbled,
        poured=poured,
        done=done,
        still_by=still,
        gloss_off=gloss,
        hard_set=hard,
        open_at=done + np.maximum(case.bench_time, hard - done),
        late=float((done > still).mean()),
        shift=float(np.median(work - case.work_time)),
    )
