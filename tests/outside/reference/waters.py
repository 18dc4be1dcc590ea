"""Generated waters: from rain to hard, sulfate-rich and saline ones, each neutral, 4 to 60 °C, ionic strength below 0.05."""

from typing import Any

import numpy as np

from . import ours

COUNT = 500
SEED = 1982
FALLING_COUNT = 100
LIVES_SEED = 2330
MOST_STRENGTH = 0.05


def generated(count: int = COUNT, seed: int = SEED) -> list[dict[str, Any]]:
    """Waters whose cations and anions are drawn apart and meet in chloride; carbonate by a drawn CO2 share."""
    rng = np.random.default_rng(seed)
    waters: list[dict[str, Any]] = []
    while len(waters) < count:
        t_c = float(round(rng.uniform(4.0, 60.0), 1))
        low, high = {"Ca": 1e-5, "Mg": 1e-5, "Na": 2e-5, "K": 5e-6}, {"Ca": 8e-3, "Mg": 6e-3, "Na": 2e-2, "K": 3e-3}
        cations = {of: float(np.exp(rng.uniform(np.log(low[of]), np.log(high[of])))) for of in low}
        equivalents = sum(ours.CHARGE[of] * amount for of, amount in cations.items())
        shares = rng.dirichlet([1.0, 1.5, 1.0])
        sulfate, alkalinity = float(equivalents * shares[0] / 2), float(equivalents * shares[1])
        chloride = equivalents - 2 * sulfate - alkalinity
        dic = alkalinity * float(0.9 + 10 ** rng.uniform(-3.0, 0.0))
        strength = 0.5 * sum(ours.CHARGE[of] ** 2 * amount for of, amount in (cations | {"SO4": sulfate, "Cl": chloride}).items())
        strength += 0.5 * alkalinity
        if strength < MOST_STRENGTH:
            waters.append(ours.water(t_c, cations | {"Cl": chloride, "SO4": sulfate}, dic))
    return waters


def falling(solids: list[str], count: int = FALLING_COUNT, seed: int = SEED) -> list[dict[str, Any]]:
    """Waters that let several solids fall or take powder up, 5 to 60 °C, closed or under a CO2 pressure, to ionic strength 0.2."""
    rng = np.random.default_rng(seed)
    waters: list[dict[str, Any]] = []
    while len(waters) < count:
        t_c = float(round(rng.uniform(5.0, 60.0), 1))
        low, high = {"Ca": 1e-3, "Mg": 5e-4, "Na": 1e-3, "K": 1e-4}, {"Ca": 4e-2, "Mg": 2e-2, "Na": 3e-2, "K": 3e-3}
        cations = {of: float(np.exp(rng.uniform(np.log(low[of]), np.log(high[of])))) for of in low}
        equivalents = sum(ours.CHARGE[of] * amount for of, amount in cations.items())
        shares = rng.dirichlet([1.0, 1.0, 1.0])
        sulfate, alkalinity = float(equivalents * shares[0] / 2), float(min(equivalents * shares[1], 0.02))
        chloride = equivalents - 2 * sulfate - alkalinity
        silica = float(np.exp(rng.uniform(np.log(1e-4), np.log(6e-3))))
        dic = alkalinity * float(0.6 + 10 ** rng.uniform(-2.0, 0.0))
        pco2 = float(10 ** rng.uniform(-4.0, 0.5))
        powder = float(10 ** rng.uniform(-4.0, -2.0))
        powders = {solids[int(rng.integers(len(solids)))]: powder} if rng.uniform() < 0.5 else {}
        strength = 0.5 * sum(ours.CHARGE[of] ** 2 * amount for of, amount in (cations | {"SO4": sulfate, "Cl": chloride}).items())
        if strength + 0.5 * alkalinity > 0.2:
            continue
        asked = ours.water(t_c, cations | {"Cl": chloride, "SO4": sulfate, "SiO2": silica}, dic)
        if len(waters) % 2:
            asked["known"] = {"alkalinity": asked["known"]["alkalinity"], "pco2": pco2}
        waters.append(asked | {"precipitate": {"allowed": solids, "at_start": powders}})
    return waters


def lives() -> list[dict[str, Any]]:
    """Waters as above, each with the stages of its life: keg, warm shelf, opened, flat, kettle."""
    rng = np.random.default_rng(LIVES_SEED)
    drawn = []
    for water in generated(COUNT, LIVES_SEED):
        cold, warm = float(rng.uniform(2, 10)), float(rng.uniform(18, 40))
        stages = [
            {"doing": "keg", "t_c": cold, "gauge_bar": float(rng.uniform(0.5, 4.0))},
            {"doing": "stands", "t_c": warm},
            {"doing": "opened", "t_c": float(rng.uniform(5, 25))},
            {"doing": "flat", "t_c": float(rng.uniform(15, 30))},
            {"doing": "kettle", "t_c": float(rng.uniform(70, 90))},
        ]
        drawn.append(water | {"life": stages})
    return drawn
