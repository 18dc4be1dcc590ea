"""Notebook pages of what an eye will see: verdicts, solids in balance, and the pictures of a shelf and of a life."""

from __future__ import annotations

from ._figure import hundredths, significant, words
from ._markup import table
from .nouns import Compatibility, HazeVerdict, LifePath, Precipitation

# The mildest first.
VERDICTS = ("undersaturated", "clear", "dissolving", "metastable", "clouds")


def seen(verdicts: tuple[HazeVerdict, ...]) -> str:
    """What an eye will see, the worst first; what is undersaturated is left out."""
    told = [one for one in verdicts if one.verdict != "undersaturated"]
    told.sort(key=lambda one: (-VERDICTS.index(one.verdict), one.margin))
    rows = [
        [one.verdict, words(one.solid), hundredths(one.si), one.why, one.time.text if one.time else ""] for one in told
    ]
    if not rows:
        return "<p><b>What an eye will see</b>: nothing</p>"
    return table("What an eye will see", ["", "solid", "#index", "why", "when"], rows)


def balance(told: Precipitation) -> str:
    """The solids that lie in the water before or after."""
    rows = [
        [
            words(one.solid),
            one.formula,
            significant(one.at_start_mg_per_l, 4),
            significant(one.at_end_mg_per_l, 4),
            hundredths(one.si) + ("" if one.measured else "*"),
        ]
        for one in told.solids
        if one.at_start_mg_per_l > 0 or one.at_end_mg_per_l > 0
    ]
    if not rows:
        return "<p><b>Solids in balance</b>: none</p>"
    heads = ["", "formula", "#mg/L at the start", "#at the end", "#index"]
    return table("Solids in balance; * beyond the measurements of the constant", heads, rows)


def picture(told: Compatibility | LifePath) -> str:
    """The picture that comes with an answer: escaped, without scripts, on a ground of its own."""
    return f"<div>{told.svg}</div>"


def instead(told: Compatibility) -> str:
    """What to use instead where two salts cloud."""
    names = {salt.number: salt.name for salt in told.salts}
    rows = [
        [
            f"{names[one.first]} + {names[one.second]}",
            names[one.instead_of],
            one.name,
            significant(one.mg_per_l, 4),
            one.outcome.replace("_", " "),
        ]
        for one in told.substitutes
    ]
    if not rows:
        return ""
    return table("What to use instead", ["of this pair", "instead of", "take", "#mg/L", "which clouds"], rows)


def changes(told: LifePath) -> str:
    """What to change where a stage is not clear."""
    rows = [
        [stage.name, stage.verdict, stage.why, change.text] for stage in told.stages for change in stage.changes
    ]
    for place in range(len(rows) - 1, 0, -1):
        if rows[place][:3] == rows[place - 1][:3]:
            rows[place][:3] = ["", "", "or"]
    if not rows:
        return ""
    return table("What to change", ["stage", "", "why", "change"], rows)


def ledger(told: LifePath) -> str:
    """Where the carbon dioxide is."""
    rows = []
    for stage in told.stages:
        if (held := stage.co2) is not None:
            grams = (held.dissolved_g_per_l, held.headspace_g_per_l, held.added_g_per_l, held.lost_g_per_l)
            rows.append([stage.name, *(significant(value, 4) if value else "" for value in grams)])
    heads = ["", "#in the water", "#in the headspace", "#added", "#lost"]
    return table("Carbon dioxide, bicarbonate among it, g in a litre of the mix", heads, rows)
