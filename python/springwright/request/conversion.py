"""The request `ConversionRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import Required, TypedDict

from .parts import Amount


class ConversionRequest(TypedDict, total=False):
    """Asks for one amount in another unit or basis."""

    measured: Required[Amount]
    """The amount as stated."""
    unit: Required[str]
    """The unit wanted."""
    basis: str
    """The basis wanted, where it is not the thing itself."""
    density_kg_per_l: float
    """Density of the water in kg/L, needed between litres and kilograms."""
    of: str
    """What it is an amount of: a component (`Ca`, `NO3`, `citrate`), `hardness`, `alkalinity`, `tds`, or the
    formula of a salt with its water. Not needed where the unit alone decides (°F to °C, gallons to
    litres).
    """
    strict: bool
    """Refuse every assumption."""
    water_kg_per_l: float
    """kg of solvent water in a litre, needed for amounts per kg of solvent."""
