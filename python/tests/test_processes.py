"""Answers and errors pass between processes, however these were started."""

from __future__ import annotations

import concurrent.futures
import multiprocessing
from typing import Any

import pytest

import springwright


def solve(request: dict[str, Any]) -> springwright.Blend:
    return springwright.solve_blend(request)


@pytest.mark.parametrize("start", ["fork", "spawn", "forkserver"])
def test_a_pool_of_eight_answers_as_one_process(start: str, hill_town: dict[str, Any]) -> None:
    requests = [{**hill_town, "volume_l": 10.0 + place} for place in range(16)]
    # Threads have run in this process before it forks.
    here = [row.answer for row in springwright.solve_blend_many(requests, threads=4)]
    context = multiprocessing.get_context(start)
    with concurrent.futures.ProcessPoolExecutor(8, mp_context=context) as pool:
        there = list(pool.map(solve, requests, timeout=120))
        refused = pool.submit(solve, {"volume_l": -1})
        with pytest.raises(springwright.RequestRefused) as error:
            refused.result(timeout=120)
    assert there == here
    assert [blend.to_json() for blend in there] == [blend.to_json() for blend in here if blend is not None]
    assert "/volume_l" in [fault.pointer for fault in error.value.faults]


def many_in_child(requests: list[dict[str, Any]]) -> list[str]:
    return [row.status for row in springwright.solve_blend_many(requests, threads=4)]


def test_threads_start_anew_after_a_fork(hill_town: dict[str, Any]) -> None:
    assert many_in_child([hill_town]) == ["answered"]
    with concurrent.futures.ProcessPoolExecutor(2, mp_context=multiprocessing.get_context("fork")) as pool:
        assert pool.submit(many_in_child, [hill_town] * 8).result(timeout=120) == ["answered"] * 8
