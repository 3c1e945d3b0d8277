"""Small rankings that several tests look at; each is made once."""

from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

from pourcast.change.ask import Ask
from pourcast.change.at_hand import AtHand
from pourcast.change.ground import Ground, ground_of
from pourcast.change.levers import levers_by_ends
from pourcast.change.model import Lever, Refused
from pourcast.change.push_levers import push_levers
from pourcast.forecast.solve import forecast
from pourcast.gating.model import Proposal
from pourcast.gating.solve import proposals
from pourcast.mould.model import Flask
from pourcast.sheet.model import Plan
from tests.forecast.hand import example

ALL_AT_HAND = AtHand(
    alloys=("sn_bronze_cusn10", "si_bronze_c87300", "yellow_brass_c85700"),
    flasks=(
        Flask(
            inside_diameter=0.1,
            height=0.18,
            wall="perforated",
            wall_thickness=0.002,
            temperature=None,
        ),
    ),
    vacuum=80e3,
    twin=True,
)
"""Whatever a lever could ask for."""


@cache
def text_of(name: str) -> str:
    """Return the piece file of a demo piece."""
    folder = Path(__file__).parents[2] / "examples"
    return (folder / f"{name}.toml").read_text(encoding="utf-8")


@cache
def ground(name: str, draws: int = 40) -> Ground:
    """Return a demo piece as it stands, poured."""
    return ground_of(example(name), None, draws, 0, threads=1)


def ask_of(made: Ground, *, text: str | None = None, at_hand: AtHand = ALL_AT_HAND) -> Ask:
    """Return what the levers of a ground are made from."""
    layout = made.layout
    return Ask(plan=layout.plan, text=text, ready=layout.ready, ends=made.ends, at_hand=at_hand)


@cache
def proposed(name: str) -> tuple[Proposal, ...]:
    """Return what is proposed for a demo piece."""
    return proposals(forecast(example(name), draws=40))


def levers_of(ask: Ask) -> Iterator[Lever | Refused]:
    """Yield every change within the caster's reach, the pushes first."""
    yield from push_levers(ask)
    yield from levers_by_ends(ask)


def only(made: Iterable[Lever | Refused]) -> list[Lever]:
    """Return the levers that are offered."""
    return [each for each in made if isinstance(each, Lever)]


def by_kind(made: Iterable[Lever | Refused], kind: str) -> list[Lever]:
    """Return the levers of a kind."""
    return [each for each in only(made) if each.kind == kind]


def hotter(plan: Plan, kelvin: float) -> Plan:
    """Return a plan whose flask is so much hotter."""
    from dataclasses import replace

    assert plan.flask.temperature is not None
    return replace(plan, flask=replace(plan.flask, temperature=plan.flask.temperature + kelvin))
