"""The algebra of the carbonate system beside PyCO2SYS (PyPI; GPL, test-only).

A fair check of algebra takes the constants out of it: PyCO2SYS stands on sea-water constants, so each water is solved
here once, its stoichiometric constants (molalities, no activities) are read from that state, and PyCO2SYS gets these as
its own, with no borate, sulfate or fluoride, on the free scale. From every pair of alkalinity, dissolved carbonate, pH
and CO2 it must then find the same alkalinity, carbonate, hydrogen and CO2: to 1e-6, the tolerance of its own search
being 1e-8 in pH. Beside it our program must come back to its own state from each of its nine pairs, to 1e-9.
"""

import itertools
import sys
from typing import Any

import numpy as np
import PyCO2SYS
from reference import ours

THEIR_TOLERANCE = 1e-6
OUR_TOLERANCE = 1e-9
OWN_PAIRS = [pair for pair in itertools.combinations(("alkalinity", "dic", "ph", "pco2", "co2"), 2) if pair != ("pco2", "co2")]
TYPES = {"alkalinity": 1, "dic": 2, "ph_free": 3, "co2": 8}


def waters(count: int = 60, seed: int = 4) -> list[dict[str, Any]]:
    """Sodium chloride and bicarbonate, free of pairs: the only carbonate species are CO2, HCO3- and CO3(2-)."""
    rng = np.random.default_rng(seed)
    made = []
    for _ in range(count):
        alkalinity, salt = float(10 ** rng.uniform(-4, -1.5)), float(10 ** rng.uniform(-4, -1))
        dic = alkalinity * float(0.7 + 10 ** rng.uniform(-2, 0.7))
        made.append(ours.water(float(rng.uniform(1, 60)), {"Na": alkalinity + salt, "Cl": salt}, dic))
    return made


def off(found: float, wanted: float) -> float:
    return abs(found / wanted - 1.0)


def theirs(states: list[dict[str, Any]]) -> np.ndarray:
    """The largest relative difference over all pairs, PyCO2SYS against each state."""
    m = {of: np.array([state["molality"][of] for state in states]) for of in ("H", "OH", "CO2", "HCO3", "CO3")}
    constants = {
        "k_carbonic_1": m["H"] * m["HCO3"] / m["CO2"],
        "k_carbonic_2": m["H"] * m["CO3"] / m["HCO3"],
        "k_water": m["H"] * m["OH"],
        "total_borate": 0.0,
        "total_sulfate": 0.0,
        "total_fluoride": 0.0,
        "opt_pH_scale": 3,
    }
    micro = {of: 1e6 * np.array([state[of] for state in states]) for of in ("alkalinity", "dic")}
    known = micro | {"ph_free": -np.log10(m["H"]), "co2": 1e6 * m["CO2"]}
    worst = np.zeros(len(states))
    for first, second in itertools.combinations(TYPES, 2):
        found = PyCO2SYS.sys(known[first], known[second], TYPES[first], TYPES[second], **constants)
        for name, of in (("alkalinity", "alkalinity"), ("dic", "dic"), ("aqueous_CO2", "co2")):
            worst = np.maximum(worst, np.abs(found[name] / known[of] - 1.0))
        worst = np.maximum(worst, np.abs(10.0 ** -found["pH_free"] / m["H"] - 1.0))
    return worst


def main() -> int:
    asked = waters()
    states = ours.ask(asked)
    own_worst = 0.0
    again = [water | {"known": {first: state[first], second: state[second]}} for water, state in zip(asked, states, strict=True) for first, second in OWN_PAIRS]
    for state, found in zip([s for s in states for _ in OWN_PAIRS], ours.ask(again), strict=True):
        here = max(off(found[name], state[name]) for name in ("alkalinity", "dic", "co2", "pco2"))
        own_worst = max(own_worst, here, off(found["molality"]["H"], state["molality"]["H"]))
    worst = theirs(states)
    failures = int(np.sum(~(worst <= THEIR_TOLERANCE))) + (not own_worst <= OUR_TOLERANCE)
    print(f"PyCO2SYS, {len(TYPES) * (len(TYPES) - 1) // 2} pairs of {len(states)} waters: worst {worst.max():.1e}")
    print(f"our own {len(OWN_PAIRS)} pairs back to one state: worst {own_worst:.1e}")
    print(f"{len(states) + 1 - failures} passed, {failures} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
