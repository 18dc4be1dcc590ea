"""Tables of waters: a column for each figure, a row for each water, a million rows in seconds."""

from __future__ import annotations

import json
from array import array
from collections.abc import Iterator, Mapping, Sequence
from importlib import import_module
from math import isnan
from typing import TYPE_CHECKING, Any, TypeAlias

from . import _native
from ._read import wrong_type
from .errors import SpringwrightError, error_of
from .nouns import Assumption

if TYPE_CHECKING:
    from . import request as ask

    Cells: TypeAlias = memoryview[float]
else:
    Cells = memoryview


class WaterTable(Mapping[str, Cells]):
    """The solved states of a table of waters: a mapping from column to cells, which never changes.

    A cell is a float; where a row has no answer it is NaN in the raw column, masked in `numpy()`, `None` in `to_dict()`
    and null in `to_arrow()`. `codes` says why, and `problem(row)` tells the whole of it. `assumptions` is what was taken
    for granted of every row.
    """

    __slots__ = ("_cells", "_codes", "_given", "_places", "_request", "assumptions")

    def __init__(
        self,
        cells: Mapping[str, bytes],
        places: bytes,
        codes: Sequence[str],
        assumptions: Sequence[Assumption],
        request: Mapping[str, Any],
        given: Mapping[str, Any],
    ) -> None:
        self._cells: dict[str, Cells] = {name: memoryview(column).cast("d") for name, column in cells.items()}
        self._places = places
        self._codes = tuple(codes)
        self.assumptions: tuple[Assumption, ...] = tuple(assumptions)
        self._request = request
        self._given = given

    def __getitem__(self, column: str) -> Cells:
        return self._cells[column]

    def __iter__(self) -> Iterator[str]:
        return iter(self._cells)

    def __len__(self) -> int:
        return len(self._cells)

    @property
    def rows(self) -> int:
        """Number of rows."""
        return len(self._places)

    @property
    def codes(self) -> list[str]:
        """Why a row is not answered, by row; empty where it is."""
        return [self._codes[place] for place in self._places]

    @property
    def status(self) -> list[str]:
        """`answered`, `refused` or `not_converged`, by row."""
        words = {"": "answered", "not_converged": "not_converged"}
        return [words.get(code, "refused") for code in self.codes]

    def numpy(self, column: str) -> Any:
        """A column as a masked numpy array; a cell without an answer is masked."""
        numpy = import_module("numpy")
        return numpy.ma.masked_invalid(numpy.frombuffer(self._cells[column], dtype=numpy.float64), copy=False)

    def to_dict(self) -> dict[str, list[float | None]]:
        """Every column as a list; a cell without an answer is `None`. The codes of the rows stand under `code`."""
        cells: dict[str, list[Any]] = {
            name: [None if isnan(cell) else cell for cell in column] for name, column in self._cells.items()
        }
        cells["code"] = [code or None for code in self.codes]
        return cells

    def to_arrow(self) -> Any:
        """A `pyarrow.Table`; a cell without an answer is null. Polars, DuckDB and pandas read it as it is."""
        pyarrow = import_module("pyarrow")
        columns = {name: pyarrow.array(self.numpy(name), from_pandas=True) for name in self._cells}
        return pyarrow.table({**columns, "code": pyarrow.array([code or None for code in self.codes], pyarrow.string())})

    def problem(self, row: int) -> SpringwrightError | None:
        """Why a row has no answer, with every fault and how to mend it: the same water asked alone."""
        from .calculations import speciate

        if not self._places[row]:
            return None
        units = self._request["columns"]
        own = {name: float(column[row]) for name, column in self._given.items()}
        water: dict[str, Any] = {
            "analysis": {
                name: _amount(value, units[name]) for name, value in own.items() if name not in ("ph", "temperature_c")
            },
            "temperature_c": own.get("temperature_c", self._request.get("temperature_c")),
            "ph": own.get("ph"),
            "missing": self._request.get("missing"),
            "end_point_ph": self._request.get("end_point_ph"),
        }
        try:
            speciate({"water": water, "temperature_c": self._request.get("brought_to_c"), "co2": self._request.get("co2")})
        except SpringwrightError as error:
            return error
        return None

    def __repr__(self) -> str:
        refused = self.rows - self._places.count(0)
        return f"<WaterTable of {self.rows} rows, {refused} of them not answered: {', '.join(self._cells)}>"


def _amount(value: float, unit: str) -> dict[str, Any]:
    unit, _, basis = unit.partition(" as ")
    return {"value": value, "unit": unit, **({"basis": basis} if basis else {})}


def speciate_table(
    columns: Mapping[str, Any],
    /,
    *,
    units: Mapping[str, str],
    temperature_c: float | None = None,
    brought_to_c: float | None = None,
    co2: ask.Co2 | None = None,
    missing: Mapping[str, str] | None = None,
    end_point_ph: float | None = None,
    solids: Sequence[str] | None = None,
    answers: Sequence[str] | None = None,
    threads: int | None = None,
) -> WaterTable:
    """`speciate` for every row of a table, with the bits that each water has alone.

    Args:
        columns: the figures by name: components (`Ca`, `NO3`), `alkalinity`, `dic`, `co2`, `ph`, `temperature_c`; each a
            sequence of floats, a numpy array, a pandas or polars column: whatever has equal length.
        units: the unit of each column with its basis: `{"Ca": "mg/L", "NO3": "mg/L as N", "ph": "pH"}`. A pH and a
            temperature in °C need none.
        temperature_c: temperature of all waters as analysed, where it is no column; 20 unless given.
        brought_to_c: temperature to which every water is brought; its own unless given.
        co2: how the carbon dioxide of every water is held; `closed` unless given.
        missing: what to do where an ion that is needed has no column, such as `{"K": "zero"}`.
        end_point_ph: pH at which the titrations of the alkalinity ended; 4.5 unless given.
        solids: the solids whose saturation index is answered, as columns `si_calcite` and so on.
        answers: the columns that are answered beside those of the solids; all of them unless given. What is not asked for
            costs no time, `conductivity_us_per_cm_at_25c` most, for which every water is solved again.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bits.

    Raises:
        RequestRefused: with every fault of the columns, then with every fault of what is asked of them. A bad row is a
            row with a code.

    Two waters and one that cannot be:

    >>> import springwright
    >>> told = springwright.speciate_table(
    ...     {"Ca": [20.0, 120.0, -1.0], "alkalinity": [55.0, 290.0, 100.0], "ph": [7.6, 7.2, 7.0]},
    ...     units={"Ca": "mg/L", "alkalinity": "mg/L as CaCO3"},
    ...     solids=["calcite"],
    ... )
    >>> told.status
    ['answered', 'answered', 'refused']
    >>> told["si_calcite"][0] < 0 < told["si_calcite"][1]
    True
    """
    named = dict(sorted(columns.items()))
    given = _columns(named)
    own = {"ph": "pH", "temperature_c": "°C"}
    stated = {
        "columns": {name: units.get(name, own.get(name, "")) for name in given},
        "temperature_c": temperature_c,
        "brought_to_c": brought_to_c,
        "co2": co2,
        "missing": missing,
        "end_point_ph": end_point_ph,
        "solids": solids,
        "answers": answers,
    }
    request = {field: value for field, value in stated.items() if value is not None}
    body = json.dumps(request).encode()
    status, problem, cells, places, codes = _native.solve_table(body, list(given.values()), threads)
    if status != 200:
        raise error_of(problem)
    assumptions = [Assumption.from_dict(one) for one in json.loads(problem)]
    return WaterTable(dict(cells), places, codes, assumptions, request, given)


def _columns(named: Mapping[str, Any]) -> dict[str, Any]:
    """The columns as doubles; those that are no numbers, or not as long as the first, are all named."""
    given: dict[str, Any] = {}
    faults: list[dict[str, object]] = []
    for name, column in named.items():
        at = f"/columns/{name}"
        try:
            doubles = _doubles(column)
        except (TypeError, ValueError):
            wrong_type(column, "a column of numbers", at, faults)
            continue
        rows = next((len(other) for other in given.values()), len(doubles))
        if len(doubles) != rows:
            message = f"{name} has {len(doubles)} rows, the columns before it {rows}"
            mend = "give every column the same length"
            faults.append({"pointer": at, "code": "columns_differ_in_length", "message": message, "mend": mend})
        given[name] = doubles
    if faults:
        raise error_of(_native.refusal(json.dumps(faults)))
    return given


def _doubles(column: Any) -> Any:
    """A column as contiguous doubles, without a copy where it already is so."""
    try:
        view = memoryview(column)
    except TypeError:
        view = None
    if view is not None and view.format == "d" and view.ndim == 1 and view.c_contiguous:
        return view
    to_numpy = getattr(column, "to_numpy", None)
    if to_numpy is not None or view is not None:
        numpy = import_module("numpy")
        return memoryview(numpy.ascontiguousarray(to_numpy() if to_numpy else column, dtype=numpy.float64))
    return memoryview(array("d", column))


__all__ = ["WaterTable", "speciate_table"]
