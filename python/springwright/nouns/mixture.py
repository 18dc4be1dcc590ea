"""The answer `Mixture` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Noun, needed
from .._read import each, one
from .parts import Assumption, Caution, Finding, NotJudged, Provenance, Water


class Mixture(Noun):
    """The water that results."""

    __slots__ = ()

    water = needed(one(Water), "The water that results.")
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
