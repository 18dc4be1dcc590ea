"""Many requests at once: one row each, in order, never an exception for a bad row."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any, Generic, Literal, TypeAlias, TypeVar

from . import _native
from ._body import body_of
from ._noun import Field, Noun, maybe, needed
from ._read import a_text, a_word, one, wrong_type
from .errors import SpringwrightError, error_of
from .nouns import (
    Blend,
    Carbonation,
    Compatibility,
    Conversion,
    LifePath,
    Mixture,
    Precipitation,
    Problem,
    Reconciliation,
    Saturation,
    ScaleUp,
    Speciation,
    Titration,
    WeighingPlan,
)

A = TypeVar("A", bound=Noun)
R = TypeVar("R", bound="BulkAnswer[Any]")

# What became of a row.
RowStatus: TypeAlias = Literal["answered", "refused", "not_converged"]


class BulkAnswer(Noun, Generic[A]):
    """What became of one row."""

    __slots__ = ()

    id = needed(a_text, "Name of the row.")
    status: Field[RowStatus] = needed(a_word("answered", "refused", "not_converged"), "What became of it.")
    answer: Field[A | None]
    problem = maybe(one(Problem), "The problem, where it was refused.")


class BulkConversion(BulkAnswer[Conversion]):
    """What became of one row of `convert_many`."""

    __slots__ = ()

    answer = maybe(one(Conversion), "The answer, where there is one.")


class BulkMixture(BulkAnswer[Mixture]):
    """What became of one row of `mix_many`."""

    __slots__ = ()

    answer = maybe(one(Mixture), "The answer, where there is one.")


class BulkSpeciation(BulkAnswer[Speciation]):
    """What became of one row of `speciate_many`."""

    __slots__ = ()

    answer = maybe(one(Speciation), "The answer, where there is one.")


class BulkSaturation(BulkAnswer[Saturation]):
    """What became of one row of `saturation_many`."""

    __slots__ = ()

    answer = maybe(one(Saturation), "The answer, where there is one.")


class BulkPrecipitation(BulkAnswer[Precipitation]):
    """What became of one row of `precipitate_many`."""

    __slots__ = ()

    answer = maybe(one(Precipitation), "The answer, where there is one.")


class BulkCompatibility(BulkAnswer[Compatibility]):
    """What became of one row of `check_compatibility_many`."""

    __slots__ = ()

    answer = maybe(one(Compatibility), "The answer, where there is one.")


class BulkLifePath(BulkAnswer[LifePath]):
    """What became of one row of `life_path_many`."""

    __slots__ = ()

    answer = maybe(one(LifePath), "The answer, where there is one.")


class BulkCarbonation(BulkAnswer[Carbonation]):
    """What became of one row of `carbonate_to_many`."""

    __slots__ = ()

    answer = maybe(one(Carbonation), "The answer, where there is one.")


class BulkTitration(BulkAnswer[Titration]):
    """What became of one row of `titrate_many`."""

    __slots__ = ()

    answer = maybe(one(Titration), "The answer, where there is one.")


class BulkWeighingPlan(BulkAnswer[WeighingPlan]):
    """What became of one row of `plan_weighing_many`."""

    __slots__ = ()

    answer = maybe(one(WeighingPlan), "The answer, where there is one.")


class BulkScaleUp(BulkAnswer[ScaleUp]):
    """What became of one row of `scale_batch_many`."""

    __slots__ = ()

    answer = maybe(one(ScaleUp), "The answer, where there is one.")


class BulkReconciliation(BulkAnswer[Reconciliation]):
    """What became of one row of `reconcile_many`."""

    __slots__ = ()

    answer = maybe(one(Reconciliation), "The answer, where there is one.")


class BulkBlend(BulkAnswer[Blend]):
    """What became of one row of `solve_blend_many`."""

    __slots__ = ()

    answer = maybe(one(Blend), "The answer, where there is one.")


def answer_many(row: type[R], name: str, requests: Any, threads: int | None) -> list[R]:
    """Answers every request with a row of the given kind.

    Raises:
        RequestRefused: where `requests` is no iterable or `threads` no positive whole number. A request that cannot
            be answered is a row like any other.
    """
    iterable = isinstance(requests, Iterable) and not isinstance(requests, str | bytes)
    _refuse_unless(iterable, "", "an iterable of requests", requests)
    whole = isinstance(threads, int) and not isinstance(threads, bool) and threads > 0
    _refuse_unless(threads is None or whole, "/threads", "a whole number from 1", threads)
    named = requests.items() if isinstance(requests, Mapping) else enumerate(requests)
    rows: list[R | None] = []
    lines: list[bytes] = []
    for key, request in named:
        try:
            line = b'{"id":%b,"request":%b}' % (json.dumps(str(key)).encode(), _body_in_line(request))
        except SpringwrightError as error:
            rows.append(row(id=str(key), status="refused", problem=error.problem))
        else:
            rows.append(None)
            lines.append(line)
    answers = iter(_native.calculate_bulk(name, lines, threads))
    return [done or row._answered(next(answers)) for done in rows]


def _body_in_line(request: Any) -> bytes:
    """The body of a request, on one line; a text is first seen to be JSON, so that it cannot break out of it."""
    body = body_of(request)
    if not isinstance(request, str | bytes):
        return body
    status, text = _native.rewrite(body)
    if status != 200:
        raise error_of(text)
    return text.encode()


def _refuse_unless(right: bool, at: str, wanted: str, given: object) -> None:
    if not right:
        faults: list[dict[str, object]] = []
        wrong_type(given, wanted, at, faults)
        raise error_of(_native.refusal(json.dumps(faults)))


__all__ = [
    "BulkAnswer",
    "BulkBlend",
    "BulkCarbonation",
    "BulkCompatibility",
    "BulkConversion",
    "BulkLifePath",
    "BulkMixture",
    "BulkPrecipitation",
    "BulkReconciliation",
    "BulkSaturation",
    "BulkScaleUp",
    "BulkSpeciation",
    "BulkTitration",
    "BulkWeighingPlan",
    "RowStatus",
]
