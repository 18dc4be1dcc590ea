"""How long `import springwright` takes: best and median of so many fresh interpreters, beside an empty start.

python benches/import_time.py [runs]
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time

IMPORT = "import time; begin = time.perf_counter(); import springwright; print(time.perf_counter() - begin)"


def started(code: str) -> tuple[float, str]:
    """Seconds of a whole interpreter that runs some code, and what it printed."""
    begin = time.perf_counter()
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return time.perf_counter() - begin, run.stdout


def told(name: str, seconds: list[float]) -> None:
    """Prints one line."""
    print(f"{name:24} best {1e3 * min(seconds):6.1f} ms   median {1e3 * statistics.median(seconds):6.1f} ms")


def main() -> None:
    """Measures and prints."""
    runs = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    started(IMPORT)
    told("import springwright", [float(started(IMPORT)[1]) for _ in range(runs)])
    told("interpreter with it", [started("import springwright")[0] for _ in range(runs)])
    told("interpreter without", [started("pass")[0] for _ in range(runs)])
    traced = subprocess.run(
        [sys.executable, "-X", "importtime", "-c", "import springwright"],
        capture_output=True,
        text=True,
        check=True,
    ).stderr.splitlines()
    print("\nthe dearest imports, cumulative microseconds under the tracer:")
    lines = [line.removeprefix("import time:").split("|") for line in traced if line.count("|") == 2]
    costs = sorted(((int(total), name.strip()) for _, total, name in lines if total.strip().isdigit()), reverse=True)
    for total, name in costs[:12]:
        print(f"{total:8}  {name}")


if __name__ == "__main__":
    main()
