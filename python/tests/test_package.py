"""The package as a whole: its functions fit the requests, its files fit the document, its import is light."""

from __future__ import annotations

import doctest
import inspect
import json
import pkgutil
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest
from conftest import ROOT

import springwright
from springwright import _native, nouns, request

PYTHON = ROOT / "python"
DOCUMENT = json.loads((ROOT / "openapi" / "springwright.json").read_text("utf-8"))
# An operation of the HTTP door has the name of its function here.
OPERATIONS = {
    path.rpartition("/")[2]: operation["post"]["operationId"]
    for path, operation in DOCUMENT["paths"].items()
    if path.startswith("/v1/calculations/") and not path.endswith("/bulk")
}
MODULES = sorted(name for _, name, _ in pkgutil.iter_modules(springwright.__path__) if name != "_native")


def test_every_calculation_has_its_functions() -> None:
    assert set(OPERATIONS) == set(_native.calculations())
    for function in OPERATIONS.values():
        assert function in springwright.__all__ and f"{function}_many" in springwright.__all__


@pytest.mark.parametrize(("name", "function"), OPERATIONS.items())
def test_keywords_are_the_fields_of_the_request(name: str, function: str) -> None:
    parameters = inspect.signature(getattr(springwright, function)).parameters.values()
    keywords = {parameter.name for parameter in parameters if parameter.kind is parameter.KEYWORD_ONLY}
    noun = "".join(part.capitalize() for part in name.split("-"))
    fields = getattr(request, f"{noun}Request").__annotations__
    assert keywords == set(fields)


def test_keywords_of_the_catalogue_are_the_parameters_of_its_query() -> None:
    keywords = set(inspect.signature(springwright.salts).parameters)
    assert keywords == {parameter["name"] for parameter in DOCUMENT["paths"]["/v1/salts"]["get"]["parameters"]}


def test_every_noun_is_exported() -> None:
    assert {name for name in nouns.__all__ if isinstance(getattr(nouns, name), type)} <= set(springwright.__all__)


def test_nouns_and_requests_are_those_of_the_document() -> None:
    run = subprocess.run(
        [sys.executable, PYTHON / "generate" / "nouns.py", "--check"],
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert run.returncode == 0, run.stdout + run.stderr


@pytest.mark.parametrize("name", MODULES)
def test_examples_in_the_docs_hold(name: str) -> None:
    assert doctest.testmod(import_module(f"springwright.{name}")).failed == 0


def test_most_functions_show_an_example() -> None:
    shown = ["convert", "salts", "solve_blend_many", *OPERATIONS.values()]
    assert all(">>>" in (getattr(springwright, function).__doc__ or "") for function in shown)


@pytest.mark.parametrize("script", sorted((PYTHON / "examples").glob("*.py")), ids=lambda path: path.stem)
def test_examples_run(script: Path, tmp_path: Path) -> None:
    run = subprocess.run([sys.executable, script], cwd=tmp_path, capture_output=True, text=True, timeout=120)
    assert run.returncode == 0, run.stderr
    assert run.stdout


def test_types_hold_strictly() -> None:
    pytest.importorskip("mypy")
    run = subprocess.run(
        [sys.executable, "-m", "mypy", "springwright", "generate", "examples", "benches", "tests"],
        cwd=PYTHON,
        capture_output=True,
        text=True,
        timeout=300,
    )
    assert run.returncode == 0, run.stdout + run.stderr


def test_the_stub_fits_the_module(tmp_path: Path) -> None:
    pytest.importorskip("mypy")
    run = subprocess.run(
        [sys.executable, "-m", "mypy.stubtest", "springwright._native"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        timeout=300,
    )
    assert run.returncode == 0, run.stdout + run.stderr


def test_importing_it_brings_nothing_heavy(tmp_path: Path) -> None:
    heavy = {
        "asyncio",
        "dataclasses",
        "html",
        "http",
        "inspect",
        "multiprocessing",
        "numpy",
        "pandas",
        "pyarrow",
    }
    run = subprocess.run(
        [
            sys.executable,
            "-S",
            "-c",
            f"import sys; sys.path[:] = {sys.path!r}; import springwright; print(*sys.modules)",
        ],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert run.returncode == 0, run.stderr
    assert heavy.isdisjoint(run.stdout.split())


def test_version_and_data_are_those_of_every_answer() -> None:
    told = springwright.convert(measured="1 meq/L", of="Ca", unit="mmol/L").provenance
    assert told.engine == springwright.__version__
    assert told.data_set == springwright.data_set()
