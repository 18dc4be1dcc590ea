"""How long a blend takes, beside HiGHS on the same problems in the same run.

Times the whole way from the request to the answer in this process (the Python door, release build), 12 salts x 9
wishes on a 0.01 g grid with at most 3, 4 or 5 salts, against the outside model of tests/outside/blend_against_highs.py
solved by HiGHS on one thread (the solve alone, its model being built before the clock starts). Prints medians, the
worst, and their ratio; asserts nothing.
"""

import json
import statistics
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "outside"))
import blend_against_highs as outside  # noqa: E402
import springwright  # noqa: E402


def bar_class(count: int, seed: int):
    """Problems of the class of the bar: the seven ions, their sum of hardness and strength as further wishes."""
    rng = np.random.default_rng(seed)
    shelf = list(outside.SALTS)
    yields = np.array([outside.yield_mg(formula) for formula in shelf])
    for number in range(count):
        tap = list(outside.TAPS)[number % len(outside.TAPS)]
        base = np.array([(outside.TAPS[tap] or {}).get(ion, 0.0) for ion in outside.IONS], dtype=float)
        grams = np.where(rng.random(len(shelf)) < 0.4, rng.gamma(2.0, 1.0, len(shelf)), 0.0)
        asked = (base + grams @ yields / 20.0) * rng.uniform(0.8, 1.2, len(outside.IONS))
        wishes = [(i, float(round(asked[i], 1)), 1.0) for i in range(len(outside.IONS))]
        yield dict(kind="bar", shelf=shelf, tap=tap, step=0.01, volume=20.0, most=3 + number % 3, yields=yields, base=base,
                   wishes=wishes, cap=None, least=0.01, top=200.0), float(asked.sum()), float(asked[0] / 40.078 + asked[1] / 24.305)


def main() -> None:
    engine, reference = [], []
    for problem, strength, hardness in bar_class(int(sys.argv[1]) if len(sys.argv) > 1 else 60, 5):
        request = outside.request(problem, "relative_deviation")
        request["target"].append({"of": "tds", "near": {"value": round(strength, 1), "unit": "mg/L"}})
        request["target"].append({"of": "hardness", "near": {"value": round(hardness, 3), "unit": "mmol/L"}})
        text = json.dumps(request)
        best = min(timed(lambda: springwright.solve_blend(text)) for _ in range(3))
        engine.append(best)
        reference.append(outside.by_highs(problem)[1])
    print(f"engine, request to answer: median {statistics.median(engine):.2f} ms, worst {max(engine):.2f} ms over {len(engine)}")
    print(f"HiGHS, solve alone, seven of the nine wishes: median {statistics.median(reference):.2f} ms, worst {max(reference):.2f} ms")
    print(f"ratio of the medians: {statistics.median(reference) / statistics.median(engine):.1f}")


def timed(job) -> float:
    start = time.perf_counter()
    job()
    return 1000 * (time.perf_counter() - start)


if __name__ == "__main__":
    main()
