"""What every answer has in common: fields that cannot change, one JSON text, equality, pickling.

A noun keeps the values that were stated, in the order in which they were stated. What was not computed is absent:
its attribute is None, or an empty tuple, and `to_dict()` leaves it out.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any, ClassVar, Generic, Never, NoReturn, Self, TypeVar, overload

from . import _native
from ._frozen import FrozenMap
from ._read import Faults, Reader, missing_field, unknown_field, wrong_type

T = TypeVar("T")


class Field(Generic[T]):
    """One attribute of a noun: how it is read from JSON, and what it is where it is absent."""

    def __init__(self, read: Reader[Any], doc: str, *, absent: Any = None, needed: bool = False) -> None:
        self.read = read
        self.absent = absent
        self.needed = needed
        self.name = ""
        self.__doc__ = doc

    def __set_name__(self, owner: type, name: str) -> None:
        self.name = name

    @overload
    def __get__(self, noun: None, owner: type) -> Field[T]: ...
    @overload
    def __get__(self, noun: Noun, owner: type) -> T: ...
    def __get__(self, noun: Noun | None, owner: type) -> Field[T] | T:
        if noun is None:
            return self
        value: T = noun._values.get(self.name, self.absent)
        return value

    def __set__(self, noun: Noun, value: Never) -> NoReturn:
        raise AttributeError(f"a {type(noun).__name__} cannot change")


def needed(read: Reader[T], doc: str) -> Field[T]:
    """A field that always stands."""
    return Field(read, doc, needed=True)


def maybe(read: Reader[T], doc: str) -> Field[T | None]:
    """A field that is None where it is absent."""
    return Field(read, doc)


def maybe_empty(read: Reader[tuple[T, ...]], doc: str) -> Field[tuple[T, ...]]:
    """A list that may have no entry and is then absent."""
    return Field(read, doc, absent=())


class Noun:
    """The base of all answers: frozen, hashable, picklable, equal where all fields are equal."""

    __slots__ = ("_text", "_values")
    _fields: ClassVar[dict[str, Field[Any]]] = {}
    _values: dict[str, Any]
    _text: str | None

    def __init_subclass__(cls) -> None:
        super().__init_subclass__()
        own = {name: field for name, field in vars(cls).items() if isinstance(field, Field)}
        cls._fields = {**cls._fields, **own}

    def __new__(cls, **fields: object) -> Self:
        return cls.from_dict(fields)

    @classmethod
    def from_dict(cls, fields: Mapping[str, object]) -> Self:
        """Builds it from what `to_dict()` gave, or from the decoded JSON of the HTTP door.

        Raises:
            ShapeRefused: with every field that is unknown, missing or of the wrong type.
        """
        faults: Faults = []
        noun = cls._read(fields, "", faults)
        if faults:
            from .errors import ShapeRefused

            raise ShapeRefused.of(cls.__name__, faults)
        return noun

    @classmethod
    def from_json(cls, text: str | bytes) -> Self:
        """Builds it from JSON text.

        Raises:
            NotJson: where the text is no JSON.
            ShapeRefused: where the JSON is something else.
        """
        body = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
        status, rewritten = _native.rewrite(body)
        if status != 200:
            from .errors import error_of

            raise error_of(rewritten)
        return cls.from_dict(json.loads(rewritten))

    @classmethod
    def _answered(cls, text: str) -> Self:
        """Builds it from the text of the engine, which is kept as it is."""
        noun = cls.from_dict(json.loads(text))
        object.__setattr__(noun, "_text", text)
        return noun

    @classmethod
    def _read(cls, given: Any, at: str, faults: Faults) -> Self:
        if isinstance(given, cls):
            return given
        noun = object.__new__(cls)
        values: dict[str, Any] = {}
        object.__setattr__(noun, "_values", values)
        object.__setattr__(noun, "_text", None)
        if not isinstance(given, Mapping):
            wrong_type(given, f"the fields of a {cls.__name__}", at, faults)
            return noun
        for name, value in given.items():
            field = cls._fields.get(name)
            if field is None:
                unknown_field(name, cls.__name__, list(cls._fields), at, faults)
            elif value is not None:
                read = field.read(value, f"{at}/{name}", faults)
                if field.needed or read != field.absent:
                    values[name] = read
        for name, field in cls._fields.items():
            if field.needed and name not in values:
                missing_field(name, cls.__name__, at, faults)
        return noun

    def to_dict(self) -> dict[str, Any]:
        """The fields as plain dicts, lists, strings and numbers; what is absent is left out."""
        return {name: _plain(value) for name, value in self._values.items()}

    def to_json(self) -> str:
        """The JSON text, byte for byte what the other doors answer."""
        if self._text is None:
            _, text = _native.rewrite(json.dumps(self.to_dict()).encode())
            object.__setattr__(self, "_text", text)
            return text
        return self._text

    def __eq__(self, other: object) -> bool:
        if type(self) is not type(other) or not isinstance(other, Noun):
            return NotImplemented
        return self._values == other._values

    def __hash__(self) -> int:
        return hash((type(self), frozenset(self._values.items())))

    def __repr__(self) -> str:
        fields = ", ".join(f"{name}={_short(value)}" for name, value in self._values.items())
        return f"{type(self).__name__}({fields})"

    def _repr_html_(self) -> str | None:
        from ._html import page

        return page(self)

    def __setattr__(self, name: str, value: object) -> NoReturn:
        raise AttributeError(f"a {type(self).__name__} cannot change")

    def __delattr__(self, name: str) -> NoReturn:
        raise AttributeError(f"a {type(self).__name__} cannot change")

    def __copy__(self) -> Self:
        return self

    def __deepcopy__(self, memo: dict[int, object]) -> Self:
        return self

    def __reduce__(self) -> tuple[Callable[[type[Noun], str], Noun], tuple[type[Noun], str]]:
        return _restored, (type(self), self.to_json())


def _restored(cls: type[Noun], text: str) -> Noun:
    """What a pickle calls."""
    return cls._answered(text)


def _plain(value: Any) -> Any:
    if isinstance(value, Noun):
        return value.to_dict()
    if isinstance(value, tuple):
        return [_plain(entry) for entry in value]
    if isinstance(value, FrozenMap):
        return {name: _plain(entry) for name, entry in value.items()}
    return value


def _short(value: Any) -> str:
    """A value on one line: what is inside a noun inside a noun is only counted or named, unless it is short."""
    if isinstance(value, Noun):
        if len(value._values) <= 3 and not any(isinstance(part, Noun | tuple) for part in value._values.values()):
            return repr(value)
        return f"{type(value).__name__}(…)"
    if isinstance(value, tuple) and value and isinstance(value[0], Noun):
        return f"({len(value)} × {type(value[0]).__name__})"
    if isinstance(value, FrozenMap) and any(isinstance(entry, Noun) for entry in value.values()):
        return f"{{{', '.join(f'{name}: …' for name in value)}}}"
    return repr(value)
