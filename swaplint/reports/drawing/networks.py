"""Things and the lines between them: from the sources on the left to the ends on the right.

Where each thing stands is worked out here. What is drawn is a tree, one row an end, its text to the right of each
thing; layouts for graphs know points without text, and what they are good at, few crossings, a tree has no need of.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from swaplint.declare.figures import Network, Node
from swaplint.reports.drawing.canvas import INK, LINES, PAPER, QUIET, WIDTH, named

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure as Paper

_ROW: Final = 0.36
"""Height of a row, in inches."""
_LETTER: Final = 4.4
"""Width of a letter, at most, in units of the drawing."""
_SMALL: Final = 7.5
_BRANCH: Final = 22.0
"""What is left for the lines between two columns."""


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


def network_width(form: Network) -> float:
    """The width that a network takes, in inches: as wide as any drawing, or wider where its columns ask for it."""
    return max(WIDTH, (_columns(form)[-1] + 8.0) / 72.0)


def _names(form: Network) -> dict[str, tuple[str, str]]:
    """What is written at each thing: its name with what belongs to it, and by what it is reached."""
    ways: dict[str, list[str]] = {}
    for link in form.links:
        if link.name:
            ways.setdefault(link.end, []).append(named(link.name, 34))
    return {
        node.id: (
            named(f"{node.name}, {node.note}" if node.note else node.name, 28),
            " / ".join(dict.fromkeys(ways.get(node.id, ())))[:40],
        )
        for node in form.nodes
    }


def _columns(form: Network) -> list[float]:
    """Where each column begins, and where the last one ends, in units of the drawing."""
    places, names = _places(form), _names(form)
    out = [6.0]
    for column in range(1 + max(column for column, _ in places.values())):
        longest = max(len(name) for id, both in names.items() if places[id][0] == column for name in both)
        out.append(out[-1] + 8.0 + _LETTER * longest + _BRANCH)
    return out


def draw_network(form: Network, sheet: Paper) -> None:
    """Draw a network on a sheet."""
    places, names, columns = _places(form), _names(form), _columns(form)
    axes = sheet.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    rows = 1 + max(row for _, row in places.values())
    axes.set_xlim(0.0, network_width(form) * 72.0)
    axes.set_ylim(rows - 0.1, -0.75)
    for link in form.links:
        (column, y0), (behind, y1) = places[link.start], places[link.end]
        x0, x1 = columns[column], columns[behind]
        begins = x0 + 10.0 + _LETTER * max(len(name) for name in names[link.start])
        bend = x1 - 0.6 * _BRANCH
        away = begins < bend
        axes.plot(
            [begins if away else x0, bend, bend, x1] if away else [x0, x1],
            [y0, y0, y1, y1] if away else [y0, y1],
            color=QUIET,
            linewidth=1.0,
            zorder=1,
            gid=f"link:{link.start}:{link.end}",
        )
    for node in form.nodes:
        column, row = places[node.id]
        _draw_node(axes, node, names[node.id], columns[column], row)


def _draw_node(axes: Axes, node: Node, names: tuple[str, str], x: float, y: float) -> None:
    colour = {"source": LINES[0], "joint": LINES[2], "end": INK}[node.look]
    shape = {"source": "s", "joint": "D", "end": "o"}[node.look]
    axes.plot([x], [y], shape, color=colour, markeredgecolor=PAPER, markersize=6, zorder=3, gid=f"node:{node.id}")
    name, way = names
    axes.annotate(
        name,
        (x, y),
        xytext=(7, 1 if way else 0),
        textcoords="offset points",
        fontsize=_SMALL,
        fontweight="bold" if node.look == "source" else "normal",
        va="bottom" if way else "center",
        color=colour,
    )
    if way:
        axes.annotate(
            way, (x, y), xytext=(7, -1), textcoords="offset points", fontsize=_SMALL - 0.5, va="top", color=QUIET
        )
