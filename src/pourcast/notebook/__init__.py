"""Notebook: how does a result show itself in a notebook?

Importing this package gives the records of `SHOWN` the two methods that notebooks ask
for, ``_repr_html_`` and ``_repr_svg_``.  ``import pourcast`` does it where IPython runs
already; elsewhere ``import pourcast.notebook`` does.

Why here and not in the records: a record of `forecast` or `learn` may import only what
stands before it, and pictures and words are drawn by `page`, which stands after it.  An
import inside the method would hide that and not mend it.  So the records know nothing of
pictures, and this package, which stands after `page`, lends them the methods.
"""

from pourcast.notebook.attach import SHOWN, attach
from pourcast.notebook.show import html, svg

__all__ = ["SHOWN", "html", "svg"]

attach()
"""Once, when this package is first imported; the methods are the same every time."""
