"""The answer `LifePath` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from .._noun import Field, Noun, maybe, needed
from .._read import a_count, a_number, a_text, a_word, each, one
from .parts import Assumption, Caution, Finding, HazeVerdict, NotJudged, Provenance, TimeHint, Verdict, Water


# What is changed.
LifeChangeKind: TypeAlias = Literal["pure_water", "alkalinity", "carbon_dioxide", "temperature"]


class LifeChange(Noun):
    """A change that leaves a stage clear."""

    __slots__ = ()

    change: Field[LifeChangeKind] = needed(
        a_word("pure_water", "alkalinity", "carbon_dioxide", "temperature"),
        "What is changed.",
    )
    value = needed(a_number, "To how much, in the unit of the change.")
    unit = needed(a_text, "Its unit.")
    text = needed(a_text, "The same in words.")
    verdict: Field[Verdict] = needed(
        a_word("undersaturated", "clear", "dissolving", "metastable", "clouds"),
        "The verdict on the stage then.",
    )
    ph = needed(a_number, "Its pH then.")


class Co2Ledger(Noun):
    """Where the carbonate of a water is, all counted as g of CO2 per litre of the mix."""

    __slots__ = ()

    dissolved_g_per_l = needed(a_number, "In the water, bicarbonate and carbonate among it.")
    headspace_g_per_l = needed(a_number, "In the gas over it.")
    added_g_per_l = needed(a_number, "Brought in at this stage.")
    lost_g_per_l = needed(a_number, "Lost at this stage.")


# What a stage is.
LifeStageWord: TypeAlias = Literal["stock", "mixed", "carbonated", "bottled", "stands", "opened", "flat", "kettle"]


class LifeStageRead(Noun):
    """The water at a stage. Amounts per litre are per litre of the mix as it was mixed; of a stock, per litre
    of the stock.
    """

    __slots__ = ()

    number = needed(a_count, "Its number, from 1.")
    stage: Field[LifeStageWord] = needed(
        a_word("stock", "mixed", "carbonated", "bottled", "stands", "opened", "flat", "kettle"),
        "`stock`, `mixed`, or what was done.",
    )
    name = needed(a_text, "What people call it.")
    temperature_c = needed(a_number, "Temperature in °C.")
    ph = needed(a_number, "pH.")
    volumes = needed(a_number, "Free CO2 in volumes: litres of the gas at 0 °C and 1 atm in a litre.")
    verdict: Field[Verdict] = needed(
        a_word("undersaturated", "clear", "dissolving", "metastable", "clouds"),
        "The verdict: that of its worst solid.",
    )
    why = needed(a_text, "Why, in words with numbers.")
    haze = needed(each(one(HazeVerdict)), "The verdict on every solid that is not undersaturated.")
    changes = needed(
        each(one(LifeChange)),
        "What to change so that this stage is clear: each by itself works, the whole life followed again.",
    )
    co2 = maybe(one(Co2Ledger), "Where the carbonate is; absent for a stock.")
    gauge_bar = maybe(
        a_number,
        "Gauge pressure in its shut vessel, in bar; absent where it is open, where the gas alone presses "
        "less than the air, and beyond the reach of the gas law.",
    )
    margin = maybe(
        a_number,
        "Distance of its index from the next limit above it; below zero it is so far beyond the last one.",
    )
    pco2_bar = maybe(
        a_number,
        "Partial pressure of CO2 that it is in balance with, in bar; absent beyond the reach of the gas "
        "law.",
    )
    precipitable_mg_per_l = maybe(
        a_number,
        "What the water lets fall of it, in mg/L; absent where the index leaves no question.",
    )
    si = maybe(a_number, "Its saturation index.")
    time = maybe(one(TimeHint), "How long it takes; absent where no rate is published.")
    worst_solid = maybe(
        a_text,
        "The solid with the harshest verdict, and among those alike the nearest to its next limit; absent "
        "where none is judged.",
    )


class LifePath(Noun):
    """What becomes of a water."""

    __slots__ = ()

    mixed = needed(one(Water), "The mixed water.")
    stages = needed(each(one(LifeStageRead)), "Every stock, the mix, and every stage.")
    verdict: Field[Verdict] = needed(
        a_word("undersaturated", "clear", "dissolving", "metastable", "clouds"),
        "The harshest verdict of all.",
    )
    co2_imbalance = needed(
        a_number,
        "The largest share by which carbonate before and after a stage differ beside what was added and "
        "lost.",
    )
    text_table = needed(a_text, "The stages in plain text.")
    svg = needed(
        a_text,
        "The stages as a picture that stands alone: an SVG document without scripts, fonts or images from "
        "elsewhere.",
    )
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever handles or drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
    highest_gauge_bar = maybe(
        a_number,
        "Greatest gauge pressure of all stages, in bar; absent where nothing is shut under pressure.",
    )
    worst_stage = maybe(
        a_count,
        "Number of the stage with the harshest verdict, and among those alike the nearest to its next limit "
        "or the farthest beyond its last; absent where no solid is judged anywhere.",
    )
