"""Parts together: parents, names, members, joints, shapes."""

import pytest

from pourcast.sheet import read_plan
from tests.sheet.small import SMALL, changed, said

ROD = '[[part]]\nname = "{}"\non = "{}"\nshape = "rod"\nlength_mm = 5\ndiameter_mm = 2\n'
MORE = ROD + 'material = "leaf"\n'


@pytest.mark.parametrize(
    ("old", "new", "want"),
    [
        # parents
        (
            'on = "stem"',
            'on = "stme"',
            '23: part 2 (leaf).on: is "stme"; it must be the name of a part; did you mean stem?',
        ),
        (
            'on = "stem"',
            'on = "zzz"',
            '23: part 2 (leaf).on: is "zzz"; it must be the name of a '
            'part; the first part grows on "button"',
        ),
        (
            'on = "stem"\n',
            "",
            "21: part 2 (leaf).on: is missing; it must be the name of the part "
            'that this one grows on; for the wax write on = "button"',
        ),
        (
            'on = "stem"',
            'on = "leaf"',
            '23: part 2 (leaf).on: is "leaf", the part itself; name the part that it grows on',
        ),
        (
            'name = "stem"',
            'name = "stem"\non = "leaf"',
            '17: part 1 (stem).on: is "leaf", which '
            "grows on this part in turn: stem on leaf on stem; one of them must grow on another "
            "part or on the button",
        ),
        # names
        (
            'name = "leaf"',
            'name = "button"',
            '22: part 2 (button).name: is "button"; it must be '
            "another name; the wax button has a section of its own, [button]",
        ),
        (
            'name = "leaf"',
            'name = "stem"',
            '22: part 2 (stem).name: is "stem", as part 1 is; each '
            "name must stand once; call it stem 2",
        ),
        # joints
        (
            "at = 0.5",
            'at = 0.5\ntip_on = "stme"',
            '25: part 2 (leaf).tip_on: is "stme"; it must be '
            "the name of a part; did you mean stem?",
        ),
        (
            "at = 0.5",
            'at = 0.5\ntip_on = "button"',
            '25: part 2 (leaf).tip_on: is "button"; it '
            "must be the name of a part; only a part can be joined, not the button",
        ),
        (
            "at = 0.5",
            'at = 0.5\ntip_on = "leaf"',
            '25: part 2 (leaf).tip_on: is "leaf", the part itself; name another part',
        ),
        (
            "= 30\ndiameter_mm = [4, 3]",
            '= 30\ndiameter_mm = [4, 3]\ntip_on = "leaf"',
            '20: part 1 (stem).tip_on: is "leaf", which grows on this part; it must be another; '
            "the way out and back must be two different ways",
        ),
        (
            "at = 0.5",
            "at = 0.5\ntip_at = 0.5",
            "25: part 2 (leaf).tip_at: stands without tip_on; "
            "there must be both or neither; name in tip_on the part that the tip is joined to",
        ),
        # shapes
        (
            "diameter_mm = [4, 3]",
            "diameter_mm = [4, 3]\nwidth_mm = 3",
            "20: part 1 (stem).width_mm:"
            ' does not go with a rod, which is round; give diameter_mm, or write shape = "blade"',
        ),
        (
            "diameter_mm = [4, 3]\n",
            "",
            "15: part 1 (stem).diameter_mm: is missing; a rod must have "
            "it; measure across with a caliper; [start, end] for a taper",
        ),
        (
            "width_mm = [6, 1]\nthickness_mm = 0.5",
            "diameter_mm = 3",
            "28: part 2 (leaf).diameter_mm"
            ": does not go with a blade, which is flat; give width_mm and thickness_mm, or write "
            'shape = "rod"',
        ),
        (
            "thickness_mm = 0.5\n",
            "",
            "21: part 2 (leaf).thickness_mm: is missing; a blade must "
            "have width_mm and thickness_mm; measure the widest and the thinnest",
        ),
        (
            '"blade"\nlength_mm = 18\nwidth_mm = [6, 1]\nthickness_mm = 0.5',
            '"lump"\nlength_mm = 18\nwidth_mm = 6\ndiameter_mm = 5',
            "29: part 2 (leaf).diameter_mm: "
            "stands beside width_mm; only one may; keep diameter_mm if the lump is round",
        ),
        (
            '"blade"\nlength_mm = 18\nwidth_mm = [6, 1]\nthickness_mm = 0.5',
            '"lump"\nlength_mm = 18\nwidth_mm = 6',
            "21: part 2 (leaf).thickness_mm: is missing; a "
            "lump must have diameter_mm, or width_mm and thickness_mm; measure the widest and the "
            "thinnest",
        ),
        (
            '"blade"',
            '"lump"',
            "28: part 2 (leaf).width_mm: is [6, 1]; a lump must have one number; "
            "give its largest size; it is round at both ends",
        ),
    ],
)
def test_a_fault_between_parts_is_told_with_its_line_and_cure(
    old: str, new: str, want: str
) -> None:
    """Source: the form of a message is our own; lines counted by hand."""
    assert said(changed(old, new)) == [f"twig.toml:{want}"]


def test_a_blade_without_any_size_lacks_both() -> None:
    """Source: our own rule."""
    lines = said(changed("width_mm = [6, 1]\nthickness_mm = 0.5\n", ""))

    assert [line.split(": ")[1] for line in lines] == [
        "part 2 (leaf).thickness_mm",
        "part 2 (leaf).width_mm",
    ]


def test_a_part_that_stands_before_its_parent_is_told_where_to_go() -> None:
    """Source: our own rule."""
    text = SMALL + MORE.format("vein", "hair") + MORE.format("hair", "leaf")

    assert said(text) == [
        'twig.toml:33: part 3 (vein).on: is "hair", which stands later; a part must stand after '
        "its parent; move this [[part]] below part 4"
    ]


def test_a_ring_of_three_is_told_once_and_in_full() -> None:
    """Source: our own rule."""
    text = SMALL + MORE.format("a", "c") + MORE.format("b", "a") + MORE.format("c", "b")

    assert said(text) == [
        'twig.toml:33: part 3 (a).on: is "c", which grows on this part in turn: a on c on b on a; '
        "one of them must grow on another part or on the button"
    ]


def test_members_multiply_along_the_branches_and_the_part_that_makes_too_many_is_named() -> None:
    """By arithmetic: 1 + 3 + 3 x 665 = 1 999 members; one more on each leaf makes 2 002."""
    allowed = SMALL + MORE.format("hair", "leaf").replace("length", "count = 665\nlength")
    too_many = SMALL + MORE.format("hair", "leaf").replace("length", "count = 666\nlength")

    assert said(allowed + "zzz = 1")[0].startswith("twig.toml:39: part 3 (hair).zzz")
    assert said(too_many) == [
        "twig.toml:35: part 3 (hair).count: is 666 on each of 3 members of leaf, which brings the "
        "piece to 2002 members; there must be at most 2000; leave out what is too small to matter, "
        "or count fewer, larger ones"
    ]


def test_one_member_over_the_limit_is_refused() -> None:
    """By arithmetic: the stem and 2 000 leaves; the limit is our own choice."""
    (line,) = said(changed("count = 3", "count = 2000"))

    assert line.startswith(
        "twig.toml:25: part 2 (leaf).count: is 2000, which brings the piece to 2001 members; "
        "there must be at most 2000; "
    )


def test_a_chain_of_huge_counts_is_counted_without_overflow() -> None:
    """By arithmetic: 2 000 to the power of 40 members."""
    links = [
        MORE.format(f"p{i}", f"p{i - 1}" if i else "stem").replace("length", "count = 2000\nlength")
        for i in range(40)
    ]

    assert [line.split(": ")[1] for line in said(SMALL + "".join(links))] == ["part 3 (p0).count"]


def test_too_many_parts_are_told_once() -> None:
    """Source: our own limit, 2 000 members."""
    lines = said(SMALL + "[[part]]\n" * 1999)

    assert lines == [
        "twig.toml:15: part: there are 2001 of these; there must be at most 2000; give like ones "
        "once, with a count"
    ]


def test_an_error_of_measuring_is_a_share() -> None:
    """No source: 12 % is 0.12; left out, the part says nothing of it."""
    told = read_plan(SMALL + "measure_error_percent = 12\n").piece.parts

    assert told[-1].measure_error == pytest.approx(0.12)
    assert all(part.measure_error is None for part in read_plan(SMALL).piece.parts)
