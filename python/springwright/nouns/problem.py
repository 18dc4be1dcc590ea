"""The answer `Problem` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Noun, maybe_empty, needed
from .._read import a_count, a_text, each, one


class Fault(Noun):
    """One fault of a request."""

    __slots__ = ()

    pointer = needed(a_text, "JSON Pointer (RFC 6901) of the field; empty for the whole document.")
    code = needed(a_text, "Stable code.")
    message = needed(a_text, "What is wrong, in words.")
    mend = needed(a_text, "How to mend it.")
    accepted = maybe_empty(each(a_text), "What would be accepted.")


class Problem(Noun):
    """Why a request was refused: `application/problem+json` after RFC 9457."""

    __slots__ = ()

    type = needed(a_text, "URI reference that names the sort of problem.")
    title = needed(a_text, "The sort of problem in a few words.")
    status = needed(a_count, "HTTP status.")
    code = needed(a_text, "Stable code.")
    detail = needed(a_text, "What happened, in a sentence.")
    faults = maybe_empty(each(one(Fault)), "Every fault, in the order of the document.")
