"""From what a caller states to the body of a request: JSON text."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from math import isfinite
from typing import Any

from . import _native
from ._noun import Noun
from ._read import Faults, below, wrong_type
from .errors import error_of


def body_of(request: Any, stated: Mapping[str, Any] | None = None) -> bytes:
    """The body of a request: a mapping or JSON text, and over it the keyword arguments that are not None.

    Raises:
        NotJson: where a text is no JSON.
        RequestRefused: where a value has no place in JSON, with its JSON Pointer.
    """
    over = {name: value for name, value in (stated or {}).items() if value is not None}
    if isinstance(request, str | bytes):
        body = request.encode("utf-8", "surrogatepass") if isinstance(request, str) else request
        if not over:
            return body
        request = _decoded(body)
    if isinstance(request, Mapping):
        request = {**request, **over}
    elif request is None:
        request = over
    return _encoded(request)


def _decoded(body: bytes) -> Any:
    status, text = _native.rewrite(body)
    if status != 200:
        raise error_of(text)
    return json.loads(text)


def _encoded(request: Any) -> bytes:
    """JSON text; where that fails, all the reasons why."""
    try:
        return json.dumps(request, allow_nan=False, default=_as_json).encode()
    except (TypeError, ValueError, OverflowError, RecursionError):
        faults: Faults = []
        _judge(request, "", (), faults)
        raise error_of(_native.refusal(json.dumps(faults))) from None


def _as_json(value: Any) -> Any:
    """What a value of another library stands for: nouns, mappings, number-likes, array-likes."""
    if isinstance(value, Noun):
        return value.to_dict()
    if isinstance(value, Mapping):
        return dict(value)
    if hasattr(value, "tolist"):
        return value.tolist()
    if hasattr(value, "__index__"):
        return int(value)
    if hasattr(value, "__float__"):
        return float(value)
    if isinstance(value, Iterable):
        return list(value)
    raise TypeError


def _judge(value: Any, at: str, around: tuple[int, ...], faults: Faults) -> None:
    """Notes every value that has no place in JSON."""
    if value is None or isinstance(value, str | bool | int):
        return
    if isinstance(value, float):
        if not isfinite(value):
            wrong_type(value, "a finite number", at, faults)
    elif id(value) in around:
        wrong_type(value, "a value that does not contain itself", at, faults)
    elif isinstance(value, Mapping):
        for name, entry in value.items():
            if isinstance(name, str):
                _judge(entry, below(at, name), (*around, id(value)), faults)
            else:
                wrong_type(name, "a field name", at, faults)
    elif isinstance(value, list | tuple):
        for index, entry in enumerate(value):
            _judge(entry, below(at, index), (*around, id(value)), faults)
    else:
        try:
            plain = _as_json(value)
        except (TypeError, ValueError, OverflowError):
            wrong_type(value, "a number, text, list or mapping", at, faults)
        else:
            _judge(plain, at, (*around, id(value)), faults)
