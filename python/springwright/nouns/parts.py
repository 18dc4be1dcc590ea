"""What several answers are made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from .._noun import Field, Noun, maybe, maybe_empty, needed
from .._read import a_count, a_number, a_text, a_word, by_name, each, one, yes_or_no


class Assumption(Noun):
    """Something that was taken for granted because the request did not say it."""

    __slots__ = ()

    code = needed(a_text, "Stable code.")
    pointer = needed(a_text, "JSON Pointer of what it is about in the request.")
    text = needed(a_text, "What was assumed, in words.")
    effect = needed(a_text, "What it does to the answer, in words with numbers.")


class Caution(Noun):
    """A caution for whoever drinks or handles it. Never medical advice."""

    __slots__ = ()

    code = needed(a_text, "Stable code.")
    text = needed(a_text, "The caution, in words with numbers.")
    source = needed(a_text, "Where it comes from.")


class Finding(Noun):
    """Something that the reader should know of an input or a result."""

    __slots__ = ()

    code = needed(a_text, "Stable code.")
    pointer = needed(a_text, "JSON Pointer of what it is about in the request, or empty for the whole.")
    text = needed(a_text, "What was found, in words with numbers.")
    source = maybe(a_text, "Where the rule behind it stands.")


class NotJudged(Noun):
    """Something that a reader might look for and that this answer does not judge."""

    __slots__ = ()

    what = needed(a_text, "What was not judged.")
    why = needed(a_text, "Why, in words.")


class Provenance(Noun):
    """What an answer rests on."""

    __slots__ = ()

    engine = needed(a_text, "Version of the engine.")
    data_set = needed(a_text, "SHA-256 of the compiled-in data tables, in hex.")
    model = needed(a_text, "Name of the model the numbers come from.")
    request_digest = needed(a_text, "SHA-256 of the request in canonical form (RFC 8785), in hex.")
    ph_convention = maybe(a_text, "The convention of the pH scale, where the answer holds a solved water.")


# How the true amount stands to the stated value.
Comparator: TypeAlias = Literal["<"]


class Measured(Noun):
    """An amount as somebody stated it: a number, its unit, and the basis it is expressed in."""

    __slots__ = ()

    value = needed(a_number, "The number. Never negative but for an index, which may be.")
    unit = needed(
        a_text,
        "Unit, such as `mg/L`, `mmol/L`, `meq/L`, `mg/kg`, `dH`, `gr/gal_us`, `uS/cm`, `pH`, `1`. Never "
        "assumed.",
    )
    basis = maybe(
        a_text,
        "What the number is expressed as where that is not the thing itself: `CaCO3`, `N`, `S`, `CaO`, …",
    )
    comparator: Field[Comparator | None] = maybe(
        a_word("<"),
        "`<`: the value is a detection limit and the true amount lies below it.",
    )
    coverage_factor = maybe(a_number, "Coverage factor k of `uncertainty`.")
    uncertainty = maybe(
        a_number,
        "Uncertainty in the same unit and basis; standard (k = 1) unless `coverage_factor` is given.",
    )


# What becomes of a solid in a water, the mildest first.
Verdict: TypeAlias = Literal["undersaturated", "clear", "dissolving", "metastable", "clouds"]


class Conductivity(Noun):
    """Electrolytic conductivity, in µS/cm."""

    __slots__ = ()

    at_25c = needed(
        a_number,
        "Of the same closed water solved at 25 °C; no temperature factor stands behind it.",
    )
    at_temperature = needed(a_number, "At the temperature of the water.")


class Hardness(Noun):
    """Hardness, in mg/L as CaCO3."""

    __slots__ = ()

    total = needed(a_number, "All of calcium and magnesium.")
    carbonate = maybe(a_number, "The part that alkalinity covers; absent where alkalinity is unknown.")
    noncarbonate = maybe(a_number, "The rest.")


class Ion(Noun):
    """One component of a water."""

    __slots__ = ()

    mg_per_l = needed(a_number, "mg in a litre.")
    mmol_per_l = needed(a_number, "mmol in a litre.")
    charge = needed(
        a_count,
        "Signed charge number of the form in which it is counted; 0 for what carries none.",
    )
    meq_per_l = maybe(a_number, "meq in a litre; absent for what carries no charge of its own.")


class Residuals(Noun):
    """What does not close, as a share of the whole."""

    __slots__ = ()

    mass = needed(
        a_number,
        "Greatest relative gap between what went in and what is answered, over all components.",
    )
    charge = needed(a_number, "The same for charge, against the gap that the sheets themselves carry.")
    equilibrium = maybe(a_number, "Greatest |ln Q − ln K| of any species of a solved water.")


class SaturationIndex(Noun):
    """How far a water stands from a solid."""

    __slots__ = ()

    solid = needed(a_text, "The solid.")
    si = needed(
        a_number,
        "log10 of the ion activity product over the solubility product: 0 is just saturated.",
    )
    verdict: Field[Verdict | None] = maybe(
        a_word("undersaturated", "clear", "dissolving", "metastable", "clouds"),
        "What an eye will see of it, by the tabulated limits; absent for solids that haze is not judged by.",
    )


# The results whose uncertainty is taken apart.
ContributionOf: TypeAlias = Literal["ph", "si"]


class Contribution(Noun):
    """What one input contributes to the uncertainty of one result."""

    __slots__ = ()

    of: Field[ContributionOf] = needed(a_word("ph", "si"), "The result.")
    input = needed(
        a_text,
        "JSON Pointer of the input in the request; or `solubility_constant` or `ph_scale`.",
    )
    standard_uncertainty = needed(a_number, "Standard uncertainty of the input, in its own unit.")
    sensitivity = needed(a_number, "By how much the result moves for one unit of the input.")
    share_percent = needed(
        a_number,
        "Share in the variance of the result, in percent; they add up to 100. Correlated inputs share what "
        "they have in common, so that one may be negative.",
    )
    solid = maybe(a_text, "The solid, where the result is an index.")


class IonUncertainty(Noun):
    """Standard uncertainties of a component of a water."""

    __slots__ = ()

    mg_per_l = needed(a_number, "In mg/L.")
    mmol_per_l = needed(a_number, "In mmol/L.")
    meq_per_l = maybe(a_number, "In meq/L; absent for what carries no charge of its own.")


# How uncertainties are carried.
UncertaintyMethod: TypeAlias = Literal["linear", "monte_carlo"]


class SaturationIndexUncertainty(Noun):
    """Standard uncertainty of a saturation index."""

    __slots__ = ()

    solid = needed(a_text, "The solid.")
    si = needed(a_number, "Of the index: both parts below, combined in quadrature.")
    of_inputs = needed(a_number, "The part that the inputs bring.")
    of_constant = needed(a_number, "The part that the solubility constant of the solid brings.")


class WaterUncertainty(Noun):
    """Standard uncertainties (k = 1) of a water, under the keys of the water. What has none is absent."""

    __slots__ = ()

    method: Field[UncertaintyMethod] = needed(a_word("linear", "monte_carlo"), "How they were carried.")
    ions = needed(by_name(one(IonUncertainty)), "Of what is dissolved, by component.")
    alkalinity_meq_per_l = maybe(a_number, "Of the alkalinity, in meq/L.")
    alkalinity_mg_per_l_hco3 = maybe(a_number, "The same expressed as HCO3, in mg/L.")
    charge_balance_half_sum_percent = maybe(a_number, "The same by the other convention, in percent.")
    charge_balance_percent = maybe(a_number, "Of the charge balance, in percent.")
    co2_mg_per_l = maybe(a_number, "Of the free carbon dioxide, in mg/L.")
    conductivity_us_per_cm = maybe(
        one(Conductivity),
        "Of the conductivity, in µS/cm, as far as it comes from the composition.",
    )
    contributions = maybe_empty(
        each(one(Contribution)),
        "How much each input contributes to the pH and to each saturation index: per result, the greatest "
        "first. By the law of propagation, whatever the method.",
    )
    density_kg_per_l = maybe(a_number, "Of the density, in kg/L, as far as it comes from the composition.")
    dic_mmol_per_l = maybe(a_number, "Of all dissolved carbonate, in mmol/L.")
    draws = maybe(a_count, "Number of draws, where draws were made.")
    gauge_bar = maybe(a_number, "Of the pressure in the headspace, in bar.")
    hardness_mg_per_l_caco3 = maybe(one(Hardness), "Of the hardness, in mg/L as CaCO3.")
    ionic_strength_mol_per_kg = maybe(a_number, "Of the ionic strength, in mol/kg.")
    osmolality_mosmol_per_kg = maybe(a_number, "Of the osmolality, in mmol of particles per kg of water.")
    pco2_bar = maybe(a_number, "Of its partial pressure, in bar.")
    ph = maybe(
        a_number,
        "Of the pH. Above an ionic strength of 0.1 mol/kg the choice of the pH scale is combined into it: "
        "0.05 at 1 mol/kg, 0.1 at 3.",
    )
    ph_in_air = maybe(a_number, "Of the pH in balance with air; the choice of the scale as in `ph`.")
    residue_180c_mg_per_l = maybe(a_number, "Of the residue after drying at 180 °C, in mg/L.")
    saturation = maybe_empty(
        each(one(SaturationIndexUncertainty)),
        "Of the saturation indices, in the order of the water.",
    )
    seed = maybe(a_count, "The stream of the draws.")
    tds_mg_per_l = maybe(a_number, "Of the sum of what is dissolved, in mg/L.")


class Water(Noun):
    """A water as answered. Fields that were not computed are absent."""

    __slots__ = ()

    temperature_c = needed(a_number, "Temperature that volumes and litres refer to, in °C.")
    ions = needed(
        by_name(one(Ion)),
        "What is dissolved, by component. In a solved water `HCO3` and `CO3` are what carbonate stands as, "
        "complexes counted in.",
    )
    residuals = needed(one(Residuals), "What does not close, as a share of the whole.")
    alkalinity_meq_per_l = maybe(a_number, "Alkalinity by titration, in meq/L.")
    alkalinity_mg_per_l_hco3 = maybe(a_number, "The same alkalinity expressed as HCO3, in mg/L.")
    charge_balance_half_sum_percent = maybe(
        a_number,
        "(cations − anions) over half their sum, in percent: the other convention, twice the number.",
    )
    charge_balance_percent = maybe(a_number, "100 (cations − anions)/(cations + anions), in percent.")
    co2_mg_per_l = maybe(a_number, "Free carbon dioxide, in mg/L.")
    conductivity_us_per_cm = maybe(
        one(Conductivity),
        "Electrolytic conductivity; absent where the water is too strong for the equation.",
    )
    density_kg_per_l = maybe(a_number, "Density in kg/L.")
    dic_mmol_per_l = maybe(a_number, "All dissolved carbonate, in mmol/L.")
    gauge_bar = maybe(a_number, "Pressure over that of the air in the headspace of its bottle, in bar.")
    hardness_mg_per_l_caco3 = maybe(one(Hardness), "Hardness, in mg/L as CaCO3.")
    ionic_strength_mol_per_kg = maybe(a_number, "Ionic strength of the species, in mol per kg of water.")
    mass_kg = maybe(a_number, "Mass in kg.")
    not_stated = maybe_empty(
        each(a_text),
        "Components that some sheet did not state: unknown there, not zero. One that stands in `ions` too "
        "is at least that much.",
    )
    osmolality_mosmol_per_kg = maybe(a_number, "Osmolality, in mmol of particles per kg of water.")
    pco2_bar = maybe(
        a_number,
        "Partial pressure of carbon dioxide with which the water is in balance, in bar.",
    )
    ph = maybe(
        a_number,
        "pH on the convention that the provenance names; absent where nothing tells how much carbonate is "
        "dissolved.",
    )
    ph_in_air = maybe(
        a_number,
        "pH once the water has given off CO2 until it is in balance with air at sea level; only where it "
        "holds more.",
    )
    residue_180c_mg_per_l = maybe(
        a_number,
        "Residue after drying at 180 °C, in mg/L, as computed from the ions.",
    )
    saturation = maybe_empty(
        each(one(SaturationIndex)),
        "How far the water stands from the solids that it is nearest to: those with an index from -1, and "
        "calcite. The calculation `saturation` answers all of them.",
    )
    tds_mg_per_l = maybe(
        a_number,
        "Sum of what is dissolved, in mg/L, alkalinity counted as hydrogencarbonate.",
    )
    uncertainty = maybe(
        one(WaterUncertainty),
        "Standard uncertainties under the keys of this water; where the request asks with `uncertainty`.",
    )
    volume_l = maybe(a_number, "Volume in litres.")


class TimeHint(Noun):
    """How long a cloud takes: an order of magnitude."""

    __slots__ = ()

    text = needed(a_text, "The time, in words.")
    basis = needed(a_text, "What it was seen on.")
    confidence = needed(a_text, "How sure it is: `checked`, `computed` or `from_memory`.")
    source = needed(a_text, "Where it comes from.")


class HazeVerdict(Noun):
    """The verdict on one solid."""

    __slots__ = ()

    solid = needed(a_text, "The solid.")
    formula = needed(a_text, "Its formula, water of crystallisation included.")
    verdict: Field[Verdict] = needed(
        a_word("undersaturated", "clear", "dissolving", "metastable", "clouds"),
        "The verdict.",
    )
    why = needed(a_text, "Why, in words with numbers.")
    si = needed(
        a_number,
        "log10 of the ion activity product over the solubility product: 0 is just saturated.",
    )
    si_compared = needed(
        a_number,
        "The index as it is compared with the limits: divided for solids of many ions.",
    )
    margin = needed(
        a_number,
        "Distance of that index from the next limit above it; below zero it is so far beyond the last one.",
    )
    cloud_possible = needed(
        yes_or_no,
        "Whether a cloud cannot be excluded although the verdict is milder: between an older and a newer "
        "limit.",
    )
    metastable_si = needed(a_number, "Index from which a water is metastable.")
    possible_si = needed(a_number, "Index from which a cloud cannot be excluded.")
    clouds_si = needed(a_number, "Index from which it clouds.")
    confidence = needed(
        a_text,
        "How sure these limits are: `checked`, `computed`, `from_memory`, or `set_in_request`.",
    )
    note = needed(a_text, "What stands behind these limits, in words.")
    precipitable_mg_per_l = maybe(
        a_number,
        "What the water lets fall of this solid alone, in mg per litre; absent where the index leaves no "
        "question.",
    )
    source = maybe(a_text, "Where these limits come from; absent where the request set them.")
    time = maybe(one(TimeHint), "How long it takes; absent where no rate is published.")
    undissolved_mg_per_l = maybe(
        a_number,
        "What of its powder is left when the water is saturated, in mg per litre; absent where no powder "
        "lies in it.",
    )
