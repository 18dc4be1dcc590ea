"""Blends of the command against an outside model of the same requests.

The outside model is built here from the request alone: molar masses from molmass (PyPI), ions of a salt by hand, the
stated objective, the stated limits, whole balance steps as integers. It is solved by HiGHS (highspy) for
`relative_deviation`; for `least_squares` its continuous relaxation is solved by scipy's lsq_linear, which bounds the
answer from below, and its rounding bounds it from above. Nothing that the engine derives (bounds, shares, densities)
goes in. Waters have the temperature of the blend, so that a litre poured is a litre in the blend but for the
contraction on dissolving, some 1e-4, which the tolerance covers.

Tolerance: an answer may be worse than HiGHS by 1e-3 of one wish, re-scored here from whole steps.
"""

import json
import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import highspy
import numpy as np
from molmass import Formula
from scipy.optimize import lsq_linear

ROOT = Path(__file__).resolve().parents[2]
BINARY = os.environ.get("SPRINGWRIGHT_BIN") or str(ROOT / "target" / "debug" / "springwright")
IONS = ["Ca", "Mg", "Na", "K", "Cl", "SO4", "HCO3"]
MASS = {ion: Formula(ion).mass for ion in IONS}
# Formula as a handbook prints it, as molmass reads it, and what one formula unit gives.
SALTS = {
    "NaHCO3": ("NaHCO3", {"Na": 1, "HCO3": 1}),
    "KHCO3": ("KHCO3", {"K": 1, "HCO3": 1}),
    "NaCl": ("NaCl", {"Na": 1, "Cl": 1}),
    "KCl": ("KCl", {"K": 1, "Cl": 1}),
    "K2SO4": ("K2SO4", {"K": 2, "SO4": 1}),
    "Na2SO4": ("Na2SO4", {"Na": 2, "SO4": 1}),
    "CaCl2·2H2O": ("CaCl2(H2O)2", {"Ca": 1, "Cl": 2}),
    "CaCl2·6H2O": ("CaCl2(H2O)6", {"Ca": 1, "Cl": 2}),
    "CaSO4·2H2O": ("CaSO4(H2O)2", {"Ca": 1, "SO4": 1}),
    "MgSO4·7H2O": ("MgSO4(H2O)7", {"Mg": 1, "SO4": 1}),
    "MgCl2·6H2O": ("MgCl2(H2O)6", {"Mg": 1, "Cl": 2}),
    "MgSO4": ("MgSO4", {"Mg": 1, "SO4": 1}),
}
TAPS = {
    "soft tap": {"Ca": 12, "Mg": 2, "Na": 7, "K": 1, "Cl": 9, "SO4": 11, "HCO3": 36},
    "middling tap": {"Ca": 48, "Mg": 9, "Na": 18, "K": 3, "Cl": 31, "SO4": 42, "HCO3": 134},
    "hard tap": {"Ca": 118, "Mg": 24, "Na": 31, "K": 4, "Cl": 47, "SO4": 88, "HCO3": 362},
    "purified water": None,
}


def yield_mg(formula):
    """mg of each ion in one gram of a salt."""
    readable, gives = SALTS[formula]
    return np.array([1000 * gives.get(ion, 0) * MASS[ion] / Formula(readable).mass for ion in IONS])


def problems(count, seed):
    """Requests of many kinds, each with the arrays of its outside model."""
    rng = np.random.default_rng(seed)
    for number in range(count):
        kind = ["reachable", "near", "free", "cations only", "charge-impossible"][number % 5]
        shelf = list(rng.permutation(list(SALTS)))[: int(rng.integers(3, len(SALTS) + 1))]
        tap = list(TAPS)[int(rng.integers(len(TAPS)))]
        step = [0.01, 0.1, 1.0][number % 3 if number % 7 else 0]
        volume = float(rng.choice([5.0, 20.0, 200.0])) if step < 1 else float(rng.choice([200.0, 1000.0]))
        most = [3, 4, 5, None][number % 4]
        yields = np.array([yield_mg(formula) for formula in shelf])
        base = np.array([(TAPS[tap] or {}).get(ion, 0.0) for ion in IONS], dtype=float)
        grams = np.where(rng.random(len(shelf)) < 0.5, rng.gamma(2.0, 0.05, len(shelf)) * volume, 0.0)
        made = base + (np.round(grams / step) * step) @ yields / volume
        asked = made if kind == "reachable" else made * rng.uniform(0.7, 1.3, len(IONS))
        if kind == "free":
            asked = rng.uniform(0, 150, len(IONS))
        wished = range(4) if kind == "cations only" else range(len(IONS))
        if kind == "charge-impossible":
            asked[:4] *= 2.0
        wishes = [(i, float(round(asked[i], 1)), float(rng.choice([1.0, 2.0, 0.5]))) for i in wished]
        cap = None
        if number % 3 == 2:
            sodium = IONS.index("Na")
            cap = float(round(max(base[sodium], 0.9 * asked[sodium]) + 1, 1))
        yield dict(kind=kind, shelf=shelf, tap=tap, step=step, volume=volume, most=most, yields=yields, base=base,
                   wishes=wishes, cap=cap, least=0.5 if step == 0.01 and number % 2 else step, top=200.0 * step / 0.01)


def request(p, objective):
    water = {"name": p["tap"], "temperature_c": 20}
    if TAPS[p["tap"]] is None:
        water["pure"] = True
    else:
        water["analysis"] = {ion: {"value": v, "unit": "mg/L"} for ion, v in TAPS[p["tap"]].items()}
    target = [{"of": IONS[i], "near": {"value": asked, "unit": "mg/L"}, "weight": weight} for i, asked, weight in p["wishes"]]
    if p["cap"] is not None:
        target.append({"of": "Na", "at_most": {"value": p["cap"], "unit": "mg/L"}})
    made = dict(volume_l=p["volume"], temperature_c=20, waters=[water], salts=[{"formula": f, "assay_percent": 100} for f in p["shelf"]],
                target=target, balances=[{"step_g": p["step"], "least_g": p["least"], "most_g": p["top"]}], objective=objective)
    if p["most"] is not None:
        made["most_salts"] = p["most"]
    return made


def rows(p):
    """Scaled rows of the wishes: coefficient per step of each salt, constant, weight."""
    a, c, w = [], [], []
    for i, asked, weight in p["wishes"]:
        scale = max(abs(asked), 1.0)
        a.append(p["yields"][:, i] * p["step"] / p["volume"] / scale)
        c.append((p["base"][i] - asked) / scale)
        w.append(weight)
    return np.array(a), np.array(c), np.array(w)


def score(p, steps, squares):
    a, c, w = rows(p)
    r = a @ steps + c
    return float(w @ (r * r if squares else np.abs(r)))


def by_highs(p):
    """The best whole steps HiGHS finds in 20 s, and its time in ms."""
    a, c, w = rows(p)
    h = highspy.Highs()
    h.setOptionValue("output_flag", False)
    h.setOptionValue("threads", 1)
    h.setOptionValue("time_limit", 20.0)
    h.setOptionValue("mip_rel_gap", 0.0)
    h.setOptionValue("mip_abs_gap", 1e-7)
    top, least = round(p["top"] / p["step"]), round(p["least"] / p["step"])
    n = [h.addIntegral(lb=0, ub=top) for _ in p["shelf"]]
    used = [h.addBinary() for _ in p["shelf"]]
    for count, on in zip(n, used):
        h.addConstr(count <= top * on)
        h.addConstr(count >= least * on)
    if p["most"] is not None:
        h.addConstr(sum(used) <= p["most"])
    if p["cap"] is not None:
        per_step = p["yields"][:, IONS.index("Na")] * p["step"] / p["volume"]
        h.addConstr(sum(float(k) * x for k, x in zip(per_step, n)) <= p["cap"] - float(p["base"][IONS.index("Na")]))
    over = [h.addVariable(lb=0) for _ in c]
    under = [h.addVariable(lb=0) for _ in c]
    for row, constant, up, down in zip(a, c, over, under):
        h.addConstr(sum(float(k) * x for k, x in zip(row, n)) + float(constant) == up - down)
    start = time.perf_counter()
    h.minimize(sum(float(weight) * (up + down) for weight, up, down in zip(w, over, under)))
    spent = 1000 * (time.perf_counter() - start)
    if h.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return None, spent
    return np.array([round(h.val(x)) for x in n], dtype=float), spent


def by_engine(p, objective):
    run = subprocess.run([BINARY, "calculate", "blend", "--json", "-"], input=json.dumps(request(p, objective)), text=True, capture_output=True)
    if run.returncode != 0:
        raise AssertionError(f"refused: {run.stdout[:2000]} {run.stderr[:500]}")
    answer = json.loads(run.stdout)
    steps = np.zeros(len(p["shelf"]))
    for weighing in answer["weighings"]:
        steps[weighing["index"]] = weighing["steps"]
    return answer, steps


def holds_limits(p, steps):
    held = all(s == 0 or p["least"] - 1e-9 <= s * p["step"] <= p["top"] + 1e-9 for s in steps)
    held &= p["most"] is None or np.count_nonzero(steps) <= p["most"]
    if p["cap"] is not None:
        sodium = p["base"][IONS.index("Na")] + steps @ p["yields"][:, IONS.index("Na")] * p["step"] / p["volume"]
        # The engine holds the cap in its own litres; contraction moves ours by some 1e-4.
        held &= sodium <= p["cap"] * (1 + 3e-4)
    return held


def main():
    failures, worse, gaps, times = 0, [], [], []
    for p in problems(60, 20):
        answer, steps = by_engine(p, "relative_deviation")
        best, spent = by_highs(p)
        if answer["status"] == "impossible" or best is None:
            same = answer["status"] == "impossible" and best is None
            failures += not same
            print(f"{p['kind']:18} impossible: engine {answer['status']}, HiGHS {'impossible' if best is None else 'feasible'}")
            continue
        ours, theirs = score(p, steps, False), score(p, best, False)
        worse.append(ours - theirs)
        gaps.append(max(answer["gap"]))
        times.append(spent)
        held = holds_limits(p, steps)
        if ours > theirs + 1e-3 or not held:
            failures += 1
            print(f"WORSE {p['kind']:18} {p['tap']:15} step {p['step']} most {p['most']}: {ours:.6f} against {theirs:.6f}, limits held {held}")
    print(f"relative_deviation: {len(worse)} compared, worst {max(worse):+.2e} against HiGHS, engine gap at most {max(gaps):.1e}, "
          f"HiGHS median {statistics.median(times):.1f} ms")

    squares = 0
    for p in problems(40, 21):
        if p["cap"] is not None or p["most"] is not None:
            continue
        answer, steps = by_engine(p, "least_squares")
        a, c, w = rows(p)
        root = np.sqrt(w)
        relaxed = lsq_linear(a * root[:, None], -c * root, bounds=(0, p["top"] / p["step"]))
        low = 2 * relaxed.cost
        rounded = np.round(relaxed.x)
        rounded[rounded * p["step"] < p["least"] - 1e-9] = 0
        ours, high = score(p, steps, True), score(p, rounded, True)
        squares += 1
        if not (low - 1e-3 <= ours <= high + 1e-3) or not holds_limits(p, steps):
            failures += 1
            print(f"WRONG least squares {p['kind']}: {low:.6f} <= {ours:.6f} <= {high:.6f}")
    print(f"least_squares: {squares} between the bound of lsq_linear and its rounding")
    total = len(worse) + squares
    print(f"{total - failures} passed, {failures} failed")
    sys.exit(1 if failures or total < 40 else 0)


if __name__ == "__main__":
    main()
