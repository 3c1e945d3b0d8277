"""How the site of documents is built; `make docs` runs it, without a network."""

import sys
import tomllib
from pathlib import Path

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE / "_ext"))

project = "pourcast"
author = "the makers of pourcast"
release = tomllib.loads((HERE.parent / "pyproject.toml").read_text(encoding="utf-8"))["project"][
    "version"
]
version = release

extensions = [
    "myst_parser",
    "sphinx.ext.autodoc",
    "sphinx.ext.napoleon",
    "equations",
    "made",
]
source_suffix = {".md": "markdown"}
exclude_patterns = ["_build", "_ext", "_static", "_templates", "screens", "notebooks/*.ipynb"]
language = "en_GB"

myst_enable_extensions = ["colon_fence", "deflist", "dollarmath"]
myst_heading_anchors = 3

html_math_renderer = "mathml"
html_theme = "furo"
html_title = "pourcast"
html_static_path = ["_static"]
html_css_files = ["pourcast.css"]
templates_path = ["_templates"]
html_copy_source = False
html_show_sourcelink = False
html_show_copyright = False
SERIF = (
    '"Iowan Old Style","Palatino Linotype",Palatino,"Book Antiqua",P052,"URW Palladio L",'
    '"TeX Gyre Pagella","DejaVu Serif",Georgia,serif'
)
html_theme_options = {
    "top_of_page_buttons": [],
    "light_css_variables": {
        "font-stack": SERIF,
        "font-stack--headings": SERIF,
        "color-highlight-on-target": "#EDE4D0",
        "color-api-name": "#A23A10",
        "color-api-pre-name": "#5C5245",
        "color-brand-primary": "#7A2C0C",
        "color-brand-content": "#A23A10",
        "color-brand-visited": "#7A2C0C",
        "color-background-primary": "#F7F2E6",
        "color-background-secondary": "#EDE4D0",
        "color-background-hover": "#E4D9C1",
        "color-background-border": "#D8CDB8",
        "color-foreground-primary": "#211C17",
        "color-foreground-secondary": "#5C5245",
        "color-foreground-muted": "#5C5245",
        "color-foreground-border": "#8C857A",
        "color-code-background": "#EDE4D0",
        "color-admonition-background": "#F2EAD9",
        "color-inline-code-background": "#EDE4D0",
    },
    "dark_css_variables": {
        "color-highlight-on-target": "#463022",
        "color-api-name": "#F0A64A",
        "color-brand-primary": "#F0A64A",
        "color-brand-content": "#F0A64A",
        "color-brand-visited": "#DC8B37",
        "color-background-primary": "#211C17",
        "color-background-secondary": "#2A211B",
        "color-background-hover": "#33291F",
        "color-background-border": "#463022",
        "color-foreground-primary": "#F2EAD9",
        "color-foreground-secondary": "#D8CDB8",
        "color-foreground-muted": "#BDB19C",
        "color-code-background": "#2A211B",
        "color-inline-code-background": "#2A211B",
    },
}
pygments_style = "bw"
pygments_dark_style = "bw"

autodoc_typehints = "none"
autodoc_member_order = "bysource"
napoleon_google_docstring = False
napoleon_use_rtype = False
add_module_names = False

nitpicky = True
# The units are names of types, and the docstrings give unit and shape in their place.
suppress_warnings = [
    # Pages were written for a reader of files too, who sees headings of any depth.
    "myst.header",
    # Two records may have a field of one name.
    "ref.python",
]
nitpick_ignore_regex = [
    ("py:class", r".*"),
    ("py:exc", r"CancelledError"),
]
