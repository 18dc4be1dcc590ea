"""Writes the packages springwright/nouns and springwright/request from the OpenAPI document.

The document comes from the Rust types, so a Python class has the name, the fields and the words of its Rust type.

    python generate/nouns.py            writes the files
    python generate/nouns.py --check    fails where a file differs from what would be written
"""

from __future__ import annotations

import argparse
import difflib
import sys
from pathlib import Path

import answers
import requests
from document import PYTHON, Document

DOCUMENT = PYTHON.parent / "openapi" / "springwright.json"
PACKAGE = PYTHON / "springwright"


def differences(path: Path, text: str) -> list[str]:
    """How a file differs from its text; one that is not there differs in all of it."""
    old = path.read_text("utf-8") if path.exists() else ""
    return list(difflib.unified_diff(old.splitlines(True), text.splitlines(True), str(path), "generated"))


def main() -> int:
    """Writes the files, or compares them."""
    arguments = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    arguments.add_argument("--check", action="store_true", help="compare only")
    arguments.add_argument("--document", type=Path, default=DOCUMENT, help="the OpenAPI document")
    options = arguments.parse_args()
    document = Document(options.document.read_text("utf-8"))
    differs = False
    for folder, texts in (("nouns", answers.files(document)), ("request", requests.files(document))):
        wanted = {PACKAGE / folder / f"{module}.py": text for module, text in texts.items()}
        left_over = set((PACKAGE / folder).glob("*.py")) - set(wanted)
        if options.check:
            found = [line for path, text in wanted.items() for line in differences(path, text)]
            found += [f"{path} is left over\n" for path in sorted(left_over)]
            sys.stdout.writelines(found)
            differs = differs or bool(found)
            continue
        (PACKAGE / folder).mkdir(exist_ok=True)
        for path in left_over:
            path.unlink()
        for path, text in wanted.items():
            path.write_text(text, "utf-8")
    return 1 if differs else 0


if __name__ == "__main__":
    sys.exit(main())
