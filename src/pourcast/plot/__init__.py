"""Plot: pictures of results with matplotlib, for a notebook or a paper of your own.

The extra ``[plot]`` holds matplotlib; it is loaded when a picture is first asked for, and
where it is missing the error says what to install.  Each function draws on axes that it
is given, or on new ones, and hands them back.
"""

from pourcast.plot.draw import burnout, network, parts, unknowns

__all__ = ["burnout", "network", "parts", "unknowns"]
