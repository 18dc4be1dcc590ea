"""Answers are values: frozen, equal by their fields, the same after every journey."""

from __future__ import annotations

import copy
import json
import pickle
from typing import Any

import pytest

import springwright
from springwright import Blend, Measured, Water


@pytest.fixture
def blend(hill_town: dict[str, Any]) -> Blend:
    return springwright.solve_blend(hill_town)


def test_an_answer_survives_every_journey(blend: Blend) -> None:
    journeys = [
        Blend.from_dict(blend.to_dict()),
        Blend.from_dict(json.loads(blend.to_json())),
        Blend.from_json(blend.to_json()),
        Blend.from_json(json.dumps(blend.to_dict(), indent=2).encode()),
        copy.copy(blend),
        copy.deepcopy(blend),
        *(pickle.loads(pickle.dumps(blend, protocol)) for protocol in range(pickle.HIGHEST_PROTOCOL + 1)),
    ]
    for arrived in journeys:
        assert arrived == blend
        assert hash(arrived) == hash(blend)
        assert arrived.to_json() == blend.to_json()


def test_the_parts_of_an_answer_write_the_text_that_stands_in_it(blend: Blend) -> None:
    assert blend.water is not None
    for part in (blend.water, blend.provenance, *blend.pourings, *blend.weighings, *blend.reached):
        assert part.to_json() in blend.to_json()
        assert pickle.loads(pickle.dumps(part)) == part


def test_an_answer_cannot_change(blend: Blend) -> None:
    assert blend.water is not None
    with pytest.raises(AttributeError, match="cannot change"):
        blend.status = "solved"  # type: ignore[assignment]
    with pytest.raises(AttributeError, match="cannot change"):
        del blend.status
    with pytest.raises(AttributeError):
        blend.colour = "blue"
    with pytest.raises(TypeError):
        blend.water.ions["Ca"] = blend.water.ions["Mg"]  # type: ignore[index]
    with pytest.raises(AttributeError, match="cannot change"):
        blend.water.ions._entries = {}  # type: ignore[attr-defined]


def test_numbers_are_plain_floats_and_counts_plain_integers(blend: Blend) -> None:
    assert blend.water is not None
    for ion in blend.water.ions.values():
        assert type(ion.mg_per_l) is float and type(ion.mmol_per_l) is float
    for weighing in blend.weighings:
        assert type(weighing.mass_g) is float and type(weighing.steps) is int


def test_what_was_not_computed_is_absent() -> None:
    stated = Measured(value=60, unit="mg/L")
    assert stated.value == 60.0 and type(stated.value) is float
    assert stated.basis is None and stated.uncertainty is None
    assert stated.to_dict() == {"value": 60.0, "unit": "mg/L"}
    # `null` is read as absent, as at every door.
    assert Measured.from_dict({"value": 60, "unit": "mg/L", "basis": None}) == stated


def test_nouns_of_different_kinds_or_values_differ() -> None:
    assert Measured(value=60, unit="mg/L") != Measured(value=61, unit="mg/L")
    assert Measured(value=60, unit="mg/L") != Measured(value=60, unit="mg/L", basis="CaCO3")
    assert Measured(value=60, unit="mg/L") != {"value": 60.0, "unit": "mg/L"}
    # Order of the fields is no part of the value.
    assert Measured(unit="mg/L", value=60) == Measured(value=60, unit="mg/L")
    assert len({Measured(unit="mg/L", value=60), Measured(value=60, unit="mg/L")}) == 1


def test_fields_that_do_not_fit_are_all_named() -> None:
    with pytest.raises(springwright.ShapeRefused) as refused:
        Water.from_dict({"ph": "seven", "colour": "blue", "ions": {"a/b~c": {"mg_per_l": True}}, "not_stated": "F"})
    places = {fault.pointer: fault.code for fault in refused.value.faults}
    assert places == {
        "/ph": "type_wrong",
        "/colour": "field_unknown",
        "/ions/a~1b~0c/mg_per_l": "type_wrong",
        "/ions/a~1b~0c/mmol_per_l": "field_missing",
        "/ions/a~1b~0c/charge": "field_missing",
        "/not_stated": "type_wrong",
        "/temperature_c": "field_missing",
        "/residuals": "field_missing",
    }


def test_no_noun_holds_a_number_that_json_cannot_write() -> None:
    for value in (float("nan"), float("inf"), -float("inf")):
        with pytest.raises(springwright.ShapeRefused):
            Measured(value=value, unit="mg/L")


def test_every_attribute_says_what_it_is() -> None:
    for name in springwright.__all__:
        noun = getattr(springwright, name)
        for field, descriptor in getattr(noun, "_fields", {}).items():
            assert descriptor.__doc__, f"{name}.{field}"
            assert getattr(noun, field) is descriptor


def test_an_answer_tells_itself_on_a_line(blend: Blend) -> None:
    assert "\n" not in repr(blend) and len(repr(blend)) < 500
    assert repr(Measured(value=60, unit="mg/L")) == "Measured(value=60.0, unit='mg/L')"
