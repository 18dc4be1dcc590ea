"""What several requests are made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal, Required, TypeAlias, TypedDict

from .. import nouns


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


# What holds the carbon dioxide.
Co2State: TypeAlias = Literal["closed", "open_to_air", "partial_pressure", "volumes", "dissolved", "keg", "bottle"]


class Co2(TypedDict, total=False):
    """The state of the carbon dioxide."""

    state: Required[Co2State]
    """What holds it."""
    altitude_m: float
    """Height above the sea in m, for `open_to_air` and `keg`; 0 unless given (an assumption)."""
    gauge_bar: float
    """Gauge pressure in bar, for `keg`."""
    grams_per_l: float
    """g of carbon dioxide in a litre, for `dissolved`."""
    headspace_percent: float
    """Headspace in percent of the bottle, for `bottle`."""
    pco2_bar: float
    """Partial pressure in bar, for `partial_pressure`."""
    temperature_c: float
    """Temperature of the keg in °C, for `keg`; that of the water unless given. The water is closed there and
    then brought to its own temperature.
    """
    volumes: float
    """Volumes of gas (0 °C, 1 atm) in a volume of water, for `volumes`."""


# How the true amount stands to the stated value.
Comparator: TypeAlias = Literal["<"]


class Measured(TypedDict, total=False):
    """An amount as somebody stated it: a number, its unit, and the basis it is expressed in."""

    value: Required[float]
    """The number. Never negative but for an index, which may be."""
    unit: Required[str]
    """Unit, such as `mg/L`, `mmol/L`, `meq/L`, `mg/kg`, `dH`, `gr/gal_us`, `uS/cm`, `pH`, `1`. Never assumed.
    """
    basis: str
    """What the number is expressed as where that is not the thing itself: `CaCO3`, `N`, `S`, `CaO`, …"""
    comparator: Comparator
    """`<`: the value is a detection limit and the true amount lies below it."""
    coverage_factor: float
    """Coverage factor k of `uncertainty`."""
    uncertainty: float
    """Uncertainty in the same unit and basis; standard (k = 1) unless `coverage_factor` is given."""


# An expression such as "190 ± 4 mg/L as CaCO3", the object it stands for, or one out of an answer.
Amount: TypeAlias = str | Measured | nouns.Measured


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


class AddedSalt(TypedDict, total=False):
    """A salt dissolved in a water: one of `salt` or `formula`, and one of `mg_per_l` or `mg_per_kg`."""

    formula: str
    """Formula with its water of crystallisation."""
    mg_per_kg: float
    """mg of the stated formula per kg of solvent water."""
    mg_per_l: float
    """mg of the stated formula per litre of the finished water."""
    salt: str
    """Id or name in the catalogue, hydrate included."""


# What a laboratory reported, by component: ions by formula (`Ca`, `SO4`, `SiO2`), organics by name
# (`citrate`), and `alkalinity`, `hardness`, `Na+K`, `co2` (free carbon dioxide) or `dic` (all dissolved
# carbonate). `HCO3` is alkalinity expressed as hydrogencarbonate.
Analysis: TypeAlias = Mapping[str, Amount]


# What is done where an ion that is needed was not reported.
MissingRule: TypeAlias = Literal["zero", "by_charge"]


class SourceWater(TypedDict, total=False):
    """A water that goes in. Either an `analysis` stands here or `pure` is said."""

    added: Sequence[AddedSalt]
    """Salts already dissolved in this water, per litre of it."""
    analysis: Analysis
    """What a laboratory reported."""
    at_least_percent: float
    """Least share of this water in a blend, in percent of the water poured (by mass)."""
    at_most_percent: float
    """Greatest share of this water in a blend, in percent of the water poured (by mass)."""
    balance_on: str
    """The ion that takes up the charge gap of the sheet. Nothing is adjusted unless this is said."""
    end_point_ph: float
    """pH at which the titration of the alkalinity ended; 4.5 unless given (an assumption where it matters).
    """
    lot: str
    """A label that is carried through to the answer."""
    missing: Mapping[str, MissingRule]
    """What to do where an ion that is needed was not reported. Without a word here it is the fault
    `insufficient`.
    """
    name: str
    """What people call it."""
    ph: float
    """pH as measured, at `temperature_c`. With the alkalinity it tells how much carbonate the water holds."""
    ph_uncertainty: float
    """Standard uncertainty of that pH."""
    price_per_1000_l: float
    """Price of 1000 litres, in the currency of the request."""
    pure: bool
    """Water without solutes. It must be said; nothing is ever taken as pure in silence."""
    temperature_c: float
    """Temperature of the water as analysed and poured, in °C; 20 unless given (an assumption)."""


class HazeLimit(TypedDict, total=False):
    """Limits of one's own for a solid that haze is judged by."""

    solid: Required[str]
    """The solid."""
    metastable_si: Required[float]
    """Index from which a water is metastable. For solids of many ions it is the divided index, `si_compared`.
    """
    clouds_si: Required[float]
    """Index from which it clouds."""


class MixturePart(TypedDict, total=False):
    """One water that is poured: `volume_l` at its own temperature, or `mass_kg`."""

    water: Required[SourceWater]
    """The water."""
    mass_kg: float
    """Kilograms of it."""
    volume_l: float
    """Litres of it, at its own temperature."""


class Correlation(TypedDict, total=False):
    """Two inputs that err together."""

    between: Required[Sequence[str]]
    """JSON Pointers of the two inputs in this request, such as `/water/analysis/Ca`."""
    coefficient: Required[float]
    """Correlation coefficient."""


# How uncertainties are carried.
UncertaintyMethod: TypeAlias = Literal["linear", "monte_carlo"]


class Uncertainty(TypedDict, total=False):
    """Asks that the uncertainties of the inputs are carried into the answer. Inputs with an uncertainty are
    the amounts of an analysis that state one, a pH with `ph_uncertainty`, and an amount stated only as
    less than a limit, which may lie anywhere from nothing to it (a uniform distribution). Of the model the
    constants of the solids and, above an ionic strength of 0.1 mol/kg, the choice of the pH scale are
    counted; its other constants are not.
    """

    method: Required[UncertaintyMethod]
    """How they are carried."""
    correlations: Sequence[Correlation]
    """Inputs that err together; all others are taken as independent."""
    draws: int
    """Number of draws of `monte_carlo`; 10000 unless given."""
    seed: int
    """Picks another stream of draws of `monte_carlo`; 1 unless given. The same request with the same seed
    gives the same answer everywhere.
    """
