"""The answer `Precipitation` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Field, Noun, maybe, maybe_empty, needed
from .._read import a_number, a_text, a_word, each, one, yes_or_no
from .parts import Assumption, Caution, Finding, HazeVerdict, NotJudged, Provenance, Verdict, Water


class DissolvingPowder(Noun):
    """How long a powder takes to dissolve in the stirred water, from the published rate of its surface."""

    __slots__ = ()

    solid = needed(a_text, "The solid.")
    grain_um = needed(a_number, "Diameter of its grains, in µm.")
    text = needed(a_text, "The same in words.")
    source = needed(a_text, "Where the rate comes from.")
    minutes_to_90_percent = maybe(
        a_number,
        "Minutes until 90 % of it are in solution; absent where the water is saturated before.",
    )


class SettledSolid(Noun):
    """One solid at the end. Amounts are per litre of the water before."""

    __slots__ = ()

    solid = needed(a_text, "The solid.")
    formula = needed(a_text, "Its formula, water of crystallisation included.")
    at_start_mg_per_l = needed(a_number, "What lay in the water at the start, in mg.")
    at_end_mg_per_l = needed(a_number, "What lies in it at the end, in mg.")
    formed_mg_per_l = needed(a_number, "What has formed, below zero what has dissolved, in mg.")
    formed_mmol_per_l = needed(a_number, "The same in mmol.")
    si = needed(a_number, "Saturation index at the end: 0 for what is there.")
    measured = needed(yes_or_no, "Whether the temperature lies within the measurements of its constant.")


class Precipitation(Noun):
    """A water in balance with its solids."""

    __slots__ = ()

    before = needed(one(Water), "The water before, without what lies in it.")
    after = needed(one(Water), "The water that is left when no solid has a reason to move.")
    solids = needed(each(one(SettledSolid)), "Every solid that took part and whose ions are all here.")
    verdict: Field[Verdict] = needed(
        a_word("undersaturated", "clear", "dissolving", "metastable", "clouds"),
        "The verdict on the water before: that of its worst solid.",
    )
    haze = needed(
        each(one(HazeVerdict)),
        "What an eye will see in the water before, by each solid that haze is judged by and whose ions are "
        "all here.",
    )
    visible_mg_per_l = needed(a_number, "Mass of a solid below which nothing is seen, in mg/L.")
    complementarity = needed(
        a_number,
        "How far the worst solid is from its balance, in log10 units: |SI| of what is there, SI above zero "
        "of what is not.",
    )
    ledger = needed(
        a_number,
        "The largest share of a component, of alkalinity or of carbonate by which start and end differ.",
    )
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
    calcite_potential_closed_mg_per_l = maybe(
        a_number,
        "Calcium carbonate that falls until the closed water is just saturated with calcite, in mg/L; below "
        "zero what it takes up. Powders are not counted in.",
    )
    calcite_potential_in_air_mg_per_l = maybe(a_number, "The same for the water open to air at sea level.")
    co2_to_gas_g_per_l = maybe(
        a_number,
        "Carbon dioxide that the gas took up, in g per litre of the water before, against that water under "
        "the same gas; below zero what it gave. Absent where the water is closed.",
    )
    dissolving = maybe_empty(
        each(one(DissolvingPowder)),
        "How long powders take to dissolve; of those whose grain was stated.",
    )
    worst_solid = maybe(
        a_text,
        "The solid with the harshest verdict, and among those alike the nearest to its next limit; absent "
        "where none is judged.",
    )
