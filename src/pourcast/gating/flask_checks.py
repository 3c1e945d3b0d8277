"""Does the piece go into a flask of the shelf, and what is to be watched with it?"""

import math

from pourcast import units as si
from pourcast.findings import Finding, Level
from pourcast.gating.model import Cut, FlaskChoice, FlaskFit, Load
from pourcast.mould.checks import LEAST_WALL, USUAL_WALL, USUAL_WALLS
from pourcast.mould.far_end import FIXED, OF_DIAMETER

HEAVY = 5.0
"""Full flask from which two people or a support are spoken of [kg]; estimate."""

WORTH = 2e-3
"""Moving the button is spoken of if the circle is smaller by as much [m]; estimate."""

FREES = 0.5
"""A pose is spoken of if it leaves less of the undersides near level; estimate."""

LEAST_AREA = 1e-5
"""Undersides near level that are spoken of [m²]; estimate."""

_TRADE = "common practice, no source"
_MOST_CUTS = 2  # parts named in one sentence


def findings(choice: FlaskChoice) -> tuple[Finding, ...]:
    """Return what the caster should know of the flasks on the shelf.

    Parameters
    ----------
    choice : FlaskChoice

    Returns
    -------
    tuple of Finding
    """
    found = [_fits(choice), *_moved(choice), *_bubbles(choice), *_uphill(choice)]
    if choice.nearest.load is not None:
        found.append(_lift(choice.nearest.load))
        found.append(_heat(choice.nearest.load))
    return tuple(found)


def size(inside_diameter: si.Metre, height: si.Metre) -> str:
    """Return the size of a flask as it is spoken of, in mm: "76 x 127".

    Parameters
    ----------
    inside_diameter, height : float [m]
    """
    return f"{1e3 * inside_diameter:.0f} x {1e3 * height:.0f}"


def pose_words(fit: FlaskFit) -> str:
    """Return how the piece stands for the most room: "turned by 30°, leaned by 12°".

    Parameters
    ----------
    fit : FlaskFit
    """
    pose = fit.best.pose
    turn = round(math.degrees(pose.turn)) % 360
    lean = f"leaned by {math.degrees(pose.tilt):.0f}°"
    return f"turned by {turn}° and {lean}" if turn and round(math.degrees(pose.tilt)) else lean


def _fits(choice: FlaskChoice) -> Finding:
    taken = choice.taken
    needs = (
        f"Needs {needed_mm(choice.needed_diameter)} mm inside and "
        f"{needed_mm(choice.needed_height)} mm high"
    )
    level: Level = "GOOD"
    if taken is None:
        level = "STOP"
        text = f"{needs}; {_nearest(choice)}. {_way_out(choice)}"
    else:
        held = taken.best if choice.needs_pose else taken.planned
        as_is = f", {pose_words(taken)}" if choice.needs_pose else ""
        walls = f"{1e3 * held.wall:.0f} mm beside it and {1e3 * held.cover:.0f} mm over the far end"
        named = f"{size(taken.flask.inside_diameter, taken.flask.height)} is the smallest"
        if held.room == "usual":
            text = f"{needs}; {named} that it goes into{as_is}: {walls}. {_cover_rules(taken)}"
        else:
            level = "WATCH"
            text = (
                f"{needs}; {named} that it goes into{as_is}, and only tightly: {walls}. "
                f"{_cover_rules(taken)} {USUAL_WALLS} are usual beside it."
            )
    nearest = choice.nearest
    return Finding(
        stage="gating",
        key="flask-fits",
        level=level,
        text=text,
        value=1e3 * nearest.best.wall,
        limit=1e3 * (USUAL_WALL if taken and level == "GOOD" else LEAST_WALL),
        unit="mm",
        source=(
            f"walls of {USUAL_WALLS} and of {1e3 * LEAST_WALL:.0f} mm: common practice, one voice"
        ),
        kind="common practice",
    )


def needed_mm(length: si.Metre) -> int:
    """Return a size that is needed in whole mm, rounded up but for a tenth.

    Parameters
    ----------
    length : float [m]
    """
    return math.ceil(1e3 * length - 0.1)


def _cover_rules(fit: FlaskFit) -> str:
    by_diameter = 1e3 * OF_DIAMETER * fit.flask.inside_diameter
    return (
        f"Over the far end practice disagrees: a quarter of the diameter ({by_diameter:.0f} mm), "
        f"or {1e3 * FIXED:.0f} mm whatever the flask."
    )


def _nearest(choice: FlaskChoice) -> str:
    sizes = {(fit.flask.inside_diameter, fit.flask.height) for fit in choice.fits}
    largest = max(sizes, key=lambda each: each[0] ** 2 * each[1])
    nearest = choice.nearest.flask
    if (nearest.inside_diameter, nearest.height) == largest:
        return f"largest flask is {size(*largest)}"
    return (
        f"largest flask is {size(*largest)}, and the one that lacks least is "
        f"{size(nearest.inside_diameter, nearest.height)}"
    )


def _way_out(choice: FlaskChoice) -> str:
    """Return what can be done: cut, tilt, a bigger flask."""
    cuts = [_cut(cut) for cut in choice.cuts[:_MOST_CUTS]]
    if len(choice.cuts) > _MOST_CUTS:
        cuts.append(f"{len(choice.cuts) - _MOST_CUTS} more")
    planned, best = choice.nearest.planned, choice.nearest.best
    won = min(best.wall, best.cover) - min(planned.wall, planned.cover)
    if won > 0.5e-3:
        turned = f"{pose_words(choice.nearest)} it wins {1e3 * won:.0f} mm, and that is counted."
        turned = turned[0].upper() + turned[1:]
    else:
        turned = "Turning it and leaning it by up to 20° wins nothing."
    if cuts:
        return f"Cut {' and '.join(cuts)}, or take a bigger flask. {turned}"
    return f"Take a bigger flask, or split the piece and join it afterwards. {turned}"


def _cut(cut: Cut) -> str:
    many = f"{cut.members} of {cut.part}" if cut.members > 1 else cut.part
    # Rounded up: a tip that is cut too long does not go in.
    return f"{many} shorter by {max(math.ceil(1e3 * cut.length), 1)} mm or more"


def _moved(choice: FlaskChoice) -> tuple[Finding, ...]:
    circle = choice.circle
    won = choice.nearest.planned.pose.reach - circle.radius
    if won < WORTH:
        return ()
    return (
        Finding(
            stage="gating",
            key="stands-to-one-side",
            level="GOOD",
            text=(
                f"It stands to one side: about its own middle it reaches {1e3 * circle.radius:.0f} "
                f"mm, about the button {1e3 * (circle.radius + won):.0f} mm. The button set "
                f"{1e3 * math.hypot(circle.x, circle.y):.0f} mm off the middle of the flask wins "
                f"{1e3 * won:.0f} mm of wall."
            ),
            value=1e3 * won,
            unit="mm",
            source="smallest circle that holds the points",
            kind="computed",
        ),
    )


def _bubbles(choice: FlaskChoice) -> tuple[Finding, ...]:
    now, freed = choice.nearest.planned.pose, choice.freed
    if now.level_area < LEAST_AREA:
        return ()
    if freed.level_area > FREES * now.level_area:
        text = (
            f"{1e6 * now.level_area:.0f} mm² of undersides are near level and hold bubbles; no "
            "turn with a lean of up to 20° frees half of them. Vacuum and tapping are needed."
        )
    else:
        turn = round(math.degrees(freed.turn)) % 360
        turned = f"Turned by {turn}° and leaned" if turn else "Leaned"
        text = (
            f"{1e6 * now.level_area:.0f} mm² of undersides are near level and hold bubbles. "
            f"{turned} by {math.degrees(freed.tilt):.0f}° on the button "
            f"{1e6 * freed.level_area:.0f} mm² are left; leaning the flask while it is filled "
            "does as much."
        )
    return (
        Finding(
            stage="gating",
            key="flask-undersides",
            level="WATCH",
            text=text,
            value=1e6 * now.level_area,
            unit="mm²",
            source="undersides within 15° of level: " + _TRADE,
            kind="common practice",
        ),
    )


def _uphill(choice: FlaskChoice) -> tuple[Finding, ...]:
    best, now = choice.nearest.best.pose, choice.nearest.planned.pose
    if not choice.needs_pose or best.rising <= now.rising:
        return ()
    return (
        Finding(
            stage="gating",
            key="leaned-uphill",
            level="WATCH",
            text=(
                f"Leaned so, {best.rising - now.rising} more of its parts run uphill from their "
                "base. Without vacuum nothing should have to fill upwards."
            ),
            value=float(best.rising),
            limit=float(now.rising),
            source=_TRADE,
            kind="common practice",
        ),
    )


def _lift(carried: Load) -> Finding:
    heavy = carried.poured >= HEAVY
    helped = " Lift it with two people or over a support at its height." if heavy else ""
    return Finding(
        stage="gating",
        key="flask-lift",
        level="WATCH",
        text=(
            f"Full it weighs {carried.fresh:.1f} kg on the bench, {carried.steel:.1f} kg of it "
            f"steel; {carried.burnt:.1f} kg hot out of the kiln and {carried.poured:.1f} kg with "
            "the metal in it. Try tongs and the way to the pouring place with a cold flask of that "
            f"weight first.{helped}"
        ),
        value=carried.poured,
        limit=HEAVY,
        unit="kg",
        source="volumes of steel, block and metal; limit set by hand",
        kind="estimate",
    )


def _heat(carried: Load) -> Finding:
    text = f"Block, water and steel take {1e-6 * carried.heat:.1f} MJ up to the top of the burnout"
    if carried.power_time is not None:
        text += f", {carried.power_time / 60.0:.0f} min of the kiln at full power or more"
    return Finding(
        stage="gating",
        key="kiln-lag",
        level="GOOD",
        text=(
            f"{text}. On a steady ramp the middle of the dry block comes "
            f"{carried.lag / 60.0:.0f} min after its wall; while there is water in it, much later."
        ),
        value=carried.lag / 60.0,
        unit="min",
        source="Carslaw and Jaeger 1959, 7.7, a long cylinder whose surface warms evenly",
        kind="computed",
    )
