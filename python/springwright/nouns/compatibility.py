"""The answer `Compatibility` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from .._noun import Field, Noun, maybe, maybe_empty, needed
from .._read import a_count, a_number, a_text, a_word, each, one, yes_or_no
from .parts import Assumption, Caution, Finding, NotJudged, Provenance, TimeHint


# When a cloud comes.
CloudOutcome: TypeAlias = Literal["never", "in_time", "at_once", "not_judged"]


class Together(Noun):
    """What comes of one salt by itself, or of all together."""

    __slots__ = ()

    outcome: Field[CloudOutcome] = needed(
        a_word("never", "in_time", "at_once", "not_judged"),
        "When a cloud comes.",
    )
    why = needed(a_text, "Why, in words with numbers.")
    margin = maybe(
        a_number,
        "Distance of its index from the next limit above it, as in `precipitation`; below zero beyond the "
        "last one.",
    )
    mg_per_l = maybe(a_number, "What falls of it, in mg/L; absent where the index leaves no question.")
    si = maybe(a_number, "Its saturation index.")
    solid = maybe(a_text, "The solid that decides; absent where none can form.")
    time = maybe(one(TimeHint), "How long it takes; absent where no rate is published.")


class Pair(Noun):
    """What comes of two salts."""

    __slots__ = ()

    first = needed(a_count, "Number of the first salt in the list, from 1.")
    second = needed(a_count, "Number of the second.")
    outcome: Field[CloudOutcome] = needed(
        a_word("never", "in_time", "at_once", "not_judged"),
        "When a cloud comes.",
    )
    by_itself = needed(yes_or_no, "Whether one of the two does the same by itself.")
    why = needed(a_text, "Why, in words with numbers.")
    margin = maybe(
        a_number,
        "Distance of its index from the next limit above it; below zero beyond the last one.",
    )
    mg_per_l = maybe(a_number, "What falls of it, in mg/L; absent where the index leaves no question.")
    si = maybe(a_number, "Its saturation index.")
    solid = maybe(a_text, "The solid that decides; absent where none can form.")
    time = maybe(one(TimeHint), "How long it takes; absent where no rate is published.")


class ShelfSaltRead(Noun):
    """A salt as it was read."""

    __slots__ = ()

    number = needed(a_count, "Its number in the list, from 1.")
    salt = needed(a_text, "Id in the catalogue.")
    name = needed(a_text, "Its name.")
    mg_per_l = needed(a_number, "mg of the formula in a litre of the mix.")
    mmol_per_l = needed(a_number, "The same in mmol.")
    formula = maybe(a_text, "Its formula, water of crystallisation included.")


class Substitute(Noun):
    """A salt to use instead of one of a pair that clouds."""

    __slots__ = ()

    first = needed(a_count, "Number of the first salt of the pair.")
    second = needed(a_count, "Number of the second.")
    instead_of = needed(a_count, "Number of the one that leaves.")
    salt = needed(a_text, "Id of the salt to use in its place.")
    name = needed(a_text, "Its name.")
    keeps = needed(a_text, "The component that is kept at its strength.")
    mg_per_l = needed(a_number, "mg of the new salt in a litre of the mix.")
    outcome: Field[CloudOutcome] = needed(
        a_word("never", "in_time", "at_once", "not_judged"),
        "What comes of it with the other salt: milder than the pair.",
    )


class Compatibility(Noun):
    """Which salts may stand together."""

    __slots__ = ()

    temperature_c = needed(a_number, "Temperature in °C.")
    salts = needed(each(one(ShelfSaltRead)), "The salts, in the order of the request.")
    alone = needed(each(one(Together)), "Each salt by itself, in that order.")
    pairs = needed(
        each(one(Pair)),
        "Every pair: the second salt rises through the list, and for each the first.",
    )
    together = needed(one(Together), "All salts together.")
    text_table = needed(
        a_text,
        "The matrix in plain text: names down, numbers across, a sign in each cell, and what the signs "
        "mean.",
    )
    svg = needed(
        a_text,
        "The matrix as a picture that stands alone: an SVG document without scripts, fonts or images from "
        "elsewhere.",
    )
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever handles or drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
    substitutes = maybe_empty(
        each(one(Substitute)),
        "What to use instead where two salts cloud that do not cloud by themselves.",
    )
