"""How long a table of a million waters takes, with five saturation indices and conductivity, and how much memory: with the
conductivity at the temperature of each water alone, and with all columns, that at 25 °C among them, for which every water is
solved twice.

    python benches/table.py [ROWS]
"""

from __future__ import annotations

import math
import resource
import sys
import time
from array import array

import springwright

UNITS = {"Ca": "mg/L", "Cl": "mg/L", "K": "mg/L", "Mg": "mg/L", "NO3": "mg/L as N", "Na": "mg/L", "SO4": "mg/L"}
SOLIDS = ["calcite", "aragonite", "gypsum", "dolomite", "amorphous_calcium_carbonate"]


def main() -> None:
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000

    def between(low: float, high: float, beat: float) -> array[float]:
        return array("d", (low + (high - low) * (0.5 + 0.5 * math.sin(row * beat)) for row in range(rows)))

    columns = {
        "Ca": between(4, 160, 0.7),
        "Cl": between(1, 90, 1.3),
        "K": between(0.3, 6, 0.2),
        "Mg": between(0.4, 40, 2.1),
        "NO3": between(0.1, 11, 0.31),
        "Na": between(1, 60, 1.7),
        "SO4": between(3, 120, 0.77),
        "alkalinity": between(10, 380, 0.9),
        "ph": between(6.3, 8.4, 0.47),
        "temperature_c": between(1, 35, 0.13),
    }
    units = {**UNITS, "alkalinity": "mg/L as CaCO3"}
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    here = ["ph", "co2_mg_per_l", "ionic_strength_mol_per_kg", "conductivity_us_per_cm_at_temperature"]
    for words, answers in (("conductivity as they are", here), ("all columns", None)):
        for threads in (1, 2):
            start = time.perf_counter()
            told = springwright.speciate_table(columns, units=units, solids=SOLIDS, answers=answers, threads=threads)
            seconds = time.perf_counter() - start
            answered = told.codes.count("")
            print(f"{rows} waters, {words}, {threads} threads: {seconds:.2f} s, {1e6 * seconds / rows:.2f} µs each, {answered} answered")
            del told
    after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    print(f"memory {before / 1024:.0f} MiB with the columns, at most {after / 1024:.0f} MiB with the answers")


if __name__ == "__main__":
    main()
