"""The answer `ScaleUp` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Noun, maybe, needed
from .._read import a_count, a_number, a_text, each, one
from .parts import Assumption, Caution, Finding, NotJudged, Provenance, RecipeWeighing, Water, WeighedWish


class ScaledPouring(Noun):
    """A water to pour into the large batch."""

    __slots__ = ()

    water = needed(a_text, "What people call it.")
    volume_l = needed(a_number, "Litres at its own temperature.")
    mass_kg = needed(a_number, "kg.")
    temperature_c = needed(a_number, "Its own temperature in °C.")


class WholeBags(Noun):
    """A volume at which a salt comes out in whole bags."""

    __slots__ = ()

    index = needed(a_count, "Index of the salt in the recipe.")
    name = needed(a_text, "Its name.")
    bags = needed(a_count, "Bags of it.")
    volume_l = needed(a_number, "Litres of finished water.")


class ScaleUp(Noun):
    """A recipe in another volume."""

    __slots__ = ()

    times = needed(a_number, "How many times the recipe as it was tried.")
    pourings = needed(each(one(ScaledPouring)), "The waters to pour.")
    weighings = needed(
        each(one(RecipeWeighing)),
        "What to put on the balance beside the bags, in the order of the recipe.",
    )
    whole_bags = needed(
        each(one(WholeBags)),
        "Volumes near the wanted one at which a salt comes out in whole bags, the nearest first.",
    )
    wishes = needed(each(one(WeighedWish)), "Each wish in the water that this makes.")
    water = needed(one(Water), "The water that this makes.")
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever handles or drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
    probability_percent = maybe(
        a_number,
        "How likely all wishes are met at once, in percent, as in `weighing`; absent without wishes.",
    )
