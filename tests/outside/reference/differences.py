"""The generated waters beside the main database of the reference engine, and the constant behind each large difference."""

import math
from dataclasses import dataclass
from typing import Any

from . import ours, waters
from .engine import Engine
from .models import conventional_ph

DATABASE = "phreeqc.dat"
BOUND = {"ph": 0.03, "si": 0.09}
SOLIDS = ("calcite", "aragonite", "dolomite", "gypsum", "anhydrite", "halite", "sylvite", "arcanite", "mirabilite", "epsomite")


@dataclass(frozen=True)
class Constant:
    """One constant of the reference database, and what it is replaced by."""

    name: str
    replaced: str
    words: str
    bears: str


def species(reaction: str, *lines: str) -> str:
    return "\n".join(["SOLUTION_SPECIES", reaction, *lines])


def phase(name: str, reaction: str, *lines: str) -> str:
    return "\n".join(["PHASES", name, reaction, *lines])


CONSTANTS: tuple[Constant, ...] = (
    Constant("MgOH+", species("Mg+2 + H2O = MgOH+ + H+", "-log_k -11.809", "-delta_h 64.5 kJ", "-gamma 6.5 0"),
             "log K -11.44, 66.7 kJ there; set to ours, -11.809, 64.5 kJ (Harvie, Moller and Weare 1984)",
             "McGee and Hostetler 1975 (-11.8) bears out ours, Stock and Davies 1948 and NIST46 (-11.40) theirs, Palmer and Wesolowski 1997 (-11.68) "
             "lies between, all from memory; the two sets differ by 0.37"),
    Constant("MgHCO3+", species("Mg+2 + H+ + CO3-2 = MgHCO3+", "-log_k 0", "-gamma 4 0"),
             "pair of log K 1.07 there (Siebert and Hostetler 1977); left out, because ours carries it in the interaction of Mg with HCO3 (Pitzer et al. 1985)",
             "both were measured (pH titration, 10-90 °C; cells, 25 °C) and disagree by 0.02 to 0.03 pH at 5 mmol/kg Mg; no third measurement known"),
    Constant("MgSO4", species("Mg+2 + SO4-2 = MgSO4", "-log_k 2.26", "-delta_h 5.8 kJ", "-gamma 0 0.2"),
             "pair of log K 2.42, 19 kJ there (2.77 at 60 °C); set to 2.26, 5.8 kJ (NIST46), because ours has no pair but the interaction b2",
             "mean coefficients of Robinson and Stokes (ratio to 0.1 mol/kg, 25 °C) bear out ours, table above; away from 25 °C no measurement known in "
             "dilute sulfate waters"),
    Constant("calcite", phase("Calcite", "CaCO3 = Ca+2 + CO3-2", "-analytic -171.9065 -0.077993 2839.319 71.595"),
             "a refit to 250 °C there (-8.88 at 60 °C); set to ours, Plummer and Busenberg 1982 (-8.76)",
             "calcite under CO2, table above: ours -1 % in the mean at 10 to 60 °C, theirs -7 %"),
    Constant("dolomite", phase("Dolomite", "CaMg(CO3)2 = Ca+2 + Mg+2 + 2 CO3-2", "-log_k -17.09", "-delta_h -39.5 kJ"),
             "Hemingway and Robie 1994 with Benezeth et al. 2018 there; set to ours, -17.09, -39.5 kJ (Nordstrom et al. 1990)",
             "no reversed solubility below 50 °C is known; ours carries an uncertainty of 0.4"),
    Constant("gypsum", phase("Gypsum", "CaSO4:2H2O = Ca+2 + SO4-2 + 2 H2O", "-analytic 85.1223 0 -3926.02 -30.938"),
             "each constant belongs to its own activity model; set to ours", "gypsum in water, table above: both within 1.1 %"),
    Constant("anhydrite", phase("Anhydrite", "CaSO4 = Ca+2 + SO4-2", "-analytic 5.009 -0.0221 -796.4"),
             "each constant belongs to its own activity model; set to ours", "no measurement known that tells them apart"),
    Constant("sylvite", phase("Sylvite", "KCl = K+ + Cl-", "-analytic 43.0450 0 -2664.05 -13.4226"),
             "0.900, 8.5 kJ there; set to ours, fitted to the handbook", "solubility of salts, table above: ours 0.2 %, theirs 3 % (rms)"),
    Constant("arcanite", phase("Arcanite", "K2SO4 = 2 K+ + SO4-2", "-analytic 72.5571 0 -4351.91 -24.1583"),
             "each constant belongs to its own activity model; set to ours", "solubility of salts, table above: two sources 8 to 10 % apart"),
    Constant("mirabilite", phase("Mirabilite", "Na2SO4:10H2O = 2 Na+ + SO4-2 + 10 H2O", "-analytic -18.5233 0 -2860.0 10.8609"),
             "each constant belongs to its own activity model; set to ours, fitted to 30 °C and extrapolated beyond",
             "solubility of salts, table above: ours 2 %, theirs 5 %; above 32 °C the solid does not exist"),
    Constant("epsomite", phase("Epsomite", "MgSO4:7H2O = Mg+2 + SO4-2 + 7 H2O", "-analytic 0.119974 0 -585.336"),
             "each constant belongs to its own activity model; set to ours", "solubility of salts, table above: both within 2.5 %"),
)


@dataclass
class Outcome:
    """One quantity over all waters."""

    quantity: str
    bound: float
    plain: list[float]
    # Index of the water to the names of the constants whose replacement brings it inside, and what is left.
    cured: dict[int, tuple[tuple[str, ...], float]]
    left: dict[int, float]


def quantities(states: list[dict[str, Any]]) -> dict[str, list[float]]:
    return {"ph": [s["ph"] for s in states]} | {solid: [s["si"][solid] for s in states] for solid in SOLIDS}


def own(asked: list[dict[str, Any]]) -> dict[str, list[float]]:
    return quantities(ours.ask(asked))


def reference(asked: list[dict[str, Any]], replaced: str = "") -> dict[str, list[float]]:
    """The same of the engine, its pH brought to the conventional scale through p(aH gCl)."""
    found = []
    for water, state in zip(asked, Engine(DATABASE, replaced).solve(asked), strict=True):
        scale = {"raw_ph": state["raw_ph"], "log_a": {"Cl": state["log_a Cl"]}, "m": {"Cl": state["m Cl"]}}
        ph = conventional_ph(scale, state["ionic_strength"], water["t_c"])
        found.append({"ph": ph, "si": {solid: state[f"si {solid}"] for solid in SOLIDS}})
    return quantities(found)


def outcomes() -> tuple[list[dict[str, Any]], list[Outcome]]:
    """Every water compared plainly; beyond the bound, again with one constant replaced, then with two."""
    asked = waters.generated()
    mine, theirs = own(asked), reference(asked)
    names = [constant.name for constant in CONSTANTS]
    tried: dict[tuple[str, ...], dict[str, list[float]]] = {}
    pairs = [(a, b) for at, a in enumerate(names) for b in names[at + 1 :] if {a, b} & {"MgSO4", "MgOH+", "MgHCO3+"}]
    for choice in [*((name,) for name in names), *pairs]:
        tried[choice] = reference(asked, "\n".join(constant.replaced for constant in CONSTANTS if constant.name in choice))
    result = []
    for quantity, values in mine.items():
        bound = BOUND["ph" if quantity == "ph" else "si"]
        outcome = Outcome(quantity, bound, [a - b for a, b in zip(values, theirs[quantity], strict=True)], {}, {})
        for at, off in enumerate(outcome.plain):
            if abs(off) > bound:
                cure(outcome, at, {choice: values[at] - found[quantity][at] for choice, found in tried.items()})
        result.append(outcome)
    return asked, result


def cure(outcome: Outcome, at: int, offs: dict[tuple[str, ...], float]) -> None:
    """The one constant, or else the two, whose replacement leaves the least difference."""
    for size in (1, 2):
        choice, off = min(((c, o) for c, o in offs.items() if len(c) == size), key=lambda pair: abs(pair[1]))
        if abs(off) <= outcome.bound:
            outcome.cured[at] = (choice, off)
            return
    outcome.left[at] = off


def spread(offs: list[float]) -> tuple[float, float]:
    """p90 and the worst, with its sign."""
    return sorted(map(abs, offs))[math.ceil(0.9 * len(offs)) - 1], max(offs, key=abs)
