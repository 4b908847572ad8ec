"""The margins of all results on one scale: what stands close to its limit, and what beyond it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from swaplint.inspecting.results import Finding
from swaplint.reports.drawing.canvas import DOUBT, GOOD, GRID, INK, LIMIT, PAPER, QUIET, paper, svg_of
from swaplint.reports.naming import counted
from swaplint.spec.systems import SYSTEMS

LOWEST: Final = -0.5
HIGHEST: Final = 1.0
"""Of the scale: what stands further out stands at its end."""
_BIN: Final = 0.02
"""Marks closer than this share of the limit stand on each other."""
_ROW: Final = 0.34
"""Height of a system's row, in inches."""
TITLE: Final = "Margins of all results on one scale"


@dataclass(frozen=True, slots=True)
class Look:
    """How the results of a kind are marked: by shape as well as by colour."""

    name: str
    marker: str
    colour: str
    filled: bool


LOOKS: Final = (
    Look("inside the limit", "o", GOOD, False),
    Look("left to a person", "D", DOUBT, True),
    Look("accepted by a deviation", "s", QUIET, True),
    Look("beyond the limit", "X", LIMIT, True),
)


def look_of(finding: Finding) -> Look:
    """How a result is marked."""
    if finding.suppression is not None:
        return LOOKS[2]
    return {"pass": LOOKS[0], "fail": LOOKS[3]}.get(finding.kind, LOOKS[1])


def with_margins(findings: Sequence[Finding]) -> list[Finding]:
    """The results that have a number and a limit to hold it against, by system, the tightest first."""
    held = [f for f in findings if f.margin is not None and f.kind in ("pass", "fail", "review")]
    return sorted(held, key=lambda f: (SYSTEMS.index(f.rule.system), f.margin or 0.0, f.key))


def margin_shown(margin: float) -> str:
    """A margin as the drawing writes it.

    >>> margin_shown(0.124), margin_shown(-0.004), margin_shown(7.3)
    ('+12 %', '−0.4 %', '+730 %')
    """
    percent = abs(margin) * 100
    digits = f"{percent:.1f}" if percent < 2 else f"{percent:.0f}"
    return f"{'−' if margin < 0 else '+'}{digits} %"


def margins_words(findings: Sequence[Finding]) -> str:
    """The drawing in words: how many, which are beyond their limit, and the tightest of each system."""
    held = with_margins(findings)
    beyond = sum(1 for f in held if look_of(f) is LOOKS[3])
    tightest = [
        f"{system} {margin_shown(first.margin or 0.0)} ({first.rule.id}{_part(first)})"
        for system, (first, *_) in _rows(held)
    ]
    return (
        f"{counted(len(held), 'result')} with a number and a limit, {beyond or 'none'} beyond the limit. A margin is "
        f"what is left to the limit, as a share of it. Tightest of each system: {'; '.join(tightest)}."
    )


def _part(finding: Finding) -> str:
    return f", {finding.part}" if finding.part else ""


def _rows(held: Sequence[Finding]) -> list[tuple[str, list[Finding]]]:
    return [(system, list(group)) for system, group in groupby(held, key=lambda f: f.rule.system)]


def margins_svg(findings: Sequence[Finding]) -> str:
    """The drawing."""
    rows = _rows(with_margins(findings))
    with paper(0.95 + _ROW * len(rows)) as sheet:
        axes = sheet.add_subplot()
        axes.axvspan(LOWEST - 0.05, 0, color=LIMIT, alpha=0.08, linewidth=0)
        axes.axvline(0, color=LIMIT, linewidth=1.4)
        for number, (system, group) in enumerate(rows):
            places = _places(group, -number)
            for look in LOOKS:
                of_look = [place for finding, place in zip(group, places, strict=True) if look_of(finding) is look]
                if of_look:
                    axes.plot(
                        [x for x, _ in of_look],
                        [y for _, y in of_look],
                        look.marker,
                        color=look.colour,
                        markerfacecolor=look.colour if look.filled else PAPER,
                        markeredgecolor=look.colour if not look.filled else PAPER,
                        markeredgewidth=0.9 if not look.filled else 0.5,
                        markersize=4.2 if not look.filled else 6.5,
                        gid=f"{system}:{look.name}",
                        zorder=3 if not look.filled else 4,
                    )
        axes.set_xlim(LOWEST - 0.05, HIGHEST + 0.05)
        axes.set_ylim(-len(rows) + 0.4, 0.6)
        axes.set_xticks(
            [LOWEST, -0.25, 0, 0.25, 0.5, 0.75, HIGHEST],
            ["−50 %\nor worse", "−25 %", "at the\nlimit", "25 %", "50 %", "75 %", "100 %\nor more"],
        )
        axes.set_yticks([-n for n in range(len(rows))], [system for system, _ in rows])
        axes.tick_params(axis="y", length=0)
        axes.grid(axis="y", color=GRID)
        other = axes.secondary_yaxis("right")
        other.set_yticks([-n for n in range(len(rows))], [_tightest(group[0]) for _, group in rows], color=INK)
        other.tick_params(length=0, labelsize=8)
        other.spines["right"].set_visible(False)
        shown = [look for look in LOOKS if any(look_of(f) is look for _, group in rows for f in group)]
        handles = [
            axes.plot([], [], look.marker, color=look.colour, markerfacecolor=look.colour if look.filled else PAPER)[0]
            for look in shown
        ]
        sheet.legend(handles, [look.name for look in shown], loc="outside lower center", ncols=min(3, len(shown)))
        return svg_of(sheet, "host.margins", TITLE, margins_words(findings))


def _tightest(finding: Finding) -> str:
    return f"{finding.rule.id.partition('.')[2]} {margin_shown(finding.margin or 0.0)}"


def _places(group: Sequence[Finding], row: int) -> list[tuple[float, float]]:
    """Where the marks of a row stand: at their margins, those that would cover each other side by side."""
    heaps: dict[int, int] = {}
    out = []
    for finding in group:
        at = min(HIGHEST, max(LOWEST, finding.margin or 0.0))
        bin = round(at / _BIN)
        heaps[bin] = number = heaps.get(bin, -1) + 1
        side = (number + 1) // 2 * (1 if number % 2 else -1)
        out.append((at, row + max(-0.4, min(0.4, side * 0.11))))
    return out
