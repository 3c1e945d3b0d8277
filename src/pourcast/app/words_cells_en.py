"""Words of the casting frozen in cells, in English."""

WORDS = {
    "cells.head": "One casting, cell by cell",
    "cells.said": (
        "The times above are those of all castings, part by part. One casting in the middle of "
        "them can be frozen in cells, metal and mould together: slower, and it shows where heat "
        "stays and what is cut off from the button."
    ),
    "cells.ask": "Freeze it in cells",
    "cells.working": "Freezing in cells: {share} in 100 of twenty minutes done.",
    "cells.failed": "It could not be frozen in cells.",
    "cells.none": "This plan has not been frozen in cells yet.",
    "cells.pictures": "The block in section, and how places cool",
    "cells.sections": "The block cut through its axis after the pour.",
    "cells.cooling": "How single places cool.",
    "cells.round": "It can be turned round, over time, where the piece is shown on top.",
}
