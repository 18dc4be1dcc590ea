"""The OpenAPI document, asked for what goes in and what comes out, and where each of it belongs."""

from __future__ import annotations

import json
import textwrap
from pathlib import Path
from typing import Any

PYTHON = Path(__file__).resolve().parent.parent
PREFIX = "#/components/schemas/"
WIDTH = 110

Schema = dict[str, Any]

# Written by hand, because one class serves the rows of every calculation.
BY_HAND = {"BulkAnswer", "BulkRow"}
# The module of what more than one answer, or more than one request, is made of.
PARTS = "parts"


class Document:
    """The schemas, and which of them are a request or an answer."""

    def __init__(self, text: str) -> None:
        document = json.loads(text)
        self.schemas: dict[str, Schema] = document["components"]["schemas"]
        self.requests: dict[str, str] = {}
        self.answers: dict[str, str] = {"problem": "Problem"}
        for path, operations in document["paths"].items():
            module = path.rpartition("/")[2].replace("-", "_")
            if path.startswith("/v1/calculations/") and not path.endswith("/bulk"):
                operation = operations["post"]
                self.requests[module] = _name(operation["requestBody"]["content"])
                self.answers[module] = _name(operation["responses"]["200"]["content"])
            elif path == "/v1/salts":
                self.answers[module] = _name(operations["get"]["responses"]["200"]["content"])

    def homes(self, roots: dict[str, str]) -> dict[str, list[str]]:
        """For each module the names of what stands in it, parts before wholes: what only one root is made of stands
        with it; so does what stands in others only as a part of that root; the rest stands among the parts.
        """
        closures = {module: self._closed(root) for module, root in roots.items()}
        users: dict[str, list[str]] = {}
        for module, names in closures.items():
            for name in names:
                users.setdefault(name, []).append(module)
        homes: dict[str, list[str]] = {PARTS: []}
        homes |= {module: [] for module in sorted(closures)}
        for name, modules in users.items():
            owners = [own for own in modules if all(roots[own] in closures[module] for module in modules)]
            homes[owners[0] if owners else PARTS].append(name)
        return homes

    def imports(self, homes: dict[str, list[str]], module: str) -> dict[str, list[str]]:
        """What a module takes from others, by the module where it stands."""
        own = homes[module]
        named = {part for name in own for part in self.named_in(self.schemas[name])} - set(own)
        taken = {other: [name for name in names if name in named] for other, names in homes.items()}
        return {other: names for other, names in sorted(taken.items()) if names}

    def named_in(self, schema: Any) -> list[str]:
        """Names of the schemas to which a schema refers."""
        if isinstance(schema, list):
            return [name for part in schema for name in self.named_in(part)]
        if not isinstance(schema, dict):
            return []
        name = schema.get("$ref", "").removeprefix(PREFIX)
        inside = [found for part in schema.values() for found in self.named_in(part)]
        return [name, *inside] if name and name not in BY_HAND else inside

    def _closed(self, name: str, found: list[str] | None = None) -> list[str]:
        found = [] if found is None else found
        for part in self.named_in(self.schemas[name]):
            if part not in found:
                self._closed(part, found)
        if name not in found:
            found.append(name)
        return found


def _name(content: dict[str, Any]) -> str:
    name: str = content["application/json"]["schema"]["$ref"].removeprefix(PREFIX)
    return name


def fields(schema: Schema) -> list[tuple[str, Schema, bool]]:
    """The fields of an object, those that are needed before the others: name, schema, whether it is needed."""
    required = schema.get("required", [])
    properties = schema["properties"]
    names = [*required, *(name for name in properties if name not in required)]
    return [(name, properties[name], name in required) for name in names]


def is_words(schema: Schema) -> bool:
    """Whether a schema is a closed list of words."""
    return "enum" in schema


def is_map(schema: Schema) -> bool:
    """Whether a schema is a mapping from names."""
    return isinstance(schema.get("additionalProperties"), dict) and "properties" not in schema


def prose(text: str) -> str:
    """A description on one line."""
    return " ".join(text.split())


def quoted(text: str) -> str:
    """A string as it stands in the source."""
    return json.dumps(text, ensure_ascii=False)


def comment(text: str) -> str:
    """A description as comment, wrapped."""
    return "\n".join("# " + line for line in textwrap.wrap(prose(text), WIDTH - 2))


def docstring(text: str, indent: str) -> str:
    """A description as docstring, wrapped."""
    wrapped = textwrap.wrap(prose(text), WIDTH - len(indent) - 3)
    if len(wrapped) == 1 and len(wrapped[0]) + len(indent) + 6 <= WIDTH:
        return f'{indent}"""{wrapped[0]}"""'
    return "\n".join([f'{indent}"""{wrapped[0]}', *(indent + line for line in wrapped[1:]), f'{indent}"""'])


def string(text: str, indent: str) -> str:
    """A description as string, over several lines where it is long."""
    wrapped = textwrap.wrap(prose(text), WIDTH - len(indent) - 4)
    lines = [quoted(line + " ") for line in wrapped[:-1]] + [quoted(wrapped[-1])]
    return "\n".join(indent + line for line in lines)


def words_alias(name: str, schema: Schema) -> str:
    """A closed list of words as type."""
    words = ", ".join(quoted(word) for word in schema["enum"])
    return f"{comment(schema.get('description', name))}\n{name}: TypeAlias = Literal[{words}]\n"


def exported(names: list[str]) -> str:
    """The list of what a module offers."""
    return "__all__ = [\n" + "".join(f'    "{name}",\n' for name in sorted(names)) + "]\n"


def imported(module: str, names: list[str]) -> str:
    """An import, over several lines where it is long."""
    line = f"from .{module} import {', '.join(sorted(names))}"
    if len(line) <= WIDTH:
        return line
    return f"from .{module} import (\n" + "".join(f"    {name},\n" for name in sorted(names)) + ")"
