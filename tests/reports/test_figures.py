"""What is drawn is what the worksheet says, and a drawing holds for any name and any build."""

from __future__ import annotations

import dataclasses
import functools
import re
import sys
from collections.abc import Mapping
from typing import Any

import pytest

from swaplint.api import Axis
from swaplint.inspecting.drawn import Drawn, drawn
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Inspection
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base, value
from swaplint.reports.drawing import canvas
from swaplint.reports.drawing.forms import svg_of_form
from swaplint.reports.drawing.margins import look_of, margins_svg, with_margins
from swaplint.reports.drawing.words import form_words
from swaplint.reports.html.figures import figures, not_drawn
from tests.reports.reading_back import Drawing


@functools.cache
def _drawn() -> dict[str, Drawn]:
    found, broken = drawn(rule_base().packs, sound_spec(rule_base()))
    assert broken == []
    return {one.figure.id: one for one in found}


def with_edits(id: str, edits: Mapping[str, Any]) -> Drawn | None:
    """What one figure has to draw of the edited sound spec."""
    base = rule_base()
    pack = next(pack for pack in base.packs if any(figure.id == id for figure in pack.figures))
    found, broken = drawn([pack], sound_spec(base, edits))
    assert broken == []
    return next((one for one in found if one.figure.id == id), None)


def svg(one: Drawn) -> Drawing:
    """It drawn, to be read back."""
    assert one.form is not None, one.lacks
    return Drawing(svg_of_form(one.form, one.figure.id, one.figure.title, form_words(one.form)))


@functools.cache
def of_sound(id: str) -> Drawing:
    return svg(_drawn()[id])


def test_every_figure_of_the_sound_spec_can_be_drawn() -> None:
    missing = {id: one.lacks or one.why for id, one in _drawn().items() if one.form is None}
    assert missing == {}
    assert len(_drawn()) == sum(len(pack.figures) for pack in rule_base().packs)


# -- gearing ----------------------------------------------------------------------------------------------------------
def test_engine_speed_is_read_back_at_both_ends_of_every_gear() -> None:
    spec = sound_spec(rule_base())
    speeds = spec.build.engine.speed  # type: ignore[attr-defined]
    drawing = of_sound("gearing.engine-speed")
    lines = drawing.named("curve-gear-")
    assert len(lines) == len(spec.build.driveline.gearbox.ratios)  # type: ignore[attr-defined]
    for line in lines:
        (_, low), (_, high) = drawing.points(line)
        assert low == pytest.approx(float(speeds.idle.value) * 60 / 6.283185, rel=0.01)
        assert high == pytest.approx(float(speeds.governed_max.value) * 60 / 6.283185, rel=0.01)
    ((_, turns),) = drawing.points("point-cruise-top-gear")
    assert turns == pytest.approx(value("gearing.cruise-rpm"), rel=0.01)
    assert any(f"{value('gearing.cruise-rpm'):.4g} r/min" in text for text in drawing.texts)


def test_the_road_load_and_the_pull_are_read_back_where_they_are_on_the_worksheet() -> None:
    drawing = of_sound("gearing.pull")
    ((speed, needed),) = drawing.points("point-cruise-needed")
    assert needed * speed / 3.6 == pytest.approx(value("gearing.cruise-road-power"), rel=0.02)
    ((speed, there),) = drawing.points("point-cruise-top-gear")
    assert there * speed / 3.6 == pytest.approx(value("gearing.cruise-available-power"), rel=0.02)


def test_a_gearbox_with_fewer_gears_has_fewer_lines() -> None:
    one = with_edits("gearing.pull", {"driveline.gearbox.ratios": [4.0, 1.0]})
    assert one is not None
    assert svg(one).named("curve-gear-") == ["curve-gear-1", "curve-gear-2"]


def test_without_gears_the_figure_says_what_is_missing() -> None:
    one = with_edits("gearing.pull", {"driveline.gearbox.ratios": None})
    assert one is not None
    assert one.form is None
    assert "driveline.gearbox.ratios" in one.lacks


# -- margins ----------------------------------------------------------------------------------------------------------
HOSTILE = '<b>&\u202e $\\frac$ & "co"</b> ]]>'


@functools.cache
def _inspection() -> Inspection:
    base = rule_base()
    edits = {"plumbing.fuel.supply.bore": "5 mm", "build.name": HOSTILE}
    inspection, _ = inspect(base, sound_spec(base, edits))
    return inspection


def test_every_margin_is_read_back() -> None:
    held = with_margins(_inspection().findings)
    drawing = Drawing(margins_svg(held))
    ticks = [x for name in drawing.named("xtick_") for x, _ in drawing._places(name)]
    assert len(ticks) == 7
    (first, *_, last) = ticks  # -50 % and 100 %
    assert {look_of(finding).name for finding in held} >= {"inside the limit", "beyond the limit"}
    for system in {finding.rule.system for finding in held}:
        for look in {look_of(finding).name for finding in held}:
            group = f"{system}-{look.replace(' ', '-')}"
            read = (
                [-0.5 + 1.5 * (x - first) / (last - first) for x, _ in drawing._places(group)]
                if group in drawing.groups
                else []
            )
            wanted = [f.margin for f in held if f.rule.system == system and look_of(f).name == look]
            clipped = sorted(min(1.0, max(-0.5, margin)) for margin in wanted if margin is not None)
            assert sorted(read) == pytest.approx(clipped, abs=0.002), group


# -- whatever the names ------------------------------------------------------------------------------------------------
def _hostile(form: Any) -> Any:
    """A form in which every name is one that nobody should write."""
    if isinstance(form, Axis):
        return form
    if isinstance(form, list | tuple):
        return [_hostile(one) for one in form]
    if dataclasses.is_dataclass(form) and not isinstance(form, type):
        kept = {"look", "along", "id", "start", "end"}
        changed = {f.name: _hostile(getattr(form, f.name)) for f in dataclasses.fields(form) if f.name not in kept}
        return dataclasses.replace(form, **changed)
    return HOSTILE * 3 if isinstance(form, str) and form else form


@pytest.mark.parametrize("form", ["Chart", "Bars", "Budgets", "Marks", "ScaleDrawing", "Network"])
def test_hostile_names_are_escaped_and_cut(form: str) -> None:
    one = next((one.form for one in _drawn().values() if type(one.form).__name__ == form), None)
    if one is None:
        pytest.skip(f"no figure is a {form}")
    made = _hostile(one)
    drawing = Drawing(svg_of_form(made, "acme.x", HOSTILE, form_words(made)))
    assert "<b>" not in drawing.svg
    assert any("<b>" in text for text in drawing.texts)
    assert all(len(text) < 200 for text in drawing.texts)
    assert not any("$" in name or " " in name for name in drawing.groups)


# -- the page ----------------------------------------------------------------------------------------------------------
def test_colours_are_those_of_the_page_and_have_contrast() -> None:
    drawing = of_sound("gearing.pull")
    assert not re.search(r"#[0-9a-f]{6}", drawing.svg)
    assert set(re.findall(r"var\(--figure-([\w-]+)\)", drawing.svg)) <= set(canvas.COLOURS)
    for name, both in canvas.COLOURS.items():
        for colour, back in zip(both, canvas.COLOURS["paper"], strict=True):
            least = {"paper": 1.0, "grid": 1.0, "band": 1.0}.get(name, 4.5)
            assert contrast(colour, back) >= least, name


def contrast(one: str, other: str) -> float:
    """Contrast ratio by WCAG 2: relative luminances, each with 0.05 added, the lighter over the darker."""

    def luminance(colour: str) -> float:
        parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_same_build_gives_the_same_bytes_and_ids_of_its_own() -> None:
    one, again = of_sound("gearing.pull"), svg(_drawn()["gearing.pull"])
    assert one.svg == again.svg
    ids = re.findall(r'\bid="([^"]+)"', one.svg)
    assert len(ids) == len(set(ids))
    assert all(id.startswith("gearing-pull--") for id in ids)
    referred = re.findall(r'(?:href="#|url\(#)([^")]+)', one.svg)
    assert referred
    assert set(referred) <= set(ids)


def test_without_the_library_there_is_a_sentence_and_no_drawing(monkeypatch: pytest.MonkeyPatch) -> None:
    canvas._matplotlib.cache_clear()
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    try:
        assert not_drawn() == (
            "The drawings are missing: they need matplotlib. Install it with: pip install 'swaplint[drawings]'"
        )
        assert figures(_inspection(), rule_base().packs) == []
    finally:
        canvas._matplotlib.cache_clear()
