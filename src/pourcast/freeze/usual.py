"""Usual: how long the trade holds the vacuum, and when it quenches, whatever we work out."""

from pourcast.materials import Value

USUAL_QUENCH = Value(
    key="freeze.usual_quench",
    value=15.0,
    low=10.0,
    high=25.0,
    unit="min",
    kind="common practice",
    source="common practice, no source",
    condition="bronze, from the pour, by size",
)
"""When the trade quenches: the low and the high end of its window."""

USUAL_HOLD = Value(
    key="freeze.usual_hold",
    value=2.0,
    low=1.0,
    high=3.0,
    unit="min",
    kind="common practice",
    source="common practice, no source",
    condition="until the button loses its shine",
)
"""How long the trade holds the vacuum after the pour."""
