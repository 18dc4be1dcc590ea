"""Writes the typed dicts of what goes in."""

from __future__ import annotations

from document import (
    PARTS,
    PREFIX,
    Document,
    Schema,
    comment,
    docstring,
    exported,
    fields,
    imported,
    is_map,
    is_words,
    words_alias,
)

TYPES = {"number": "float", "integer": "int", "string": "str", "boolean": "bool"}
NOTE = "Written by generate/nouns.py from openapi/springwright.json."
HEAD = f'''"""What Springwright takes: typed dicts, for editors and type checkers. Any mapping with these keys will do.

{NOTE}
"""
'''
# Where a measured amount is taken, an expression is taken as well, and an amount out of an answer.
AMOUNT = """# An expression such as "190 ± 4 mg/L as CaCO3", the object it stands for, or one out of an answer.
Amount: TypeAlias = str | Measured | nouns.Measured
"""


def files(document: Document) -> dict[str, str]:
    """The text of each module of the package, by its name."""
    homes = document.homes(document.requests)
    texts = {module: _text(document, homes, module) for module in homes}
    offered = {module: names + (["Amount"] if "Measured" in names else []) for module, names in homes.items()}
    lines = [imported(module, names) for module, names in sorted(offered.items())]
    every = [name for names in offered.values() for name in names]
    texts["__init__"] = HEAD + "\n" + "\n".join(lines) + "\n\n" + exported(every)
    return texts


def _text(document: Document, homes: dict[str, list[str]], module: str) -> str:
    names, schemas = homes[module], document.schemas
    parts = "\n\n".join(_part(name, schemas[name]) for name in names)
    about = "What several requests are made of." if module == PARTS else f"The request `{document.requests[module]}`."
    lines = [f'"""{about}\n\n{NOTE}\n"""\n', "from __future__ import annotations\n"]
    collections = [name for name in ("Mapping", "Sequence") if f"{name}[" in parts]
    if collections:
        lines.append(f"from collections.abc import {', '.join(collections)}")
    typing = [name for name in ("Literal[", "Required[", "TypeAlias ", "TypedDict,") if name in parts]
    lines.append(f"from typing import {', '.join(name[:-1].strip() for name in typing)}\n")
    taken = document.imports(homes, module)
    used = {other: ["Amount" if name == "Measured" else name for name in names] for other, names in taken.items()}
    if used:
        lines.append("\n".join(imported(other, names) for other, names in used.items()) + "\n")
    if "nouns.Measured" in parts:
        lines.append("from .. import nouns\n")
    return "\n".join(lines) + "\n\n" + parts


def _part(name: str, schema: Schema) -> str:
    if is_words(schema):
        return words_alias(name, schema)
    doc = schema.get("description", name)
    if is_map(schema):
        return f"{comment(doc)}\n{name}: TypeAlias = {_type(schema)}\n"
    lines = [f"class {name}(TypedDict, total=False):", docstring(doc, "    "), ""]
    for field, of, required in fields(schema):
        kind = _type(of)
        lines.append(f"    {field}: {f'Required[{kind}]' if required else kind}")
        lines.append(docstring(of["description"], "    "))
    part = "\n".join(lines) + "\n"
    return part + "\n\n" + AMOUNT if name == "Measured" else part


def _type(schema: Schema) -> str:
    if "$ref" in schema:
        name: str = schema["$ref"].removeprefix(PREFIX)
        return "Amount" if name == "Measured" else name
    if schema.get("type") == "array":
        return f"Sequence[{_type(schema['items'])}]"
    if is_map(schema):
        return f"Mapping[str, {_type(schema['additionalProperties'])}]"
    return TYPES[schema["type"]]
