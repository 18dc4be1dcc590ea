"""A mapping that cannot change."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NoReturn, Self, TypeVar

T = TypeVar("T")


class FrozenMap(Mapping[str, T]):
    """A mapping that cannot change, such as the ions of a water."""

    __slots__ = ("_entries",)
    _entries: dict[str, T]

    def __init__(self, entries: Mapping[str, T] | None = None) -> None:
        object.__setattr__(self, "_entries", dict(entries or {}))

    def __getitem__(self, name: str) -> T:
        return self._entries[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._entries)

    def __len__(self) -> int:
        return len(self._entries)

    def __hash__(self) -> int:
        return hash(frozenset(self._entries.items()))

    def __repr__(self) -> str:
        return repr(self._entries)

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError("a FrozenMap cannot change")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError("a FrozenMap cannot change")

    def __copy__(self) -> Self:
        return self

    def __deepcopy__(self, memo: dict[int, object]) -> Self:
        return self

    def __reduce__(self) -> tuple[type[FrozenMap[T]], tuple[dict[str, T]]]:
        return FrozenMap, (self._entries,)

    def _ipython_key_completions_(self) -> list[str]:
        return list(self._entries)
