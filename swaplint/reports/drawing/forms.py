"""Every form that a figure may have, drawn."""

from __future__ import annotations

from swaplint.declare.figures import Bars, Budgets, Chart, Form, Marks, Network, ScaleDrawing
from swaplint.reports.drawing.bars import bars_height, budgets_height, draw_bars, draw_budgets
from swaplint.reports.drawing.canvas import WIDTH, paper, svg_of
from swaplint.reports.drawing.charts import HEIGHT, draw_chart
from swaplint.reports.drawing.marks import draw_marks, marks_height
from swaplint.reports.drawing.networks import draw_network, network_height, network_width
from swaplint.reports.drawing.scale_drawings import draw_to_scale, scale_drawing_height


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
