"""Many requests at once: in order, one row each, the same bytes on any number of threads."""

from __future__ import annotations

import json
import signal
import threading
import time
from typing import Any

import pytest

import springwright
from springwright import _native


def volumes(request: dict[str, Any], count: int) -> list[dict[str, Any]]:
    """The request for so many volumes."""
    return [{**request, "volume_l": 10.0 + place} for place in range(count)]


def test_rows_are_single_answers_in_order_on_any_number_of_threads(hill_town: dict[str, Any]) -> None:
    requests = volumes(hill_town, 12)
    singles = [springwright.solve_blend(request).to_json() for request in requests]
    lines = None
    for threads in (None, 1, 2, 7, 100):
        rows = springwright.solve_blend_many(requests, threads=threads)
        assert [row.id for row in rows] == [str(place) for place in range(12)]
        assert [row.answer.to_json() for row in rows if row.answer is not None] == singles
        lines = lines or [row.to_json() for row in rows]
        assert [row.to_json() for row in rows] == lines


def test_a_bad_row_spoils_no_other(hill_town: dict[str, Any]) -> None:
    requests: dict[str, Any] = {
        "good": hill_town,
        "no volume": {**hill_town, "volume_l": None},
        "no json": "{",
        "two lines": '{}\n{"id": "x", "request": {}}',
        "not a number": {**hill_town, "volume_l": float("nan")},
        "no request": object(),
        "good again": json.dumps(hill_town),
    }
    rows = springwright.solve_blend_many(requests)
    assert [row.id for row in rows] == list(requests)
    assert [row.status for row in rows] == ["answered", *["refused"] * 5, "answered"]
    for row in rows:
        assert (row.answer is None) == (row.status == "refused")
        assert (row.problem is None) == (row.status == "answered")
    codes = [row.problem.code for row in rows if row.problem is not None]
    assert codes == ["request_refused", "not_json", "not_json", "request_refused", "request_refused"]
    assert rows[0].answer == rows[-1].answer


def test_no_row_is_no_answer() -> None:
    assert springwright.mix_many([]) == []
    assert springwright.convert_many({}) == []
    assert springwright.convert_many(iter(())) == []


def test_rows_of_the_other_calculations() -> None:
    (half,) = springwright.convert_many([{"of": "Ca", "measured": "40.078 mg/L", "unit": "mmol/L"}])
    assert half.answer is not None
    # IUPAC abridged atomic weight of calcium, 40.078 g/mol: one millimole, to rounding.
    assert half.answer.measured.value == pytest.approx(1.0, rel=1e-12)
    (mixed,) = springwright.mix_many([{"parts": [{"water": {"pure": True}, "volume_l": 1}]}])
    assert mixed.answer is not None and mixed.status == "answered"


@pytest.mark.parametrize("threads", [0, -1, 1.5, "two", True])
def test_a_number_of_threads_must_be_one(threads: Any) -> None:
    with pytest.raises(springwright.RequestRefused):
        springwright.solve_blend_many([], threads=threads)


@pytest.mark.parametrize("requests", [None, 3, "{}", b"{}"])
def test_what_is_no_iterable_is_refused(requests: Any) -> None:
    with pytest.raises(springwright.RequestRefused):
        springwright.solve_blend_many(requests)


def test_other_threads_run_meanwhile(hill_town: dict[str, Any]) -> None:
    """While one thread computes, another one counts: the interpreter is free."""
    counted = 0
    done = threading.Event()

    def count() -> None:
        nonlocal counted
        while not done.is_set():
            counted += 1
            time.sleep(0.0001)

    counter = threading.Thread(target=count)
    counter.start()
    lines = [b'{"id":"%d","request":%b}' % (place, json.dumps(hill_town).encode()) for place in range(400)]
    before = counted
    _native.calculate_bulk("blend", lines, 1)
    during = counted - before
    done.set()
    counter.join()
    assert during > 0


def test_an_interrupt_ends_a_long_call(hill_town: dict[str, Any]) -> None:
    """A signal handler runs within the call, and what it raises comes out of it."""

    class Interrupted(Exception):
        pass

    def raise_it(number: int, frame: object) -> None:
        raise Interrupted

    lines = [b'{"id":"%d","request":%b}' % (place, json.dumps(hill_town).encode()) for place in range(200_000)]
    before = signal.signal(signal.SIGALRM, raise_it)
    signal.setitimer(signal.ITIMER_REAL, 0.2)
    try:
        with pytest.raises(Interrupted):
            _native.calculate_bulk("blend", lines, 2)
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
