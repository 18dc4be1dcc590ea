"""The request `SpeciationRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import Required, TypedDict

from .parts import Co2, SourceWater, Uncertainty


class SpeciationRequest(TypedDict, total=False):
    """Asks for the equilibrium of a water. Two quantities of the carbonate system must be known: of
    alkalinity, pH, `dic` and `co2` in the water, and what `co2` says of how its carbon dioxide is held.
    """

    water: Required[SourceWater]
    """The water."""
    co2: Co2
    """How its carbon dioxide is held; `closed` unless given."""
    strict: bool
    """Refuse every assumption."""
    temperature_c: float
    """Temperature to which the water is brought, in °C; its own unless given."""
    uncertainty: Uncertainty
    """Carry the uncertainties of the inputs into the answer."""
