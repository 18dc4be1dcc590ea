"""The reference engine `phreeqc` (PyPI: MIT bindings of a public-domain program of the USGS, with its databases).

Test-only: nothing of it is linked or shipped, and this is the only file that knows its input language.
"""

import math
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import phreeqc

FOLDER = Path(phreeqc.__file__).parent / "databases"
ATMOSPHERE_BAR = 1.01325
# Its names of our components, species and solids.
TOTAL = {"Na": "Na", "K": "K", "Ca": "Ca", "Mg": "Mg", "Cl": "Cl", "SO4": "S(6)", "PO4": "P", "B": "B", "SiO2": "Si"}
SPECIES = {
    "H": "H+",
    "Na": "Na+",
    "K": "K+",
    "Ca": "Ca+2",
    "Mg": "Mg+2",
    "Cl": "Cl-",
    "SO4": "SO4-2",
    "HCO3": "HCO3-",
    "CO3": "CO3-2",
    "CO2": "CO2",
}
SOLID = {
    "calcite": "Calcite",
    "aragonite": "Aragonite",
    "dolomite": "Dolomite",
    "gypsum": "Gypsum",
    "anhydrite": "Anhydrite",
    "halite": "Halite",
    "sylvite": "Sylvite",
    "arcanite": "Arcanite",
    "mirabilite": "Mirabilite",
    "epsomite": "Epsomite",
    "nahcolite": "Nahcolite",
    "kalicinite": "Kalicinite",
    "natron": "Natron",
    "brucite": "Brucite",
    "nesquehonite": "Nesquehonite",
    "amorphous_silica": "SiO2(a)",
}


class Engine:
    """One database of the engine, some of its constants replaced if asked."""

    def __init__(self, database: str, replaced: str = "") -> None:
        self.database = database
        self.program = phreeqc.Phreeqc()
        path = FOLDER / database
        if self.program.LoadDatabase(str(path)):
            raise RuntimeError(self.program.GetErrorString())
        text = f"{path.read_text('latin-1')}\n{replaced}"
        self.solids = {ours: name for ours, name in SOLID.items() if re.search(rf"^{re.escape(name)}(\s|$)", text, re.MULTILINE)}
        self.elements = {ours for ours, name in TOTAL.items() if re.search(rf"^{re.escape(name)}\s", text, re.MULTILINE)}
        self.conducts = text.count("-dw") > 10
        self.weighs = text.count("-Vm") > 10
        self.run(f"{replaced}\n{self._wanted()}")

    def can(self, water: dict[str, Any]) -> bool:
        """Whether the database has the elements and the solid that a water takes."""
        has_solid = water.get("saturate", "calcite") in self.solids
        return has_solid and all(of in self.elements for of, amount in water["components"].items() if amount > 0)

    def _wanted(self) -> str:
        """What is to be written of every state, in the order of `names`."""
        asked = {
            "raw_ph": '-LA("H+")',
            "ionic_strength": "MU",
            "conductivity_us_per_cm": "SC",
            "density_kg_per_l": "RHO",
            "dic": 'TOT("C(4)")',
        }
        asked |= {f"total {ours}": f'TOT("{name}")' for ours, name in TOTAL.items()}
        asked |= {f"log_a {ours}": f'LA("{name}")' for ours, name in SPECIES.items()}
        asked |= {f"m {ours}": f'MOL("{name}")' for ours, name in SPECIES.items()}
        asked |= {f"si {ours}": f'SI("{name}")' for ours, name in self.solids.items()}
        asked |= {f"there {ours}": f'EQUI("{name}")' for ours, name in self.solids.items()}
        self.names = list(asked)
        lines = [f"{10 * (at + 1)} PUNCH {what}" for at, what in enumerate(asked.values())]
        head = ["SELECTED_OUTPUT 1", "-reset false", "-solution true", "-state true", "USER_PUNCH 1", "-start"]
        return "\n".join([*head, *lines, "-end", "END"])

    def run(self, text: str) -> list[list[Any]]:
        """Runs a text and returns the rows written; the first column is the kind of state, the second its number."""
        if self.program.RunString(text + "\n"):
            Path("error.inp").unlink(missing_ok=True)  # the engine leaves its input behind when it fails
            raise RuntimeError(f"{self.database}: {self.program.GetErrorString()}")
        columns, rows = self.program.GetSelectedOutputColumnCount(), self.program.GetSelectedOutputRowCount()
        return [[self.program.GetSelectedOutputValue(row, at) for at in range(columns)] for row in range(1, rows)]

    def solve(self, waters: Sequence[dict[str, Any]]) -> list[dict[str, float]]:
        """The state of every water; waters as `ours.water` makes them, or with a CO2 pressure in place of the dic."""
        text = "\n".join(self.text_of(at + 1, water) for at, water in enumerate(waters))
        states: dict[int, dict[str, float]] = {}
        for kind, number, *values in self.run(text):
            if kind in ("i_soln", "react"):
                states[int(number)] = dict(zip(self.names, values, strict=True))
        return [states[at + 1] for at in range(len(waters))]

    def text_of(self, number: int, water: dict[str, Any]) -> str:
        """One water in the language of the engine: neutral, its pH the unknown that charge decides."""
        known = water["known"]
        lines = [f"SOLUTION {number}", f"temp {water['t_c']!r}", "units mol/kgw", "pH 7 charge"]
        lines += [f"{TOTAL[of]} {amount!r}" for of, amount in water["components"].items() if amount > 0]
        if known.get("dic", 0.0) > 0:
            lines.append(f"C(4) {known['dic']!r}")
        lines.append("END")
        phases = []
        if "pco2" in known:
            phases.append(f"CO2(g) {math.log10(known['pco2'] / ATMOSPHERE_BAR)!r} 50")
        if "saturate" in water:
            phases.append(f"{self.solids[water['saturate']]} 0 50")
        if "precipitate" in water:
            there, target = water["precipitate"]["at_start"], water["precipitate"].get("target", {})
            allowed = water["precipitate"]["allowed"]
            phases += [f"{self.solids[of]} {target.get(of, 0.0)!r} {there.get(of, 0.0)!r}" for of in allowed]
        if phases:
            lines += [f"EQUILIBRIUM_PHASES {number}", *phases, f"USE solution {number}", "END"]
        return "\n".join(lines)
