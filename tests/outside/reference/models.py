"""This project's model and the reference engines behind one face: waters in, states with the same names out."""

import math
from collections.abc import Sequence
from typing import Any, Protocol

from . import ours, substances
from .engine import Engine

WATER_MASS = 0.0180153
State = dict[str, Any]


class Model(Protocol):
    """Answers a state for each water, None where it cannot."""

    name: str

    def solve(self, waters: Sequence[dict[str, Any]]) -> list[State | None]: ...

    def saturate(self, waters: Sequence[dict[str, Any]]) -> list[float | None]: ...


class Ours:
    """The program of this project."""

    name = "this model"

    def solve(self, waters: Sequence[dict[str, Any]]) -> list[State | None]:
        return [None if "refused" in answer else self.named(answer) for answer in ours.ask(waters)]

    @staticmethod
    def named(answer: State) -> State:
        gamma = answer["gamma"]
        logs = {of: math.log10(m * gamma[of]) for of, m in answer["molality"].items() if m > 0}
        return answer | {"m": answer["molality"], "log_a": logs}

    def saturate(self, waters: Sequence[dict[str, Any]]) -> list[float | None]:
        """mol of solid per kg of water of the saturated solution, its crystal water counted in."""
        values: list[float | None] = []
        for water, answer in zip(waters, ours.ask(waters), strict=True):
            crystal = substances.SOLIDS[water["saturate"]][1]
            x = answer.get("dissolved")
            values.append(None if x is None else x / (1.0 + x * crystal * WATER_MASS))
        return values


class Reference:
    """A database of the reference engine."""

    def __init__(self, database: str) -> None:
        self.name = database
        self.engine = Engine(database)
        # Ion-pair databases print a pH by their own coefficient of H; a Pitzer set needs the conventional scale.
        self.converts = database == "pitzer.dat"

    def solve(self, waters: Sequence[dict[str, Any]]) -> list[State | None]:
        return [state and self.named(state, water["t_c"]) for water, state in zip(waters, self.states(waters), strict=True)]

    def states(self, waters: Sequence[dict[str, Any]]) -> list[dict[str, float] | None]:
        able = [at for at, water in enumerate(waters) if self.engine.can(water)]
        states: list[dict[str, float] | None] = [None] * len(waters)
        try:
            found: Sequence[dict[str, float] | None] = self.engine.solve([waters[at] for at in able])
        except RuntimeError:
            found = [self.alone(waters[at]) for at in able]
        for at, state in zip(able, found, strict=True):
            states[at] = state
        return states

    def alone(self, water: dict[str, Any]) -> dict[str, float] | None:
        try:
            return self.engine.solve([water])[0]
        except RuntimeError:
            return None

    def named(self, state: dict[str, float], t_c: float) -> State:
        logs = {name.removeprefix("log_a "): value for name, value in state.items() if name.startswith("log_a ")}
        molality = {name.removeprefix("m "): value for name, value in state.items() if name.startswith("m ")}
        conducts = state["conductivity_us_per_cm"]
        named: State = {
            "m": molality,
            "log_a": logs,
            "raw_ph": state["raw_ph"],
            "conductivity_us_per_cm": conducts if self.engine.conducts else None,
            "density_kg_per_l": state["density_kg_per_l"] if self.engine.weighs else None,
        }
        named["ph"] = conventional_ph(named, state["ionic_strength"], t_c) if self.converts else state["raw_ph"]
        return named

    def saturate(self, waters: Sequence[dict[str, Any]]) -> list[float | None]:
        values: list[float | None] = []
        for water, state in zip(waters, self.states(waters), strict=True):
            _, _, component, count = substances.SOLIDS[water["saturate"]]
            values.append(state and state[f"total {component}"] / count)
        return values


def conventional_ph(state: State, ionic_strength: float, t_c: float) -> float:
    """pH on the scale of Bates and Guggenheim: p(aH gCl), which no choice of single ions moves, plus log gCl by the convention."""
    physical = state["raw_ph"] - (state["log_a"]["Cl"] - math.log10(state["m"]["Cl"]))
    root = math.sqrt(ionic_strength)
    return physical - debye_huckel_log10(t_c) * root / (1.0 + 1.5 * root)


def debye_huckel_log10(t_c: float) -> float:
    """Debye-Hückel slope in log10, by a straight reading of the table 0.37672 ... 0.45475 of the osmotic slope (Bradley and Pitzer)."""
    points = [(0, 0.37672), (10, 0.38211), (25, 0.39145), (40, 0.40226), (60, 0.41898), (80, 0.43838), (95, 0.45475)]
    for (low, a), (high, b) in zip(points, points[1:], strict=False):
        if t_c <= high:
            return 3.0 / math.log(10.0) * (a + (b - a) * (t_c - low) / (high - low))
    raise ValueError(t_c)
