"""Names written into a drawing: each beside what it names, where it covers no line and no other name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Literal

from swaplint.reports.drawing.canvas import INK, QUIET, SIZE

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure as Paper
    from matplotlib.text import Annotation
    from matplotlib.transforms import Transform

XY = tuple[float, float]
_Side = tuple[Literal["left", "center", "right"], Literal["bottom", "center", "top"], int, int]
_SIDES: Final[tuple[_Side, ...]] = (
    ("left", "bottom", 5, 3),
    ("left", "top", 5, -3),
    ("right", "bottom", -5, 3),
    ("right", "top", -5, -3),
    ("center", "bottom", 0, 5),
    ("center", "top", 0, -5),
    ("left", "center", 7, 0),
    ("right", "center", -7, 0),
    ("left", "bottom", 14, 14),
    ("right", "bottom", -14, 14),
    ("left", "top", 14, -14),
    ("right", "top", -14, -14),
    ("center", "bottom", 0, 24),
    ("center", "top", 0, -24),
)
"""Where a name may stand about its place: how it is aligned, and how far off, in points; the best first."""
_NEAR: Final = 8
"""How many of these are so close that it is plain which line is named."""
_UPRIGHT: Final = tuple(sorted(_SIDES, key=lambda side: side[0] != "center" or abs(side[3]) > 5))
_FAR: Final = 14
"""From how far off a thin line leads from a dot to its name, in points."""
_TOUCH: Final = 3.0
_OUT: Final = 10.0
"""Of what names a line: the area that it may share with another name, and how far it may stand out of the axes."""
_DOT: Final = 3.5
"""Half the width of a dot, in points."""


@dataclass(frozen=True, slots=True)
class Label:
    """A name, and the places that it may stand at, the best first.

    What marks a dot may stand further off than what names a line, of which there may be another close by.
    """

    text: str
    places: Sequence[XY]
    """In the numbers of the axes."""
    colour: str = INK
    bold: bool = False
    dot: bool = False
    upright: bool = False
    """Whether above and below come before the sides."""


@dataclass(slots=True)
class _Box:
    left: float
    bottom: float
    right: float
    top: float

    def overlap(self, other: _Box) -> float:
        """The area that two boxes share."""
        wide = min(self.right, other.right) - max(self.left, other.left)
        high = min(self.top, other.top) - max(self.bottom, other.bottom)
        return wide * high if wide > 0 and high > 0 else 0.0

    def outside(self, other: _Box) -> float:
        """How far it stands out of another box, all sides together."""
        return (
            max(0.0, other.left - self.left)
            + max(0.0, other.bottom - self.bottom)
            + max(0.0, self.right - other.right)
            + max(0.0, self.top - other.top)
        )


def settle(sheet: Paper) -> None:
    """Give every part of a sheet its final place: names are placed among what does not move any more."""
    sheet.draw_without_rendering()
    sheet.set_layout_engine("none")


def write_labels(
    axes: Axes,
    labels: Sequence[Label],
    lines: Sequence[Sequence[XY]] = (),
    *,
    taken: Sequence[Any] = (),
    transform: Transform | None = None,
) -> None:
    """Write names into axes that are settled, clear of some lines, of what is written there already, and of each other.

    `lines` are in the numbers of the axes, `taken` what else stands there, as matplotlib's artists.
    """
    import numpy as np

    to_page = axes.transData if transform is None else transform
    frame = axes.get_window_extent()
    paper_width = axes.figure.get_window_extent().width
    room = _Box(frame.x0, frame.y0, frame.x1, frame.y1)
    boxes = [_Box(b.x0, b.y0, b.x1, b.y1) for b in (artist.get_window_extent() for artist in taken)]
    dots = [_walked(to_page.transform(np.asarray(line, dtype=float))) for line in lines if len(line) > 1]
    along = np.concatenate(dots) if dots else np.empty((0, 2))
    for x, y in (to_page.transform(label.places[0]) for label in labels if label.dot):
        boxes.append(_Box(x - _DOT, y - _DOT, x + _DOT, y + _DOT))
    for label in labels:
        if not label.places:
            continue
        text = _written(axes, label, label.places[0], to_page)
        extent = text.get_window_extent()
        best: tuple[float, XY, _Side, _Box] | None = None
        number = 0
        for place in label.places:
            x, y = to_page.transform(place)
            for side in _UPRIGHT if label.upright else _SIDES if label.dot else _SIDES[:_NEAR]:
                number += 1
                box = _box(x + side[2], y + side[3], extent.width, extent.height, side)
                hit = (
                    (along[:, 0] > box.left)
                    & (along[:, 0] < box.right)
                    & (along[:, 1] > box.bottom)
                    & (along[:, 1] < box.top)
                )
                covers = sum(box.overlap(other) for other in boxes)
                cost = 20 * covers + 40 * box.outside(room) + 6 * int(hit.sum()) + 0.5 * number
                if best is None or cost < best[0]:
                    best = cost, place, side, box
        assert best is not None
        _, text.xy, (across, up, dx, dy), box = best
        if not label.dot and (sum(box.overlap(other) for other in boxes) > _TOUCH or box.outside(room) > _OUT):
            text.remove()  # it finds no place; the words below the drawing say it
            continue
        # What must run out of the axes still stays on the paper.
        slide = max(0.0, 2.0 - box.left) - max(0.0, box.right - paper_width + 2.0)
        text.set(ha=across, va=up, position=(dx + slide, dy))
        if abs(dy) >= _FAR:
            _lead(axes, text, to_page)
        boxes.append(_Box(box.left + slide, box.bottom, box.right + slide, box.top))


def _written(axes: Axes, label: Label, place: XY, to_page: Transform) -> Annotation:
    """A name, written before it is known on which side of its place it will stand."""
    return axes.annotate(
        label.text,
        place,
        xycoords=to_page,
        xytext=(0, 0),
        textcoords="offset points",
        color=label.colour,
        fontweight="bold" if label.bold else "normal",
        fontsize=SIZE - 0.5,
        zorder=9,
    )


def _lead(axes: Axes, text: Annotation, to_page: Transform) -> None:
    """A thin line from a dot to its name."""
    axes.annotate(
        "",
        text.xy,
        xycoords=to_page,
        xytext=text.get_position(),
        textcoords="offset points",
        arrowprops={"arrowstyle": "-", "color": QUIET, "linewidth": 0.7, "shrinkA": 1, "shrinkB": 3},
        zorder=7,
    )


def _box(x: float, y: float, wide: float, high: float, side: _Side) -> _Box:
    left = x - {"left": 0.0, "center": 0.5, "right": 1.0}[side[0]] * wide
    bottom = y - {"bottom": 0.0, "center": 0.5, "top": 1.0}[side[1]] * high
    return _Box(left - 1, bottom - 1, left + wide + 1, bottom + high + 1)


def _walked(line: Any) -> Any:
    """Dots along a line, so close that no name fits between two of them."""
    import numpy as np

    steps = np.hypot(*np.diff(line, axis=0).T)
    far = np.concatenate([[0.0], np.cumsum(steps)])
    at = np.linspace(0.0, far[-1], max(2, min(2000, int(far[-1] / 4))))
    return np.column_stack([np.interp(at, far, line[:, 0]), np.interp(at, far, line[:, 1])])
