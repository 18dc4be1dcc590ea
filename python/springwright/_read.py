"""Readers: from decoded JSON to the values of a noun. Each notes every fault with its JSON Pointer and goes on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from math import isfinite
from typing import TYPE_CHECKING, Any, TypeAlias, TypeVar

from ._frozen import FrozenMap

if TYPE_CHECKING:
    from ._noun import Noun

T = TypeVar("T")
N = TypeVar("N", bound="Noun")

Faults: TypeAlias = list[dict[str, object]]
Reader: TypeAlias = Callable[[Any, str, Faults], T]


def a_number(given: Any, at: str, faults: Faults) -> float:
    """Reads a number."""
    if isinstance(given, bool) or not isinstance(given, int | float):
        wrong_type(given, "a number", at, faults)
        return 0.0
    if not isfinite(given):
        wrong_type(given, "a finite number", at, faults)
    return float(given)


def a_count(given: Any, at: str, faults: Faults) -> int:
    """Reads a whole number."""
    if isinstance(given, bool) or not isinstance(given, int):
        wrong_type(given, "a whole number", at, faults)
        return 0
    return given


def a_text(given: Any, at: str, faults: Faults) -> str:
    """Reads a text."""
    if not isinstance(given, str):
        wrong_type(given, "a text", at, faults)
        return ""
    return given


def yes_or_no(given: Any, at: str, faults: Faults) -> bool:
    """Reads true or false."""
    if not isinstance(given, bool):
        wrong_type(given, "true or false", at, faults)
        return False
    return given


def a_word(*known: str) -> Reader[Any]:
    """Reads one of a few words."""

    def read(given: Any, at: str, faults: Faults) -> str:
        if given not in known:
            wrong_type(given, "one of " + ", ".join(known), at, faults)
        return str(given)

    return read


def one(noun: type[N]) -> Reader[N]:
    """Reads a noun."""
    return noun._read


def each(read: Reader[T]) -> Reader[tuple[T, ...]]:
    """Reads a list."""

    def read_each(given: Any, at: str, faults: Faults) -> tuple[T, ...]:
        if not isinstance(given, list | tuple):
            wrong_type(given, "a list", at, faults)
            return ()
        return tuple(read(entry, f"{at}/{index}", faults) for index, entry in enumerate(given))

    return read_each


def by_name(read: Reader[T]) -> Reader[Mapping[str, T]]:
    """Reads a mapping from names."""

    def read_by_name(given: Any, at: str, faults: Faults) -> FrozenMap[T]:
        if not isinstance(given, Mapping):
            wrong_type(given, "a mapping from names", at, faults)
            return FrozenMap()
        return FrozenMap({name: read(entry, below(at, name), faults) for name, entry in given.items()})

    return read_by_name


def below(at: str, step: object) -> str:
    """A JSON Pointer (RFC 6901) with one more step."""
    return f"{at}/{str(step).replace('~', '~0').replace('/', '~1')}"


def wrong_type(given: object, wanted: str, at: str, faults: Faults) -> None:
    """Notes a value of the wrong type."""
    found = repr(given) if isinstance(given, str | int | float) else f"a value of type {type(given).__name__}"
    faults.append(
        {
            "pointer": at,
            "code": "type_wrong",
            "message": f"{found} stands where {wanted} is needed",
            "accepted": [wanted],
            "mend": f"write {wanted} here",
        }
    )


def unknown_field(name: object, noun: str, known: Iterable[str], at: str, faults: Faults) -> None:
    """Notes a field that a noun does not have."""
    faults.append(
        {
            "pointer": below(at, name),
            "code": "field_unknown",
            "message": f"'{name}' is no field of a {noun}",
            "accepted": list(known),
            "mend": "take it out, or use one of the accepted fields",
        }
    )


def missing_field(name: str, noun: str, at: str, faults: Faults) -> None:
    """Notes a field that a noun needs."""
    faults.append(
        {
            "pointer": below(at, name),
            "code": "field_missing",
            "message": f"a {noun} needs '{name}'",
            "mend": f"state '{name}'",
        }
    )
