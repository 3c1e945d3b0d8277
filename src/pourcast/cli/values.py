"""Values: print records with their range, kind and source."""

from collections import Counter

from pourcast.cli.signs import write_out
from pourcast.materials import library
from pourcast.materials.model import Value


def run_values(key: str | None) -> None:
    """Write one record in full, several as a list, or what there is.

    Raises
    ------
    SourceError
        If nothing has that key.
    """
    if key is None:
        counts = Counter(value.owner for value in library().find(""))
        said = [f"{owner:<40} {count:>3} values" for owner, count in counts.items()]
        said.append("Name one, or a part of a key: pourcast values latent")
    else:
        found = library().find(key)
        said = _in_full(found[0]) if len(found) == 1 else [_in_short(value) for value in found]
    write_out("\n".join(said) + "\n")


def _in_full(value: Value) -> list[str]:
    said = [
        value.key,
        f"  value      {value.value:g} {value.unit}",
        f"  range      {value.low:g} to {value.high:g} {value.unit}",
        f"  kind       {value.kind}",
        f"  source     {value.source}",
    ]
    if value.condition:
        said.append(f"  condition  {value.condition}")
    if value.note:
        said.append(f"  note       {value.note}")
    return said


def _in_short(value: Value) -> str:
    return (
        f"{value.key:<50} {value.value:g} ({value.low:g} to {value.high:g}) {value.unit}"
        f"  {value.kind}"
    )
