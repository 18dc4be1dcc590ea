"""The request `BlendRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, Required, TypeAlias, TypedDict

from .parts import Amount, Co2, SourceWater


class Balance(TypedDict, total=False):
    """A balance. A weighing is a whole number of its steps, not less than its least and not more than its
    most.
    """

    step_g: Required[float]
    """Readability in g."""
    most_g: Required[float]
    """Greatest mass it takes, in g."""
    least_g: float
    """Least mass that is weighed on it, in g; one step unless given."""


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


# How the parts of a ratio are counted.
CountedBy: TypeAlias = Literal["mass", "amount", "charge"]


# What becomes of a solid in a water, the mildest first.
Verdict: TypeAlias = Literal["undersaturated", "clear", "dissolving", "metastable", "clouds"]


class Wish(TypedDict, total=False):
    """One wish. `near` is as close as possible; `at_least`, `at_most` and `exact` are held, or the answer
    says why they cannot be. Wishes for `ph`, `si`, `conductivity`, `co2` (free CO2) and `osmolality` are
    judged in the solved state of the finished water, whose carbon dioxide is held as the request says.
    They are searched in the tangents of that state and every answer is solved in full, so that what is
    reached is what `speciation` of the same water answers; that no better blend exists elsewhere is not
    proved. Where no blend is found that holds such a demand, the answer is the nearest. A wish for `haze`
    is held as well: what an eye will see of the finished water, warmed or cooled to `temperature_c` and
    stood in air where `open` says so, is no harsher than `verdict`. It is judged as in `precipitation`, by
    index and by mass.
    """

    of: Required[str]
    """What the wish is about: an ion or organic by its id, `tds`, `residue_180c`, `hardness`, `alkalinity`,
    `ph`, `si`, `conductivity`, `co2`, `osmolality`, `haze`, `ratio`, `sum` or `cost`.
    """
    at_least: Amount
    """Not less than this."""
    at_most: Amount
    """Not more than this."""
    counted_by: CountedBy
    """How the parts of a `ratio` are counted: `mass` (mg/L), `amount` (mmol/L) or `charge` (meq/L). A ratio
    without it is counted by mass (an assumption).
    """
    denominator: str
    """Lower part of a `ratio`."""
    exact: Amount
    """This, within half of what one balance step of the best salt moves it. (Every salt moves a pH a little:
    of a property of the solved state those salts count that move it at least a tenth as much as the
    strongest.)
    """
    near: Amount
    """As near as possible to this."""
    numerator: str
    """Upper part of a `ratio`."""
    open: bool
    """Whether a `ph`, `si`, `conductivity` or `haze` wish is about the water once it stands in balance with
    air, at sea level.
    """
    parts: Sequence[str]
    """Parts of a `sum`."""
    priority: int
    """1 comes before 2, and so on, whatever the weights; 1 unless given."""
    solid: str
    """Solid of an `si` wish, such as `calcite`; of a `haze` wish that is about one solid alone."""
    temperature_c: float
    """Temperature of a `ph`, `si`, `conductivity` or `haze` wish in °C, for which the finished water is
    solved again, closed unless `open`; that of the blend unless given, 25 for `conductivity`. Conductivity
    ends at 60 °C.
    """
    tolerance: float
    """When a `near` wish for `ph` or `si` counts as met, in its own unit; 0.1 unless given (an assumption).
    """
    tolerance_percent: float
    """When a `near` wish counts as met, in percent; 5 unless given (an assumption). Not for `ph` and `si`:
    they are logarithms, of which a percentage says nothing.
    """
    verdict: Verdict
    """Harshest verdict that a `haze` wish accepts: `clear` unless given, or `metastable`."""
    weight: float
    """How much a `near` wish counts beside the others of its priority; 1 unless given."""


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
