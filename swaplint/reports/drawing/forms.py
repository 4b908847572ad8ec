"""Every form that a figure may have, drawn."""

from __future__ import annotations

from swaplint.declare.figures import Bars, Budgets, Chart, Form, Marks, Network, ScaleDrawing
from swaplint.reports.drawing.bars import bars_height, budgets_height, draw_bars, draw_budgets
from swaplint.reports.drawing.canvas import WIDTH, paper, svg_of
from swaplint.reports.drawing.charts import HEIGHT, draw_chart
from swaplint.reports.drawing.marks import draw_marks, marks_height
from swaplint.reports.drawing.networks import draw_network, network_height, network_width
from swaplint.reports.drawing.scale_drawings import draw_to_scale, scale_drawing_height

MOST: dict[type[Form], int] = {Chart: 40, Bars: 60, Budgets: 8, Marks: 60, ScaleDrawing: 12, Network: 120}
"""How many lines, bars, budgets, marks, sketches or things a drawing holds: with more nobody reads it."""


def too_many(form: Form) -> str:
    """Why a form cannot be drawn for all that is in it, as a sentence; empty where it can."""
    count = _count(form)
    most = MOST[type(form)]
    return "" if count <= most else f"{count} parts are more than one drawing holds, which is {most}."


def _count(form: Form) -> int:
    match form:
        case Chart():
            return max(len(form.curves), len(form.points) + len(form.limits) + len(form.bands))
        case Bars():
            return sum(len(bars) for _, bars in form.groups)
        case Budgets():
            return max(len(form.budgets), sum(len(budget.steps) for budget in form.budgets) // 8)
        case Marks():
            return max(sum(len(marks) for _, marks in form.rows), len(form.limits) + len(form.bands))
        case ScaleDrawing():
            return max(len(form.sketches), sum(len(one.shapes) + len(one.points) for one in form.sketches) // 12)
        case Network():
            return max(len(form.nodes), len(form.links))


def svg_of_form(form: Form, id: str, title: str, words: str) -> str:
    """A form as an SVG element. Its title and its words stand within."""
    width = network_width(form) if isinstance(form, Network) else WIDTH
    with paper(_height(form), width) as sheet:
        match form:
            case Chart():
                draw_chart(form, sheet)
            case Bars():
                draw_bars(form, sheet)
            case Budgets():
                draw_budgets(form, sheet)
            case Marks():
                draw_marks(form, sheet)
            case ScaleDrawing():
                draw_to_scale(form, sheet)
            case Network():
                draw_network(form, sheet)
        return svg_of(sheet, id, title, words)


def _height(form: Form) -> float:
    match form:
        case Chart():
            return HEIGHT
        case Bars():
            return bars_height(form)
        case Budgets():
            return budgets_height(form)
        case Marks():
            return marks_height(form)
        case ScaleDrawing():
            return scale_drawing_height(form)
        case Network():
            return network_height(form)
