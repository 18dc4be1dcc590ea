"""The request `MixtureRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Required, TypedDict

from .parts import Co2, MixturePart, Uncertainty


class MixtureRequest(TypedDict, total=False):
    """Asks for the water that results when waters are poured together."""

    parts: Required[Sequence[MixturePart]]
    """What is poured, in any order."""
    co2: Co2
    """How its carbon dioxide is held; `closed` unless given."""
    strict: bool
    """Refuse every assumption."""
    temperature_c: float
    """Temperature of the finished water in °C; 20 unless given (an assumption)."""
    uncertainty: Uncertainty
    """Carry the uncertainties of the inputs into the answer."""
