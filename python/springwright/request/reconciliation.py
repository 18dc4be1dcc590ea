"""The request `ReconciliationRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import Required, TypedDict

from .parts import Amount, SourceWater


class ReconciliationRequest(TypedDict, total=False):
    """Asks what the water behind an analysis most likely is, and which of its numbers may be wrong. Charge,
    sums beside their parts, conductivity and dissolved solids are held against the ions, each by its
    uncertainty.
    """

    water: Required[SourceWater]
    """The water with its analysis. A row without an uncertainty takes a usual one (an assumption)."""
    conductivity: Amount
    """Conductivity as measured; `uS/cm`, `mS/cm` or `mS/m`."""
    conductivity_temperature_c: float
    """Temperature in °C that the conductivity refers to; 25 unless given (an assumption)."""
    residue_180c: Amount
    """Residue after drying at 180 °C, as weighed."""
    strict: bool
    """Refuse every assumption."""
    tds: Amount
    """Dissolved solids as the sheet sums them: all ions, alkalinity as HCO3."""
