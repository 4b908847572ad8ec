"""Small things of the drawings: what a look is, where the name of a band may stand, what the legend explains."""

from __future__ import annotations

import re

import pytest

from swaplint.api import Axis, Band, Bar, Bars, Budget, Budgets, Chart, Curve, ScaleDrawing, Shape, Sketch
from swaplint.reports.drawing.forms import svg_of_form
from tests.reports.reading_back import Drawing

SQUARE = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]


def drawn(form: object) -> str:
    return svg_of_form(form, "acme.x", "title", "words")  # type: ignore[arg-type]


def test_an_axis_is_a_chain_line_and_no_other_shape_is() -> None:
    shapes = [Shape(look, SQUARE, look) for look in ("area", "outline", "limit", "axis", "part")]  # type: ignore[arg-type]
    svg = drawn(ScaleDrawing(Axis("x"), Axis("y"), [Sketch("s", shapes)]))
    dashed = [
        name
        for name, inside in re.findall(r'<g id="[^"]*shape-s-(\w+)">(.*?)</g>', svg, re.DOTALL)
        if "stroke-dasharray" in inside
    ]
    assert dashed == ["axis"]


@pytest.mark.parametrize("along", ["x", "y"])
def test_the_name_of_a_band_stands_within_the_paper_where_an_axis_does_not_begin_at_zero(along: str) -> None:
    from swaplint.reports.drawing import charts

    class Paper:
        def get_xlim(self) -> tuple[float, float]:
            return 100.0, 300.0

        get_ylim = get_xlim

    band = Band("band", 120, 140, along)  # type: ignore[arg-type]
    form = Chart(Axis("x"), Axis("y"), [Curve("line", [(100, 100), (300, 300)])], bands=[band])
    places = charts._of_band(Paper(), form, band).places  # type: ignore[arg-type]
    # across the paper from 100 to 300: 98 %, 2 %, 50 %, 75 % and 25 % of the way; along the band its middle
    wanted = [296, 104, 200, 250, 150]
    across, middle = zip(*(place if along == "y" else place[::-1] for place in places), strict=True)
    assert list(across) == pytest.approx(wanted)
    assert set(middle) == {130.0}


@pytest.mark.parametrize(("limit", "explained"), [(None, False), (2.0, True)])
def test_the_legend_explains_the_mark_of_a_limit_where_there_is_one(limit: float | None, explained: bool) -> None:
    form = Bars(Axis("mass"), [("group", [Bar("bar", 1.0, limit)])], "load", limit_name="rating")
    assert any("rating" in text for text in Drawing(drawn(form)).texts) is explained


def test_the_start_of_each_budget_stands_in_a_row_of_its_own() -> None:
    each = [Budget(name, 10.0, [("step", -1.0)], start_name=f"start {name}") for name in ("a", "b")]
    drawing = Drawing(drawn(Budgets(Axis("pressure"), each)))
    tops = {text: top for text, (_, top, _, _) in drawing.written() if text.startswith("start")}
    assert set(tops) == {"start a", "start b"}
    assert abs(tops["start a"] - tops["start b"]) > 20
