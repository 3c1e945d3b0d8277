"""Limits of fume, dust and gas as the rules have them.

A caster is warned by these numbers, so each stands a second time here, and a slip of the finger in
the data file turns a test red.  That is all it proves: the second writing was made with the first
in sight and mostly from memory, so no row of the table of checks comes of it.  The current
text of the rule counts.
"""

import pytest

from pourcast.materials import library

LIMITS = {
    "copper_fume_osha": (0.1, "mg/m3", "29 CFR 1910.1000 Table Z-1"),
    "copper_fume_niosh": (0.1, "mg/m3", "NIOSH Pocket Guide, from memory"),
    "copper_fume_acgih": (0.2, "mg/m3", "ACGIH, from memory"),
    "copper_fume_uk": (0.2, "mg/m3", "HSE EH40/2005, from memory"),
    "zinc_oxide_fume_osha": (5.0, "mg/m3", "29 CFR 1910.1000 Table Z-1"),
    "zinc_oxide_resp_acgih": (2.0, "mg/m3", "ACGIH, from memory"),
    "zinc_oxide_stel_niosh": (10.0, "mg/m3", "NIOSH Pocket Guide, from memory"),
    "manganese_ceiling_osha": (5.0, "mg/m3", "29 CFR 1910.1000 Table Z-1"),
    "manganese_niosh": (1.0, "mg/m3", "NIOSH Pocket Guide, from memory"),
    "manganese_resp_acgih": (0.02, "mg/m3", "ACGIH 2013, from memory"),
    "manganese_uk_inhalable": (0.2, "mg/m3", "HSE EH40/2005 4th ed. 2020, from memory"),
    "manganese_uk_respirable": (0.05, "mg/m3", "HSE EH40/2005 4th ed. 2020, from memory"),
    "silica_resp_osha": (0.05, "mg/m3", "29 CFR 1910.1053"),
    "silica_action_osha": (0.025, "mg/m3", "29 CFR 1910.1053"),
    "silica_resp_acgih": (0.025, "mg/m3", "ACGIH, from memory"),
    "silica_resp_uk": (0.1, "mg/m3", "HSE EH40/2005"),
    "lead_osha": (0.05, "mg/m3", "29 CFR 1910.1025, from memory"),
    "silver_osha": (0.01, "mg/m3", "29 CFR 1910.1000 Table Z-1, from memory"),
    "tin_osha": (2.0, "mg/m3", "29 CFR 1910.1000 Table Z-1, from memory"),
    "antimony_osha": (0.5, "mg/m3", "29 CFR 1910.1000 Table Z-1, from memory"),
    "aluminium_resp_osha": (5.0, "mg/m3", "29 CFR 1910.1000 Table Z-1, from memory"),
    "iron_oxide_osha": (10.0, "mg/m3", "29 CFR 1910.1000 Table Z-1, from memory"),
    "co_osha": (50.0, "ppm", "29 CFR 1910.1000 Table Z-1"),
    "co_niosh": (35.0, "ppm", "NIOSH criteria for carbon monoxide, 1972"),
    "co_uk": (20.0, "ppm", "HSE EH40/2005 4th ed. 2020, from memory"),
    "co_idlh": (1200.0, "ppm", "NIOSH Pocket Guide, from memory"),
    "h2s_ceiling_osha": (20.0, "ppm", "29 CFR 1910.1000 Table Z-2"),
    "h2s_niosh": (10.0, "ppm", "54 FR 2332, 19 January 1989"),
    "h2s_idlh": (100.0, "ppm", "NIOSH Pocket Guide, from memory"),
    "h2s_uk": (5.0, "ppm", "HSE EH40/2005, from memory"),
    "so2_osha": (5.0, "ppm", "29 CFR 1910.1000 Table Z-1, from memory"),
    "so2_niosh": (2.0, "ppm", "NIOSH Pocket Guide, from memory"),
    "so2_uk": (0.5, "ppm", "HSE EH40/2005 4th ed. 2020, from memory"),
    "acrolein_osha": (0.1, "ppm", "29 CFR 1910.1000 Table Z-1, from memory"),
    "acrolein_idlh": (2.0, "ppm", "NIOSH Pocket Guide, from memory"),
    "compressed_air_cleaning_osha": (30.0, "psi", "29 CFR 1910.242(b)"),
    "radiant_pain": (2.5, "kW/m2", "fire engineering, pain on bare skin, from memory"),
    "steam_volume_ratio": (1670.0, "x", "IAPWS: 1.673 m³/kg over 0.0010018 m³/kg"),
}
"""Number and unit of each limit, and its rule."""


@pytest.mark.parametrize("key", sorted(LIMITS))
def test_limit_of_the_air_is_that_of_its_rule(key: str) -> None:
    """Rules named row by row, see above.  No tolerance: a limit is copied and not computed."""
    want, unit, _ = LIMITS[key]

    kept = library().groups["safety"].materials["limits"][key]

    assert (kept.value, kept.unit) == (want, unit)
    assert kept.low <= want <= kept.high


def test_no_limit_is_without_its_rule() -> None:
    assert {*library().groups["safety"].materials["limits"].values} == {*LIMITS}
