"""Grammar: how a caster's text falls into numbers and units.

    text     = [sign] term {term}
    term     = number unit          (a lone number may go without its unit)
    number   = whole (space | "-") fraction | fraction | decimal
    fraction = digits "/" digits

Typed characters that mean the same are made the same first: printed fractions,
the typographic minus, foot and inch marks, hard spaces, the decimal comma.  A
comma before three digits may be a decimal or a thousands comma and is refused.
"""

import re
import unicodedata
from dataclasses import dataclass

from pourcast.errors import InputError
from pourcast.trade_units.quantities import SUCH_AS, Quantity

LONGEST = 80  # characters; our own choice, a measure is a few words

_SAME = str.maketrans(
    {
        "\N{MINUS SIGN}": "-",
        "\N{FRACTION SLASH}": "/",
        "\N{DIVISION SLASH}": "/",
        "\N{PRIME}": "'",
        "\N{RIGHT SINGLE QUOTATION MARK}": "'",
        "\N{DOUBLE PRIME}": '"',
        "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
        "\N{MICRO SIGN}": "u",
        "\N{GREEK SMALL LETTER MU}": "u",
        "\N{DEGREE CELSIUS}": "°C",
        "\N{DEGREE FAHRENHEIT}": "°F",
    }
)
_PRINTED = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_SPELLED_OUT = str.maketrans({mark: unicodedata.normalize("NFKC", mark) + " " for mark in _PRINTED})
_COMMA = re.compile(r"[0-9.,]*,[0-9.,]*")
_DECIMAL_COMMA = re.compile(r"(?P<whole>[0-9]+),(?P<part>[0-9]+)")

_NUMBER = re.compile(
    r"""
      (?P<whole>[0-9]+) (?:\ |-) (?P<top>[0-9]+) / (?P<bottom>[0-9]+)
    | (?P<over>[0-9]+) / (?P<under>[0-9]+)
    | (?P<decimal> (?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+) (?:[eE][+-]?[0-9]{1,3})? )
    """,
    re.VERBOSE,
)
# A point belongs to the unit only where no digit follows it: "3 in." but "2 lb .5 oz".
_UNIT = re.compile(r"(?:[^0-9+\-,:.]|\.(?![0-9]))*")


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One number with its unit as written; "" where there is none."""

    count: float
    unit: str
    digits_only: bool
    fraction: bool


def refuse(text: object, quantity: Quantity, hint: str, must: str = "") -> InputError:
    """Return the error that says what ``text`` must be, and what to change."""
    shown = str(text).strip() or "(empty)"
    if len(shown) > LONGEST:
        shown = shown[:LONGEST] + "…"
    return InputError(quantity, shown, "", must or SUCH_AS[quantity], hint)


def tidy(text: str, quantity: Quantity) -> str:
    """Return ``text`` with one character for each meaning and single spaces.

    Raises
    ------
    InputError
        If the text is empty or too long, or a comma in it has two readings.

    Examples
    --------
    >>> tidy("1½ in", "length")
    '1 1/2 in'
    >>> tidy("1,5 mm", "length")
    '1.5 mm'
    """
    if len(text) > LONGEST:
        raise refuse(text, quantity, f"the text has over {LONGEST} characters")
    # "1½" is one and a half: without the space it would read as eleven halves.
    spaced = re.sub(rf"(?<=[0-9])(?=[{_PRINTED}])", " ", text).translate(_SPELLED_OUT)
    plain = " ".join(spaced.translate(_SAME).replace("''", '"').split())
    plain = re.sub(r" ?/ ?", "/", plain.replace(" per ", "/"))
    plain = re.sub(r"(?<=')-(?=[0-9])", "", plain.replace("° ", "°"))
    if quantity == "volume":
        # Elsewhere the 3 of "2ft3in" is a count.
        plain = re.sub(r"(?<=[A-Za-z])3(?![0-9])", "³", plain)
    if quantity == "rate":
        # "6 1/h" is six, each hour; the 1 is part of the unit.
        plain = re.sub(r"(?<=[0-9]) 1/(?=[A-Za-z])", "/", plain)
    if not plain:
        raise refuse(text, quantity, "nothing is written")
    return _COMMA.sub(lambda found: _point(found[0], text, quantity), plain)


def _point(written: str, text: str, quantity: Quantity) -> str:
    parts = _DECIMAL_COMMA.fullmatch(written)
    if parts is None:
        raise refuse(text, quantity, "write the number with a point, and without other commas")
    whole, part = parts["whole"], parts["part"]
    if len(part) == 3 and int(whole) != 0:
        raise refuse(
            text, quantity, f"{written} has two readings: write {whole}{part} or {whole}.{part}"
        )
    return f"{whole}.{part}"


def split(plain: str, quantity: Quantity) -> tuple[float, list[Term]]:
    """Return the sign of a tidied text, 1 or -1, and its terms.

    Raises
    ------
    InputError
        If the text does not follow the grammar, or divides by zero.

    Examples
    --------
    >>> sign, terms = split("2 ft 3 1/2 in", "length")
    >>> [(term.count, term.unit) for term in terms]
    [(2.0, 'ft'), (3.5, 'in')]
    """
    sign = -1.0 if plain[0] == "-" else 1.0
    place = 1 if plain[0] in "+-" else 0
    terms: list[Term] = []
    while place < len(plain):
        place += plain[place] == " "
        number = _NUMBER.match(plain, place)
        if number is None:
            raise refuse(plain, quantity, _why_no_number(plain, place, bool(terms)))
        unit = _UNIT.match(plain, number.end())
        assert unit is not None  # the pattern also matches nothing
        place = unit.end()
        written = unit[0].strip().rstrip(".")
        if not written and (terms or place < len(plain)):
            raise refuse(
                plain,
                quantity,
                f"{number[0]} stands without its unit; write a number without spaces",
            )
        terms.append(
            Term(
                count=_count(number, plain, quantity),
                unit=written,
                digits_only=number[0].isdigit(),
                fraction=number["decimal"] is None,
            )
        )
    if not terms:
        raise refuse(plain, quantity, "the number is missing")
    return sign, terms


def _why_no_number(plain: str, place: int, later: bool) -> str:
    if later and plain[place : place + 1] in ("+", "-"):
        return "a sign may stand only in front of the whole"
    return "begin with the number, in digits" if not later else "the number or the unit is unclear"


def _count(number: re.Match[str], plain: str, quantity: Quantity) -> float:
    if number["decimal"] is not None:
        return float(number["decimal"])
    top, bottom = int(number["top"] or number["over"]), int(number["bottom"] or number["under"])
    if bottom == 0:
        raise refuse(plain, quantity, f"{number[0]} divides by zero")
    if number["whole"] is None:
        return top / bottom
    if top >= bottom:
        raise refuse(
            plain, quantity, f"in {number[0]} the fraction must be less than 1, as in 1 3/16"
        )
    return (int(number["whole"]) * bottom + top) / bottom
