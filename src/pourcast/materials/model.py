"""Records of materials: what a value is, and how sure it is.

A `Value` is one number as its source writes it, with the range that a forecast
draws from, the kind of evidence and the source.  A `Material` is a set of
values under short keys, and the `Library` is all of them.  Keys are kept for
good: books and piece files of years ago still find their metal.

Numbers stay in the unit of the source, so that they can be laid beside it;
``si``, ``si_low`` and ``si_high`` are what the stages work with.  They are made
at each call: keep the result where it is wanted often.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Annotated, TypeAlias

from pourcast import units as si
from pourcast.findings import Kind
from pourcast.materials.facts import Fact, Matter
from pourcast.materials.names import plain, unknown, written_names

Written: TypeAlias = Annotated[float, si.Unit("as written")]
"""A number in the unit that stands beside it in its record."""

InSI: TypeAlias = Annotated[float, si.Unit("SI")]
"""A number in SI; which unit of SI, the record says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """One number with its range, kind and source.

    Parameters
    ----------
    key : str
        Whole path, such as "alloys.si_bronze_c87300.latent".
    value, low, high : float [as written]
        Middle and ends of the range, in ``unit``; low <= value <= high.
    unit : str
        One that `pourcast.units.to_si` knows.
    kind : str
        "published", "computed", "common practice", "from memory" or "estimate".
    source : str
        Who says so; never empty.
    condition : str
        Under which condition the number holds; "" where there is none.
    note : str
        What else the reader should know; "" where there is nothing.
    """

    key: str
    value: Written
    low: Written
    high: Written
    unit: str
    kind: Kind
    source: str
    condition: str = ""
    note: str = ""

    @property
    def name(self) -> str:
        """The last part of the key, such as "latent"."""
        return self.key.rpartition(".")[2]

    @property
    def owner(self) -> str:
        """The key without its last part, such as "alloys.si_bronze_c87300"."""
        return self.key.rpartition(".")[0]

    @property
    def si(self) -> InSI:
        """The middle value [SI]; half of the draws lie on each side."""
        return si.to_si(self.value, self.unit)

    @property
    def si_low(self) -> InSI:
        """The low end of the range [SI]."""
        return si.to_si(self.low, self.unit)

    @property
    def si_high(self) -> InSI:
        """The high end of the range [SI]."""
        return si.to_si(self.high, self.unit)


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A set of values that belong together.

    ``material["latent"]`` is a `Value`.

    Parameters
    ----------
    key : str
        Name inside its group, such as "si_bronze_c87300".
    group : str
        "alloys", "elements", "investment", "waxes", "plants", "coatings",
        "kiln", "safety", "pour" or "finish".
    name : str
        What people call it.
    designation : str
        Names in alloy standards, parted by commas; "" where there is none.
    flag : str
        What to know before it is chosen; "" where there is nothing.
    fume : tuple of str
        Words of `Library.fume_limits`: what its melt or dust gives off.
    values : mapping of str to Value
        By the last part of the key, in the order of the file.
    """

    key: str
    group: str
    name: str
    designation: str = ""
    flag: str = ""
    fume: tuple[str, ...] = ()
    values: Mapping[str, Value] = field(default_factory=dict)

    @property
    def path(self) -> str:
        """Group and key; the group alone where it holds one set only."""
        return self.group if self.key == self.group else f"{self.group}.{self.key}"

    @property
    def names(self) -> tuple[str, ...]:
        """Every name it is found by: key, name and designations."""
        return (self.key, self.name, *written_names(self.designation))

    def __getitem__(self, name: str) -> Value:
        """Return the value of a key; raise `SourceError` where there is none."""
        try:
            return self.values[name]
        except KeyError:
            raise unknown(f"{self.path} has no value", name, self.values) from None

    def __contains__(self, name: object) -> bool:
        return name in self.values

    def __iter__(self) -> Iterator[str]:
        return iter(self.values)


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """What one data file holds; facts and fume words are in "safety" only, matter in "matter"."""

    materials: Mapping[str, Material]
    facts: Mapping[str, Fact] = field(default_factory=dict)
    fume_limits: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    matter: Mapping[str, Matter] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Library:
    """All materials, each group read from its file when it is first asked for."""

    groups: Mapping[str, Group]

    @property
    def alloys(self) -> Mapping[str, Material]:
        """Casting metals by key."""
        return self.groups["alloys"].materials

    @property
    def elements(self) -> Material:
        """Pure metals, with keys such as "Cu_latent"."""
        return self.groups["elements"].materials["elements"]

    @property
    def investment(self) -> Mapping[str, Material]:
        """The powder, its mixes "wp_38", "wp_40", "wp_42", and the block by subject.

        Subjects: "thermal", "chemistry", "limits", "fresh", "flow", "strength",
        "expansion".
        """
        return self.groups["investment"].materials

    @property
    def powders(self) -> tuple[str, ...]:
        """Keys of ``investment`` that are powders, as a piece file names them."""
        return tuple(key for key, kept in self.investment.items() if "powder_true_density" in kept)

    @property
    def waxes(self) -> Mapping[str, Material]:
        """Waxes by key: "casting", "sprue", "beeswax"."""
        return self.groups["waxes"].materials

    @property
    def plants(self) -> Mapping[str, Material]:
        """Matter of originals by organ, and "general" for all of them."""
        return self.groups["plants"].materials

    @property
    def organs(self) -> tuple[str, ...]:
        """Keys of ``plants`` that a part can be made of: all but "general"."""
        return tuple(key for key in self.plants if key != "general")

    @property
    def coatings(self) -> Material:
        """Coats that stiffen or seal an original."""
        return self.groups["coatings"].materials["coatings"]

    @property
    def kiln(self) -> Material:
        """Kiln, air, burning of char, and hot faces."""
        return self.groups["kiln"].materials["kiln"]

    @property
    def pour(self) -> Material:
        """What the filling of the cavity needs beside the metal and the block."""
        return self.groups["pour"].materials["pour"]

    @property
    def finish(self) -> Material:
        """What pushes on a casting while it is freed, cut and cleaned."""
        return self.groups["finish"].materials["finish"]

    @property
    def matter(self) -> Mapping[str, Matter]:
        """What may be in or on an original beside plant and wax, by key."""
        return self.groups["matter"].matter

    @property
    def freeze(self) -> Material:
        """What freezing, feeding and the quench need beside the metal and the block."""
        return self.groups["freeze"].materials["freeze"]

    @property
    def limits(self) -> Material:
        """Limits of fume, dust and gas in the air of a workplace."""
        return self.groups["safety"].materials["limits"]

    @property
    def facts(self) -> Mapping[str, Fact]:
        """Hazards with the usual precaution, by key."""
        return self.groups["safety"].facts

    @property
    def fume_limits(self) -> Mapping[str, tuple[str, ...]]:
        """For each fume word of an alloy the keys of ``limits`` that belong to it."""
        return self.groups["safety"].fume_limits

    def alloy(self, text: str) -> Material:
        """Return the alloy of a key, designation or name.

        Parameters
        ----------
        text : str
            "si_bronze_c87300", "C87300", "UNS C87300", "CuSn10", "925"; capitals,
            blanks and hyphens do not matter.

        Returns
        -------
        Material

        Raises
        ------
        SourceError
            If no alloy has that name; it says which names come near.
        """
        wanted = plain(text)
        names = {plain(name): kept for kept in self.alloys.values() for name in kept.names}
        if wanted in names:
            return names[wanted]
        shown = (name for kept in self.alloys.values() for name in kept.names)
        raise unknown("there is no alloy", text, shown)

    def find(self, text: str) -> list[Value]:
        """Return the values whose key is, begins with, or else holds a text.

        Parameters
        ----------
        text : str
            "alloys.si_bronze_c87300.latent", a beginning of it, or a part such
            as "latent"; capitals do not matter; "" gives all.

        Returns
        -------
        list of Value
            In the order of the files; never empty.

        Raises
        ------
        SourceError
            If no key holds the text; it says which keys come near.
        """
        wanted = text.strip().casefold()
        found = {value.key: value for value in self._values()}
        for fits in (str.__eq__, str.startswith, str.__contains__):
            hits = [value for key, value in found.items() if fits(key.casefold(), wanted)]
            if hits:
                return hits
        shown = (*found, *(value.name for value in found.values()))
        raise unknown("there is no value", text, shown)

    def _values(self) -> Iterator[Value]:
        for group in self.groups.values():
            for material in group.materials.values():
                yield from material.values.values()
