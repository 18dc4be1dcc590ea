"""The answer `Blend` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from .._noun import Field, Noun, maybe, maybe_empty, needed
from .._read import a_count, a_number, a_text, a_word, each, one, yes_or_no
from .parts import Assumption, Caution, Finding, Measured, NotJudged, Provenance, Verdict, Water


# What is minimised: the sum over the `near` wishes of weight · |got − asked| / max(|asked|, floor), or the
# same terms squared. Floors: 1 mg/L in the basis of the wish (or 1 mg/kg, or a tenth of a degree of
# hardness), 0.02 mmol/L, 0.02 meq/L, 10 µS/cm, 1 mOsm/kg, 0.1 for pH, indices, ratios, cost and volumes of
# CO2.
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


class Reason(Noun):
    """One reason why a wish is not met, with its way out."""

    __slots__ = ()

    code = needed(
        a_text,
        "Stable code: `no_source`, `tied`, `held_back`, `grid`, `already_over`, `most_salts`, "
        "`share_limit`, `mass_limit`, `weight`, `not_reached` (no blend was found that holds a demand on "
        "the solved state).",
    )
    text = needed(a_text, "The reason in words.")
    freeing_salts = maybe_empty(each(a_text), "Catalogue ids of salts that would free it.")
    tied_by = maybe_empty(each(a_text), "JSON Pointers of the wishes, salts or waters that tie it.")
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
        "What is got, in the unit and basis of the wish; absent where it is `impossible`, for the index of "
        "a solid of which a part is absent, and for `haze`.",
    )
    verdict: Field[Verdict | None] = maybe(
        a_word("undersaturated", "clear", "dissolving", "metastable", "clouds"),
        "What an eye will see, for `haze`; absent where it is `impossible`.",
    )
    why = maybe_empty(each(one(Reason)), "Why it is not met: what ties it.")
    worst_solid = maybe(
        a_text,
        "The solid with that verdict, and among those alike the nearest to its next limit; absent where "
        "none is judged.",
    )


class Weighing(Noun):
    """One salt to weigh."""

    __slots__ = ()

    salt = needed(a_text, "Id in the catalogue.")
    name = needed(a_text, "Name for people, hydrate included.")
    steps = needed(a_count, "Whole steps of the balance: the number that is the truth.")
    step_g = needed(a_number, "Step of that balance in g.")
    mass_g = needed(a_number, "Mass in g: `steps` times `step_g`.")
    rounding_percent = needed(a_number, "Half a step as a share of the mass, in percent.")
    assay_percent = needed(a_number, "Assay that was used, in percent.")
    index = needed(a_count, "Index of the entry in the request.")
    formula = maybe(a_text, "Canonical formula with its water; absent where the article has no single one.")
    lot = maybe(a_text, "Label carried through.")


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
    gap = needed(
        each(a_number),
        "Proved distance of the objective to the best there is, by priority, as far as one is proved. With "
        "wishes for pH, `si`, `conductivity`, `co2` or `osmolality` all that is proved is the best by the "
        "other wishes alone: the distance is to that one, and later priorities without a proof have no "
        "entry (finding `not_proved`).",
    )
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever drinks or handles it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
    conflict = maybe_empty(
        each(a_text),
        "JSON Pointers of the smallest set of wishes and limits that collide; only where it is "
        "`impossible`.",
    )
    cost = maybe(a_number, "Cost of the salts and waters that state a price.")
    relaxations = maybe_empty(
        each(one(Relaxation)),
        "Smallest changes that would make it possible, each solved; only where it is `impossible`.",
    )
    water = maybe(one(Water), "The water that results; absent where it is `impossible`.")
