"""Numbers read back from a drawing: from where a line stands between the ticks of the axes, as a person would."""

from __future__ import annotations

import math
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
    log: bool = False
    """Whether its x axis has equal steps for equal ratios."""

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

    def axes_of(self, name: str) -> ElementTree.Element:
        """The axes that a part is drawn in: of one of several sketches its own."""
        wanted = self.groups[name]
        return next(
            group
            for axes, group in self.groups.items()
            if re.fullmatch(r"axes_\d+", axes) and any(inner is wanted for inner in group.iter())
        )

    def scale(self, along: str, axes: ElementTree.Element) -> tuple[float, float]:
        """How a place along an axis becomes a number: start and slope, from the ticks at both ends."""
        ticks = []
        for group in axes.iter(f"{_SVG}g"):
            if f"--{along}tick_" not in group.get("id", ""):
                continue
            use, text = next(group.iter(f"{_SVG}use"), None), next(group.iter(f"{_SVG}text"), None)
            if use is not None and text is not None and text.text:
                ticks.append((float(use.get(along, "nan")), _number(text.text)))
        (a, first), (b, last) = ticks[0], ticks[-1]
        if self.log:
            first, last = math.log(first), math.log(last)
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
        axes = self.axes_of(name)
        (x0, x1), (y0, y1) = self.scale("x", axes), self.scale("y", axes)
        return [(x0 + x1 * x, y0 + y1 * y) for x, y in self._places(name)]

    def along_x(self, name: str) -> list[float]:
        """The places of a part along the x axis alone: of a bar its ends."""
        start, slope = self.scale("x", self.axes_of(name))
        found = [start + slope * x for x, _ in self._places(name)]
        return [math.exp(x) for x in found] if self.log else found

    def width(self, name: str) -> float:
        """How long a bar is."""
        ends = self.along_x(name)
        return max(ends) - min(ends)

    # -- what is written, and where -----------------------------------------------------------------------------------
    def written(self) -> list[tuple[str, tuple[float, float, float, float]]]:
        """Every text with the box that it takes at most: left, top, right and bottom."""
        from matplotlib.font_manager import FontProperties
        from matplotlib.textpath import text_to_path

        out = []
        for text in self.root.iter(f"{_SVG}text"):
            says = "".join(text.itertext())
            style = dict(part.split(": ") for part in text.get("style", "").split("; ") if ": " in part)
            size = float(style["font-size"].removesuffix("px"))
            font = FontProperties(
                family="DejaVu Sans", weight="bold" if style.get("font-weight") == "700" else "normal"
            )
            wide = text_to_path.get_text_width_height_descent(says, font, False)[0] * size / font.get_size_in_points()
            turned = "rotate" in text.get("transform", "")
            x, y = (float(n) for n in (text.get("x", "nan"), text.get("y", "nan")))
            if "translate" in text.get("transform", ""):
                x, y = (float(n) for n in re.findall(r"-?[\d.]+", text.get("transform", ""))[:2])
            before = {"middle": 0.5, "end": 1.0}.get(style.get("text-anchor", "start"), 0.0) * wide
            if turned:
                out.append((says, (x - 0.75 * size, y - wide + before, x, y + before)))
            else:
                out.append((says, (x - before, y - 0.75 * size, x - before + wide, y)))
        return out

    def cut_off(self) -> list[str]:
        """The texts that stand out of the drawing."""
        _, _, wide, high = (float(n) for n in self.root.get("viewBox", "").split())
        return [
            says
            for says, (left, top, right, bottom) in self.written()
            if left < -0.5 or top < -0.5 or right > wide + 0.5 or bottom > high + 0.5
        ]

    def overlapping(self) -> list[tuple[str, str]]:
        """The pairs of texts that cover each other."""
        found, every = [], self.written()
        for number, (says, one) in enumerate(every):
            for other_says, other in every[number + 1 :]:
                wide = min(one[2], other[2]) - max(one[0], other[0])
                high = min(one[3], other[3]) - max(one[1], other[1])
                if wide > 1.0 and high > 1.0:
                    found.append((says, other_says))
        return found
