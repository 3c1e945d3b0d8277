"""Matter of the original: what is said of it, and what a record must have."""

import re

import pytest

from pourcast.errors import SourceError
from pourcast.materials import Matter, library
from pourcast.materials.load import parse
from pourcast.materials.names import plain

GOOD = {
    "name": '"stone"',
    "burns": '"stays"',
    "reason": '"It does not burn."',
    "hazard": '""',
    "act": '"Take it out."',
    "kind": '"common practice"',
    "source": '"common practice, no source"',
}


def _file(**changes: str | None) -> str:
    fields = {**GOOD, **changes}
    lines = [f"{name} = {text}" for name, text in fields.items() if text is not None]
    return "[stone]\n" + "\n".join(lines) + "\n"


def test_a_whole_record_is_read() -> None:
    """By definition of the file form."""
    group = parse("matter", "matter.toml", _file(also='["pebble", "gravel"]'))

    assert group.matter["stone"] == Matter(
        key="stone",
        name="stone",
        also=("pebble", "gravel"),
        burns="stays",
        reason="It does not burn.",
        hazard="",
        act="Take it out.",
        kind="common practice",
        source="common practice, no source",
    )
    assert group.matter["stone"].names == ("stone", "stone", "pebble", "gravel")
    assert group.materials == {}


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        ({"burns": None}, "burns is missing"),
        ({"hazard": None}, "hazard is missing"),
        ({"hazard": "3"}, "hazard is missing or not a text"),
        ({"name": '" "'}, "name is empty"),
        ({"reason": '""'}, "reason is empty"),
        ({"act": '""'}, "act is empty"),
        ({"burns": '"perhaps"'}, 'burns is "perhaps", not one of burns, stays'),
        ({"colour": '"red"'}, "colour is not a field"),
        ({"source": '" "'}, "source is empty"),
        ({"kind": '"hearsay"'}, 'kind "hearsay" is not one of'),
        ({"kind": '"published"'}, "names nothing that can be checked"),
    ],
)
def test_a_record_that_lacks_something_is_refused(
    changes: dict[str, str | None], fault: str
) -> None:
    """House rule: what, why, what to do, kind and source, or it is not used."""
    with pytest.raises(SourceError, match=re.escape(fault)) as caught:
        parse("matter", "matter.toml", _file(**changes))

    assert str(caught.value).startswith("matter.toml: stone: ")


def test_what_is_no_table_is_refused() -> None:
    with pytest.raises(SourceError, match="3 is not a record"):
        parse("matter", "matter.toml", "stone = 3\n")


def test_each_group_of_matter_that_casters_meet_is_there() -> None:
    """Common practice, no source: what a caster looks for before an original is burnt."""
    matter = library().matter

    assert {key for key, kept in matter.items() if kept.burns == "must not be burnt"} >= {
        "pvc", "plastic", "foam", "synthetic_fibre", "rubber", "treated_wood", "old_specimen",
        "battery", "electronics", "lead", "poison_ivy",
    }  # fmt: skip
    assert {key for key, kept in matter.items() if kept.burns == "look up first"} >= {
        "paint", "painted_wood", "poisonous_plant", "protected_species", "coral",
    }  # fmt: skip
    assert {key for key, kept in matter.items() if kept.burns == "stays"} >= {
        "stone", "grit", "shell", "bone", "tooth", "wire", "pin", "florist_wire", "glass",
        "ceramic", "foil", "salt",
    }  # fmt: skip
    assert {key for key, kept in matter.items() if kept.burns == "burns"} >= {
        "varnish", "lacquer", "feather", "hair", "horn", "resin", "sealed_hollow",
    }  # fmt: skip


def test_what_must_not_be_burnt_says_what_it_does() -> None:
    """House rule: the hazard stands where the act is."""
    for kept in library().matter.values():
        if kept.burns == "must not be burnt":
            assert kept.hazard, kept.key


def test_each_word_leads_to_one_record() -> None:
    """By definition: a word of two records would pick one by chance."""
    seen: dict[str, str] = {}
    for kept in library().matter.values():
        for name in kept.names:
            assert seen.setdefault(plain(name), kept.key) == kept.key, name


def test_sources_of_matter_are_marked_as_those_of_values_are() -> None:
    """House rule: no host, no path, and what was not looked up says so."""
    for kept in library().matter.values():
        texts = (kept.reason, kept.hazard, kept.act, kept.source)
        assert not any(re.search(r"https?:|www\.|\bsafe\b", text) for text in texts), kept.key
        assert all(text.endswith(".") for text in texts[:3] if text), kept.key
        if kept.kind == "from memory":
            assert "from memory" in kept.source, kept.key
        if kept.kind == "common practice":
            assert "common practice" in kept.source, kept.key
