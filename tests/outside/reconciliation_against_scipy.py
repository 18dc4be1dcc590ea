"""The most likely water behind a sheet beside scipy's least squares within bounds.

Every row states its uncertainty and every ion is stated or ruled absent, so the problem is known outside: rows over their
uncertainties, hardness and residue as sums, limits as even between nothing and the limit, the charge closed. Ours keeps the
charge to a thousandth of what the rows leave uncertain of it, which moves no amount by more than a millionth; so amounts
must agree to 1e-4 of their stated uncertainties, chi-square to 1e-4. Some sheets are pulled against their bounds.
"""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import numpy as np
from scipy.optimize import lsq_linear

ROOT = Path(__file__).resolve().parents[2]
BINARY = os.environ.get("SPRINGWRIGHT_BIN") or str(ROOT / "target" / "debug" / "springwright")
CHARGE = {"Ca": 2, "Mg": 2, "Na": 1, "K": 1, "Cl": -1, "SO4": -2, "NO3": -1, "F": -1, "HCO3": -1}
IONS = list(CHARGE)
SILENT = ["SiO2", "NH4", "Fe", "PO4"]
# Grams that drying leaves of a mole, by the abridged atomic weights of IUPAC 2021; 2 HCO3 go to CO3.
KEPT = {"Ca": 40.078, "Mg": 24.305, "Na": 22.990, "K": 39.098, "Cl": 35.45, "SO4": 96.056, "NO3": 62.004, "F": 18.998, "HCO3": 30.004}
# What weighing a residue adds to its uncertainty as a share: row residue_180c_model of data/analysis_uncertainties.tsv.
RESIDUE_SHARE = 0.015
TOLERANCE = 1e-4


def sheets(count: int = 150, seed: int = 11) -> list[dict[str, Any]]:
    """mmol/L with errors of a few percent; NO3 or F as a limit; one row in some sheets far too small."""
    rng = np.random.default_rng(seed)
    made = []
    for _ in range(count):
        true = {ion: float(10 ** rng.uniform(-1.0, 0.5)) for ion in IONS}
        true["NO3"], true["F"] = float(rng.uniform(0.01, 0.5)), float(rng.uniform(0.001, 0.02))
        rest = sum(CHARGE[ion] * true[ion] for ion in IONS if ion != "HCO3")
        true["HCO3"] = max(rest, 0.05)
        rows = {ion: (amount * float(1 + 0.03 * rng.normal()), 0.02 * amount + 0.002) for ion, amount in true.items()}
        limits = {"F": 0.02} if rng.uniform() < 0.6 else {}
        if rng.uniform() < 0.4:
            limits["NO3"] = 0.05
        if rng.uniform() < 0.5:
            rows["K"] = (0.0005, 0.05)
        hardness = true["Ca"] + true["Mg"]
        residue = sum(KEPT[ion] * amount for ion, amount in true.items()) * float(1 + 0.02 * rng.normal())
        made.append({"rows": rows, "limits": limits, "hardness": (hardness, 0.02 * hardness), "residue": (residue, 0.02 * residue + 3)})
    return made


def request(sheet: dict[str, Any]) -> dict[str, Any]:
    def measured(value: float, unit: str, uncertainty: float | None) -> dict[str, Any]:
        return {"value": value, "unit": unit} | ({"comparator": "<"} if uncertainty is None else {"uncertainty": uncertainty})

    analysis = {ion: measured(*(row[0], "mmol/L", row[1])) for ion, row in sheet["rows"].items() if ion not in sheet["limits"]}
    analysis |= {ion: measured(limit, "mmol/L", None) for ion, limit in sheet["limits"].items()}
    analysis["hardness"] = measured(sheet["hardness"][0], "mmol/L", sheet["hardness"][1])
    water = {"temperature_c": 20, "analysis": analysis, "missing": dict.fromkeys(SILENT, "zero")}
    return {"water": water, "residue_180c": measured(sheet["residue"][0], "mg/L", sheet["residue"][1])}


def theirs(sheet: dict[str, Any]) -> tuple[dict[str, float], float]:
    matrix, target = [], []

    def row(slopes: dict[str, float], value: float, uncertainty: float) -> None:
        matrix.append([slopes.get(ion, 0.0) / uncertainty for ion in IONS])
        target.append(value / uncertainty)

    for ion, (value, uncertainty) in sheet["rows"].items():
        limit = sheet["limits"].get(ion)
        row({ion: 1.0}, *((value, uncertainty) if limit is None else (limit / 2, limit / 12**0.5)))
    row({"Ca": 1.0, "Mg": 1.0}, *sheet["hardness"])
    residue, uncertainty = sheet["residue"]
    row({ion: KEPT[ion] for ion in IONS}, residue, float(np.hypot(uncertainty, RESIDUE_SHARE * residue)))
    row({ion: float(z) for ion, z in CHARGE.items()}, 0.0, 1e-6)
    upper = [sheet["limits"].get(ion, np.inf) for ion in IONS]
    found = lsq_linear(np.array(matrix), np.array(target), bounds=(np.zeros(len(IONS)), upper), method="bvls", tol=1e-14)
    return dict(zip(IONS, found.x, strict=True)), 2 * float(found.cost)


def ours(sheet: dict[str, Any]) -> dict[str, Any]:
    command = [BINARY, "calculate", "reconciliation", "-", "--json"]
    run = subprocess.run(command, input=json.dumps(request(sheet)), capture_output=True, text=True, check=False)
    if run.returncode != 0:
        raise SystemExit(f"refused: {run.stdout}{run.stderr}")
    return dict(json.loads(run.stdout))


def main() -> int:
    worst, worst_chi, failures, bounded = 0.0, 0.0, 0, 0
    made = sheets()
    for sheet in made:
        amounts, chi_square = theirs(sheet)
        answer = ours(sheet)
        likely = {row["pointer"].rsplit("/", 1)[1]: row["likely"]["value"] for row in answer["rows"]}
        away = max(abs(likely[ion] - amounts[ion]) / sheet["rows"][ion][1] for ion in IONS)
        off = abs(answer["chi_square"] - chi_square) / max(chi_square, 1.0)
        upper = {ion: sheet["limits"].get(ion, np.inf) for ion in IONS}
        bounded += any(amounts[ion] < 1e-9 or amounts[ion] > upper[ion] - 1e-9 for ion in IONS)
        worst, worst_chi = max(worst, away), max(worst_chi, off)
        failures += not (away <= TOLERANCE and off <= TOLERANCE)
    print(f"{len(made)} sheets, {bounded} against a bound: amounts within {worst:.1e} u, chi-square within {worst_chi:.1e}")
    failures += bounded == 0
    print(f"{len(made) + 1 - failures} passed, {failures} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
