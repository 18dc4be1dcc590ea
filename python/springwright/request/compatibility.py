"""The request `CompatibilityRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Required, TypedDict

from .parts import Co2, HazeLimit, SourceWater


class ShelfSalt(TypedDict, total=False):
    """A salt on the shelf: one of `salt` or `formula`, and one of `mg_per_l` or `g_per_l`."""

    assay_percent: float
    """g of the stated formula in 100 g weighed."""
    formula: str
    """Formula with its water of crystallisation: `CaCl2·2H2O`."""
    g_per_l: float
    """The same in g."""
    mg_per_l: float
    """mg of the stated formula in a litre of the mix; where `assay_percent` is stated, mg weighed."""
    salt: str
    """Id or name in the catalogue, hydrate included: `calcium_chloride_dihydrate`."""


class CompatibilityRequest(TypedDict, total=False):
    """Asks what comes of every salt alone, of every pair and of all together."""

    salts: Required[Sequence[ShelfSalt]]
    """The salts on the shelf, each at the strength at which it would be used."""
    co2: Co2
    """What holds the carbon dioxide: `closed` (what salts and water bring stays) unless given, `open_to_air`,
    `partial_pressure` or `keg`. Not beside `ph`.
    """
    haze_limits: Sequence[HazeLimit]
    """Limits of one's own to judge haze by."""
    ph: float
    """pH that acid or base outside this list sets, with the carbonate that salts and water bring; without it
    the salts make their own.
    """
    strict: bool
    """Refuse every assumption."""
    suggestions: bool
    """Tell what to use instead where two salts cloud; yes unless given."""
    temperature_c: float
    """Temperature in °C; that of the water unless given."""
    visible_mg_per_l: float
    """Mass of a solid below which nothing is seen, in mg/L; the tabulated one unless given."""
    water: SourceWater
    """The water that they meet in; pure water unless given (an assumption)."""
