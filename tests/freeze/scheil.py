"""Scheil: how an alloy freezes when nothing moves in its solid, for records to be held against.

With K the partition coefficient,

    f = 1 - ((T_melting - T) / (T_melting - T_liquidus)) ** (-1 / (1 - K))

Source: Scheil (1942), Z. Metallkunde 34, 70, from memory.
"""


def scheil_fraction(temperature: float, melting: float, liquidus: float, partition: float) -> float:
    """Return the solid fraction at a temperature in kelvins; 0 above the liquidus."""
    depth = max((melting - temperature) / (melting - liquidus), 1.0)
    return float(1.0 - depth ** (-1.0 / (1.0 - partition)))
