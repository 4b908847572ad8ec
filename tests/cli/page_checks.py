"""What is wrong with a page: tags, names of places and the ways to them, tables, headings, anything from outside."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from pathlib import Path

import swaplint.reports.html

STYLE = Path(swaplint.reports.html.__file__).with_name("page.css").read_text("utf-8")
NO_END = {"meta", "br", "link", "img", "input"}
TAGS = frozenset(
    [
        "html",
        "head",
        "meta",
        "title",
        "style",
        "body",
        "a",
        "div",
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "main",
        "section",
        "article",
        "header",
        "footer",
        "nav",
        "ul",
        "li",
        "p",
        "dl",
        "dt",
        "dd",
        "table",
        "caption",
        "thead",
        "tbody",
        "tr",
        "th",
        "td",
        "details",
        "summary",
        "code",
        "span",
        "strong",
        "b",
        "i",
        "figure",
        "figcaption",
    ]
)
"""The elements of a page, without those of drawings."""
OF_DRAWINGS = frozenset(
    "svg g path text title desc defs use clippath rect line circle tspan polyline polygon".split()  # noqa: SIM905
)
ATTRIBUTES = frozenset(
    "class id href lang charset name content http-equiv scope aria-label role tabindex".split()  # noqa: SIM905
)


class Read(HTMLParser):
    """A page as a program reads it, and what is wrong with it."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.wrong: list[str] = []
        self.open: list[str] = []
        self.ids: dict[str, int] = {}
        self.ways: list[str] = []
        self.headings: list[int] = []
        self.text: list[tuple[str, str]] = []
        """Each text with the element that it stands in."""
        self.headed = 0
        """How many texts stood before the last table header."""
        self.first: list[str] = []
        """The first element in each of those that are open."""
        self.feed(page)
        self.close()
        self.wrong += [f"{tag} is not ended" for tag in self.open]
        self.wrong += [f"the name {id} is given {count} times" for id, count in self.ids.items() if count > 1]
        self.wrong += [f"no place is named {way}" for way in self.ways if way not in self.ids]
        steps = zip(self.headings, self.headings[1:], strict=False)
        self.wrong += [f"a heading h{low} follows h{high}" for high, low in steps if low > high + 1]
        if self.headings.count(1) != 1:
            self.wrong.append(f"{self.headings.count(1)} headings h1")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        inside_drawing = "svg" in self.open or tag == "svg"
        known = OF_DRAWINGS if inside_drawing else TAGS
        if tag not in known:
            self.wrong.append(f"an element {tag}")
        if self.first and not self.first[-1]:
            self.first[-1] = tag
            if (self.open[-1] == "details" and tag != "summary") or (self.open[-1] == "table" and tag != "caption"):
                self.wrong.append(f"{self.open[-1]} begins with {tag}")
        if tag == "th" and given.get("scope") not in ("row", "col"):
            self.wrong.append("a table header without scope")
        if tag == "th":
            self.headed = len(self.text)
        if tag == "svg" and given.get("role") != "img":
            self.wrong.append("a drawing without role")
        for name, value in attrs:
            if not inside_drawing and name not in ATTRIBUTES:
                self.wrong.append(f"an attribute {name}")
            if name.startswith("on") or (name in ("href", "xlink:href") and not (value or "").startswith("#")):
                self.wrong.append(f"{name}={value}")
            if re.search(r"url\((?!#)|https?:|javascript:", value or "") and name != "xmlns":
                self.wrong.append(f"{name} leads outside: {value}")
        if "id" in given:
            self.ids[given["id"] or ""] = self.ids.get(given["id"] or "", 0) + 1
        if tag == "a" and given.get("href"):
            self.ways.append((given["href"] or "")[1:])
        if re.fullmatch(r"h[1-6]", tag):
            self.headings.append(int(tag[1]))
        if tag not in NO_END:
            self.open.append(tag)
            self.first.append("")

    def handle_endtag(self, tag: str) -> None:
        if tag == "th" and self.headed == len(self.text):
            self.wrong.append("a table header without words")
        if not self.open or self.open[-1] != tag:
            self.wrong.append(f"{tag} ends inside {self.open[-1:]}")
            return
        self.open.pop()
        self.first.pop()

    def handle_data(self, data: str) -> None:
        if self.open:
            self.text.append((self.open[-1], data))

    def of(self, tag: str) -> list[str]:
        """The texts that stand directly in an element."""
        return [text for where, text in self.text if where == tag]


# -- colours ---------------------------------------------------------------------------------------------------------
def palettes(style: str = STYLE) -> dict[str, dict[str, str]]:
    """The colours by name, of the light page and of the dark one."""
    light, dark = re.findall(r":root \{(.*?)\}", style, re.S)[:2]
    return {
        name: dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6})", text)) for name, text in (("light", light), ("dark", dark))
    }


def contrast(one: str, other: str) -> float:
    """The contrast of two colours as the accessibility guidelines compute it."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
