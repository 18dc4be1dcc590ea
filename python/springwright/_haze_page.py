"""Notebook pages of what an eye will see: verdicts, solids in balance, and the picture of what may stand together."""

from __future__ import annotations

from ._figure import hundredths, significant, words
from ._markup import table
from .nouns import Compatibility, HazeVerdict, Precipitation

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


def matrix(told: Compatibility) -> str:
    """The picture of what may stand together: it comes escaped, without scripts, on a ground of its own."""
    return f'<div style="overflow-x: auto">{told.svg}</div>'


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
