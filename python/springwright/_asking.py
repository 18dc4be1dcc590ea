"""How a calculation is asked: one request becomes one call of the compiled module."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, TypeAlias, TypeVar

from . import _native
from ._body import body_of
from ._noun import Noun
from .errors import error_of

N = TypeVar("N", bound=Noun)

# One request: a mapping with its fields, or the JSON text of a body.
Request: TypeAlias = Mapping[str, Any] | str | bytes
# Many of them: in order, or by name.
Requests: TypeAlias = Iterable[Request] | Mapping[str, Request]


def calculated(answer: type[N], name: str, request: Any, stated: Mapping[str, Any]) -> N:
    """The answer of a calculation to a request, over which stands what is stated by keyword."""
    return told(answer, _native.calculate(name, body_of(request, stated)))


def told(answer: type[N], reply: tuple[int, str]) -> N:
    """A reply of the compiled module as an answer, or as the error that it is."""
    status, text = reply
    if status != 200:
        raise error_of(text)
    return answer._answered(text)
