"""Tables of values, hazards and limits, from the library that the forecast draws from."""

from collections import Counter

from made_words import code, plain, table

from pourcast.materials import library
from pourcast.materials.model import Value

_HEAD = ["key", "value", "from", "to", "unit", "kind", "source"]


def values(*places: str) -> str:
    """Return the values of groups ("pour") or of one material ("investment.flow")."""
    said = []
    for place in places:
        group, _, key = place.partition(".")
        for material in library().groups[group].materials.values():
            if key and material.key != key:
                continue
            said += [f"### {plain(material.name)}", ""]
            if material.designation:
                said += [f"Also: {plain(material.designation)}.", ""]
            if material.flag:
                said += [plain(material.flag), ""]
            said.append(table(_HEAD, (_row(value) for value in material.values.values())))
    return "\n".join(said)


def groups() -> str:
    """Return how many values each group holds, by kind of evidence, and how many are weak."""
    kinds = ("published", "computed", "common practice", "from memory", "estimate")
    rows = []
    total: Counter[str] = Counter()
    for name, group in library().groups.items():
        count = Counter(v.kind for m in group.materials.values() for v in m.values.values())
        total += count
        if count:
            rows.append([code(name), *(str(count[kind]) for kind in kinds), str(count.total())])
    weak = total["estimate"] + total["from memory"]
    return (
        table(["group", *kinds, "in all"], rows)
        + f"\n{weak} of the {total.total()} are estimates or from memory.\n"
    )


def hazards(*keys: str) -> str:
    """Return hazards with the usual precaution and who says so."""
    facts = library().facts
    return "\n".join(
        f"- {plain(facts[key].text)} *{plain(facts[key].source)}; {facts[key].kind}*"
        for key in keys
    )


def limits(*words: str) -> str:
    """Return the limits in the air of a workplace whose key begins with one of some words."""
    rows = [
        [
            plain(value.name.replace("_", " ")),
            f"{value.value:g} {plain(value.unit)}",
            plain(value.condition or "mean of 8 h"),
            value.kind,
            plain(value.source),
        ]
        for value in library().limits.values.values()
        if value.name.startswith(words)
    ]
    return table(["limit", "value", "over", "kind", "source"], rows)


def _row(value: Value) -> list[str]:
    said = [plain(value.source)]
    said += [f"Holds for: {plain(value.condition)}."] if value.condition else []
    said += [plain(value.note)] if value.note else []
    numbers = (f"{each:g}" for each in (value.value, value.low, value.high))
    return [code(value.name), *numbers, plain(value.unit), value.kind, " ".join(said)]
