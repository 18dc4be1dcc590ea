"""tests/REFERENCE.md: every published table beside the models, and who is nearest."""

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from . import tables
from .models import Model, Ours, Reference
from .tables import Bound, Row, Table

ENGINES = ("phreeqc.dat", "pitzer.dat", "wateq4f.dat")
HEAD = """# Beside measurement

Written by `tests/outside/published_tables.py --write`; `tests/run outside` fails when it is out of date. Each table of
tests/data/literature stands here row by row: what was measured, this model, and the reference engine run here with
three of its databases (`phreeqc` 1.1.1 from PyPI, engine 3.8.6). The columns of the models are deviations from the
measured value in the unit named; "-" where a model lacks an element, a solid or the property, or refuses. The sign V
means that the number was looked up in the source named, C that it was worked out here from a looked-up or published
equation, M that it is from memory. "Nearest" goes by the root mean square over the rows that a model answers.
PyCO2SYS stands in no table: its constants are those of sea water, and for fresh water its CO2 solubility is the
equation of Weiss itself; its algebra is compared in `tests/outside/carbonate_against_pyco2sys.py`.
"""


@dataclass
class Judged:
    """One tolerance, with what each model reached."""

    bound: Bound
    worst: list[float | None]
    rms: list[float | None]
    counts: list[int]
    rows: int

    @property
    def met(self) -> bool:
        own = self.worst[0]
        return own is not None and abs(own) <= self.bound.most


@dataclass
class Compared:
    """One table with all its numbers."""

    table: Table
    rows: list[Row]
    offs: list[list[float | None]]
    values: list[list[float | None]]
    judged: list[Judged]


def models() -> list[Model]:
    return [Ours(), *(Reference(database) for database in ENGINES)]


def compare(table: Table, all_models: Sequence[Model]) -> Compared:
    rows = table.rows()
    values = [table.values(model, rows) for model in all_models]
    offs = [[None if v is None else table.off(row["measured"], v) for row, v in zip(rows, own, strict=True)] for own in values]
    return Compared(table, rows, offs, values, [judge(bound, rows, offs) for bound in table.bounds])


def judge(bound: Bound, rows: list[Row], offs: list[list[float | None]]) -> Judged:
    at = [k for k, row in enumerate(rows) if bound.holds(row)]
    judged = Judged(bound, [], [], [], len(at))
    for own in offs:
        answered = [(rows[k], off) for k in at if (off := own[k]) is not None]
        found = bound.counted(answered)
        judged.counts.append(len(answered))
        judged.worst.append(max(found, key=abs) if found else None)
        judged.rms.append(math.sqrt(sum(off * off for off in found) / len(found)) if found else None)
    return judged


def nearest(judged: Judged, names: Sequence[str], places: int) -> str:
    """Who has the least root mean square; several where rounding cannot tell them apart."""
    able = {name: round(rms, places) for name, rms in zip(names, judged.rms, strict=True) if rms is not None}
    least = min(able.values())
    return ", ".join(name for name, rms in able.items() if rms == least)


def number(value: float | None, places: int) -> str:
    return "-" if value is None else f"{round(value, places) + 0.0:+.{places}f}"


def line(cells: Iterable[str]) -> str:
    return "| " + " | ".join(cells) + " |"


def precision(table: Table) -> int:
    return {"%": 2, "pH": 3, "g/L": 2}[table.unit]


def summary(compared: list[Compared], names: Sequence[str]) -> list[str]:
    """Every tolerance on one line."""
    lines = [line(["table", "of", "rows", "unit", "asked", "met", *(f"{name}: worst; rms" for name in names), "nearest"])]
    lines.append(line(["---"] * (7 + len(names))))
    for each in compared:
        places = precision(each.table)
        for judged in each.judged:
            bound = judged.bound
            reached = [
                "-" if worst is None else f"{number(worst, places)}; {rms or 0.0:.{places}f}" + ("" if count == judged.rows else f" ({count} of {judged.rows})")
                for worst, rms, count in zip(judged.worst, judged.rms, judged.counts, strict=True)
            ]
            met = "yes" if judged.met else "**no**"
            lines.append(line([each.table.title, f"{bound.of}, {bound.words}", str(judged.rows), each.table.unit, f"{bound.most:g}", met, *reached,
                               nearest(judged, names, places)]))
    return lines


def detail(each: Compared, names: Sequence[str], cited: dict[str, str]) -> list[str]:
    """One table row by row."""
    table, places = each.table, precision(each.table)
    lines = ["", f"### {table.title}", ""]
    if table.remarks:
        lines += [table.remarks, ""]
    lines += [f"Not met, {bound.of}, {bound.words}: {bound.unmet}.\n" for bound in table.bounds if bound.unmet]
    extra = [name for name in ("molality", "nacl", "equivalents_per_l", "mol_per_l", "mass_percent") if name in each.rows[0]]
    lines.append(line(["of", "°C", *extra, "measured", "this model", *(f"{name}, {table.unit}" for name in names), "sign"]))
    lines.append(line(["---"] * (5 + len(extra) + len(names))))
    for at, row in enumerate(each.rows):
        own = each.values[0][at]
        shown = "-" if own is None else f"{own:.{table.places}f}"
        lines.append(line([row["of"], f"{row['t_c']:g}", *(f"{row[name]:g}" for name in extra), f"{row['measured']:.{table.places}f}", shown,
                           *(number(offs[at], places) for offs in each.offs), row["confidence"]]))
    lines += ["", "Sources: " + " ".join(cited[key] for key in dict.fromkeys(row["source"] for row in each.rows))]
    return lines


def others_nearer(compared: list[Compared], names: Sequence[str]) -> list[str]:
    """Where another model is nearer than this one."""
    lines = []
    for each in compared:
        places = precision(each.table)
        for judged in each.judged:
            who = nearest(judged, names, places)
            if names[0] not in who.split(", "):
                own, best = judged.rms[0], min(rms for rms in judged.rms if rms is not None)
                lines.append(f"- {each.table.title}, {judged.bound.of}, {judged.bound.words}: {who}, rms {best:.{places}f} against {own or 0.0:.{places}f} {each.table.unit}.")
    return lines or ["- nowhere"]


def written(compared: list[Compared], names: Sequence[str], differences: Sequence[str]) -> str:
    cited = tables.sources()
    lines = [HEAD, "## Every tolerance asked", "", *summary(compared, names), "", "## Where another engine is nearer", "", *others_nearer(compared, names)]
    lines += ["", *differences, "", "## Row by row"]
    for each in compared:
        lines += detail(each, names, cited)
    return "\n".join(lines) + "\n"


NUMBER = re.compile(r"(?<![\w.])[+-]?\d+\.\d+")


def is_stale(old: str, new: str) -> str | None:
    """Where two texts differ by more than the last digit of a number; none where they do not."""
    for at, (before, after) in enumerate(zip(old.splitlines(), new.splitlines(), strict=False), 1):
        if NUMBER.sub("#", before) != NUMBER.sub("#", after):
            return f"line {at}:\n  {before}\n  {after}"
        for a, b in zip(NUMBER.findall(before), NUMBER.findall(after), strict=True):
            step = 10.0 ** -len(b.rsplit(".", 1)[1])
            if abs(float(a) - float(b)) > 1.01 * step:
                return f"line {at}: {a} is now {b}:\n  {after}"
    return None if len(old.splitlines()) == len(new.splitlines()) else "another number of lines"
