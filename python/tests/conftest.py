"""What the tests share: a request of our own, and the command to compare with."""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "openapi" / "examples"


@pytest.fixture
def hill_town() -> dict[str, Any]:
    """Twenty litres over the tap of a hill town: a scenario of our own."""
    return {
        "volume_l": 20,
        "temperature_c": 18,
        "waters": [
            {
                "name": "hill town main",
                "temperature_c": 12,
                "analysis": {
                    "Ca": "21.5 mg/L",
                    "Mg": "3.1 mg/L",
                    "Na": "8.2 mg/L",
                    "K": "1.1 mg/L",
                    "Cl": "12.0 mg/L",
                    "SO4": "14.0 mg/L",
                    "alkalinity": "52 mg/L as CaCO3",
                },
            }
        ],
        "salts": [
            {"salt": "magnesium_sulfate_heptahydrate"},
            {"salt": "sodium_bicarbonate"},
            {"formula": "CaCl2·2H2O", "assay_percent": 98.5, "lot": "KB-0417"},
        ],
        "target": [
            {"of": "Ca", "near": "60 mg/L", "tolerance_percent": 10},
            {"of": "Mg", "at_least": "15 mg/L", "at_most": "25 mg/L"},
            {"of": "HCO3", "near": "180 mg/L"},
        ],
        "balances": [{"step_g": 0.01, "most_g": 200}],
    }


@pytest.fixture(scope="session")
def command() -> str:
    """The `springwright` binary that SPRINGWRIGHT_BIN names."""
    path = os.environ.get("SPRINGWRIGHT_BIN")
    if not path:
        pytest.skip("SPRINGWRIGHT_BIN names no binary to compare with")
    return path


@pytest.fixture(scope="session")
def service(command: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a service on loopback that ends with the tests."""
    run = subprocess.Popen(
        [command, "serve", "--listen", "127.0.0.1:0"],
        cwd=tmp_path_factory.mktemp("service"),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    assert run.stdout is not None
    with run:
        try:
            events = (json.loads(line) for line in run.stdout if line.startswith("{"))
            yield next(event["address"] for event in events if event["event"] == "ready")
        finally:
            run.terminate()
            run.communicate(timeout=30)
