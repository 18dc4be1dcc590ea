"""The request `CarbonationRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import Required, TypedDict

from .parts import Co2, SourceWater


class CarbonationRequest(TypedDict, total=False):
    """Asks how a water is carbonated. Its alkalinity must be known, and its pH or carbonate for the CO2 to
    add.
    """

    water: Required[SourceWater]
    """The still water."""
    co2: Required[Co2]
    """The wanted state: `volumes`, `dissolved`, `keg`, `partial_pressure`, `open_to_air`, `bottle`, or
    `closed` for what the water already holds.
    """
    altitude_m: float
    """Height above the sea in m at which gauges are read and bottles opened; that of `co2`, or 0 (an
    assumption), unless given.
    """
    strict: bool
    """Refuse every assumption."""
    temperature_c: float
    """Temperature at which it is carbonated and stands, in °C; that of the water unless given."""
    volume_l: float
    """Litres of the still water, at that temperature."""
