"""The request `PrecipitationRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Required, TypedDict

from .parts import Co2, HazeLimit, SourceWater


class Powder(TypedDict, total=False):
    """A solid that lies in the water at the start: one of `mg_per_l` or `mmol_per_l`."""

    solid: Required[str]
    """The solid."""
    grain_um: float
    """Diameter of its grains in µm, for gypsum and calcite, whose rates are published; then the time to
    dissolve is told.
    """
    mg_per_l: float
    """mg of it, water of crystallisation included, per litre of the water before."""
    mmol_per_l: float
    """mmol of its formula per litre of the water before."""


class PrecipitationRequest(TypedDict, total=False):
    """Asks what a water lets fall and what it takes up until no solid has a reason to move. Its carbonate
    must be known, as in `speciation`.
    """

    water: Required[SourceWater]
    """The water before."""
    blocked: Sequence[str]
    """Solids that may not form."""
    co2: Co2
    """What holds its carbon dioxide: `closed` (water and solids keep all carbonate) unless given, or a gas
    that stays as it is while solids form and dissolve.
    """
    haze_limits: Sequence[HazeLimit]
    """Limits of one's own to judge haze by."""
    powders: Sequence[Powder]
    """Solids that lie in the water at the start; they may dissolve and may grow."""
    solids: Sequence[str]
    """The solids that may form. Unless given, every one that forms within the life of a drink; those that
    only tell the stable end (dolomite, magnesite, quartz, chalcedony, hydroxyapatite) form where they are
    named.
    """
    strict: bool
    """Refuse every assumption."""
    temperature_c: float
    """Temperature to which the water is brought, in °C; its own unless given."""
    visible_mg_per_l: float
    """Mass of a solid below which nothing is seen, in mg/L; the tabulated one unless given."""
