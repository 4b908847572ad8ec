"""Figures: what a pack has to draw, as data. Nothing here knows of pixels, colours or paper: the host draws.

    @figure("gearing.engine-speed")
    def engine_speed(build: Build) -> Chart:
        '''Engine speed against road speed.'''
        return Chart(x=Axis("road speed", "speed", "km/h"), y=Axis("engine speed", "rotation", "r/min"), curves=[…])

A figure is a plain function of the build, as a rule is. Every number in it is in SI. What it takes from quantities is
on the worksheet, and its sources are cited below the drawing; it computes nothing that a quantity does not.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple, get_args

from swaplint.declare.quantities import ID
from swaplint.declare.sources import Source
from swaplint.units import KINDS, from_unit

Look = Literal["found", "other", "limit"]
"""What a line is: what the build does, what stands against it, or a limit."""
Along = Literal["x", "y"]
ShapeLook = Literal["outline", "area", "line", "axis", "limit"]
NodeLook = Literal["source", "joint", "end"]

XY = tuple[float, float]


class Axis(NamedTuple):
    """What is measured along an axis, and in which metric unit of the trade it is shown."""

    title: str
    kind: str = ""
    unit: str = ""


class Curve(NamedTuple):
    """A line through points."""

    name: str
    points: Sequence[XY]
    look: Look = "found"


class Limit(NamedTuple):
    """A straight line across a drawing: what a value may not go beyond."""

    name: str
    at: float
    along: Along = "y"
    """The axis that the value stands on."""


class Band(NamedTuple):
    """A stretch of an axis, such as the cruise band."""

    name: str
    low: float
    high: float
    along: Along = "y"


class Point(NamedTuple):
    """An operating point. Both numbers are told with it."""

    name: str
    x: float
    y: float


class Chart(NamedTuple):
    """Lines over two axes."""

    x: Axis
    y: Axis
    curves: Sequence[Curve]
    limits: Sequence[Limit] = ()
    bands: Sequence[Band] = ()
    points: Sequence[Point] = ()


class Bar(NamedTuple):
    """One value, with the limit that it is held against."""

    name: str
    value: float
    limit: float | None = None
    least: bool = False
    """Whether the limit is the least that is allowed, not the most."""


class Bars(NamedTuple):
    """Values side by side, in groups, each with its own limit."""

    axis: Axis
    groups: Sequence[tuple[str, Sequence[Bar]]]
    value_name: str
    """What the bars show, in a word or two."""
    limit_name: str = "limit"


class Budget(NamedTuple):
    """What is used up step by step, from a start to what is left or comes together."""

    name: str
    start: float
    steps: Sequence[tuple[str, float]]
    """Each with what it adds, negative where it takes away."""
    limit: float | None = None
    start_name: str = ""
    end_name: str = "together"
    least: bool = False
    """Whether the limit is the least that must be left, not the most that may come together."""


class Budgets(NamedTuple):
    """One or several budgets on one axis."""

    axis: Axis
    budgets: Sequence[Budget]
    limit_name: str = "limit"


class Marks(NamedTuple):
    """Values on one scale, row by row: what may not come near what."""

    axis: Axis
    rows: Sequence[tuple[str, Sequence[tuple[str, float]]]]
    """Each row with its name and its values, each with a name of its own."""
    limits: Sequence[Limit] = ()
    bands: Sequence[Band] = ()
    log: bool = False
    """Whether equal steps along the axis are equal ratios; not where a value is zero or negative."""


class Shape(NamedTuple):
    """A line or an area of a drawing to scale."""

    name: str
    points: Sequence[XY]
    look: ShapeLook = "outline"
    """A closed outline, a filled area, a line, a thin line that only shows a direction, or a limit."""
    label: str = ""
    """What is written at its middle; nothing where it is empty."""


class Sketch(NamedTuple):
    """One drawing to scale."""

    name: str
    shapes: Sequence[Shape]
    points: Sequence[Point] = ()


class ScaleDrawing(NamedTuple):
    """One or several drawings to one scale, the same along both axes."""

    x: Axis
    y: Axis
    sketches: Sequence[Sketch]


class Node(NamedTuple):
    """A thing that lines join."""

    id: str
    name: str
    note: str = ""
    """A few words below its name: its current, its rating."""
    look: NodeLook = "end"


class Link(NamedTuple):
    """A line from one thing to another."""

    start: str
    end: str
    name: str = ""
    """What is written at it: the conductor, the fuse."""


class Network(NamedTuple):
    """Things and the lines between them, from sources to ends."""

    nodes: Sequence[Node]
    links: Sequence[Link]


Form = Chart | Bars | Budgets | Marks | ScaleDrawing | Network
FORMS = (Chart, Bars, Budgets, Marks, ScaleDrawing, Network)

MOST_POINTS = 20_000
"""How many numbers and names a figure may hold: a drawing is for eyes."""


@dataclass(eq=False)
class DeclaredFigure:
    """A figure with its id. Calling it on a build gives what is to be drawn."""

    function: Callable[[Any], Form]
    id: str
    sources: tuple[Source, ...] = field(default=())
    """Besides those of the quantities that it reads."""

    def __post_init__(self) -> None:
        functools.update_wrapper(self, self.function)

    @property
    def title(self) -> str:
        """What is drawn: the first line of the docstring."""
        return (self.function.__doc__ or "").strip().split("\n", 1)[0].rstrip(".")

    @property
    def explanation(self) -> str:
        """How it is read: what follows in the docstring."""
        rest = (self.function.__doc__ or "").strip().split("\n", 1)[1:]
        return " ".join(" ".join(rest).split())

    def __call__(self, build: Any) -> Form:
        """What is to be drawn of a build."""
        return self.function(build)


def figure(id: str, *, sources: Sequence[Source] = ()) -> Callable[[Callable[[Any], Form]], DeclaredFigure]:
    """Declare a figure beside the quantities that it shows.

    The function takes the build and returns a `Chart`, `Bars`, `Budgets`, `Marks`, `ScaleDrawing` or `Network`. The
    first line of its docstring is the title, the rest says how it is read. Where it reads a field that is not stated,
    the figure is not drawn, and the page says what is missing; what it can do without it reads with `given`. Where a
    part is not fitted, there is no figure.
    """

    def declare(function: Callable[[Any], Form]) -> DeclaredFigure:
        return DeclaredFigure(function, id, tuple(sources))

    return declare


def check_figure(made: DeclaredFigure) -> None:
    """Check what a figure declares. Raises `ValueError` with a sentence."""
    if not isinstance(made.id, str) or not ID.fullmatch(made.id):
        raise ValueError(f"'{made.id!s:.60}' is not a figure id; one looks like fuel.suction-budget")
    if not made.title:
        raise ValueError(f"{made.id}: a figure needs a docstring that says what is drawn")
    if not all(isinstance(source, Source) for source in made.sources):
        raise ValueError(f"{made.id}: its sources are not all sources")


def wrong_with_form(form: object) -> str:
    """What is wrong with what a figure returned, as the end of a sentence; empty where it can be drawn."""
    if not isinstance(form, FORMS):
        return f"a {type(form).__name__} instead of a Chart, Bars, Budgets, Marks, ScaleDrawing or Network"
    for count, thing in enumerate(_inside(form), 1):
        if count > MOST_POINTS:
            return f"more than {MOST_POINTS} numbers and names"
        if isinstance(thing, Axis | Curve | Limit | Band | Shape | Node):
            wrong = _wrong_with_axis(thing) if isinstance(thing, Axis) else _wrong_with_word(thing)
            if wrong:
                return wrong
        elif isinstance(thing, float | int) and not isinstance(thing, bool):
            if not math.isfinite(thing):
                return "a number that is not finite"
        elif not isinstance(thing, str | bool | None):
            return f"a {type(thing).__name__} where a number or a name belongs"
    if isinstance(form, ScaleDrawing) and any(
        not sketch.shapes or any(not shape.points for shape in sketch.shapes) for sketch in form.sketches
    ):
        return "a sketch without shapes, or a shape without points"
    if isinstance(form, Network):
        known = {node.id for node in form.nodes}
        loose = next((link for link in form.links if link.start not in known or link.end not in known), None)
        if loose is not None:
            return f"a link from {loose.start!r:.40} to {loose.end!r:.40}, of which one is no node"
    return ""


def _inside(thing: object) -> Iterator[object]:
    """Every number and name in a form, and what has words of its own to be checked."""
    if isinstance(thing, Axis):
        yield thing
    elif isinstance(thing, list | tuple):
        if isinstance(thing, Curve | Limit | Band | Shape | Node):
            yield thing
        for inner in thing:
            yield from _inside(inner)
    else:
        yield thing


def _wrong_with_word(thing: Curve | Limit | Band | Shape | Node) -> str:
    """What is wrong with the word that says how a part looks, or along which axis it stands."""
    word: str = thing.along if isinstance(thing, Limit | Band) else thing.look
    kinds: dict[type, Any] = {Curve: Look, Shape: ShapeLook, Node: NodeLook, Limit: Along, Band: Along}
    words = get_args(kinds[type(thing)])
    named = type(thing).__name__
    return "" if word in words else f"a {named} with {word!r:.40}; it can be {', '.join(words)}"


def _wrong_with_axis(axis: Axis) -> str:
    if not isinstance(axis.title, str) or not axis.title:
        return "an axis without a title"
    if axis.kind and axis.kind not in KINDS:
        return f"an axis of {axis.kind!r:.40}, which is no kind of value"
    if axis.kind:
        try:
            from_unit(1.0, axis.unit, KINDS[axis.kind])
        except (ValueError, KeyError):
            return f"an axis in {axis.unit!r:.40}, which is no unit of {axis.kind}"
    return ""


def is_empty(form: Form) -> bool:
    """Whether there is nothing in it to draw."""
    match form:
        case Chart():
            return not form.curves and not form.points
        case Bars():
            return not any(bars for _, bars in form.groups)
        case Budgets():
            return not form.budgets
        case Marks():
            return not any(marks for _, marks in form.rows)
        case ScaleDrawing():
            return not any(sketch.shapes for sketch in form.sketches)
        case Network():
            return not form.nodes
