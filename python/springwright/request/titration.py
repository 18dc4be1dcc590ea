"""The request `TitrationRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import Required, TypedDict

from .parts import Co2, SourceWater


class Titrant(TypedDict, total=False):
    """What is added: an acid, a base or a salt by one of `salt` or `formula`."""

    assay_percent: float
    """g of the stated formula in 100 g weighed; 100 unless given (an assumption). What is sold as a solution
    needs it.
    """
    formula: str
    """Formula with its water of crystallisation: `C6H8O7·H2O`."""
    lot: str
    """A label that is carried through to the answer."""
    salt: str
    """Id or name in the catalogue, hydrate included: `citric_acid_monohydrate`."""


class TitrationRequest(TypedDict, total=False):
    """Asks what brings a water to a pH. Its alkalinity must be known, and in a closed vessel its pH or
    carbonate.
    """

    water: Required[SourceWater]
    """The water before."""
    to_ph: Required[float]
    """The wanted pH."""
    curve_points: int
    """Points of a curve of pH against what is added, from nothing to the end in even steps. Under a gas the
    first point is that of the water in balance with it.
    """
    strict: bool
    """Refuse every assumption."""
    temperature_c: float
    """Temperature of the water in °C; its own unless given."""
    titrant: Titrant
    """What is added. Without it strong acid (hydrochloric acid) or strong base (sodium hydroxide), in
    equivalents.
    """
    vessel: Co2
    """What becomes of the carbon dioxide on the way: `closed` (all of it stays) unless given, `open_to_air`
    or `partial_pressure`.
    """
    volume_l: float
    """Litres of the water before, at that temperature."""
