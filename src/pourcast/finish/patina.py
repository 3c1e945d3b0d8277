"""Patina: how does the metal of this casting take colour?

One fact for each family of alloys, found by the beginning of the alloy's key.
What the facts say is from memory; no study of castings out of gypsum moulds was
found, and the mould left in the pores changes how a bath takes.
"""

from collections.abc import Mapping

from pourcast.materials import Fact, Material

_BEGINS = "patina_"
_FOR_ALL = "patina_colour"


def patina_of(alloy: Material, facts: Mapping[str, Fact]) -> tuple[Fact, ...]:
    """Return what is known of the colour of one alloy; none where nothing is.

    Parameters
    ----------
    alloy : Material
    facts : mapping of str to Fact
        By key; those of an alloy are called "patina_" and the beginning of its key.

    Returns
    -------
    tuple of Fact
        One at most: that with the longest such beginning.
    """
    own = [
        key
        for key in facts
        if key.startswith(_BEGINS)
        and key != _FOR_ALL
        and alloy.key.startswith(key.removeprefix(_BEGINS))
    ]
    return (facts[max(own, key=len)],) if own else ()
