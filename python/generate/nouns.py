"""Writes springwright/nouns.py and springwright/request.py from the OpenAPI document.

The document comes from the Rust types, so a Python class has the name, the fields and the words of its Rust type.

    python generate/nouns.py            writes the files
    python generate/nouns.py --check    fails where a file differs from what would be written
"""

from __future__ import annotations

import argparse
import difflib
import json
import sys
import textwrap
from pathlib import Path
from typing import Any

PYTHON = Path(__file__).resolve().parent.parent
DOCUMENT = PYTHON.parent / "openapi" / "springwright.json"
PACKAGE = PYTHON / "springwright"
WIDTH = 110
PREFIX = "#/components/schemas/"

Schema = dict[str, Any]

# An answer is called by its own name: `Blend`, as the request is `BlendRequest`.
ANSWERS = {"BlendAnswer": "Blend", "MixtureAnswer": "Mixture", "ConversionAnswer": "Conversion"}
# Written by hand, because one class serves the rows of every calculation.
BY_HAND = {"BulkAnswer", "BulkRow"}
READERS = {"number": "a_number", "integer": "a_count", "string": "a_text", "boolean": "yes_or_no"}
TYPES = {"number": "float", "integer": "int", "string": "str", "boolean": "bool"}


class Document:
    """The OpenAPI document, asked for what goes in and what comes out."""

    def __init__(self, text: str) -> None:
        document = json.loads(text)
        self.schemas: dict[str, Schema] = document["components"]["schemas"]
        self.paths: dict[str, Any] = document["paths"]

    def requests(self) -> list[str]:
        """Names of what stands in a request of a calculation, parts before wholes."""
        return self._closed(
            operation["requestBody"]["content"] for path, operation in self._operations() if "/calculations/" in path
        )

    def answers(self) -> list[str]:
        """Names of what stands in an answer, parts before wholes, the problem document among them."""
        contents = [
            operation["responses"]["200"].get("content", {})
            for path, operation in self._operations()
            if "/calculations/" in path or path == "/v1/salts"
        ]
        return [*self._closed(contents), *self._closed([{"": {"schema": {"$ref": PREFIX + "Problem"}}}])]

    def _operations(self) -> list[tuple[str, Any]]:
        return [
            (path, operation)
            for path, operations in self.paths.items()
            for method, operation in operations.items()
            if method in ("get", "post")
        ]

    def _closed(self, contents: Any) -> list[str]:
        found: list[str] = []
        for content in contents:
            for kind in content.values():
                self._walk(kind.get("schema", {}), found)
        return found

    def _walk(self, schema: Any, found: list[str]) -> None:
        if isinstance(schema, list):
            for part in schema:
                self._walk(part, found)
        elif isinstance(schema, dict):
            name = schema.get("$ref", "").removeprefix(PREFIX)
            if name and name not in found and name not in BY_HAND:
                self._walk(self.schemas[name], found)
                found.append(name)
            for part in schema.values():
                if isinstance(part, dict | list):
                    self._walk(part, found)


def called(name: str) -> str:
    """The Python name of a schema."""
    return ANSWERS.get(name, name)


def is_words(schema: Schema) -> bool:
    """Whether a schema is a closed list of words."""
    return "enum" in schema


def is_map(schema: Schema) -> bool:
    """Whether a schema is a mapping from names."""
    return isinstance(schema.get("additionalProperties"), dict) and "properties" not in schema


def prose(text: str) -> str:
    """A description on one line."""
    return " ".join(text.split())


def fields(schema: Schema) -> list[tuple[str, Schema, bool]]:
    """The fields of an object, those that are needed before the others: name, schema, whether it is needed."""
    required = schema.get("required", [])
    properties = schema["properties"]
    names = [*required, *(name for name in properties if name not in required)]
    return [(name, properties[name], name in required) for name in names]


def comment(text: str) -> str:
    """A description as comment, wrapped."""
    return "\n".join("# " + line for line in textwrap.wrap(prose(text), WIDTH - 2))


def docstring(text: str, indent: str) -> str:
    """A description as docstring, wrapped."""
    wrapped = textwrap.wrap(prose(text), WIDTH - len(indent) - 3)
    quote = "r" if "\\" in text else ""
    if len(wrapped) == 1 and len(wrapped[0]) + len(indent) + 6 <= WIDTH:
        return f'{indent}{quote}"""{wrapped[0]}"""'
    return "\n".join([f'{indent}{quote}"""{wrapped[0]}', *(indent + line for line in wrapped[1:]), f'{indent}"""'])


def literal(text: str, indent: str) -> str:
    """A description as string, over several lines where it is long."""
    text = prose(text)
    if len(indent) + len(text) + 3 <= WIDTH:
        return f"{indent}{quoted(text)}"
    lines = textwrap.wrap(text, WIDTH - len(indent) - 3, drop_whitespace=False)
    return "\n".join(indent + quoted(line) for line in lines)


def quoted(text: str) -> str:
    """A string as it stands in the source."""
    return json.dumps(text, ensure_ascii=False)


class Answers:
    """Writes the classes of what comes out."""

    HEAD = '''"""What Springwright answers. Every class is frozen; its attributes are plain numbers, strings, tuples, mappings
and other nouns. Attributes carry their unit in the name.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, TypeAlias

from ._noun import Field, Noun, maybe, needed, perhaps_none
from ._read import {readers}
'''

    def __init__(self, document: Document) -> None:
        self.schemas = document.schemas
        self.names = document.answers()
        self.used: set[str] = set()

    def text(self) -> str:
        """The whole file."""
        parts = [self._part(name) for name in self.names]
        listed = sorted(called(name) for name in self.names)
        exported = "\n".join(f'    "{name}",' for name in listed)
        head = self.HEAD.replace("{readers}", ", ".join(sorted(self.used)))
        return "\n\n".join([head, *parts]) + f"\n\n__all__ = [\n{exported}\n]\n"

    def _part(self, name: str) -> str:
        schema = self.schemas[name]
        if is_words(schema):
            words = ", ".join(quoted(word) for word in schema["enum"])
            return f"{comment(schema.get('description', name))}\n{name}: TypeAlias = Literal[{words}]\n"
        lines = [f"class {called(name)}(Noun):", docstring(schema["description"], "    "), "", "    __slots__ = ()", ""]
        lines += [self._field(*field) for field in fields(schema)]
        return "\n".join(lines) + "\n"

    def _field(self, name: str, schema: Schema, required: bool) -> str:
        kind = "needed" if required else "perhaps_none" if schema.get("type") == "array" else "maybe"
        reader, words = self._reader(schema), self._words(schema)
        noted = f": Field[{words if required else words + ' | None'}]" if words else ""
        doc = schema.get("description", "")
        on_one_line = f"    {name}{noted} = {kind}({reader}, {quoted(prose(doc))})"
        if len(on_one_line) <= WIDTH:
            return on_one_line
        return f"    {name}{noted} = {kind}(\n        {reader},\n{literal(doc, ' ' * 8)},\n    )"

    def _words(self, schema: Schema) -> str:
        name = schema.get("$ref", "").removeprefix(PREFIX)
        return name if name and is_words(self.schemas[name]) else ""

    def _reader(self, schema: Schema) -> str:
        if "$ref" in schema:
            name = schema["$ref"].removeprefix(PREFIX)
            target = self.schemas[name]
            if is_words(target):
                return self._use("a_word") + f"({', '.join(quoted(word) for word in target['enum'])})"
            return self._use("one") + f"({called(name)})"
        if schema.get("type") == "array":
            return self._use("each") + f"({self._reader(schema['items'])})"
        if is_map(schema):
            return self._use("by_name") + f"({self._reader(schema['additionalProperties'])})"
        return self._use(READERS[schema["type"]])

    def _use(self, reader: str) -> str:
        self.used.add(reader)
        return reader


class Requests:
    """Writes the typed dicts of what goes in."""

    HEAD = '''"""What Springwright takes: typed dicts, for editors and type checkers. Any mapping with these keys will do.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal, Required, TypeAlias, TypedDict

from . import nouns
'''
    # Where a measured amount is taken, an expression is taken as well, and an amount out of an answer.
    AMOUNT = '''# An amount: an expression such as "190 ± 4 mg/L as CaCO3", the object it stands for, or one out of an answer.
Amount: TypeAlias = str | Measured | nouns.Measured
'''

    def __init__(self, document: Document) -> None:
        self.schemas = document.schemas
        self.names = document.requests()

    def text(self) -> str:
        """The whole file."""
        listed = "\n".join(f'    "{name}",' for name in sorted([*self.names, "Amount"]))
        parts = [self.HEAD, *(self._part(name) for name in self.names)]
        return "\n\n".join(parts) + f"\n\n__all__ = [\n{listed}\n]\n"

    def _part(self, name: str) -> str:
        schema = self.schemas[name]
        doc = schema.get("description", name)
        if is_words(schema):
            words = ", ".join(quoted(word) for word in schema["enum"])
            return f"{comment(doc)}\n{name}: TypeAlias = Literal[{words}]\n"
        if is_map(schema):
            return f"{comment(doc)}\n{name}: TypeAlias = {self._type(schema)}\n"
        lines = [f"class {name}(TypedDict, total=False):", docstring(doc, "    "), ""]
        for field, of, required in fields(schema):
            kind = self._type(of)
            lines.append(f"    {field}: {f'Required[{kind}]' if required else kind}")
            lines.append(docstring(of["description"], "    "))
        part = "\n".join(lines) + "\n"
        return part + "\n\n" + self.AMOUNT if name == "Measured" else part

    def _type(self, schema: Schema) -> str:
        if "$ref" in schema:
            name: str = schema["$ref"].removeprefix(PREFIX)
            return "Amount" if name == "Measured" else name
        if schema.get("type") == "array":
            return f"Sequence[{self._type(schema['items'])}]"
        if is_map(schema):
            return f"Mapping[str, {self._type(schema['additionalProperties'])}]"
        return TYPES[schema["type"]]


def main() -> int:
    """Writes the files, or compares them."""
    arguments = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    arguments.add_argument("--check", action="store_true", help="compare only")
    arguments.add_argument("--document", type=Path, default=DOCUMENT, help="the OpenAPI document")
    options = arguments.parse_args()
    document = Document(options.document.read_text("utf-8"))
    differs = False
    for path, text in ((PACKAGE / "nouns.py", Answers(document).text()), (PACKAGE / "request.py", Requests(document).text())):
        if options.check:
            old = path.read_text("utf-8").splitlines(keepends=True)
            difference = list(difflib.unified_diff(old, text.splitlines(keepends=True), str(path), "generated"))
            sys.stdout.writelines(difference)
            differs = differs or bool(difference)
        else:
            path.write_text(text, "utf-8")
    return 1 if differs else 0


if __name__ == "__main__":
    sys.exit(main())
