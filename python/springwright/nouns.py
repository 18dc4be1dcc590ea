"""What Springwright answers. Every class is frozen; its attributes are plain numbers, strings, tuples, mappings
and other nouns. Attributes carry their unit in the name.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, TypeAlias

from ._noun import Field, Noun, maybe, needed, perhaps_none
from ._read import a_count, a_number, a_text, a_word, by_name, each, one, yes_or_no


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


# What is minimised: the sum over the `near` wishes of weight · |got − asked| / max(|asked|, floor), or the
# same terms squared. Floors: 1 mg/L in the basis of the wish, 0.02 mmol/L, 0.02 meq/L.
Objective: TypeAlias = Literal["relative_deviation", "least_squares"]


class Pouring(Noun):
    """One water to pour."""

    __slots__ = ()

    water = needed(a_text, "What people call it.")
    volume_l = needed(a_number, "Litres, at the temperature of that water.")
    mass_kg = needed(a_number, "Kilograms.")
    share_percent = needed(a_number, "Share in the water poured, in percent by mass.")
    temperature_c = needed(a_number, "Temperature at which `volume_l` is measured, in °C.")
    lot = maybe(a_text, "Label carried through.")


class Provenance(Noun):
    """What an answer rests on."""

    __slots__ = ()

    engine = needed(a_text, "Version of the engine.")
    data_set = needed(a_text, "SHA-256 of the compiled-in data tables, in hex.")
    model = needed(a_text, "Name of the model the numbers come from.")
    request_digest = needed(a_text, "SHA-256 of the request in canonical form (RFC 8785), in hex.")


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


class Reason(Noun):
    """One reason why a wish is not met, with its way out."""

    __slots__ = ()

    code = needed(
        a_text,
        "Stable code: `no_source`, `tied`, `held_back`, `grid`, `already_over`, `most_salts`, `share_limit`,"
        " `mass_limit`, `weight`.",
    )
    text = needed(a_text, "The reason in words.")
    freeing_salts = perhaps_none(each(a_text), "Catalogue ids of salts that would free it.")
    tied_by = perhaps_none(each(a_text), "JSON Pointers of the wishes, salts or waters that tie it.")
    way_out = maybe(a_text, "What would free it, in words.")


class Reached(Noun):
    """One wish and what became of it."""

    __slots__ = ()

    pointer = needed(a_text, "JSON Pointer of the wish.")
    of = needed(a_text, "What the wish is about.")
    asked = needed(a_text, "What was asked, in words.")
    met = needed(yes_or_no, "Whether it is met: a `near` wish within its tolerance, any other as held.")
    got = maybe(
        one(Measured),
        "What is got, in the unit and basis of the wish; absent where it is `impossible`.",
    )
    why = perhaps_none(each(one(Reason)), "Why it is not met: what ties it.")


class Hardness(Noun):
    """Hardness, in mg/L as CaCO3."""

    __slots__ = ()

    total = needed(a_number, "All of calcium and magnesium.")
    carbonate = needed(a_number, "The part that alkalinity covers.")
    noncarbonate = needed(a_number, "The rest.")


class Ion(Noun):
    """One component of a water."""

    __slots__ = ()

    mg_per_l = needed(a_number, "mg in a litre.")
    mmol_per_l = needed(a_number, "mmol in a litre.")
    meq_per_l = maybe(a_number, "meq in a litre; absent for what carries no charge of its own.")


class Residuals(Noun):
    """What does not close, as a share of the whole."""

    __slots__ = ()

    mass = needed(
        a_number,
        "Greatest relative gap between what went in and what is answered, over all components.",
    )
    charge = needed(a_number, "The same for charge, against the gap that the sheets themselves carry.")


class Water(Noun):
    """A water as answered. Fields that were not computed are absent."""

    __slots__ = ()

    temperature_c = needed(a_number, "Temperature that volumes and litres refer to, in °C.")
    ions = needed(by_name(one(Ion)), "What is dissolved, by component.")
    residuals = needed(one(Residuals), "What does not close, as a share of the whole.")
    alkalinity_meq_per_l = maybe(a_number, "Alkalinity by titration, in meq/L.")
    alkalinity_mg_per_l_hco3 = maybe(a_number, "The same alkalinity expressed as HCO3, in mg/L.")
    charge_balance_half_sum_percent = maybe(
        a_number,
        "(cations − anions) over half their sum, in percent: the other convention, twice the number.",
    )
    charge_balance_percent = maybe(a_number, "100 (cations − anions)/(cations + anions), in percent.")
    density_kg_per_l = maybe(a_number, "Density in kg/L.")
    hardness_mg_per_l_caco3 = maybe(one(Hardness), "Hardness, in mg/L as CaCO3.")
    mass_kg = maybe(a_number, "Mass in kg.")
    not_stated = perhaps_none(
        each(a_text),
        "Components that no sheet stated and that are therefore unknown, not zero.",
    )
    ph = maybe(a_number, "pH.")
    residue_180c_mg_per_l = maybe(
        a_number,
        "Residue after drying at 180 °C, in mg/L, as computed from the ions.",
    )
    tds_mg_per_l = maybe(
        a_number,
        "Sum of what is dissolved, in mg/L, alkalinity counted as hydrogencarbonate.",
    )
    volume_l = maybe(a_number, "Volume in litres.")


class Weighing(Noun):
    """One salt to weigh."""

    __slots__ = ()

    name = needed(a_text, "Name for people, hydrate included.")
    steps = needed(a_count, "Whole steps of the balance: the number that is the truth.")
    step_g = needed(a_number, "Step of that balance in g.")
    mass_g = needed(a_number, "Mass in g: `steps` times `step_g`.")
    rounding_percent = needed(a_number, "Half a step as a share of the mass, in percent.")
    assay_percent = needed(a_number, "Assay that was used, in percent.")
    index = needed(a_count, "Index of the entry in the request.")
    formula = maybe(a_text, "Canonical formula with its water.")
    lot = maybe(a_text, "Label carried through.")
    salt = maybe(a_text, "Id in the catalogue, or absent for a formula that it does not hold.")


class Relaxation(Noun):
    """A smallest change that makes an impossible request possible, solved."""

    __slots__ = ()

    pointer = needed(a_text, "JSON Pointer of what is changed.")
    text = needed(a_text, "The change in words.")
    pourings = needed(each(one(Pouring)), "What to pour then.")
    weighings = needed(each(one(Weighing)), "What to weigh then.")
    water = needed(one(Water), "The water that results then.")
    bound = maybe(one(Measured), "The bound that works, in the unit and basis of the wish.")


# How a blend ended.
BlendStatus: TypeAlias = Literal["solved", "nearest", "impossible"]


class Blend(Noun):
    """The blend: what to pour, what to weigh, and the water that results."""

    __slots__ = ()

    status: Field[BlendStatus] = needed(a_word("solved", "nearest", "impossible"), "How it ended.")
    pourings = needed(each(one(Pouring)), "What to pour, in the order of the request.")
    weighings = needed(each(one(Weighing)), "What to weigh, in the order of the request.")
    reached = needed(each(one(Reached)), "Each wish: asked, got, met, and why not.")
    objective: Field[Objective] = needed(a_word("relative_deviation", "least_squares"), "What was minimised.")
    objective_values = needed(each(a_number), "Its value at the answer, by priority.")
    gap = needed(each(a_number), "Proved distance of the objective to the best there is, by priority.")
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever drinks or handles it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
    conflict = perhaps_none(
        each(a_text),
        "JSON Pointers of the smallest set of wishes and limits that collide; only where it is `impossible`.",
    )
    cost = maybe(a_number, "Cost of the salts and waters that state a price.")
    relaxations = perhaps_none(
        each(one(Relaxation)),
        "Smallest changes that would make it possible, each solved; only where it is `impossible`.",
    )
    water = maybe(one(Water), "The water that results; absent where it is `impossible`.")


class Conversion(Noun):
    """One amount in another unit or basis, and the same amount in the other bases of the trade."""

    __slots__ = ()

    measured = needed(one(Measured), "The amount as asked, its uncertainty carried along.")
    equivalents = needed(
        each(one(Measured)),
        "The same amount in the other units and bases in which people state it.",
    )
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    provenance = needed(one(Provenance), "What the answer rests on.")


class Mixture(Noun):
    """The water that results."""

    __slots__ = ()

    water = needed(one(Water), "The water that results.")
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")


class SolubilityPoint(Noun):
    """One point of a solubility table."""

    __slots__ = ()

    temperature_c = needed(a_number, "Temperature in °C.")
    g_per_100_g_water = needed(a_number, "g in 100 g of water, on the basis that the table states.")


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
        "g of the anhydrous salt in 100 g of water, by temperature in °C.",
    )
    incompatibilities = needed(a_text, "What to keep it away from.")
    moisture = needed(a_text, "How it takes up or loses water.")
    confidence = needed(a_text, "How sure the row as a whole is: `H`, `M` or `L`.")
    sources = needed(each(a_text), "Where its values come from.")
    cas = maybe(a_text, "CAS number.")
    eu_e = maybe(a_text, "Number in the Union list of food additives.")
    formula = maybe(a_text, "Canonical formula with its water; absent for a solution.")
    ins = maybe(a_text, "Codex number of a food additive.")
    molar_mass_g_per_mol = maybe(a_number, "g/mol of the stated formula, water included.")
    us_status = maybe(a_text, "Standing in United States food law, as noted.")


class SaltsPage(Noun):
    """A page of the catalogue."""

    __slots__ = ()

    salts = needed(each(one(Salt)), "The rows, by id.")
    next_cursor = maybe(a_text, "Where the next page begins; absent on the last.")


class Fault(Noun):
    """One fault of a request."""

    __slots__ = ()

    pointer = needed(a_text, "JSON Pointer (RFC 6901) of the field; empty for the whole document.")
    code = needed(a_text, "Stable code.")
    message = needed(a_text, "What is wrong, in words.")
    mend = needed(a_text, "How to mend it.")
    accepted = perhaps_none(each(a_text), "What would be accepted.")


class Problem(Noun):
    """Why a request was refused: `application/problem+json` after RFC 9457."""

    __slots__ = ()

    type = needed(a_text, "URI reference that names the sort of problem.")
    title = needed(a_text, "The sort of problem in a few words.")
    status = needed(a_count, "HTTP status.")
    code = needed(a_text, "Stable code.")
    detail = needed(a_text, "What happened, in a sentence.")
    faults = perhaps_none(each(one(Fault)), "Every fault, in the order of the document.")


__all__ = [
    "Assumption",
    "Blend",
    "BlendStatus",
    "Caution",
    "Comparator",
    "Conversion",
    "Fault",
    "Finding",
    "Hardness",
    "Ion",
    "Measured",
    "Mixture",
    "NotJudged",
    "Objective",
    "Pouring",
    "Problem",
    "Provenance",
    "Reached",
    "Reason",
    "Relaxation",
    "Residuals",
    "Salt",
    "SaltsPage",
    "SolubilityPoint",
    "Water",
    "Weighing",
]
