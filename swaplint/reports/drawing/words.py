"""A figure in words, with its numbers: for who cannot see it, and for a print without colours."""

from __future__ import annotations

from collections.abc import Iterator

from swaplint.declare.figures import (
    Axis,
    Bar,
    Bars,
    Budget,
    Budgets,
    Chart,
    Form,
    Marks,
    Network,
    ScaleDrawing,
)
from swaplint.reports.drawing.canvas import named
from swaplint.reports.drawing.numbers import in_words
from swaplint.reports.naming import listed


def form_words(form: Form) -> str:
    """What a form shows, as sentences."""
    match form:
        case Chart():
            parts = _chart(form)
        case Bars():
            parts = _bars(form)
        case Budgets():
            parts = (_budget(form, budget) for budget in form.budgets)
        case Marks():
            parts = _marks(form)
        case ScaleDrawing():
            parts = _scale_drawing(form)
        case Network():
            parts = _network(form)
    return " ".join(f"{part[:1].upper()}{part[1:]}" for part in parts)


def _chart(form: Chart) -> Iterator[str]:
    for look, says in (("found", "Lines"), ("other", "Against them"), ("limit", "Limits")):
        names = [named(curve.name) for curve in form.curves if curve.look == look]
        if names:
            yield f"{says}: {listed(names)}."
    for point in form.points:
        yield f"{named(point.name)}: {in_words(form.y, point.y)} at {in_words(form.x, point.x)}."
    for limit in form.limits:
        yield f"{named(limit.name)}: {in_words(form.x if limit.along == 'x' else form.y, limit.at)}."
    for band in form.bands:
        axis = form.x if band.along == "x" else form.y
        yield f"{named(band.name)}: {in_words(axis, band.low)} to {in_words(axis, band.high)}."


def _bars(form: Bars) -> Iterator[str]:
    for group, bars in form.groups:
        says = listed([_bar(form, bar) for bar in bars])
        yield f"{named(group)}: {says}." if group else f"{says}."


def _bar(form: Bars, bar: Bar) -> str:
    says = f"{named(bar.name)} {in_words(form.axis, bar.value)}"
    if bar.limit is None:
        return says
    return f"{says} ({form.limit_name} {in_words(form.axis, bar.limit)}, {_held(is_beyond(bar))})"


def _held(beyond: bool) -> str:
    return "beyond it" if beyond else "within it"


def is_beyond(bar: Bar) -> bool:
    """Whether a bar goes beyond its limit."""
    if bar.limit is None:
        return False
    return bar.value < bar.limit if bar.least else bar.value > bar.limit


def _budget(form: Budgets, budget: Budget) -> str:
    steps = [f"{named(name)} {signed(form.axis, change)}" for name, change in budget.steps]
    start = f"{named(budget.start_name)} {in_words(form.axis, budget.start)}, " if budget.start_name else ""
    end = f"{named(budget.end_name)} {in_words(form.axis, end_of(budget))}"
    limit = ""
    if budget.limit is not None:
        limit = f" ({form.limit_name} {in_words(form.axis, budget.limit)}, {_held(ends_beyond(budget))})"
    return f"{named(budget.name)}: {start}{', '.join(steps)}; {end}{limit}."


def end_of(budget: Budget) -> float:
    """What a budget comes to."""
    return float(budget.start) + sum(float(change) for _, change in budget.steps)


def ends_beyond(budget: Budget) -> bool:
    """Whether a budget ends beyond its limit."""
    if budget.limit is None:
        return False
    return end_of(budget) < budget.limit if budget.least else end_of(budget) > budget.limit


def signed(axis: Axis, change: float) -> str:
    """A step with its sign."""
    return f"{'−' if change < 0 else '+'}{in_words(axis, abs(change))}"


def _marks(form: Marks) -> Iterator[str]:
    for row, marks in form.rows:
        says = [f"{named(name)} {in_words(form.axis, value)}" for name, value in marks]
        if says:
            yield f"{named(row)}: {listed(says)}."
    for limit in form.limits:
        yield f"{named(limit.name)}: {in_words(form.axis, limit.at)}."
    for band in form.bands:
        yield f"{named(band.name)}: {in_words(form.axis, band.low)} to {in_words(form.axis, band.high)}."


def _scale_drawing(form: ScaleDrawing) -> Iterator[str]:
    for sketch in form.sketches:
        labels = [named(shape.label) for shape in sketch.shapes if shape.label]
        labels += [named(point.name) for point in sketch.points]
        yield f"{named(sketch.name, 80)}: {'; '.join(labels)}." if labels else f"{named(sketch.name, 80)}."


def _network(form: Network) -> Iterator[str]:
    names = {node.id: named(node.name) for node in form.nodes}
    notes = [f"{named(node.name)} ({named(node.note)})" if node.note else named(node.name) for node in form.nodes]
    yield f"{listed(notes)}."
    for link in form.links:
        says = f": {named(link.name)}" if link.name else ""
        yield f"{names[link.start]} to {names[link.end]}{says}."
