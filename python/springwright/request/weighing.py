"""The request `WeighingRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Required, TypedDict

from .parts import Balance, Co2, MixturePart, Wish


class RecipeSalt(TypedDict, total=False):
    """A salt of a recipe: one of `salt` or `formula`, and its mass."""

    mass_g: Required[float]
    """Mass by the recipe, as weighed, in g."""
    assay_percent: float
    """g of the stated formula in 100 g weighed; 100 unless given (an assumption)."""
    assay_uncertainty_percent: float
    """Standard uncertainty of that assay, in percent of what is weighed; none unless given (an assumption).
    """
    bag_g: float
    """Net mass of a bag of it, in g: whole bags go in as they are, and the rest is weighed."""
    formula: str
    """Formula with its water of crystallisation: `CaCl2·2H2O`."""
    lot: str
    """A label that is carried through to the answer."""
    salt: str
    """Id or name in the catalogue, hydrate included: `magnesium_sulfate_heptahydrate`."""


class WeighingRequest(TypedDict, total=False):
    """Asks what of a recipe to put on the balances: whole steps, how far each mass may be off, and how likely
    the water is then what is wished.
    """

    parts: Required[Sequence[MixturePart]]
    """The waters that are poured together; the salts go into them."""
    recipe: Required[Sequence[RecipeSalt]]
    """The salts of the recipe with their masses, not rounded yet."""
    balances: Required[Sequence[Balance]]
    """The balances at hand. The finest one that takes a mass weighs it."""
    co2: Co2
    """How the carbon dioxide of the finished water is held; `closed` unless given."""
    draws: int
    """Number of draws behind the probabilities; 10000 unless given."""
    poured_uncertainty_percent: float
    """Standard uncertainty of what is poured, in percent; none unless given (an assumption)."""
    seed: int
    """Picks another stream of draws; 1 unless given. The same request with the same seed gives the same
    answer everywhere.
    """
    strict: bool
    """Refuse every assumption."""
    target: Sequence[Wish]
    """What the finished water is to be; without it the masses are brought as near to the recipe as whole
    steps go. Not `cost` and not `haze`.
    """
    temperature_c: float
    """Temperature of the finished water in °C; 20 unless given (an assumption)."""
