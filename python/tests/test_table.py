"""Tables of waters: the same bits as single requests, on any number of threads; bad rows and bad columns."""

from __future__ import annotations

import math
from array import array
from typing import Any

import pytest

import springwright

UNITS = {"Ca": "mg/L", "Cl": "mg/L", "Na": "mmol/L", "NO3": "mg/L as N", "alkalinity": "mg/L as CaCO3"}
SOLIDS = ["calcite", "dolomite"]


def waters(rows: int) -> dict[str, array[float]]:
    """Waters between two seasons of a town supply, by a fixed rule."""

    def season(low: float, high: float, beat: float) -> array[float]:
        return array("d", (low + (high - low) * (0.5 + 0.5 * math.sin(row * beat)) for row in range(rows)))

    return {
        "Ca": season(18, 118, 0.7),
        "Cl": season(4, 44, 1.3),
        "Na": season(0.2, 1.4, 1.7),
        "NO3": season(0.3, 6, 0.31),
        "alkalinity": season(40, 290, 0.9),
        "ph": season(6.6, 8.1, 0.47),
        "temperature_c": season(5, 22, 0.13),
    }


def told(columns: dict[str, Any], **others: Any) -> springwright.WaterTable:
    return springwright.speciate_table(columns, units=UNITS, solids=SOLIDS, **others)


def test_a_row_has_the_bits_of_the_same_water_alone() -> None:
    columns = waters(50)
    table = told(columns)
    assert table.rows == 50 and set(table.status) == {"answered"}
    for row in range(50):
        analysis = {name: {"value": columns[name][row], "unit": unit} for name, unit in UNITS.items()}
        for name, unit in UNITS.items():
            unit, _, basis = unit.partition(" as ")
            analysis[name] = {"value": columns[name][row], "unit": unit, **({"basis": basis} if basis else {})}
        water: Any = {"analysis": analysis, "ph": columns["ph"][row], "temperature_c": columns["temperature_c"][row]}
        alone = springwright.saturation(water=water, solids=SOLIDS)
        assert table["ph"][row] == alone.water.ph
        assert table["alkalinity_meq_per_l"][row] == alone.water.alkalinity_meq_per_l
        assert table["density_kg_per_l"][row] == alone.water.density_kg_per_l
        assert alone.water.conductivity_us_per_cm is not None
        assert table["conductivity_us_per_cm_at_25c"][row] == alone.water.conductivity_us_per_cm.at_25c
        assert table["si_calcite"][row] == alone.saturation[0].si


def test_threads_and_containers_change_nothing() -> None:
    columns = waters(20_000)
    one, two = told(columns, threads=1), told(columns, threads=2)
    listed = told({name: list(column) for name, column in columns.items()}, threads=3)
    for name in one:
        assert bytes(one[name]) == bytes(two[name]) == bytes(listed[name]), name


def test_bad_rows_are_told_and_spoil_nothing() -> None:
    good, columns = told(waters(9)), waters(9)
    columns["Ca"][2] = -1.0
    columns["ph"][5] = math.nan
    columns["alkalinity"][7] = 1e7
    table = told(columns)
    assert [bool(code) for code in table.codes] == [row in (2, 5, 7) for row in range(9)]
    assert table.to_dict()["ph"][2] is None
    problem = table.problem(2)
    assert problem is not None and "/water/analysis/Ca" in str(problem)
    assert table.problem(0) is None
    for name in table:
        for row in (0, 1, 3, 4, 6, 8):
            assert bytes(table[name][row : row + 1]) == bytes(good[name][row : row + 1])


def test_bad_columns_are_all_named() -> None:
    with pytest.raises(springwright.RequestRefused) as refused:
        springwright.speciate_table({"Ca": [1.0], "Calcium": [1.0], "NO3": [1.0]}, units={"Ca": "ppm", "Calcium": "mg/L"})
    assert {fault.pointer for fault in refused.value.faults} == {"/columns/Ca", "/columns/Calcium", "/columns/NO3"}
    columns = {"Ca": [1.0], "Mg": ["much"], "ph": [7.0, 7.1]}
    with pytest.raises(springwright.RequestRefused) as refused:
        springwright.speciate_table(columns, units={"Ca": "mg/L"})
    assert {fault.pointer for fault in refused.value.faults} == {"/columns/Mg", "/columns/ph"}
    with pytest.raises(springwright.RequestRefused) as refused:
        springwright.speciate_table({"Ca": [1.0]}, units={"Ca": "mg/L"}, missing={"Ca": "zero"})
    assert [fault.code for fault in refused.value.faults] == ["rule_for_stated"]


def test_what_is_taken_for_granted_is_told() -> None:
    columns = waters(3)
    assert "temperature_assumed" not in {one.code for one in told(columns).assumptions}
    del columns["temperature_c"]
    assumed = {one.code: one for one in told(columns).assumptions}
    assert assumed["temperature_assumed"].pointer == "/temperature_c"
    # the same codes as the first row alone
    analysis = {name: f"{columns[name][0]!r} {unit}" for name, unit in UNITS.items()}
    alone = springwright.speciate(water={"analysis": analysis, "ph": columns["ph"][0]})
    assert set(assumed) == {one.code for one in alone.assumptions}


def test_only_what_is_asked_for_is_answered() -> None:
    columns = waters(20)
    units = {**UNITS}
    whole = springwright.speciate_table(columns, units=units, solids=SOLIDS)
    some = springwright.speciate_table(columns, units=units, solids=SOLIDS, answers=["ph"])
    assert list(some) == ["ph", *(f"si_{solid}" for solid in SOLIDS)]
    assert all(bytes(some[name]) == bytes(whole[name]) for name in some)
    with pytest.raises(springwright.RequestRefused) as refused:
        springwright.speciate_table(columns, units=units, answers=["colour"])
    assert [fault.pointer for fault in refused.value.faults] == ["/answers/0"]


def test_a_hundred_thousand_waters() -> None:
    table = told(waters(100_000))
    assert set(table.status) == {"answered"}
    assert all(6.5 < ph < 8.2 for ph in table["ph"])
