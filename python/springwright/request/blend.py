"""The request `BlendRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, Required, TypeAlias, TypedDict

from .parts import Balance, Co2, SourceWater, Wish


# What is minimised: the sum over the `near` wishes of weight · |got − asked| / max(|asked|, floor), or the
# same terms squared. Floors: 1 mg/L in the basis of the wish (or 1 mg/kg, or a tenth of a degree of
# hardness), 0.02 mmol/L, 0.02 meq/L, 10 µS/cm, 1 mOsm/kg, 0.1 for pH, indices, ratios, cost and volumes of
# CO2.
Objective: TypeAlias = Literal["relative_deviation", "least_squares"]


class SaltChoice(TypedDict, total=False):
    """A salt on the shelf: one of `salt` or `formula`, and what is known of this lot."""

    assay_percent: float
    """g of the stated formula in 100 g weighed; 100 unless given (an assumption)."""
    at_least_g: float
    """Least mass to weigh in, in g."""
    at_most_g: float
    """Greatest mass to weigh in, in g."""
    formula: str
    """Formula with its water of crystallisation: `CaCl2·2H2O`."""
    lot: str
    """A label that is carried through to the weighing."""
    price_per_kg: float
    """Price of one kilogram as sold, in the currency of the request."""
    salt: str
    """Id or name in the catalogue, hydrate included: `magnesium_sulfate_heptahydrate`."""
    stock_g: float
    """What is left of it, in g."""


class BlendRequest(TypedDict, total=False):
    """Asks which salts, in which grams, on top of which waters, come nearest to the wishes."""

    volume_l: Required[float]
    """Litres of finished water at `temperature_c`."""
    waters: Required[Sequence[SourceWater]]
    """The waters at hand. There is always at least one; pure water must be said."""
    salts: Required[Sequence[SaltChoice]]
    """The salts on the shelf."""
    target: Required[Sequence[Wish]]
    """The wishes."""
    balances: Required[Sequence[Balance]]
    """The balances at hand. The finest one that takes a mass weighs it."""
    co2: Co2
    """The state of the carbon dioxide; `closed` unless given."""
    most_salts: int
    """Greatest number of salts that are weighed in."""
    objective: Objective
    """What is minimised over the `near` wishes; `relative_deviation` unless given."""
    strict: bool
    """Refuse every assumption."""
    temperature_c: float
    """Temperature of the finished water in °C; 20 unless given (an assumption)."""
