"""Speciation of 500 generated waters beside the main database of `phreeqc` (PyPI; MIT bindings, public-domain data).

4 to 60 °C, ionic strength below 0.05. Asked: pH within 0.03 (both on the conventional scale, through p(aH gCl)) and
saturation indices within 0.09. Where a water lies beyond, one named constant of the database is replaced and the same
bound is asked again (two for the soluble sulfates, whose own constants belong to another activity model and whose ions
magnesium takes); the constants and what bears on them stand in reference/differences.py and in tests/REFERENCE.md.
"""

import sys
from collections import Counter

from reference import differences

# Quantities that may take two constants: salts whose index in such waters is -4 and below.
TWO = ("mirabilite", "epsomite")
# Shares of the waters that may lie beyond the plain bound at all, per cent: a wrong sign or a lost digit moves far more.
MOST_BEYOND = {"ph": 2, "calcite": 20, "aragonite": 0, "dolomite": 30, "gypsum": 15, "anhydrite": 6, "halite": 0}


def main() -> int:
    asked, outcomes = differences.outcomes()
    failures = 0
    for outcome in outcomes:
        p90, worst = differences.spread(outcome.plain)
        beyond = len(outcome.cured) + len(outcome.left)
        causes = Counter(" and ".join(choice) for choice, _ in outcome.cured.values())
        too_many = 100 * beyond > MOST_BEYOND.get(outcome.quantity, 100) * len(asked)
        too_deep = outcome.quantity not in TWO and any(len(choice) > 1 for choice, _ in outcome.cured.values())
        failures += bool(outcome.left) or too_many or too_deep
        said = ", ".join(f"{count} by {name}" for name, count in causes.most_common()) or "none beyond"
        print(f"{outcome.quantity:10} p90 {p90:.3f} worst {worst:+.3f}; beyond {outcome.bound}: {beyond} of {len(asked)} ({said})")
        for at, off in outcome.left.items():
            print(f"  not explained: {off:+.3f} (plain {outcome.plain[at]:+.3f}) in {asked[at]}")
    print(f"{len(outcomes) - failures} passed, {failures} failed")
    return 1 if failures or len(asked) < differences.waters.COUNT else 0


if __name__ == "__main__":
    sys.exit(main())
