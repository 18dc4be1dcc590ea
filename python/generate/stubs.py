"""Writes springwright/_native.pyi, the types of the compiled module, from the module itself.

    python generate/stubs.py            writes the file
    python generate/stubs.py --check    fails where the file differs from what would be written

The module is built in the development profile with the feature `stubs`: the signatures are read from the library,
and a stripped one does not have them any more.
"""

from __future__ import annotations

import argparse
import difflib
import subprocess
import sys
import tempfile
from pathlib import Path

PYTHON = Path(__file__).resolve().parent.parent
STUB = Path("springwright") / "_native.pyi"


def generated() -> str:
    """The stub that fits the module as it is."""
    with tempfile.TemporaryDirectory() as folder:
        command = ["maturin", "generate-stubs", "--quiet", "--features", "stubs", "--out", folder]
        subprocess.run(command, cwd=PYTHON, check=True)
        return (Path(folder) / STUB).read_text("utf-8")


def main() -> int:
    """Writes the file, or compares it."""
    arguments = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    arguments.add_argument("--check", action="store_true", help="compare only")
    text = generated()
    if not arguments.parse_args().check:
        (PYTHON / STUB).write_text(text, "utf-8")
        return 0
    old = (PYTHON / STUB).read_text("utf-8").splitlines(keepends=True)
    difference = list(difflib.unified_diff(old, text.splitlines(keepends=True), str(STUB), "generated"))
    sys.stdout.writelines(difference)
    return 1 if difference else 0


if __name__ == "__main__":
    sys.exit(main())
