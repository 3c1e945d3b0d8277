"""Facts in words: hazards, and what a caster may find in or on an original.

A fact has no number.  Like a value it has a kind and a source, and is refused
without them.
"""

from dataclasses import dataclass
from typing import Literal

from pourcast.findings import Finding, Kind

Burns = Literal["burns", "stays", "must not be burnt", "look up first"]
"""Of matter in the kiln.  Look up first: a law, a poison or a label decides, not the heat."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """A hazard and the usual precaution, with the rule that speaks of it."""

    key: str
    text: str
    source: str
    kind: Kind


def caution(fact: Fact, stage: str) -> Finding:
    """Return a hazard as what a stage tells the caster.

    Parameters
    ----------
    fact : Fact
    stage : str
        By its folder name.
    """
    return Finding(
        stage=stage,
        key=caution_key(fact),
        level="WATCH",
        text=fact.text,
        source=fact.source,
        kind=fact.kind,
    )


def caution_key(fact: Fact) -> str:
    """Return the key of a finding that says a hazard: "caution-so2"."""
    return f"caution-{fact.key.replace('_', '-')}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Matter:
    """What may be in or on an original beside plant and wax.

    Parameters
    ----------
    key : str
        As a piece file names it, such as "wire".
    name : str
        As a sentence has it, such as "iron wire".
    also : tuple of str
        Other words for it.
    burns : {"burns", "stays", "must not be burnt", "look up first"}
    reason : str
        Why; a whole sentence.
    hazard : str
        What it does to people or to the casting; "" where it does nothing.
    act : str
        What to do; a whole sentence.
    source : str
    kind : str
    """

    key: str
    name: str
    also: tuple[str, ...]
    burns: Burns
    reason: str
    hazard: str
    act: str
    source: str
    kind: Kind

    @property
    def names(self) -> tuple[str, ...]:
        """Every word it is found by: key, name and the others."""
        return (self.key, self.name, *self.also)
