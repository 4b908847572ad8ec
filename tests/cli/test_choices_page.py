"""The pages of `size` and `study`: the windows read back from their drawing, the map against the combinations."""

from __future__ import annotations

import json
import re

import html5lib
import pytest
from calling import call
from page_checks import Read

from tests.reports.reading_back import Drawing

TENDER = "specs/tarnholt-tender.toml"
RULES = ("--rule", "gearing.cruise-rpm", "--rule", "gearing.speedometer", "--rule", "gearing.engine-overspeed")
SIZE = ("size", TENDER, "driveline.axles.*.ratio", *RULES)
STUDY = ("study", TENDER, "--vary", "driveline.axles.*.ratio=4.1,4.88,5.29,6.5")
TYRES = ("--vary", "driveline.tyres.overall_diameter=950..1100 mm:3")


def page_of(*asked: str) -> tuple[str, Read]:
    ran = call(*asked, "--format", "html")
    assert (ran.status, ran.err) == (0, b"")
    page = ran.out.decode()
    read = Read(page)
    assert read.wrong == []
    html5lib.HTMLParser(strict=True).parse(page)
    return page, read


def test_the_windows_are_drawn_where_they_are() -> None:
    page, read = page_of(*SIZE)
    found = json.loads(call(*SIZE, "--format", "json").out)
    drawn = Drawing(re.findall(r"<svg.*?</svg>", page, re.S)[0])
    (window,) = found["windows"]
    assert (window["bound_low"], window["bound_high"]) == ("gearing.speedometer", "gearing.speedometer")
    (name,) = drawn.named("window-all-rules")
    ends = drawn.along_x(name)
    assert (min(ends), max(ends)) == pytest.approx((window["low"], window["high"]), rel=0.001)
    assert min(drawn.along_x("now")) == pytest.approx(found["now"], rel=0.001)
    by_rule = {one["rule"]: one["windows"] for one in found["by_rule"]}
    (cruise,) = drawn.named("window-gearing.cruise-rpm")
    assert max(drawn.along_x(cruise)) == pytest.approx(by_rule["gearing.cruise-rpm"][0]["high"], rel=0.001)
    assert len(drawn.named("window-gearing.engine-overspeed")) == len(by_rule["gearing.engine-overspeed"]) > 1
    assert drawn.cut_off() == []
    assert "below 4.763 gearing.speedometer does not pass" in read.of("li")
    assert "The present value, 4.88, passes." in read.of("strong")


def test_choices_stand_each_with_what_came_of_it() -> None:
    page, read = page_of(
        "size", TENDER, "plumbing.fuel.supply.bore", "--rule", "fuel.suction-loss", "--units", "inch-pound"
    )
    assert "<svg" not in page
    assert any(words.startswith("passes; worst margin +") for words in read.of("dd"))


def test_the_map_says_of_each_place_what_the_table_says() -> None:
    page, read = page_of(*STUDY, *TYRES, *RULES, "--show", "gearing.cruise-rpm")
    rows = json.loads(call(*STUDY, *TYRES, *RULES, "--format", "json").out)["rows"]
    table = page[page.index('<table class="map">') : page.index("</table>", page.index('<table class="map">'))]
    spots = re.findall(r'<td><span class="spot (\w+)">(passes|\d fail)', table)
    assert len(spots) == 4 * 3
    values = [
        [row["values"][field] for field in ("driveline.axles.*.ratio", "driveline.tyres.overall_diameter")]
        for row in rows
    ]
    by_place = {tuple(value): len(row["fails"]) for value, row in zip(values, rows, strict=True)}
    expected = [by_place[ratio, wide] for ratio in (4.1, 4.88, 5.29, 6.5) for wide in (950.0, 1025.0, 1100.0)]
    assert [0 if word == "passes" else int(word.split()[0]) for _, word in spots] == expected
    assert len(set(expected)) > 1
    assert table.count(">best<") == 1
    assert (
        f"{sum(not row['fails'] for row in rows)} of 12 combinations fail no rule that reads these fields."
        in read.of("strong")
    )


def test_one_field_has_no_map_and_what_is_left_out_is_said() -> None:
    page, read = page_of(*STUDY, *RULES, "--top", "3")
    assert 'class="map"' not in page
    assert "and 1 more, see --top, or --format csv for all" in read.of("p")


def test_a_place_of_the_map_names_the_best_of_what_else_is_varied() -> None:
    asked = ("--vary", "vehicle.engine_place.pitch=0 deg,3 deg", "--rule", "fit.installed-angle")
    page, _ = page_of(*STUDY, *TYRES, *asked, "--rule", "gearing.cruise-rpm")
    assert "It stands with the best of vehicle.engine_place.pitch, which is named." in page
    assert page.count("<i>with 0°</i>") == 4 * 3
