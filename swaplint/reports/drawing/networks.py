"""Things and the lines between them: from the sources on the left to the ends on the right."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from swaplint.declare.figures import Network, Node
from swaplint.reports.drawing.canvas import INK, LINES, PAPER, QUIET, named

if TYPE_CHECKING:
    from matplotlib.figure import Figure as Paper

_ROW: Final = 0.36
"""Height of a row, in inches."""
_NAME, _NOTE, _LINK = 24, 30, 26
"""How many letters of each are shown."""


def network_height(form: Network) -> float:
    """The height that a network takes, in inches."""
    places = _places(form)
    return 0.3 + _ROW * (1 + max(row for _, row in places.values()))


def _tree(form: Network) -> tuple[list[str], dict[str, list[str]]]:
    """The things that nothing leads to, and what each leads to; a thing that several lead to hangs on the first."""
    led: set[str] = set()
    below: dict[str, list[str]] = {node.id: [] for node in form.nodes}
    first_from = {link.end: link.start for link in reversed(form.links)}
    for node in form.nodes:
        above, walked = node.id, {node.id}
        while above in first_from and first_from[above] not in walked:  # a circle is cut where it is entered
            above = first_from[above]
            walked.add(above)
        if node.id in first_from and (above not in first_from or node.id != above):
            below[first_from[node.id]].append(node.id)
            led.add(node.id)
    return [node.id for node in form.nodes if node.id not in led], below


def _places(form: Network) -> dict[str, tuple[int, float]]:
    """The column and the row of each thing: ends in rows of their own, what leads to them in their middle."""
    tops, below = _tree(form)
    places: dict[str, tuple[int, float]] = {}
    row = 0.0

    def place(id: str, column: int) -> float:
        nonlocal row
        places[id] = (column, row)
        under = [place(one, column + 1) for one in below[id] if one not in places]
        if not under:
            row += 1
            middle = row - 1
        else:
            middle = 0.5 * (under[0] + under[-1])
        places[id] = (column, middle)
        return middle

    for top in tops:
        place(top, 0)
    for node in form.nodes:
        if node.id not in places:
            place(node.id, 0)
    return places


def draw_network(form: Network, sheet: Paper) -> None:
    """Draw a network on a sheet."""
    places = _places(form)
    axes = sheet.add_subplot()
    axes.set_axis_off()
    columns = 1 + max(column for column, _ in places.values())
    rows = 1 + max(row for _, row in places.values())
    axes.set_xlim(-0.02, columns - 0.02)
    axes.set_ylim(rows - 0.5, -0.5)
    for link in form.links:
        (x0, y0), (x1, y1) = places[link.start], places[link.end]
        bend = x0 + 0.62 if x1 > x0 else x0 + 0.66
        axes.plot(
            [x0 + 0.02, bend, bend, x1] if x1 > x0 else [x0, bend, bend, x1],
            [y0, y0, y1, y1],
            color=QUIET,
            linewidth=1.1,
            zorder=1,
            gid=f"link:{link.start}:{link.end}",
        )
        if link.name:
            axes.annotate(
                named(link.name, _LINK),
                (bend, y1),
                xytext=(2, 2),
                textcoords="offset points",
                fontsize=7,
                color=QUIET,
                va="bottom",
            )
    for node in form.nodes:
        _draw_node(axes, node, places[node.id])


def _draw_node(axes: object, node: Node, place: tuple[int, float]) -> None:
    x, y = place
    colour = {"source": LINES[0], "joint": LINES[2], "end": INK}[node.look]
    shape = {"source": "s", "joint": "D", "end": "o"}[node.look]
    axes.plot([x], [y], shape, color=colour, markeredgecolor=PAPER, markersize=6, zorder=3, gid=f"node:{node.id}")  # type: ignore[attr-defined]
    says = named(node.name, _NAME) + (f"\n{named(node.note, _NOTE)}" if node.note else "")
    axes.annotate(says, (x, y), xytext=(6, 0), textcoords="offset points", fontsize=7.5, va="center", color=colour)  # type: ignore[attr-defined]
