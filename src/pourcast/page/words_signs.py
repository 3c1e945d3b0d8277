"""The diagnosis in words: what may have happened, why it is thought, what to change."""

from collections.abc import Mapping

from pourcast.signs.model import Answer, Diagnosis, Likely
from pourcast.signs.tells import TELLS
from pourcast.speech import CELSIUS, Speech

NOT_KNOWN = "Not known: nothing on record fits what was seen. Write down what you see, and ask."
ONE_CHANGE = "Change one thing at a time, or the next casting teaches nothing."
RANKS = "These rank causes; they prove none. Common practice, no source."

_PLACES = ("Most likely", "Or", "Or")


def causes(diagnosis: Diagnosis) -> tuple[str, ...]:
    """Return one sentence for each cause, the best fit first.

    Parameters
    ----------
    diagnosis : Diagnosis
    """
    return tuple(
        f"{_PLACES[min(place, len(_PLACES) - 1)]}: {_lower(each.cause.text)}"
        for place, each in enumerate(diagnosis.likely)
    )


def why(likely: Likely, record: Mapping[str, Answer], speech: Speech = CELSIUS) -> str:
    """Return what on record speaks for a cause and against it.

    Parameters
    ----------
    likely : Likely
    record : mapping of str to {"yes", "no"}
    speech : Speech
    """
    said = []
    if likely.speaks_for:
        said.append("For it: " + _told(likely.speaks_for, record, speech))
    if likely.speaks_against:
        said.append("Against it: " + _told(likely.speaks_against, record, speech))
    return " ".join(said) or "Nothing on record speaks for it or against it yet."


def questions(diagnosis: Diagnosis, speech: Speech = CELSIUS) -> tuple[tuple[str, str], ...]:
    """Return the tells that would part the causes, as key and question.

    Parameters
    ----------
    diagnosis : Diagnosis
    speech : Speech
    """
    return tuple((key, speech.text(TELLS[key])) for key in diagnosis.ask)


def remedy(diagnosis: Diagnosis, speech: Speech = CELSIUS) -> str:
    """Return the one change for the next pour; "" where nothing is known.

    Parameters
    ----------
    diagnosis : Diagnosis
    speech : Speech
    """
    if not diagnosis.likely:
        return ""
    return speech.text(diagnosis.likely[0].cause.remedy)


def _told(keys: tuple[str, ...], record: Mapping[str, Answer], speech: Speech) -> str:
    return " ".join(f"{speech.text(TELLS[key])} {record[key].capitalize()}." for key in keys)


def _lower(text: str) -> str:
    return text[0].lower() + text[1:]
