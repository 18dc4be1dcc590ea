"""The answer `SaltsPage` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Noun, maybe, needed
from .._read import a_number, a_text, by_name, each, one


class SolubilityPoint(Noun):
    """One point of a solubility table."""

    __slots__ = ()

    temperature_c = needed(a_number, "Temperature in °C.")
    g_per_100_g_water = needed(a_number, "g of the formula in `of` that 100 g of water hold at saturation.")
    of = needed(a_text, "The formula that is counted.")


class Salt(Noun):
    """A salt, acid, base or gas of the catalogue."""

    __slots__ = ()

    id = needed(a_text, "Systematic id with the hydrate word.")
    name = needed(a_text, "Name for people.")
    mg_per_g = needed(by_name(a_number), "mg of each component in one gram of the stated formula.")
    food_use = needed(a_text, "`yes`, `not_food` or `poison_in_old_recipes`.")
    synonyms = needed(each(a_text), "What else people call it.")
    historical_names = needed(each(a_text), "What old books call it.")
    solubility = needed(
        each(one(SolubilityPoint)),
        "Points of its solubility table, which all its hydrates share.",
    )
    incompatibilities = needed(a_text, "What to keep it away from.")
    moisture = needed(a_text, "How it takes up or loses water.")
    confidence = needed(a_text, "How sure the row as a whole is: `high`, `medium` or `low`.")
    sources = needed(each(a_text), "Where its values come from.")
    assay_at_least_percent = maybe(
        a_number,
        "Assay of the trade, in percent of `assay_of`; the least that is sold.",
    )
    assay_at_most_percent = maybe(a_number, "The most that is sold; hydrates that have lost water pass 100.")
    assay_of = maybe(a_text, "What the assay counts, where it is not the stated formula.")
    bulk_density_at_least_g_per_ml = maybe(
        a_number,
        "Loose bulk density of the lightest lots, in g/mL. A level spoon holds its volume times the density "
        "of its lot.",
    )
    bulk_density_at_most_g_per_ml = maybe(a_number, "Loose bulk density of the heaviest lots, in g/mL.")
    cas = maybe(a_text, "CAS number.")
    eu_e = maybe(a_text, "Number in the Union list of food additives.")
    formula = maybe(a_text, "Canonical formula with its water; absent for a solution.")
    ins = maybe(a_text, "Codex number of a food additive.")
    molar_mass_g_per_mol = maybe(a_number, "g/mol of the stated formula, water included.")
    needs = maybe(
        a_text,
        "What it needs to dissolve into a drink: `co2_or_acid`, `acid`, `time` or `never`; absent where "
        "plain water does.",
    )
    refusal = maybe(a_text, "Why it may not be weighed into a drink; absent for what may.")
    us_status = maybe(a_text, "Standing in United States food law, as noted.")


class SaltsPage(Noun):
    """A page of the catalogue."""

    __slots__ = ()

    salts = needed(each(one(Salt)), "The rows, by id.")
    next_cursor = maybe(a_text, "Where the next page begins; absent on the last.")
