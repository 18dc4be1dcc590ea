"""The answer `WeighingPlan` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Noun, maybe, needed
from .._read import a_number, each, one
from .parts import Assumption, Caution, Finding, NotJudged, Provenance, RecipeWeighing, Water, WeighedWish


class WeighingPlan(Noun):
    """A recipe on the balances."""

    __slots__ = ()

    weighings = needed(each(one(RecipeWeighing)), "What to put on the balance, in the order of the recipe.")
    wishes = needed(each(one(WeighedWish)), "Each wish in the water that this makes.")
    water = needed(one(Water), "The water that this makes.")
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever handles or drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
    probability_percent = maybe(
        a_number,
        "How likely all wishes are met at once, in percent. Reading (a step over √12), assay and what is "
        "poured are drawn as normal distributions along the slopes of each wish. Absent without wishes.",
    )
