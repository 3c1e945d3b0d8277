"""Spoken: in which units does a caster write, and so want to be spoken to?"""

import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

from pourcast.errors import PourcastError
from pourcast.sheet.keys import KILN_STEP, LISTS, SECTIONS, bare
from pourcast.sheet.takes import SPOKEN, Keys, Number, speech_of_value
from pourcast.speech import CELSIUS, FAHRENHEIT, Speech
from pourcast.trade_units.quantities import Quantity


def speech_of(document: Mapping[str, Any]) -> Speech:
    """Return how the caster is spoken to: in °F where any heat of the file is in °F.

    A vacuum is told in the unit in which the file has it.

    Parameters
    ----------
    document : dict
        Of a piece file without a fault.

    Examples
    --------
    >>> speech_of({"flask": {"temperature": "1200 F"}}).unit
    '°F'
    >>> speech_of({"flask": {"temperature_C": 650}}).unit
    '°C'
    >>> speech_of({"assist": {"vacuum": "25 inHg"}}).gauge
    'inHg'
    """
    said = [speech_of_value(*each) for each in _spoken(document)]
    gauges = [each.gauge for each in said if each.gauge != CELSIUS.gauge]
    return Speech(
        degrees="F" if FAHRENHEIT in said else "C", gauge=gauges[0] if gauges else CELSIUS.gauge
    )


def speech_of_text(text: str) -> Speech:
    r"""Return how the caster of a piece file is spoken to; of a faulty file as of an empty one.

    Parameters
    ----------
    text : str

    Examples
    --------
    >>> speech_of_text('[metal]\npour_temperature = "2050 F"').unit, speech_of_text("[").unit
    ('°F', '°C')
    """
    try:
        return speech_of_any(tomllib.loads(text))
    except tomllib.TOMLDecodeError:
        return CELSIUS


def speech_of_any(document: Mapping[str, Any]) -> Speech:
    """Return how the caster of a document is spoken to; of a faulty one as of an empty one.

    Parameters
    ----------
    document : dict

    Examples
    --------
    >>> speech_of_any({"kiln": 3}).unit
    '°C'
    """
    try:
        return speech_of(document)
    except (PourcastError, AttributeError, TypeError):
        return CELSIUS


def _spoken(document: Mapping[str, Any]) -> Iterator[tuple[object, Quantity]]:
    tables: list[tuple[Mapping[str, Any], Keys]] = [
        (document[name], keys) for name, keys in SECTIONS.items() if name in document
    ]
    tables += [(step, KILN_STEP) for step in document.get("kiln", {}).get("step", [])]
    tables += [(each, keys) for name, keys in LISTS.items() for each in document.get(name, [])]
    for table, keys in tables:
        for key, takes in keys.items():
            if isinstance(takes, Number) and takes.quantity in SPOKEN:
                yield table.get(key, table.get(bare(key))), takes.quantity
