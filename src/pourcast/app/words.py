"""Words: what a page says, in the language that is chosen.

Every sentence of the pages stands in a catalogue under a key; another language
is another catalogue of the same keys.  What the forecast itself says comes from
`pourcast.page`, where terminal and paper take it too.
"""

from collections.abc import Mapping

from pourcast.app import words_en

LANGUAGES: Mapping[str, Mapping[str, str]] = {"en": words_en.WORDS}
"""Language: its catalogue."""

LANGUAGE = "en"


def say(key: str, **values: object) -> str:
    """Return a sentence with its values put in.

    Parameters
    ----------
    key : str
    values : object
        For the names in braces.

    Raises
    ------
    KeyError
        If the catalogue has no such sentence, or a value is missing.
    """
    return LANGUAGES[LANGUAGE][key].format(**values)


def count(key: str, number: int, **values: object) -> str:
    """Return a sentence that begins with a number: ``key.none``, ``key.one`` or ``key.many``."""
    end = "none" if number == 0 else "one" if number == 1 else "many"
    words = LANGUAGES[LANGUAGE]
    if end == "none" and f"{key}.none" not in words:
        end = "many"
    written = words.get(f"number.{number}", str(number))
    return say(f"{key}.{end}", number=written[:1].upper() + written[1:], **values)
