"""Quench: the window in which the flask may go into water.

From: all metal is solid and the middle of the button is 30 K below the solidus.
To: the block beside the button has come down to the temperature below which it no
longer bursts off.  Between them a sign that the caster can see: the
button no longer glows.

What goes wrong outside.  Too early: liquid metal meets water, or hot metal that has no
strength cracks at its necks.  Too late: the block stays hard and must be
chipped off thin parts.

Source: margin and burst temperature, estimates; glow, Draper (1847), Phil. Mag. 30,
345, who saw all solids begin to glow at 977 °F.
"""

MARGIN = 30.0  # K below the solidus, estimate
GLOW = 798.15  # K, 977 °F, Draper (1847); in a dark room, by day it is gone some 100 K earlier
FACE_LOW = 1033.15
"""K, 760 °C: the hard stop of the burnout while char is left (record
"burnout_peak_hard_stop", held against this by a test)."""

FACE_HIGH = 1173.15
"""K, 900 °C: gypsum-bonded investment without carbon begins to give off sulphur oxides
(thermal analysis, Dental Mater J, year not noted, from memory)."""
