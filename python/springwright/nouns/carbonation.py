"""The answer `Carbonation` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Noun, maybe, needed
from .._read import a_number, a_text, each, one
from .parts import Assumption, Caution, Finding, NotJudged, Provenance, Water


class Headspace(Noun):
    """The gas under the cap of a bottle that was closed full of carbonated water and air."""

    __slots__ = ()

    percent = needed(a_number, "Headspace in percent of the bottle.")
    gauge_bar = needed(
        a_number,
        "Gauge pressure in bar: CO2 and vapour over the one atmosphere of air that was closed in.",
    )
    co2_g_per_l = needed(a_number, "g of CO2 that it takes from a litre of the water.")
    share_percent = needed(
        a_number,
        "The same as a share of all carbonate that was in the water, in percent.",
    )
    co2_g = maybe(a_number, "The same for `volume_l`, in g.")


class Opened(Noun):
    """A carbonated water once it has stood open until it is in balance with air."""

    __slots__ = ()

    ph = needed(a_number, "pH then.")
    co2_given_off_g_per_l = needed(a_number, "g of CO2 that a litre gives off.")
    co2_given_off_g = maybe(a_number, "The same for `volume_l`, in g.")


class PressureAt(Noun):
    """The pressure of the same closed water at one temperature."""

    __slots__ = ()

    temperature_c = needed(a_number, "Temperature in °C.")
    pco2_bar = needed(a_number, "Partial pressure of CO2 with which the water is in balance, in bar.")
    gauge_bar = maybe(
        a_number,
        "Gauge pressure in bar; absent where CO2 alone would press less than the air.",
    )


class SaturationChange(Noun):
    """How far the water stands from a solid on its way."""

    __slots__ = ()

    solid = needed(a_text, "The solid.")
    after = needed(a_number, "The index of the carbonated water.")
    before = maybe(a_number, "Saturation index of the still water; 0 is just saturated.")
    opened = maybe(a_number, "The index once it has stood open.")


class Carbonation(Noun):
    """How a water is carbonated."""

    __slots__ = ()

    before = needed(one(Water), "The still water, closed, at the temperature of the request.")
    after = needed(one(Water), "The water in the wanted state.")
    volumes = needed(
        a_number,
        "Free CO2 of the water in volumes: litres of the gas at 0 °C and 1 atm in a litre of water.",
    )
    grams_per_l = needed(a_number, "Free CO2 of the water, in g per litre.")
    pressures = needed(each(one(PressureAt)), "The same closed water at other temperatures.")
    saturation = needed(
        each(one(SaturationChange)),
        "Solids that the water is near to, before, carbonated and after standing open.",
    )
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever handles or drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
    co2_to_add_g = maybe(a_number, "The same for `volume_l`, in g.")
    co2_to_add_g_per_l = maybe(
        a_number,
        "g of CO2 to add to a litre of the still water; below zero it is given off. Absent where nothing "
        "tells how much carbonate the still water holds. What a bottle's headspace takes up is not counted "
        "here.",
    )
    gauge_bar = maybe(
        a_number,
        "Gauge pressure in bar at which CO2 over the water leaves it as it is, at the temperature and "
        "altitude of the request; for a bottle, the pressure under its cap. Absent where the water holds "
        "less than CO2 at the pressure of the air would give it, and beyond the reach of the gas law.",
    )
    headspace = maybe(
        one(Headspace),
        "The gas under the cap of a bottle; absent beyond the reach of the gas law.",
    )
    opened = maybe(
        one(Opened),
        "The water once it has stood open, where it now holds more CO2 than air leaves it.",
    )
