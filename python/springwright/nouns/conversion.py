"""The answer `Conversion` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Noun, needed
from .._read import each, one
from .parts import Assumption, Measured, Provenance


class Conversion(Noun):
    """One amount in another unit or basis, and the same amount in the other bases of the trade."""

    __slots__ = ()

    measured = needed(one(Measured), "The amount as asked, its uncertainty carried along.")
    equivalents = needed(
        each(one(Measured)),
        "The same amount in the other units and bases in which people state it.",
    )
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    provenance = needed(one(Provenance), "What the answer rests on.")
