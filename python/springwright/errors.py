"""What can go wrong, by kind. All of it is a `SpringwrightError`, and that is an `Exception`."""

from __future__ import annotations

from typing import Self

from . import _native
from ._read import Faults
from .nouns import Fault, Problem


class SpringwrightError(Exception):
    """The base of all kinds. It carries the problem document that the HTTP door would have answered.

    Attributes:
        problem: the document (RFC 9457).
    """

    problem: Problem

    def __init__(self, problem: Problem) -> None:
        super().__init__(_native.in_words(problem.to_json()))
        self.problem = problem

    @property
    def code(self) -> str:
        """Stable code of the sort of problem, such as `request_refused`."""
        return self.problem.code

    @property
    def status(self) -> int:
        """The HTTP status that goes with it."""
        return self.problem.status

    @property
    def faults(self) -> tuple[Fault, ...]:
        """Every fault: its place as JSON Pointer, code, message, what would be accepted, how to mend it."""
        return self.problem.faults

    def __reduce__(self) -> tuple[type[Self], tuple[Problem]]:
        return type(self), (self.problem,)


class NotJson(SpringwrightError):
    """The text is no JSON."""


class RequestRefused(SpringwrightError):
    """The request breaks rules; `faults` lists all of them."""


class ShapeRefused(SpringwrightError):
    """The fields are not those of the noun that was to be built from them; `faults` lists all of them."""

    @classmethod
    def of(cls, noun: str, faults: Faults) -> Self:
        """The error for fields that should have been a `noun`."""
        return cls(
            Problem(
                type="/problems/shape_refused",
                title=f"These fields are no {noun}",
                status=422,
                code="shape_refused",
                detail=f"{len(faults)} of them do not fit" if len(faults) > 1 else "one of them does not fit",
                faults=faults,
            )
        )


class OwnFailure(SpringwrightError):
    """Springwright itself failed; the request is not to blame."""


_KINDS: dict[str, type[SpringwrightError]] = {
    "not_json": NotJson,
    "request_refused": RequestRefused,
    "own_failure": OwnFailure,
}


def error_of(problem: str) -> SpringwrightError:
    """The error of the kind that fits a problem, given as JSON text."""
    told = Problem._answered(problem)
    return _KINDS.get(told.code, SpringwrightError)(told)
