"""A year of two wells mixed into one supply: 100 000 hourly samples, their pH, chalk and conductivity.

The wells and their course through the year are invented.
"""

from __future__ import annotations

import math
from array import array

import springwright

ROWS = 100_000
# Two wells, mg/L: a soft one from sandstone and a hard one from limestone.
SOFT = {"Ca": 14.0, "Mg": 2.2, "Na": 6.0, "K": 1.0, "Cl": 8.0, "SO4": 9.0, "NO3": 0.8, "alkalinity": 38.0}
HARD = {"Ca": 118.0, "Mg": 15.0, "Na": 9.0, "K": 2.1, "Cl": 24.0, "SO4": 52.0, "NO3": 3.9, "alkalinity": 288.0}
UNITS = {name: "mg/L" for name in SOFT} | {"NO3": "mg/L as N", "alkalinity": "mg/L as CaCO3"}


def course(low: float, high: float, days: float) -> array[float]:
    """A figure that swings between two values with a period in days."""
    hours = 24 * days / (2 * math.pi)
    return array("d", (low + (high - low) * (0.5 + 0.5 * math.sin(hour / hours)) for hour in range(ROWS)))


def main() -> None:
    share = course(0.05, 0.9, 365)
    columns = {
        name: array("d", (SOFT[name] + (HARD[name] - SOFT[name]) * part for part in share)) for name in SOFT
    }
    columns["ph"] = array("d", (7.9 - 0.7 * part for part in share))
    columns["temperature_c"] = course(6, 17, 365)
    told = springwright.speciate_table(columns, units=UNITS, solids=["calcite"])
    over = sum(1 for index in told["si_calcite"] if index > 0)
    conductivity = told["conductivity_us_per_cm_at_25c"]
    print(f"{told.rows} samples, {sum(1 for code in told.codes if code)} of them not answered")
    print(f"conductivity {min(conductivity):.0f} to {max(conductivity):.0f} µS/cm at 25 °C")
    print(f"calcite index {min(told['si_calcite']):+.2f} to {max(told['si_calcite']):+.2f}; above 0 in {100 * over / ROWS:.0f} %")


if __name__ == "__main__":
    main()
