"""The request `LifePathRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, Required, TypeAlias, TypedDict

from .parts import Co2, HazeLimit, MixturePart


# What is done with a water.
LifeStageKind: TypeAlias = Literal["carbonated", "bottled", "stands", "opened", "flat", "kettle"]


class LifeStage(TypedDict, total=False):
    """One stage."""

    stage: Required[LifeStageKind]
    """What is done."""
    co2: Co2
    """The wanted state, for `carbonated`: `volumes`, `dissolved`, `keg` or `partial_pressure`, at the
    temperature and height of the stage.
    """
    headspace_percent: float
    """Headspace in percent of the bottle, for `bottled`. Without one (0) the bottle is full at every
    temperature.
    """
    name: str
    """What people call it."""
    temperature_c: float
    """Temperature in °C; that of the stage before unless given. Up to 60, a `kettle` to 95."""


class LifePathRequest(TypedDict, total=False):
    """Asks what becomes of a water: mixed of its parts in an open vessel, then through the stages in their
    order. Each stage is judged as if nothing had fallen before it. A part to which salts are `added` is a
    stock, and is judged by itself too.
    """

    parts: Required[Sequence[MixturePart]]
    """What is poured together, in any order. Its carbonate must be known, as in `speciation`."""
    stages: Required[Sequence[LifeStage]]
    """What is done with it, in order."""
    altitude_m: float
    """Height above the sea in m; 0 unless given (an assumption)."""
    haze_limits: Sequence[HazeLimit]
    """Limits of one's own to judge haze by."""
    rating_bar: float
    """Gauge pressure in bar for which the weakest shut vessel is rated. A stage that presses more brings a
    caution.
    """
    strict: bool
    """Refuse every assumption."""
    suggestions: bool
    """Tell what to change where a stage is not clear; yes unless given."""
    temperature_c: float
    """Temperature of the mix in °C; 20 unless given (an assumption)."""
    visible_mg_per_l: float
    """Mass of a solid below which nothing is seen, in mg/L; the tabulated one unless given."""
