"""The answer `Speciation` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Noun, needed
from .._read import a_count, a_number, a_text, each, one
from .parts import Assumption, Caution, Finding, NotJudged, Provenance, Water


class DissolvedSpecies(Noun):
    """One species of a solved water."""

    __slots__ = ()

    species = needed(a_text, "Its name: a formula without charge, such as `HCO3` or `MgCO3`.")
    charge = needed(a_count, "Signed charge number.")
    mmol_per_kg = needed(a_number, "mmol per kg of water.")
    mmol_per_l = needed(a_number, "mmol in a litre.")
    activity_coefficient = needed(
        a_number,
        "Activity coefficient on the molal scale. That of one ion is a convention of the model: only "
        "products that carry no charge can be measured.",
    )


class Speciation(Noun):
    """The equilibrium of a water."""

    __slots__ = ()

    water = needed(one(Water), "The water.")
    species = needed(each(one(DissolvedSpecies)), "Every species that stands in it.")
    water_activity = needed(a_number, "Activity of water.")
    osmotic_coefficient = needed(a_number, "Osmotic coefficient.")
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
