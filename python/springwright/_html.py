"""Answers as notebook pages: waters to pour, salts to weigh, the finished water, and what to know of it.

A page takes its colours from the notebook, so it reads well on light and on dark; nothing is told by colour alone.
Every text is escaped.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from ._figure import in_steps, in_words, significant
from ._noun import Noun
from .nouns import (
    Assumption,
    Blend,
    Finding,
    Mixture,
    Provenance,
    Reached,
    Relaxation,
    Water,
)

STYLE = """<style>
.springwright { font-variant-numeric: tabular-nums; max-width: 60em; }
.springwright table { border-collapse: collapse; margin: 0 0 0.8em 0; color: inherit; background: none; }
.springwright caption { caption-side: top; text-align: left; white-space: nowrap; font-weight: bold;
  color: inherit; padding: 0.2em 0; }
.springwright th, .springwright td { padding: 0.15em 0.7em 0.15em 0; text-align: left; vertical-align: top; }
.springwright th { font-weight: normal; opacity: 0.75; }
.springwright tbody tr { border-top: 1px solid rgba(128, 128, 128, 0.35); background: none; }
.springwright .n { text-align: right; }
.springwright ul { margin: 0.2em 0 0.8em 0; padding-left: 1.2em; }
.springwright small { opacity: 0.75; }
</style>"""

TITLES = {
    "solved": "every wish is met",
    "nearest": "not every wish is met",
    "impossible": "the wishes that must be held collide",
}


def page(noun: Noun) -> str | None:
    """The page of a noun, or None where its one-line form says enough."""
    if isinstance(noun, Blend):
        parts = _blend(noun)
    elif isinstance(noun, Mixture):
        parts = [*_water("The mixed water", noun.water), *_said(noun), _provenance(noun.provenance)]
    elif isinstance(noun, Water):
        parts = _water("Water", noun)
    else:
        return None
    return "\n".join(['<div class="springwright">', STYLE, *parts, "</div>"])


def _blend(blend: Blend) -> list[str]:
    parts = [f"<p><b>Blend, {escape(blend.status)}</b>: {TITLES[blend.status]}</p>"]
    if blend.status == "impossible":
        parts += _ways_out(blend)
    else:
        parts += [_pour(blend), _weigh(blend)]
    if blend.water is not None:
        parts += _water("The finished water", blend.water)
    parts.append(_wishes(blend.reached))
    if blend.cost is not None:
        parts.append(f"<p>Cost of what states a price: {significant(blend.cost, 4)}</p>")
    return [*parts, *_said(blend), _provenance(blend.provenance)]


def _pour(made: Blend | Relaxation) -> str:
    rows = [
        [
            pouring.water,
            significant(pouring.volume_l, 5),
            f"at {significant(pouring.temperature_c, 3)} °C",
            significant(pouring.mass_kg, 5),
            f"{significant(pouring.share_percent, 4)} %",
            pouring.lot or "",
        ]
        for pouring in made.pourings
    ]
    return _table("Pour", ["water", "#L", "", "#kg", "#share", "lot"], rows)


def _weigh(made: Blend | Relaxation) -> str:
    rows = [
        [
            in_steps(weighing.steps, weighing.step_g),
            weighing.name,
            weighing.formula or "",
            f"{significant(weighing.assay_percent, 4)} %",
            f"± {significant(weighing.rounding_percent, 2)} %",
            weighing.lot or "",
        ]
        for weighing in made.weighings
    ]
    if not rows:
        return "<p><b>Weigh</b>: nothing</p>"
    return _table("Weigh", ["#g", "salt", "formula", "#assay", "#half a step", "lot"], rows)


def _ways_out(blend: Blend) -> list[str]:
    asked = {wish.pointer: f": {wish.of} {wish.asked}" for wish in blend.reached}
    parts = [_list("These collide", [pointer + asked.get(pointer, "") for pointer in blend.conflict])]
    for place, way_out in enumerate(blend.relaxations, 1):
        parts += [f"<p><b>Way out {place}</b>: {escape(way_out.text)}</p>", _pour(way_out), _weigh(way_out)]
        parts += _water("The water then", way_out.water)
    return parts


def _water(title: str, water: Water) -> list[str]:
    amounts = [(water.volume_l, "L"), (water.mass_kg, "kg")]
    stated = "".join(f", {significant(amount, 5)} {unit}" for amount, unit in amounts if amount is not None)
    head = f"{title}{stated} at {significant(water.temperature_c, 3)} °C"
    parts = [
        _table(head, ["", "#mg/L", "#mmol/L", "#meq/L"], _ions(water)),
        _table("", ["", "#", ""], _sums(water)),
    ]
    if water.not_stated:
        names = escape(", ".join(water.not_stated))
        parts.append(f"<p>Not stated on any sheet, therefore unknown: {names}</p>")
    return parts


def _ions(water: Water) -> list[list[str]]:
    """Cations, then anions, each by falling meq/L, then what carries no charge."""
    rows = [
        (_side(ion.charge), ion.meq_per_l or 0.0, [name, *map(_amount, (ion.mg_per_l, ion.mmol_per_l, ion.meq_per_l))])
        for name, ion in water.ions.items()
    ]
    alkalinity = water.alkalinity_meq_per_l
    if "HCO3" not in water.ions and alkalinity is not None:
        # Without a solved state the hydrogencarbonate of a water is its alkalinity expressed as such.
        cells = ["HCO3 (alkalinity)", *map(_amount, (water.alkalinity_mg_per_l_hco3, None, alkalinity))]
        rows.append((_side(-1), alkalinity, cells))
    return [cells for _, _, cells in sorted(rows, key=lambda row: (row[0], -row[1], row[2][0]))]


def _amount(value: float | None) -> str:
    return "" if value is None else significant(value, 4)


def _side(charge: int) -> int:
    return 0 if charge > 0 else 1 if charge < 0 else 2


def _sums(water: Water) -> list[list[str]]:
    hardness = water.hardness_mg_per_l_caco3
    total, carbonate, other = (
        (None, None, None) if hardness is None else (hardness.total, hardness.carbonate, hardness.noncarbonate)
    )
    sums = [
        ("pH", water.ph, 3, ""),
        ("dissolved solids", water.tds_mg_per_l, 4, "mg/L"),
        ("residue at 180 °C", water.residue_180c_mg_per_l, 4, "mg/L"),
        ("hardness", total, 4, "mg/L as CaCO3"),
        ("of it carbonate", carbonate, 4, "mg/L as CaCO3"),
        ("of it other", other, 4, "mg/L as CaCO3"),
        ("alkalinity", water.alkalinity_meq_per_l, 4, "meq/L"),
        ("density", water.density_kg_per_l, 5, "kg/L"),
        ("charge balance", water.charge_balance_percent, 2, "%"),
    ]
    return [[name, significant(value, digits), unit] for name, value, digits, unit in sums if value is not None]


def _wishes(reached: Iterable[Reached]) -> str:
    rows = []
    for wish in reached:
        got = "" if wish.got is None else in_words(wish.got)
        why = "; ".join(" – ".join(filter(None, [reason.text, reason.way_out])) for reason in wish.why)
        rows.append([wish.of, wish.asked, got, "met" if wish.met else "NOT MET", why])
    return _table("Wishes", ["of", "asked", "got", "", ""], rows)


def _said(answer: Blend | Mixture) -> list[str]:
    return [
        _list("Cautions", [f"{caution.text} [{caution.source}]" for caution in answer.cautions]),
        _list("Found", [_placed(finding) for finding in answer.findings]),
        _list("Not judged", [f"{entry.what}: {entry.why}" for entry in answer.not_judged]),
        _folded("Taken for granted", [f"{_placed(entry)} {entry.effect}" for entry in answer.assumptions]),
    ]


def _placed(entry: Assumption | Finding) -> str:
    return f"{entry.pointer}: {entry.text}" if entry.pointer else entry.text


def _provenance(provenance: Provenance) -> str:
    words = (
        f"engine {provenance.engine}, data {provenance.data_set[:12]}, model {provenance.model}, "
        f"request {provenance.request_digest[:12]}"
    )
    return f"<p><small>{escape(words)}</small></p>"


def _table(caption: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A table; a head that begins with `#` stands over numbers. A column without a single entry is left out."""
    kept = [place for place in range(len(heads)) if any(row[place] for row in rows)]
    kinds = {place: ' class="n"' if heads[place].startswith("#") else "" for place in kept}
    lines = ["<table>"]
    if caption:
        lines.append(f"<caption>{escape(caption)}</caption>")
    if any(heads[place].strip("#") for place in kept):
        cells = [f'<th scope="col"{kinds[place]}>{escape(heads[place].strip("#"))}</th>' for place in kept]
        lines.append(f"<thead><tr>{''.join(cells)}</tr></thead>")
    lines.append("<tbody>")
    for row in rows:
        cells = [f"<td{kinds[place]}>{escape(row[place])}</td>" for place in kept]
        lines.append(f"<tr>{''.join(cells)}</tr>")
    return "\n".join([*lines, "</tbody></table>"])


def _list(title: str, entries: Sequence[str]) -> str:
    if not entries:
        return ""
    return f"<p><b>{title}</b></p><ul>{''.join(f'<li>{escape(entry)}</li>' for entry in entries)}</ul>"


def _folded(title: str, entries: Sequence[str]) -> str:
    if not entries:
        return ""
    listed = "".join(f"<li>{escape(entry)}</li>" for entry in entries)
    return f"<details><summary><b>{title}</b> ({len(entries)})</summary><ul>{listed}</ul></details>"
