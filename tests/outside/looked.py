"""Where was looked for others' measurements, and what was not found.

A stage with fewer than two checks against others' measurements has a sentence here; of a
stage with more it says what is still missing.
"""

from collections.abc import Mapping

_ANSWERS = "This stage joins the answers of others and adds no law that could be measured."

LOOKED: Mapping[str, str] = {
    "book": (
        "Accounts and scores are arithmetic. Published forecasts of castings with their "
        "outcomes, against which a score could be held, were looked for among open data sets "
        "and in foundry papers; none was found. Forecasts of tornadoes stand in."
    ),
    "change": _ANSWERS + " A before and after of one change on one-off castings was not found.",
    "day": (
        "No log of a kiln with a gypsum block in it, with the hours at which it was dry and "
        "clean, was found: looked in open data sets, kiln makers' manuals and papers on "
        "dental burnout. What two potters read of their cooling kilns is all that was found; "
        "the days are held against made-up ones."
    ),
    "finish": (
        "No force of a hand brush, wheel or blast nozzle on a thin casting was found with a "
        "number: looked in papers on deburring, brushing and abrasive blasting. What a part "
        "bears is held against beams that others bent."
    ),
    "forecast": _ANSWERS
    + (
        " A filling of a plant in a gypsum-bonded block with all its numbers written down was "
        "not found: looked in foundry journals, dental casting studies and open data sets."
    ),
    "freeze": (
        "No cooling curve of bronze in an investment mould with readable numbers was found; "
        "looked in foundry and dental journals. The sand of Chvorinov stands in."
    ),
    "gating": (
        "No comparison of gates or feeders on castings under 100 g with readable numbers was "
        "found: looked in dental spruing studies, which tell verdicts without the geometry. "
        "Feeders on steel in sand stand in."
    ),
    "learn": (
        "Statistics: held against closed forms and made-up studios. A measured pull-down of a "
        "gypsum block, gauge against time, was not found; permeabilities are told as ranks "
        "only."
    ),
    "melt": (
        "No log of a small crucible furnace with charge, power and metal temperature was "
        "found: looked in furnace makers' manuals, hobby casters' pages and open data sets. One "
        "paper on an electric furnace for bronze tells that it measured both; its numbers could "
        "not be read. A hot bulb that cools stands in for the pot."
    ),
    "page": "Pages: nothing is measured here; their numbers are those of the stages.",
    "photo": (
        "No open set of photographs of plants with caliper measures of each branch was found; "
        "the test objects are made up, with a known truth."
    ),
    "piece": (
        "No plant whose parts were measured by caliper and whose volume was weighed under water "
        "was found; eggs stand in, and exact solids."
    ),
    "pour": (
        "No run length of bronze in gypsum-bonded investment, and no permeability of it in "
        "m², was found with a readable number."
    ),
    "runsheet": "A clock of acts: what the trade says is all there is.",
    "scan": (
        "No open set of scans of plants with the same plant measured by hand or drowned in "
        "water was found; the test objects are made up, with a known truth."
    ),
    "signs": "Signs and causes are what the trade says; no counted study of them was found.",
    "speech": "Words: fixed points of the scale in the unit of the caster; no more to measure.",
}
