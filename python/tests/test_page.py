"""The notebook page of a blend: in the order in which somebody works, escaped, in the colours of the notebook."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser
from typing import Any

import pytest
from conftest import EXAMPLES

import springwright

VOID = {"br", "img", "hr"}
Paged = (
    springwright.Blend
    | springwright.Mixture
    | springwright.Water
    | springwright.Precipitation
    | springwright.Compatibility
    | springwright.LifePath
    | springwright.WeighingPlan
    | springwright.ScaleUp
)


class Page(HTMLParser):
    """Reads a page: the text of each cell, and whether the tags close in order."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.seen: list[str] = []
        self.rows: list[list[str]] = []
        self.feed(text)
        self.close()
        assert self.tags == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)
        if tag not in VOID:
            self.tags.append(tag)
        if tag == "tr":
            self.rows.append([])
        if tag in ("td", "th"):
            self.rows[-1].append("")

    def handle_endtag(self, tag: str) -> None:
        assert self.tags.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.tags and self.tags[-1] in ("td", "th"):
            self.rows[-1][-1] += data


def page_of(noun: Paged) -> str:
    text = noun._repr_html_()
    assert text is not None
    return text


def test_it_goes_from_the_waters_over_the_scale_to_the_finished_water(hill_town: dict[str, Any]) -> None:
    text = page_of(springwright.solve_blend(hill_town))
    Page(text)
    places = [text.index(mark) for mark in (">Pour<", ">Weigh<", ">The finished water", ">Wishes<", ">Cautions<")]
    assert places == sorted(places)
    assert "20.000 L" in text and "KB-0417" in text


def test_ions_stand_as_cations_then_anions_each_by_falling_charge(hill_town: dict[str, Any]) -> None:
    blend = springwright.solve_blend(hill_town)
    rows = Page(page_of(blend)).rows
    head = rows.index(["", "mg/L", "mmol/L", "meq/L"])
    ions = []
    for row in rows[head + 1 :]:
        if len(row) != 4:
            break
        ions.append((row[0], float(row[3])))
    cations = [ion for ion in ions if ion[0] in ("Ca", "Mg", "Na", "K")]
    assert ions[: len(cations)] == cations
    for side in (cations, ions[len(cations) :]):
        assert [meq for _, meq in side] == sorted((meq for _, meq in side), reverse=True)
    assert {name for name, _ in ions} == {"Ca", "Mg", "Na", "K", "Cl", "SO4", "HCO3 (alkalinity)"}


def test_every_weighing_and_every_wish_has_its_row(hill_town: dict[str, Any]) -> None:
    hill_town["target"].append({"of": "K", "near": "30 mg/L"})
    blend = springwright.solve_blend(hill_town)
    rows = Page(page_of(blend)).rows
    for weighing in blend.weighings:
        (row,) = [row for row in rows if weighing.name in row]
        assert float(row[0]) == pytest.approx(weighing.mass_g, rel=1e-12)
    wishes = {row[0]: row for row in rows if "met" in row or "NOT MET" in row}
    assert list(wishes) == [wish.of for wish in blend.reached]
    # No salt on this shelf holds potassium.
    (unmet,) = [wish for wish in blend.reached if not wish.met]
    assert unmet.pointer == "/target/3"
    assert "NOT MET" in wishes[unmet.of] and unmet.why[0].text in wishes[unmet.of][-1]


def test_no_text_of_a_request_becomes_markup(hill_town: dict[str, Any]) -> None:
    bad = "<script>alert('x')</script>&\"<img src=x onerror=y>"
    hill_town["waters"][0]["name"] = bad
    hill_town["salts"][2]["lot"] = bad
    text = page_of(springwright.solve_blend(hill_town))
    page = Page(text)
    assert "script" not in page.seen and "img" not in page.seen
    assert any(bad in row for row in page.rows)


def test_an_impossible_blend_shows_what_collides_and_the_ways_out(hill_town: dict[str, Any]) -> None:
    hill_town["target"] = [
        {"of": "Cl", "at_most": "5 mg/L"},
        {"of": "Ca", "at_least": "60 mg/L"},
    ]
    blend = springwright.solve_blend(hill_town)
    assert blend.status == "impossible"
    text = page_of(blend)
    Page(text)
    assert "These collide" in text and "Way out 1" in text
    for pointer in blend.conflict:
        assert pointer in text


def test_it_takes_its_colours_from_the_notebook_and_nothing_from_outside(hill_town: dict[str, Any]) -> None:
    text = page_of(springwright.solve_blend(hill_town))
    style = text[text.index("<style>") : text.index("</style>")]
    # No colour but a half-transparent grey rule, which shows on white and on black.
    assert set(re.findall(r"(?<![-\w])color:\s*([^;]+);", style)) == {"inherit"}
    assert set(re.findall(r"background:\s*([^;]+);", style)) == {"none"}
    assert not re.search(r"#[0-9a-f]{3,6}\b", style)
    assert not re.search(r"https?:|src=|@import|url\(", text)


def test_a_mixture_and_a_water_have_pages_and_small_nouns_have_none(hill_town: dict[str, Any]) -> None:
    mixture = springwright.mix(parts=[{"water": hill_town["waters"][0], "volume_l": 2}])
    Page(page_of(mixture))
    Page(page_of(mixture.water))
    assert mixture.provenance._repr_html_() is None


def test_what_an_eye_will_see_stands_first() -> None:
    text = page_of(
        springwright.precipitate(
            water={"name": "<b>well</b>", "pure": True, "temperature_c": 20},
            powders=[{"solid": "calcite", "mg_per_l": 500}],
            co2={"state": "open_to_air", "altitude_m": 0},
        )
    )
    rows = Page(text).rows
    assert next(row for row in rows if row[0] == "dissolving")[1] == "calcite"
    assert text.index("What an eye will see") < text.index("Solids in balance") < text.index("The water that is left")
    assert "<b>well</b>" not in text


def test_the_picture_of_a_shelf_stands_on_its_page() -> None:
    shelf = springwright.check_compatibility(
        salts=[
            {"salt": "calcium_chloride_dihydrate", "g_per_l": 30},
            {"salt": "sodium_bicarbonate", "g_per_l": 30},
            {"salt": "sodium_chloride", "g_per_l": 10},
        ],
        water={"name": "<script>", "pure": True, "temperature_c": 20},
    )
    page = Page(page_of(shelf))
    assert page.seen.count("svg") == 1 and "script" not in page.seen
    assert ["Calcium chloride dihydrate + Sodium bicarbonate", "Calcium chloride dihydrate"] in [
        row[:2] for row in page.rows
    ]


def test_a_life_shows_its_picture_then_what_to_change() -> None:
    request = json.loads((EXAMPLES / "life-path.json").read_text("utf-8"))
    text = page_of(springwright.life_path(request))
    page = Page(text)
    assert page.seen.count("svg") == 1 and "script" not in page.seen
    assert text.index("<svg") < text.index("What to change") < text.index("Carbon dioxide, bicarbonate among it")
    assert any(row[:2] == ["forgotten glass", "clouds"] for row in page.rows)


def test_a_weighing_shows_how_far_each_may_be_off() -> None:
    request = json.loads((EXAMPLES / "weighing.json").read_text("utf-8"))
    page = Page(page_of(springwright.plan_weighing(request)))
    magnesium = next(row for row in page.rows if "Magnesium sulfate heptahydrate" in row)
    at = magnesium.index("Magnesium sulfate heptahydrate")
    assert float(magnesium[at + 2]) < float(magnesium[at - 1]) < float(magnesium[at + 3])
    assert any(row[:1] == ["magnesium"] and "met" in row for row in page.rows)


def test_a_large_batch_is_poured_bagged_and_weighed() -> None:
    request = json.loads((EXAMPLES / "scale-up.json").read_text("utf-8"))
    text = page_of(springwright.scale_batch(request))
    page = Page(text)
    assert text.index("times the recipe") < text.index(">Pour<") < text.index(">Weigh<")
    assert any(row[0] == "1 ×" and "Sodium bicarbonate" in row for row in page.rows)
