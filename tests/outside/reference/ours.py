"""This project's own numbers: JSON lines through the program tests/examples/states.rs (SPRINGWRIGHT_STATES)."""

import json
import math
import os
import subprocess
from collections.abc import Sequence
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[3]
PROGRAM = os.environ.get("SPRINGWRIGHT_STATES") or str(ROOT / "target" / "debug" / "examples" / "states")
CHARGE = {"Na": 1, "K": 1, "Ca": 2, "Mg": 2, "NH4": 1, "Cl": -1, "SO4": -2, "NO3": -1, "F": -1}


def ask(waters: Sequence[dict[str, Any]], *words: str) -> list[dict[str, Any]]:
    """Solves every water; one answer each, or with words what the program prints for them."""
    text = "".join(json.dumps(water) + "\n" for water in waters)
    run = subprocess.run([PROGRAM, *words], input=text, text=True, capture_output=True, check=True)
    return [json.loads(line) for line in run.stdout.splitlines()]


def water(t_c: float, components: dict[str, float], dic: float = 0.0, **more: Any) -> dict[str, Any]:
    """A closed water that is neutral: its alkalinity is what the strong ions leave."""
    alkalinity = sum(CHARGE.get(of, 0) * amount for of, amount in components.items())
    return {"t_c": t_c, "components": components, "known": {"alkalinity": alkalinity, "dic": dic}, **more}


def pure_water_density(t_c: float) -> float:
    """kg/m3 (Kell 1975)."""
    t = t_c
    top = 999.83952 + t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - t * 280.54253e-12))))
    return top / (1.0 + 16.879850e-3 * t)


def vapour_pressure_bar(t_c: float) -> float:
    """Vapour pressure of water (Buck 1981), within 0.1 % from 0 to 60 °C."""
    return 6.1121e-3 * math.exp((18.678 - t_c / 234.5) * t_c / (257.14 + t_c))


def co2_fugacity_coefficient(t_c: float) -> float:
    """Of pure CO2 at 1 atm, by the virial coefficient of Weiss 1974."""
    kelvin = t_c + 273.15
    virial = -1636.75 + 12.0408 * kelvin - 0.0327957 * kelvin**2 + 3.16528e-5 * kelvin**3
    return math.exp(virial / (82.0575 * kelvin))
