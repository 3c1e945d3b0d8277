"""Files that are not readable: each is refused with its line and a cure."""

import pytest

from pourcast.errors import SheetError
from pourcast.sheet import decode, read_plan
from tests.sheet.small import FILE, SMALL, changed, said


def test_bytes_in_utf_8_become_the_text_as_written() -> None:
    """Source: RFC 3629, encoding of U+00E9 and U+6728."""
    assert decode(b'name = "caf\xc3\xa9 \xe6\x9c\xa8"') == 'name = "café 木"'


def test_the_mark_before_the_first_character_is_left_out() -> None:
    """Source: RFC 3629 section 6: EF BB BF is a signature and no text."""
    assert decode(b"\xef\xbb\xbfname = 1") == "name = 1"


def test_bytes_of_another_encoding_are_refused_with_their_line() -> None:
    """Source: Latin-1 has "é" as E9, which is no UTF-8 before a quote (RFC 3629)."""
    with pytest.raises(SheetError) as caught:
        decode(b'# one\n# two\nname = "caf\xe9"\n', file=FILE)

    assert str(caught.value) == (
        "twig.toml:3: piece file: byte 0xe9 is not text in UTF-8; "
        "save the file as UTF-8 in your editor"
    )


def test_a_file_over_the_limit_is_refused_as_bytes_and_as_text() -> None:
    """Source: the limit of 1 MB is our own choice."""
    with pytest.raises(SheetError, match="1000001 bytes; it must have at most 1000000"):
        decode(b"#" * 1_000_001, file=FILE)
    with pytest.raises(SheetError, match="1000002 bytes; it must have at most 1000000"):
        read_plan("é" * 500_001, file=FILE)


def test_a_file_at_the_limit_is_read() -> None:
    """Source: the limit of 1 MB is our own choice."""
    filled = SMALL + "#" * (1_000_000 - len(SMALL))

    assert read_plan(decode(filled.encode())).piece.name == "Twig"


@pytest.mark.parametrize(
    ("old", "new", "want"),
    [
        (
            "= 30\nheight",
            "= 30 mm\nheight",
            "twig.toml:13: diameter_mm: this is not TOML: expected newline or end of document "
            'after a statement; a number with its unit stands in quotes, such as "3/16 in"',
        ),
        (
            '"C87300"',
            "C87300",
            "twig.toml:3: alloy: this is not TOML: invalid value; text stands in quotes, "
            'such as "rod"',
        ),
        (
            '"C87300"',
            "“C87300”",
            "twig.toml:3: alloy: this is not TOML: invalid value; text stands in straight "
            'quotes, such as "rod"',
        ),
        (
            "= 30\nheight",
            "=\nheight",
            "twig.toml:13: diameter_mm: this is not TOML: invalid value; nothing stands behind "
            "the =; write the value, or put # before the line",
        ),
        (
            "= 30\nheight",
            "= 1/2\nheight",
            "twig.toml:13: diameter_mm: this is not TOML: expected newline or end of document "
            'after a statement; a number with its unit stands in quotes, such as "3/16 in"',
        ),
        (
            "[6, 1]",
            "[6 1]",
            "twig.toml:28: width_mm: this is not TOML: unclosed array; a list has commas between "
            "its values, as in [4.0, 3.0], and ends with ]",
        ),
        (
            "= 0.5\nmaterial",
            "= 0,5\nmaterial",
            "twig.toml:29: thickness_mm: this is not TOML: expected newline or end of document "
            "after a statement; write the number with a point: 0.5",
        ),
        (
            "[button]",
            "[flask]",
            "twig.toml:12: line 12: this is not TOML: cannot declare ('flask',) twice; the same "
            "key or section stands in the file already; keep one of them",
        ),
        (
            "height_mm = 20",
            "diameter_mm = 20",
            "twig.toml:14: diameter_mm: this is not TOML: cannot overwrite a value; the same key "
            "or section stands in the file already; keep one of them",
        ),
        (
            'name = "Twig"',
            'name = "Twig\ninvented = true',
            "twig.toml:1: name: this is not TOML: illegal character '\\n'; the text must end "
            "with the quote that it begins with, on the same line",
        ),
        (
            "[assist]",
            "assist",
            "twig.toml:9: line 9: this is not TOML: expected '=' after a key in a key/value pair; "
            "each line is a [section], a [[part]], or key = value; a note begins with #",
        ),
        (
            "[metal]",
            "invented = True\n[metal]",
            "twig.toml:2: invented: this is not TOML: invalid value; write true or false, in small "
            "letters and without quotes",
        ),
    ],
)
def test_what_is_not_toml_is_refused_with_line_and_cure(old: str, new: str, want: str) -> None:
    """Source: TOML 1.0; the first half of each sentence is that of `tomllib`."""
    assert said(changed(old, new)) == [want]


def test_a_text_that_does_not_end_is_refused_on_the_last_line() -> None:
    """Source: TOML 1.0, a list must be closed."""
    (line,) = said(SMALL + "x = [1,\n2")

    assert line.startswith("twig.toml:32: line 32: this is not TOML: unclosed array")


def test_a_number_of_thousands_of_figures_is_refused_on_its_line() -> None:
    """Source: Python reads whole numbers of up to 4 300 figures (its documentation)."""
    (line,) = said(changed("= 100\n", "= " + "9" * 5000 + "\n"))

    assert line == (
        "twig.toml:7: line 7: this is not TOML: a number has too many figures; "
        "write the number with a few figures"
    )


def test_brackets_that_stand_too_deep_are_refused() -> None:
    """Source: 5 000 brackets in each other end the recursion of `tomllib`."""
    (line,) = said("x = " + "[" * 5000 + "]" * 5000)

    assert "brackets stand too deep in each other" in line


def test_a_line_with_too_many_points_is_refused() -> None:
    """Source: the limit of 100 is our own choice; the time of a dotted key grows as its square."""
    (line,) = said(SMALL + "a." * 101 + "b = 1")

    assert line == (
        "twig.toml:31: piece file: the line has 101 points; it must have at most 100; "
        "break it into several lines"
    )


def test_half_a_character_is_refused_like_any_control_character() -> None:
    """Source: the Unicode standard, a surrogate is no character."""
    assert said(changed("Twig", "Tw\ud800ig")) == [
        "twig.toml:1: name: holds a control character; it must stand on one line, without tabs"
    ]
