"""Numbers read back from a drawing: from where a line stands between the ticks of the axes, as a person would."""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree import ElementTree

XY = tuple[float, float]
_SVG = "{http://www.w3.org/2000/svg}"


def _number(text: str) -> float:
    return float(text.replace("−", "-").replace(",", ""))


@dataclass
class Drawing:
    """An SVG that is read back."""

    svg: str

    def __post_init__(self) -> None:
        self.root = ElementTree.fromstring(self.svg)
        self.groups = {group.get("id", "").split("--", 1)[-1]: group for group in self.root.iter(f"{_SVG}g")}

    @property
    def texts(self) -> list[str]:
        """Everything that is written in it."""
        return ["".join(text.itertext()) for text in self.root.iter(f"{_SVG}text")]

    def named(self, start: str) -> list[str]:
        """The names of its parts that begin so."""
        return [name for name in self.groups if name.startswith(start)]

    def scale(self, along: str) -> tuple[float, float]:
        """How a place along an axis becomes a number: start and slope, from the ticks at both ends."""
        ticks = []
        for name in self.named(f"{along}tick_"):
            use = next(self.groups[name].iter(f"{_SVG}use"), None)
            text = next(self.groups[name].iter(f"{_SVG}text"), None)
            if use is not None and text is not None and text.text:
                ticks.append((float(use.get(along, "nan")), _number(text.text)))
        (a, first), (b, last) = ticks[0], ticks[-1]
        slope = (last - first) / (b - a)
        return first - slope * a, slope

    def _places(self, name: str) -> list[XY]:
        group = self.groups[name]
        path = next((path for path in group.findall(f"{_SVG}path")), None)
        if path is not None:
            pairs = re.findall(r"[ML] (-?[\d.]+) (-?[\d.]+)", path.get("d", ""))
            return [(float(x), float(y)) for x, y in pairs]
        return [(float(use.get("x", "nan")), float(use.get("y", "nan"))) for use in group.iter(f"{_SVG}use")]

    def points(self, name: str) -> list[XY]:
        """The places of a line or a mark, as numbers on both axes."""
        (x0, x1), (y0, y1) = self.scale("x"), self.scale("y")
        return [(x0 + x1 * x, y0 + y1 * y) for x, y in self._places(name)]

    def along_x(self, name: str) -> list[float]:
        """The places of a part along the x axis alone: of a bar its ends."""
        start, slope = self.scale("x")
        return [start + slope * x for x, _ in self._places(name)]
