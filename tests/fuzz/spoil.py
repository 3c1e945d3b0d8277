"""Spoil: damage a good input in one to six places, the same way for the same number.

After mutation testing of readers by random damage (Miller, Fredriksen and So 1990, "An
empirical study of the reliability of UNIX utilities"): flips of bits, cuts, doubled
pieces, pieces of another good input, and tokens that readers stumble over.
"""

import random
from collections.abc import Sequence

TOKENS = (
    *(b"nan", b"inf", b"-inf", b"1e999", b"-1e-999", b"-0", b"0", b"9" * 400, b"0x7fffffff"),
    *(b"1/0", b"3/16", b"4294967296", b"-1", b"1,5", b"1.5.5", b"1_000", b"\xd9\xa3", b"\xc2\xbd"),
    *(b"\x00", b"\xff", b"\xef\xbb\xbf", b"\r", b"\r\n", b"\x1a", b"\xed\xa0\x80", b"\xe2\x80\xae"),
    *(b'"', b"'", b'"""', b"'''", b"\\", b"\\u0000", b"#", b";", b"\t", b",", b"=", b"[[", b"]]"),
    *(b"[" * 3000, b"{" * 3000, b'{"a":' * 1500, b"(" * 300, b"../" * 20, b"%s%n", b"{{7*7}}"),
    *(b"<script>", b"&a;", b"' OR 1=1 --", b"null", b"true", b"{}", b"[]", b"=cmd|'/c'!A1"),
)


def spoiled(seeds: Sequence[bytes], number: int) -> bytes:
    """Return one of the seeds, damaged.

    Parameters
    ----------
    seeds : sequence of bytes
        Good inputs.
    number : int
        The same number gives the same damage.
    """
    chance = random.Random(number)
    text = bytearray(chance.choice(seeds))
    for _ in range(chance.choice((1, 1, 1, 2, 3, 6))):
        _damage(text, seeds, chance)
    return bytes(text)


def _damage(text: bytearray, seeds: Sequence[bytes], chance: random.Random) -> None:
    """Do one damage to the text in its place."""
    place = chance.randrange(len(text) + 1)
    end = min(len(text), place + chance.choice((1, 2, 8, 60)))
    kind = chance.randrange(8)
    if kind == 0 and place < len(text):
        text[place] ^= 1 << chance.randrange(8)
    elif kind == 1:
        text[place:place] = chance.choice(TOKENS)
    elif kind == 2:
        text[place:end] = chance.choice(TOKENS)
    elif kind == 3:
        del text[place:end]
    elif kind == 4:
        text[place:place] = text[place:end] * chance.choice((1, 2, 40))
    elif kind == 5:
        other = chance.choice(seeds)
        start = chance.randrange(len(other) + 1)
        text[place:end] = other[start : start + chance.choice((1, 8, 200))]
    elif kind == 6:
        del text[place:]
    else:
        text[place:end] = bytes(chance.randrange(256) for _ in range(end - place))
