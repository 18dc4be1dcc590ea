"""How long one speciation takes, beside the reference engine on the same waters in the same run.

The engine `phreeqc` solves the generated waters of tests/outside/reference one call for all, with its ion-pair database
and with its Pitzer database, reading of its input included, as its bindings offer no other way in. Our own program is
timed inside itself (tests/examples/states.rs, SPRINGWRIGHT_STATES, a release build), once from nothing for each water
and once with the model of its temperature and the list of species kept. Prints microseconds a water and ratios;
asserts nothing.

    cargo build --release -p springwright-tests --example states
    SPRINGWRIGHT_STATES=target/release/examples/states python tests/bench/speciation.py
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "outside"))
from reference import ours, waters  # noqa: E402
from reference.engine import Engine  # noqa: E402

ROUNDS = 5


def micros_of(database: str, asked: list[dict]) -> float:
    engine = Engine(database)
    text = "\n".join(engine.text_of(at + 1, water) for at, water in enumerate(asked))
    best = float("inf")
    for _ in range(ROUNDS):
        start = time.perf_counter()
        engine.run(text)
        best = min(best, time.perf_counter() - start)
    return 1e6 * best / len(asked)


def main() -> None:
    asked = waters.generated()
    own = ours.ask(asked, "--times", "20")[0]
    print(f"{len(asked)} waters, 4 to 60 °C, {own['cold']['indices']:.0f} saturation indices each")
    for how, words in (("cold", "from nothing"), ("kept", "model and species kept")):
        print(f"this model, {words}: {own[how]['micros']:.1f} us a water")
    for database in ("phreeqc.dat", "pitzer.dat"):
        theirs = micros_of(database, asked)
        ratios = ", ".join(f"{theirs / own[how]['micros']:.1f} times {how}" for how in ("cold", "kept"))
        print(f"{database}: {theirs:.1f} us a water; {ratios}")


if __name__ == "__main__":
    main()
