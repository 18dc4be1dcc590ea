"""Compares the molar mass of every catalogue row with molmass (PyPI, test-only), to 2e-4 relative.

molmass carries its own table of atomic weights (longer figures than the abridged IUPAC table of the catalogue,
hence the tolerance). Reads what `cargo run -q -p springwright-chem --example molar_masses` prints, on standard
input:

    cargo run -q -p springwright-chem --example molar_masses | python tests/outside/catalogue_masses.py
"""

import sys

import molmass

TOLERANCE = 2e-4
LEAST_ROWS = 110


def outside_mass(formula: str) -> float:
    """Mass of a canonical formula; parts are split here so that decimal waters need no reading by molmass."""
    total = 0.0
    for part in formula.split("·"):
        body = part.lstrip("0123456789.")
        count = float(part[: len(part) - len(body)] or 1)
        total += count * molmass.Formula(body).mass
    return total


def main() -> int:
    rows = [line.rstrip("\n").split("\t") for line in sys.stdin if line.strip()]
    worst = 0.0
    wrong = []
    for name, formula, mass in rows:
        ours, theirs = float(mass), outside_mass(formula)
        off = abs(ours / theirs - 1.0)
        worst = max(worst, off)
        if not off <= TOLERANCE:
            wrong.append(f"{name} {formula}: {ours} against {theirs:.4f}")
    if len(rows) < LEAST_ROWS:
        wrong.append(f"only {len(rows)} rows were printed")
    for line in wrong:
        print(line)
    print(f"{len(rows) - len(wrong)} passed, {len(wrong)} failed (worst {worst:.1e} relative, molmass {molmass.__version__})")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
