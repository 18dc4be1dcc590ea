"""Writes the classes of what comes out."""

from __future__ import annotations

from document import (
    PARTS,
    PREFIX,
    WIDTH,
    Document,
    Schema,
    docstring,
    exported,
    fields,
    imported,
    is_map,
    is_words,
    prose,
    quoted,
    string,
    words_alias,
)

READERS = {"number": "a_number", "integer": "a_count", "string": "a_text", "boolean": "yes_or_no"}
NOTE = "Written by generate/nouns.py from openapi/springwright.json."
HEAD = f'''"""What Springwright answers. Every class is frozen; its attributes are plain numbers, texts, tuples,
mappings and other nouns. Attributes carry their unit in the name.

{NOTE}
"""
'''


def called(name: str) -> str:
    """The Python name of a schema. An answer is called by its own name: `Blend`, as the request is `BlendRequest`."""
    return name.removesuffix("Answer")


def files(document: Document) -> dict[str, str]:
    """The text of each module of the package, by its name."""
    homes = document.homes(document.answers)
    texts = {module: _Module(document, homes, module).text() for module in homes}
    lines = [imported(module, [called(name) for name in names]) for module, names in sorted(homes.items())]
    every = [called(name) for names in homes.values() for name in names]
    texts["__init__"] = HEAD + "\n" + "\n".join(lines) + "\n\n" + exported(every)
    return texts


class _Module:
    """One module: the nouns of one answer, or the parts of several."""

    def __init__(self, document: Document, homes: dict[str, list[str]], module: str) -> None:
        self.document = document
        self.schemas = document.schemas
        self.module = module
        self.names = homes[module]
        self.imported = document.imports(homes, module)
        self.read: set[str] = set()
        self.noun: set[str] = {"Noun"}

    def text(self) -> str:
        """The whole file."""
        classes = [self._class(name) for name in self.names]
        about = "What several answers are made of." if self.module == PARTS else f"The answer {quoted_name(self)}."
        head = [f'"""{about}\n\n{NOTE}\n"""\n', "from __future__ import annotations\n"]
        if any(is_words(self.schemas[name]) for name in self.names):
            head.append("from typing import Literal, TypeAlias\n")
        head.append("\n".join(self._imports()) + "\n")
        return "\n".join(head) + "\n\n" + "\n\n".join(classes)

    def _imports(self) -> list[str]:
        lines = [
            f"from .._noun import {', '.join(sorted(self.noun))}",
            f"from .._read import {', '.join(sorted(self.read))}",
        ]
        return [*lines, *(imported(other, [called(name) for name in names]) for other, names in self.imported.items())]

    def _class(self, name: str) -> str:
        schema = self.schemas[name]
        if is_words(schema):
            return words_alias(name, schema)
        lines = [
            f"class {called(name)}(Noun):",
            docstring(schema["description"], "    "),
            "",
            "    __slots__ = ()",
            "",
        ]
        return "\n".join([*lines, *(self._field(*field) for field in fields(schema))]) + "\n"

    def _field(self, name: str, schema: Schema, required: bool) -> str:
        kind = "needed" if required else "maybe_empty" if schema.get("type") == "array" else "maybe"
        self.noun.add(kind)
        reader, words = self._reader(schema), self._words(schema)
        noted = f": Field[{words if required else words + ' | None'}]" if words else ""
        if noted:
            self.noun.add("Field")
        doc = schema.get("description", "")
        on_one_line = f"    {name}{noted} = {kind}({reader}, {quoted(prose(doc))})"
        if len(on_one_line) <= WIDTH:
            return on_one_line
        return f"    {name}{noted} = {kind}(\n        {reader},\n{string(doc, ' ' * 8)},\n    )"

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
        self.read.add(reader)
        return reader


def quoted_name(module: _Module) -> str:
    """The root of a module, as it stands in its docs."""
    return f"`{called(module.document.answers[module.module])}` and what it alone is made of"
