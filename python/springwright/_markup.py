"""Pieces of a notebook page: tables and lists, every text escaped.

A page takes its colours from the notebook, so it reads well on light and on dark; nothing is told by colour alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

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
.springwright svg { max-width: 100%; height: auto; }
.springwright small { opacity: 0.75; }
</style>"""


def table(caption: str, heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
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


def listed(title: str, entries: Sequence[str]) -> str:
    if not entries:
        return ""
    return f"<p><b>{title}</b></p><ul>{''.join(f'<li>{escape(entry)}</li>' for entry in entries)}</ul>"


def folded(title: str, entries: Sequence[str]) -> str:
    if not entries:
        return ""
    items = "".join(f"<li>{escape(entry)}</li>" for entry in entries)
    return f"<details><summary><b>{title}</b> ({len(entries)})</summary><ul>{items}</ul></details>"
