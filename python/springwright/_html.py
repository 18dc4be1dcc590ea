"""Answers as notebook pages: waters to pour, salts to weigh, the finished water, and what to know of it."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import TypeAlias

from . import _haze_page as haze
from ._figure import hundredths, in_steps, in_words, significant, words
from ._markup import STYLE, folded, listed, table
from ._noun import Noun
from ._water_page import shown
from .nouns import (
    Assumption,
    Blend,
    Compatibility,
    Finding,
    LifePath,
    Mixture,
    Precipitation,
    Provenance,
    Reached,
    Relaxation,
    Saturation,
    ScaleUp,
    SolidSaturation,
    Speciation,
    Water,
    WeighingPlan,
)

Said: TypeAlias = Blend | Mixture | Speciation | Saturation | Precipitation | Compatibility | LifePath | WeighingPlan
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
        parts = [*shown("The mixed water", noun.water), *_said(noun), _provenance(noun.provenance)]
    elif isinstance(noun, Speciation):
        parts = [*shown("The water", noun.water), _species(noun), *_said(noun), _provenance(noun.provenance)]
    elif isinstance(noun, Saturation):
        parts = [*shown("The water", noun.water), _solids(noun), *_said(noun), _provenance(noun.provenance)]
    elif isinstance(noun, Precipitation):
        parts = [haze.seen(noun.haze), haze.balance(noun), *shown("The water that is left", noun.after)]
        parts += [*_said(noun), _provenance(noun.provenance)]
    elif isinstance(noun, Compatibility):
        parts = [haze.picture(noun), haze.instead(noun), *_said(noun), _provenance(noun.provenance)]
    elif isinstance(noun, LifePath):
        parts = [haze.picture(noun), haze.changes(noun), haze.ledger(noun), *shown("The mix, closed", noun.mixed)]
        parts += [*_said(noun), _provenance(noun.provenance)]
    elif isinstance(noun, WeighingPlan):
        parts = [_planned(noun), *shown("The finished water", noun.water), *_said(noun), _provenance(noun.provenance)]
    elif isinstance(noun, ScaleUp):
        plan = noun.plan
        parts = [_scaled(noun), _planned(plan), *shown("The finished water", plan.water)]
        parts += [*_said(plan), _provenance(plan.provenance)]
    elif isinstance(noun, Water):
        parts = shown("Water", noun)
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
        parts += shown("The finished water", blend.water)
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
    return table("Pour", ["water", "#L", "", "#kg", "#share", "lot"], rows)


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
    return table("Weigh", ["#g", "salt", "formula", "#assay", "#half a step", "lot"], rows)


def _ways_out(blend: Blend) -> list[str]:
    asked = {wish.pointer: f": {wish.of} {wish.asked}" for wish in blend.reached}
    parts = [listed("These collide", [pointer + asked.get(pointer, "") for pointer in blend.conflict])]
    for place, way_out in enumerate(blend.relaxations, 1):
        parts += [f"<p><b>Way out {place}</b>: {escape(way_out.text)}</p>", _pour(way_out), _weigh(way_out)]
        parts += shown("The water then", way_out.water)
    return parts


def _wishes(reached: Iterable[Reached]) -> str:
    rows = []
    for wish in reached:
        seen = ", ".join(filter(None, [wish.verdict, words(wish.worst_solid or "")]))
        got = seen if wish.got is None else in_words(wish.got)
        why = "; ".join(" – ".join(filter(None, [reason.text, reason.way_out])) for reason in wish.why)
        rows.append([wish.of, wish.asked, got, "met" if wish.met else "NOT MET", why])
    return table("Wishes", ["of", "asked", "got", "", ""], rows)


def _planned(plan: WeighingPlan) -> str:
    """What to put on the balance and how far each may be off, then the wishes and how likely they are met."""
    weighings = [
        [
            f"{one.bags} ×" if one.bags else "",
            in_steps(one.steps, one.step_g),
            one.name,
            significant(one.recipe_g, 5),
            "" if one.least_g is None else significant(one.least_g, 4),
            "" if one.most_g is None else significant(one.most_g, 4),
            one.stock.text if one.stock else "",
            one.lot or "",
        ]
        for one in plan.weighings
    ]
    wishes = [
        [
            one.of,
            one.asked,
            "" if one.got is None else in_words(one.got),
            "met" if one.met else "NOT MET",
            significant(one.probability_percent, 3),
        ]
        for one in plan.wishes
    ]
    heads = ["#bags", "#g", "salt", "#by the recipe", "#may be from", "#to", "or by a stock", "lot"]
    parts = [table("Weigh", heads, weighings)]
    if wishes:
        parts.append(table("Wishes", ["of", "asked", "got", "", "#met with, %"], wishes))
    return "\n".join(parts)


def _scaled(told: ScaleUp) -> str:
    """How many times, what to pour, and where bags come out whole."""
    pour = [
        [one.water, significant(one.volume_l, 5), f"at {significant(one.temperature_c, 3)} °C", significant(one.mass_kg, 5)]
        for one in told.pourings
    ]
    bags = [[significant(one.volume_l, 5), str(one.bags), one.name] for one in told.whole_bags]
    parts = [f"<p><b>{significant(told.times, 4)} times the recipe</b></p>", table("Pour", ["water", "#L", "", "#kg"], pour)]
    if bags:
        parts.append(table("Whole bags come out at", ["#L", "#bags", "of"], bags))
    return "\n".join(parts)


def _species(told: Speciation) -> str:
    by_amount = sorted(told.species, key=lambda one: (-one.mmol_per_kg, one.species))
    rows = [
        [
            one.species,
            f"{one.charge:+d}" if one.charge else "",
            significant(one.mmol_per_kg, 4),
            f"{one.activity_coefficient:.3f}",
        ]
        for one in by_amount
    ]
    return table("Species", ["", "#charge", "#mmol/kg of water", "#activity coefficient"], rows)


def _solids(told: Saturation) -> str:
    """A row for each solid, a column for each temperature."""
    columns = [(told.water.temperature_c, told.saturation)]
    columns += [(at.temperature_c, at.saturation) for at in told.at_temperatures]
    rows = []
    for solid in told.saturation:
        found = [[one for one in column if one.solid == solid.solid] for _, column in columns]
        rows.append([words(solid.solid), *(_index(one[0]) if one else "" for one in found)])
    heads = ["", *(f"#{significant(celsius, 3)} °C" for celsius, _ in columns)]
    return table("Saturation index; * beyond the measurements of the constant", heads, rows)


def _index(one: SolidSaturation) -> str:
    return hundredths(one.si) + ("" if one.measured else "*")


def _said(answer: Said) -> list[str]:
    return [
        listed("Cautions", [f"{caution.text} [{caution.source}]" for caution in answer.cautions]),
        listed("Found", [_placed(finding) for finding in answer.findings]),
        listed("Not judged", [f"{entry.what}: {entry.why}" for entry in answer.not_judged]),
        folded("Taken for granted", [f"{_placed(entry)} {entry.effect}" for entry in answer.assumptions]),
    ]


def _placed(entry: Assumption | Finding) -> str:
    return f"{entry.pointer}: {entry.text}" if entry.pointer else entry.text


def _provenance(provenance: Provenance) -> str:
    told = (
        f"engine {provenance.engine}, data {provenance.data_set[:12]}, model {provenance.model}, "
        f"request {provenance.request_digest[:12]}"
    )
    return f"<p><small>{escape(told)}</small></p>"
