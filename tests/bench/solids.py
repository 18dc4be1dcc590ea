"""How long solids in balance and the life of a water take, beside the reference engine on the same waters in the same run.

The engine `phreeqc` brings the generated waters of tests/outside/reference to balance with five solids, and follows generated
lives of six stages, one call for all waters of a stage, reading of its input included, as its bindings offer no other way in.
Our own program is timed inside itself (tests/examples/states.rs, SPRINGWRIGHT_STATES, a release build); its life is judged for
haze at every stage, which the engine does not do. Prints microseconds and ratios; asserts nothing.

    cargo build --release -p springwright-tests --example states
    SPRINGWRIGHT_STATES=target/release/examples/states python tests/bench/solids.py
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "outside"))
from life_path_against_phreeqc import followed  # noqa: E402
from precipitation_against_phreeqc import SOLIDS  # noqa: E402
from reference import ours, waters  # noqa: E402
from reference.engine import Engine  # noqa: E402

ROUNDS = 5


def best_of(job) -> float:
    best = float("inf")
    for _ in range(ROUNDS):
        start = time.perf_counter()
        job()
        best = min(best, time.perf_counter() - start)
    return 1e6 * best


def main() -> None:
    engine = Engine("phreeqc.dat", "\n".join(SOLIDS.values()))
    falling = waters.falling(list(SOLIDS))
    text = "\n".join(engine.text_of(at + 1, water) for at, water in enumerate(falling))
    lives = waters.lives()
    jobs = {
        "precipitate": (falling, "balance with five solids", lambda: engine.run(text)),
        "life": (lives, f"life of {1 + len(lives[0]['life'])} stages", lambda: followed(engine, lives)),
    }
    for name, (asked, words, job) in jobs.items():
        own = ours.ask(asked, "--times", "20")[0][name]["micros"]
        theirs = best_of(job) / len(asked)
        print(f"{words}: this model {own:.1f} us, phreeqc.dat {theirs:.1f} us, {theirs / own:.1f} times")


if __name__ == "__main__":
    main()
