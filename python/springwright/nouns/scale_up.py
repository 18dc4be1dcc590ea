"""The answer `ScaleUp` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Noun, needed
from .._read import a_count, a_number, a_text, each, one
from .weighing import WeighingPlan


class ScaledPouring(Noun):
    """A water to pour into the large batch."""

    __slots__ = ()

    water = needed(a_text, "What people call it.")
    volume_l = needed(a_number, "Litres at its own temperature.")
    mass_kg = needed(a_number, "kg.")
    temperature_c = needed(a_number, "Its own temperature in °C.")


class WholeBags(Noun):
    """A volume at which a salt comes out in whole bags."""

    __slots__ = ()

    index = needed(a_count, "Index of the salt in the recipe.")
    name = needed(a_text, "Its name.")
    bags = needed(a_count, "Bags of it.")
    volume_l = needed(a_number, "Litres of finished water.")


class ScaleUp(Noun):
    """A recipe in another volume."""

    __slots__ = ()

    times = needed(a_number, "How many times the recipe as it was tried.")
    pourings = needed(each(one(ScaledPouring)), "The waters to pour.")
    whole_bags = needed(
        each(one(WholeBags)),
        "Volumes near the wanted one at which a salt comes out in whole bags, the nearest first.",
    )
    plan = needed(one(WeighingPlan), "The large recipe on the balances, as `weighing` answers it.")
