"""Strategies: records of every kind, drawn at random within sensible limits."""

import math
from dataclasses import replace

from hypothesis import strategies as st

from pourcast.burnout.model import Kiln, KilnStep, Original
from pourcast.forecast.model import Outcomes
from pourcast.melt.model import Charge
from pourcast.mould.model import Flask, Mix
from pourcast.piece.measure import measure
from pourcast.piece.model import (
    Button,
    Measures,
    Network,
    Part,
    PartMeasures,
    Piece,
    Shape,
    Vent,
)
from pourcast.piece.network import build
from pourcast.piece.place import Placed, place
from pourcast.sheet.model import Assist, Plan, Studio

MOST_MEMBERS = 60  # of a drawn piece, so that an example costs milliseconds


def sizes(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths in metres; no two examples differ by less than they could be read."""
    return st.floats(low, high, allow_nan=False).map(lambda size: round(size, 6))


def angles(low: float, high: float) -> st.SearchStrategy[float]:
    """Whole degrees, in radians."""
    return st.integers(round(math.degrees(low)), round(math.degrees(high))).map(math.radians)


def buttons() -> st.SearchStrategy[Button]:
    """Buttons of 20 to 40 mm with a gate of 2 to 12 mm."""
    return st.builds(
        Button,
        diameter=sizes(0.02, 0.04),
        height=sizes(0.01, 0.03),
        gate_diameter=sizes(0.002, 0.012),
        material=st.just("casting"),
        tilt=angles(-math.pi / 4, math.pi / 4),
        top=st.sampled_from(("open", "covered")),
    )


@st.composite
def parts(
    draw: st.DrawFn,
    *,
    name: str = "stem",
    parent: str = "button",
    most: int = 6,
    coats: bool = True,
    shapes: tuple[Shape, ...] = ("rod", "blade", "lump"),
) -> Part:
    """One part; a row, a whorl or a single one."""
    shape = draw(st.sampled_from(shapes))
    thickness = (draw(sizes(3e-4, 6e-3)), draw(sizes(3e-4, 6e-3)))
    width = (draw(sizes(1e-3, 2e-2)), draw(sizes(1e-3, 2e-2)))
    if shape == "rod":
        width = thickness
    elif shape == "lump":
        width, thickness = (width[0], width[0]), (thickness[0], thickness[0])
    at = draw(st.tuples(st.integers(0, 20), st.integers(0, 20)))
    return Part(
        name=name,
        parent=parent,
        shape=shape,
        count=draw(st.integers(1, max(1, most))),
        length=draw(sizes(2e-3, 8e-2)),
        width=width,
        thickness=thickness,
        position=(at[0] / 20, at[1] / 20),
        angle=draw(angles(0.0, math.pi)),
        turn=draw(angles(0.0, 2 * math.pi)),
        turn_step=draw(angles(0.0, math.pi)),
        bend=draw(st.one_of(st.just(0.0), angles(-2 * math.pi, 2 * math.pi))),
        coat=draw(st.sampled_from((0.0, 1e-4, 3e-4))) if coats else 0.0,
        material="plant",
    )


@st.composite
def pieces(
    draw: st.DrawFn,
    *,
    coats: bool = True,
    shapes: tuple[Shape, ...] = ("rod", "blade", "lump"),
) -> Piece:
    """Pieces of one to five parts without joints, some with vents and readings."""
    drawn: list[Part] = []
    members = {"button": 1}
    left = MOST_MEMBERS
    for i in range(draw(st.integers(1, 5))):
        parent = draw(st.sampled_from(list(members))) if i else "button"
        most = left // members[parent]
        if most < 1:
            break
        part = draw(
            parts(name=f"part {i}", parent=parent, most=min(6, most), coats=coats, shapes=shapes)
        )
        members[part.name] = members[parent] * part.count
        left -= members[part.name]
        drawn.append(part)
    vented = draw(st.sets(st.sampled_from([part.name for part in drawn])))
    return Piece(
        name="drawn",
        parts=tuple(drawn),
        button=draw(buttons()),
        vents=tuple([draw(vents(part=name)) for name in sorted(vented)]),
        displaced_volume=draw(st.none() | sizes(1e-6, 1e-4)),
        weighed_mass=draw(st.none() | sizes(1e-3, 1e-1)),
    )


def vents(part: str = "stem") -> st.SearchStrategy[Vent]:
    """Vents of a named part."""
    return st.builds(
        Vent,
        part=st.just(part),
        diameter=sizes(8e-4, 1.5e-3),
        length=sizes(5e-3, 5e-2),
        leads_to=st.sampled_from(("air", "vacuum")),
    )


def networks() -> st.SearchStrategy[Network]:
    """Networks of drawn pieces."""
    return pieces().map(build)


def measures() -> st.SearchStrategy[Measures]:
    """Measures of drawn pieces."""
    return pieces().map(lambda drawn: measure(drawn, build(drawn)))


def part_measures() -> st.SearchStrategy[PartMeasures]:
    """Measures of the last part of drawn pieces."""
    return measures().map(lambda drawn: drawn.parts[-1])


def placed() -> st.SearchStrategy[Placed]:
    """Last part of drawn pieces, in its place."""
    return pieces().map(lambda drawn: place(drawn)[-1])


def charges() -> st.SearchStrategy[Charge]:
    """Silicon bronze at 1 050 to 1 200 °C, some of it weighed."""
    weighed = st.none() | st.integers(1, 2000).map(lambda grams: grams / 1000)
    return st.builds(
        Charge,
        alloy=st.just("si_bronze_c87300"),
        pour_temperature=st.integers(1050, 1200).map(lambda degrees: degrees + 273.15),
        on_hand=weighed,
        returns=weighed,
        poured=weighed,
    )


def flasks() -> st.SearchStrategy[Flask]:
    """Flasks of 60 to 150 mm, wider than any drawn part."""
    return st.builds(
        Flask,
        inside_diameter=sizes(0.06, 0.15),
        height=sizes(0.05, 0.25),
        wall=st.sampled_from(("solid", "perforated")),
        wall_thickness=sizes(0.001, 0.005),
        temperature=st.none() | st.integers(300, 700).map(lambda degrees: degrees + 273.15),
    )


def mixes() -> st.SearchStrategy[Mix]:
    """Mixes of 38 to 42 parts of water, at 15 to 30 °C."""
    return st.builds(
        Mix,
        powder=st.just("gypsum_silica"),
        water_to_powder=st.integers(38, 42).map(lambda parts_: parts_ / 100),
        temperature=st.integers(15, 30).map(lambda degrees: degrees + 273.15),
    )


def assists() -> st.SearchStrategy[Assist]:
    """Gravity, or a vacuum of 40 to 95 kPa."""
    vacuum = st.builds(
        Assist,
        kind=st.just("vacuum"),
        vacuum=st.integers(40, 95).map(lambda depth: depth * 1e3),
        pump_time=st.integers(1, 50).map(lambda tenths: tenths / 10),
        lead_time=st.integers(0, 30).map(float),
        seal=st.integers(50, 100).map(lambda percent: percent / 100),
    )
    return st.just(Assist(kind="gravity")) | vacuum


def kiln_steps() -> st.SearchStrategy[KilnStep]:
    """Kiln steps to 100 to 740 °C, some as fast as the kiln can."""
    return st.builds(
        KilnStep,
        temperature=st.integers(100, 740).map(lambda degrees: degrees + 273.15),
        ramp=st.none() | st.integers(20, 300).map(lambda each_hour: each_hour / 3600),
        hold=st.integers(0, 12).map(lambda hours: hours * 3600.0),
    )


def kilns() -> st.SearchStrategy[Kiln]:
    """Kilns of 10 to 200 litres with up to four steps; some are not described."""
    return st.builds(
        Kiln,
        volume=st.none() | st.integers(10, 200).map(lambda litres: litres / 1000),
        power=st.none() | st.integers(1, 12).map(lambda kilowatts: kilowatts * 1e3),
        air_changes=st.none() | st.integers(0, 30).map(lambda each_hour: each_hour / 3600),
        control=st.sampled_from(("hand", "programmed")),
        steps=st.lists(kiln_steps(), max_size=4).map(tuple),
        flasks=st.integers(1, 12),
        dial_top=st.none() | st.integers(1, 12),
        dial_step=st.sampled_from((0.25, 0.5, 1.0)),
    )


def originals() -> st.SearchStrategy[Original]:
    """Originals dried for up to ten years, some with up to three things in or on them."""
    words = st.lists(
        st.sampled_from(("wire", "bone", "lacquer", "pvc", "poisonous_plant")), max_size=3
    )
    return st.builds(
        Original,
        state=st.none() | st.sampled_from(("dry", "fresh", "soaked")),
        holds=words.map(lambda named: tuple(dict.fromkeys(named))),
        drying_time=st.none() | st.integers(0, 3650).map(lambda days: days * 86_400.0),
    )


def studios() -> st.SearchStrategy[Studio]:
    """Places up to 2 000 m with instruments of known and unknown error."""
    kelvins = st.none() | st.integers(1, 30).map(float)
    return st.builds(
        Studio,
        altitude=st.integers(0, 2000).map(float),
        air_pressure=st.none() | st.integers(96, 104).map(lambda pressure: pressure * 1e3),
        metal_thermometer_error=kelvins,
        flask_thermometer_error=kelvins,
        gauge_error=st.none() | st.integers(1, 5).map(lambda pressure: pressure * 1e3),
    )


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Plans of drawn pieces made of leaf; no vent leads to a vacuum that is not there."""
    assist = draw(assists())
    piece = draw(pieces())
    vents_ = piece.vents
    if assist.kind == "gravity":
        vents_ = tuple(replace(vent, leads_to="air") for vent in vents_)
    leaves = tuple(replace(part, material="leaf") for part in piece.parts)
    return Plan(
        piece=replace(piece, parts=leaves, vents=vents_),
        charge=draw(charges()),
        flask=draw(flasks()),
        mix=draw(mixes()),
        assist=assist,
        kiln=draw(kilns()),
        original=draw(originals()),
        studio=draw(studios()),
        invented=draw(st.booleans()),
    )


def outcomes() -> st.SearchStrategy[Outcomes]:
    """Shares of four endings that add up to 1, from draws of up to 1000 pours."""

    def shared(pours: list[int]) -> Outcomes:
        whole, tips, parts_, lost = (count / sum(pours) for count in pours)
        return Outcomes(whole=whole, short_tips=tips, short_parts=parts_, lost=lost)

    counts = st.lists(st.integers(0, 250), min_size=4, max_size=4)
    return counts.filter(any).map(shared)
