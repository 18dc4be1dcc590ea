"""The request `SaturationRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Required, TypedDict

from .parts import Co2, SourceWater, Uncertainty


class SaturationRequest(TypedDict, total=False):
    """Asks how far a water stands from the solids that it could make."""

    water: Required[SourceWater]
    """The water."""
    co2: Co2
    """How its carbon dioxide is held; `closed` unless given."""
    solids: Sequence[str]
    """The solids that are asked for; every one that the water could make unless given."""
    strict: bool
    """Refuse every assumption."""
    temperature_c: float
    """Temperature to which the water is brought, in °C; its own unless given."""
    temperatures_c: Sequence[float]
    """Further temperatures in °C at which the same water, closed, is judged too."""
    uncertainty: Uncertainty
    """Carry the uncertainties of the inputs into the answer."""
