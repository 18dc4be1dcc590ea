"""The answer `WeighingPlan` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Noun, maybe, maybe_empty, needed
from .._read import a_count, a_number, a_text, each, one, yes_or_no
from .parts import Assumption, Caution, Finding, Measured, NotJudged, Provenance, Water


class StockSolution(Noun):
    """A stock solution, and the dose of it that brings the mass of the recipe."""

    __slots__ = ()

    steps = needed(a_count, "Salt for it, in whole steps of the same balance.")
    mass_g = needed(a_number, "The same in g.")
    flask_ml = needed(a_number, "Water up to this volume of the stock, in mL.")
    dose_ml = needed(a_number, "Dose into the finished water, in mL.")
    text = needed(a_text, "The same in words.")


class RecipeWeighing(Noun):
    """One line of the recipe on its balance."""

    __slots__ = ()

    salt = needed(a_text, "Id in the catalogue.")
    name = needed(a_text, "Name for people, hydrate included.")
    recipe_g = needed(a_number, "Mass by the recipe, in g.")
    steps = needed(a_count, "Whole steps of the balance: the number that is the truth.")
    step_g = needed(a_number, "Step of that balance in g.")
    balance = needed(a_count, "Index of the balance in the request.")
    mass_g = needed(a_number, "Mass in g: `steps` times `step_g`, and the bags.")
    portions = needed(a_count, "In how many portions, where the balance does not take it at once.")
    rounding_percent = needed(a_number, "Half a step as a share of the mass, in percent.")
    uncertainty_g = needed(
        a_number,
        "Standard uncertainty of what goes in of the salt, in g: reading and assay.",
    )
    bags = maybe(a_count, "Whole bags beside what is weighed; absent where no bag is stated.")
    ended_above_by = maybe_empty(each(a_text), "JSON Pointers of the wishes that end it above.")
    ended_below_by = maybe_empty(each(a_text), "JSON Pointers of the wishes that end it below.")
    formula = maybe(a_text, "Canonical formula with its water; absent where the article has no single one.")
    least_g = maybe(
        a_number,
        "Least mass of this line alone with which every wish that is met stays so, in g; absent where it "
        "may be left out.",
    )
    lot = maybe(a_text, "Label carried through.")
    most_g = maybe(a_number, "Greatest such mass, in g; absent where twice the mass does no harm.")
    stock = maybe(
        one(StockSolution),
        "A stock solution instead, where the mass is too small for its balance; absent elsewhere, and where "
        "no flask helps.",
    )


class WeighedWish(Noun):
    """A wish in the water that is weighed."""

    __slots__ = ()

    pointer = needed(a_text, "JSON Pointer of the wish.")
    of = needed(a_text, "What the wish is about.")
    asked = needed(a_text, "What was asked, in words.")
    met = needed(yes_or_no, "Whether it is met.")
    probability_percent = needed(a_number, "How likely it is met, in percent.")
    by_recipe = maybe(one(Measured), "What the recipe would give without rounding; absent as `got`.")
    got = maybe(
        one(Measured),
        "What is got, in the unit and basis of the wish; absent for the index of a solid of which a part is "
        "absent.",
    )


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
