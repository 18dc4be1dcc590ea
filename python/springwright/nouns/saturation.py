"""The answer `Saturation` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Field, Noun, maybe, maybe_empty, needed
from .._read import a_number, a_text, a_word, each, one, yes_or_no
from .parts import Assumption, Caution, Finding, NotJudged, Provenance, Verdict, Water


class SolidSaturation(Noun):
    """One solid beside a water."""

    __slots__ = ()

    solid = needed(a_text, "The solid.")
    formula = needed(a_text, "Its formula, water of crystallisation included.")
    si = needed(
        a_number,
        "log10 of the ion activity product over the solubility product: 0 is just saturated, below the "
        "solid would dissolve.",
    )
    si_per_ion = needed(
        a_number,
        "The index over the number of ions of a formula unit, to compare solids of few and of many ions.",
    )
    log_k = needed(a_number, "log10 of the solubility product there.")
    log_k_uncertainty = needed(a_number, "Standard uncertainty of that constant.")
    measured = needed(yes_or_no, "Whether the temperature lies within the measurements of the constant.")
    source = needed(a_text, "Where the constant comes from.")
    si_uncertainty = maybe(
        a_number,
        "Standard uncertainty of the index, that of the constant combined in; where `uncertainty` was "
        "asked.",
    )
    verdict: Field[Verdict | None] = maybe(
        a_word("undersaturated", "clear", "dissolving", "metastable", "clouds"),
        "What an eye will see of it, by the tabulated limits; absent for solids that haze is not judged by.",
    )


class SaturationAt(Noun):
    """The solids at one temperature."""

    __slots__ = ()

    temperature_c = needed(a_number, "Temperature in °C.")
    ph = needed(a_number, "pH there.")
    saturation = needed(each(one(SolidSaturation)), "Each solid.")
    ph_uncertainty = maybe(a_number, "Standard uncertainty of that pH; where `uncertainty` was asked.")


class Saturation(Noun):
    """How far a water stands from the solids that it could make."""

    __slots__ = ()

    water = needed(one(Water), "The water.")
    saturation = needed(each(one(SolidSaturation)), "Each solid at the temperature of the water.")
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
    at_temperatures = maybe_empty(
        each(one(SaturationAt)),
        "The same at the further temperatures, in the order of the request.",
    )
