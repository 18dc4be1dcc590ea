"""The same request gives the same bytes through the command, over HTTP and through Python."""

from __future__ import annotations

import http.client
import json
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from conftest import EXAMPLES, ROOT

import springwright

Answer = (
    springwright.Conversion
    | springwright.Mixture
    | springwright.Speciation
    | springwright.Saturation
    | springwright.Precipitation
    | springwright.Compatibility
    | springwright.LifePath
    | springwright.WeighingPlan
    | springwright.ScaleUp
    | springwright.Carbonation
    | springwright.Titration
    | springwright.Blend
    | springwright.Reconciliation
)
CALLS: dict[str, Callable[[bytes], Answer]] = {
    "conversion": springwright.convert,
    "mixture": springwright.mix,
    "speciation": springwright.speciate,
    "saturation": springwright.saturation,
    "precipitation": springwright.precipitate,
    "compatibility": springwright.check_compatibility,
    "life-path": springwright.life_path,
    "weighing": springwright.plan_weighing,
    "scale-up": springwright.scale_batch,
    "carbonation": springwright.carbonate_to,
    "titration": springwright.titrate,
    "blend": springwright.solve_blend,
    "reconciliation": springwright.reconcile,
}
REQUESTS = [
    *((name, EXAMPLES / f"{name}.json") for name in CALLS),
    *(("blend", path) for path in sorted((ROOT / "tests" / "data" / "cases").glob("*.json"))),
]


def told(command: str, name: str, body: bytes) -> tuple[int, str]:
    """What the command prints under --json, and its exit code."""
    run = subprocess.run([command, "calculate", name, "-", "--json"], input=body, capture_output=True, timeout=60)
    return run.returncode, run.stdout.decode().removesuffix("\n")


@pytest.mark.parametrize(("name", "path"), REQUESTS, ids=lambda part: part if isinstance(part, str) else part.stem)
def test_answers_are_the_bytes_of_the_command(command: str, name: str, path: Path) -> None:
    body = path.read_bytes()
    exit_code, text = told(command, name, body)
    if exit_code == 0:
        assert CALLS[name](body).to_json() == text
    else:
        with pytest.raises(springwright.RequestRefused) as refused:
            CALLS[name](body)
        assert refused.value.problem.to_json() == text


def test_problems_are_the_bytes_of_the_command(command: str) -> None:
    body = json.dumps({"volume_l": -1, "colour": "blue"}).encode()
    exit_code, text = told(command, "blend", body)
    assert exit_code == 2
    with pytest.raises(springwright.RequestRefused) as refused:
        springwright.solve_blend(body)
    assert refused.value.problem.to_json() == text


def posted(service: str, path: str, body: bytes, kind: str = "application/json") -> tuple[int, str]:
    """Status and body of the HTTP door."""
    connection = http.client.HTTPConnection(service, timeout=60)
    try:
        connection.request("POST", f"/v1/calculations/{path}", body, {"content-type": kind})
        response = connection.getresponse()
        return response.status, response.read().decode()
    finally:
        connection.close()


@pytest.mark.parametrize(("name", "path"), REQUESTS, ids=lambda part: part if isinstance(part, str) else part.stem)
def test_answers_are_the_bytes_of_the_service(service: str, name: str, path: Path) -> None:
    body = path.read_bytes()
    assert posted(service, name, body) == (200, CALLS[name](body).to_json())


def test_problems_are_the_bytes_of_the_service(service: str) -> None:
    for body in (b'{"volume_l": -1, "colour": "blue"}', b"{", b"[]"):
        with pytest.raises(springwright.SpringwrightError) as refused:
            springwright.solve_blend(body)
        assert posted(service, "blend", body) == (refused.value.status, refused.value.problem.to_json())


def test_rows_are_the_lines_of_the_service(service: str) -> None:
    good = json.loads((EXAMPLES / "blend.json").read_text("utf-8"))
    requests = {"good": good, "bad": {**good, "volume_l": -1}, "double": {**good, "volume_l": 40}}
    lines = [json.dumps({"id": name, "request": request}) for name, request in requests.items()]
    status, body = posted(service, "blend/bulk", "\n".join(lines).encode(), "application/x-ndjson")
    assert status == 200
    assert [row.to_json() for row in springwright.solve_blend_many(requests)] == body.splitlines()


def test_the_catalogue_is_that_of_the_service(service: str) -> None:
    connection = http.client.HTTPConnection(service, timeout=60)
    try:
        connection.request("GET", "/v1/salts?gives=Mg&limit=3")
        text = connection.getresponse().read().decode()
    finally:
        connection.close()
    page = springwright.salts(gives="Mg", limit=3)
    assert page.to_json() == text
    following = springwright.salts(gives="Mg", limit=3, cursor=page.next_cursor)
    assert following.salts and set(following.salts).isdisjoint(page.salts)


def test_a_request_of_dicts_is_the_request_of_its_text(hill_town: dict[str, Any]) -> None:
    by_keyword = springwright.solve_blend(**hill_town)
    by_mapping = springwright.solve_blend(hill_town)
    by_text = springwright.solve_blend(json.dumps(hill_town))
    assert by_keyword.to_json() == by_mapping.to_json() == by_text.to_json()


def test_a_keyword_stands_over_the_mapping(hill_town: dict[str, Any]) -> None:
    doubled = springwright.solve_blend(hill_town, volume_l=40)
    assert doubled.to_json() == springwright.solve_blend({**hill_town, "volume_l": 40}).to_json()
    assert doubled.to_json() == springwright.solve_blend(json.dumps(hill_town), volume_l=40).to_json()
