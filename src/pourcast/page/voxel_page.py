"""The freezing in cells as one file of HTML, of the same make as the page of the forecast."""

import importlib.metadata

from markupsafe import Markup

from pourcast.forecast.voxel_study import DRAWS, VoxelStudy
from pourcast.page import cautions, words_voxel
from pourcast.page.figures import clean
from pourcast.page.render import style, style_hash, template
from pourcast.page.svg_voxel import cooling, sections


def render_voxel(study: VoxelStudy) -> str:
    """Return the page of a casting frozen in cells.

    Parameters
    ----------
    study : VoxelStudy

    Returns
    -------
    str
        A whole HTML document in UTF-8, without any reference to another file.
    """
    look = style()
    return template("freeze.html.j2").render(
        study=study,
        style=Markup(look),
        style_hash=style_hash(look),
        name=clean(study.plan.piece.name) or "A piece without a name",
        words=words_voxel,
        sections=sections(study.fields, study.plan.speech),
        cooling=cooling(study.fields, study.plan.speech),
        care=cautions.at_the_quench(),
        last_word=cautions.LAST_WORD,
        draws=DRAWS,
        version=importlib.metadata.version("pourcast"),
    )
