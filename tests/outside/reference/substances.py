"""The salts and standards of the tables: what they give to a water, and what follows from a solved state."""

import math
from functools import lru_cache
from typing import Any

from . import ours

# Components that one mol gives, and its carbonate.
GIVES: dict[str, tuple[dict[str, float], float]] = {
    "NaCl": ({"Na": 1, "Cl": 1}, 0),
    "KCl": ({"K": 1, "Cl": 1}, 0),
    "CaCl2": ({"Ca": 1, "Cl": 2}, 0),
    "MgCl2": ({"Mg": 1, "Cl": 2}, 0),
    "Na2SO4": ({"Na": 2, "SO4": 1}, 0),
    "K2SO4": ({"K": 2, "SO4": 1}, 0),
    "MgSO4": ({"Mg": 1, "SO4": 1}, 0),
    "CaSO4": ({"Ca": 1, "SO4": 1}, 0),
    "NaHCO3": ({"Na": 1}, 1),
    "KHCO3": ({"K": 1}, 1),
    "Na2CO3": ({"Na": 2}, 1),
}
# g/mol, IUPAC 2021 abridged weights.
MASS = {
    "NaCl": 58.44,
    "KCl": 74.548,
    "CaCl2": 110.978,
    "MgCl2": 95.205,
    "Na2SO4": 142.036,
    "K2SO4": 174.252,
    "MgSO4": 120.361,
    "CaSO4": 136.134,
    "NaHCO3": 84.006,
    "KHCO3": 100.114,
    "Na2CO3": 105.987,
}
EQUIVALENTS = {"NaCl": 1, "KCl": 1, "CaCl2": 2, "MgCl2": 2, "Na2SO4": 2, "KHCO3": 1}
# Anhydrous salt, water of crystallisation, and the component that counts a solid with how often it holds it.
SOLIDS = {
    "halite": ("NaCl", 0, "Na", 1),
    "sylvite": ("KCl", 0, "K", 1),
    "arcanite": ("K2SO4", 0, "K", 2),
    "mirabilite": ("Na2SO4", 10, "Na", 2),
    "nahcolite": ("NaHCO3", 0, "Na", 1),
    "kalicinite": ("KHCO3", 0, "K", 1),
    "natron": ("Na2CO3", 10, "Na", 2),
    "epsomite": ("MgSO4", 7, "Mg", 1),
    "gypsum": ("CaSO4", 2, "Ca", 1),
    "calcite": ("CaCO3", 0, "Ca", 1),
}
# mol per kg of water; chloride only in a trace, through which the conventional scale is read.
STANDARDS: dict[str, tuple[dict[str, float], float]] = {
    "carbonate": ({"Na": 0.075}, 0.05),
    "phosphate_1_1": ({"Na": 0.05, "K": 0.025, "PO4": 0.05}, 0),
    "phosphate_1_3.5": ({"Na": 0.06086, "K": 0.008695, "PO4": 0.039125}, 0),
    "borax": ({"Na": 0.02, "B": 0.04}, 0),
}
TRACE = 1e-6


def standard(of: str, t_c: float, share: float = 1.0) -> dict[str, Any]:
    """A pH standard, or what is left of it in a share of the molality."""
    components, dic = STANDARDS[of]
    traced = {name: amount * share for name, amount in components.items()}
    traced["Na"] += TRACE
    return ours.water(t_c, traced | {"Cl": TRACE}, dic * share)


def solution(of: str, molality: float, t_c: float) -> dict[str, Any]:
    """A single salt in CO2-free water, a hair weaker, so that its own OH- does not carry it past the edge of a model."""
    components, dic = GIVES[of]
    molality *= 1.0 - 1e-6
    return ours.water(t_c, {name: n * molality for name, n in components.items()}, dic * molality)


def anhydrous_mass(solid: str) -> float:
    return MASS[SOLIDS[solid][0]]


def mean_coefficient(of: str, molality: float, state: dict[str, Any]) -> float | None:
    """Stoichiometric mean activity coefficient; what disproportion or hydrolysis took of the anion is left out."""
    components, carbonate = GIVES[of]
    anion, count, held = ("SO4", 1.0, molality) if "SO4" in components else ("Cl", components.get("Cl", 0.0), molality)
    if carbonate:
        anion, count = ("CO3", 1.0) if of.endswith("2CO3") else ("HCO3", 1.0)
        held = molality - (state["m"]["HCO3"] if anion == "CO3" else 2.0 * state["m"]["CO2"])
    cation = next(name for name in components if name != anion)
    nu = components[cation]
    logs = nu * (state["log_a"][cation] - math.log10(nu * molality)) + count * (state["log_a"][anion] - math.log10(count * held))
    return 10.0 ** (logs / (nu + count))


@lru_cache(maxsize=None)
def molality(of: str, mol_per_l: float, t_c: float) -> float:
    """mol per kg of water of a solution made up to a litre, by the density of this project's program."""
    found = mol_per_l
    for _ in range(4):
        found = mol_per_l / ours.ask([solution(of, found, t_c)])[0]["water_kg_per_l"]
    return found
