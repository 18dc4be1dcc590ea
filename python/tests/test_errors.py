"""Errors by kind, each with its code and all its faults; nothing that `except Exception` would miss."""

from __future__ import annotations

import array
import pickle
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

import springwright
from springwright import NotJson, RequestRefused, SpringwrightError


def test_every_fault_comes_at_once_with_place_code_and_mend(hill_town: dict[str, Any]) -> None:
    del hill_town["volume_l"]
    hill_town["colour"] = "blue"
    hill_town["balances"] = [{"step_g": "fine", "most_g": 200}]
    with pytest.raises(RequestRefused) as refused:
        springwright.solve_blend(hill_town)
    error = refused.value
    assert (error.code, error.status) == ("request_refused", 422)
    places = {fault.pointer: fault.code for fault in error.faults}
    assert places == {
        "/volume_l": "field_missing",
        "/colour": "field_unknown",
        "/balances/0/step_g": "type_wrong",
    }
    for fault in error.faults:
        assert fault.message and fault.mend
        assert fault.pointer in str(error) and fault.mend in str(error)


def test_a_text_that_is_no_json_is_a_kind_of_its_own() -> None:
    for text in ("{", b"\xff", "", "{} {}", '"\ud800"', '{"volume_l": NaN}'):
        with pytest.raises(NotJson) as refused:
            springwright.solve_blend(text)
        assert (refused.value.code, refused.value.status) == ("not_json", 400)
        with pytest.raises(NotJson):
            springwright.Blend.from_json(text)
        with pytest.raises(NotJson):
            springwright.solve_blend(text, volume_l=2)


def test_a_value_without_a_place_in_json_is_named(hill_town: dict[str, Any]) -> None:
    hill_town["volume_l"] = float("nan")
    hill_town["waters"][0]["analysis"]["Ca"] = object()
    hill_town["salts"][0][3] = {1}
    hill_town["target"].append(hill_town["target"])
    with pytest.raises(RequestRefused) as refused:
        springwright.solve_blend(hill_town)
    places = [fault.pointer for fault in refused.value.faults]
    assert places == ["/volume_l", "/waters/0/analysis/Ca", "/salts/0", "/target/3"]


def test_numbers_and_lists_of_other_libraries_are_taken(hill_town: dict[str, Any]) -> None:
    plain = springwright.solve_blend(hill_town)
    hill_town["volume_l"] = Decimal(20)
    hill_town["temperature_c"] = Fraction(36, 2)
    hill_town["target"] = tuple(hill_town["target"])
    hill_town["waters"][0]["analysis"]["Ca"] = springwright.Measured(value=21.5, unit="mg/L")
    assert springwright.solve_blend(hill_town).to_json() == plain.to_json()
    with pytest.raises(RequestRefused) as refused:
        springwright.solve_blend(hill_town, volume_l=array.array("d", [1.0, 2.0]))  # type: ignore[arg-type]
    assert [fault.pointer for fault in refused.value.faults] == ["/volume_l"]


@pytest.mark.parametrize("request_", [[], 3, True, object(), "[]", "3", "null"], ids=repr)
def test_a_request_that_is_no_object_is_refused(request_: Any) -> None:
    with pytest.raises(RequestRefused):
        springwright.solve_blend(request_)


def test_errors_travel_between_processes() -> None:
    with pytest.raises(SpringwrightError) as refused:
        springwright.solve_blend(volume_l=-1)
    arrived = pickle.loads(pickle.dumps(refused.value))
    assert type(arrived) is type(refused.value)
    assert arrived.problem == refused.value.problem
    assert str(arrived) == str(refused.value)


def test_all_kinds_are_exceptions_of_the_package() -> None:
    for kind in (NotJson, RequestRefused, springwright.ShapeRefused, springwright.OwnFailure):
        assert issubclass(kind, SpringwrightError) and issubclass(kind, Exception)


def test_a_bad_query_of_the_catalogue_is_refused() -> None:
    with pytest.raises(RequestRefused) as refused:
        springwright.salts(limit=-1, search=7)  # type: ignore[arg-type]
    assert {fault.pointer for fault in refused.value.faults} == {"/limit", "/search"}
