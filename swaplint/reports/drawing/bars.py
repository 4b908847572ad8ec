"""Values side by side, each against its limit; and budgets, step by step."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from swaplint.declare.figures import Bar, Bars, Budget, Budgets
from swaplint.reports.drawing.canvas import LIMIT, LINES, PAPER, QUIET, named
from swaplint.reports.drawing.numbers import in_words, on_axis, titled
from swaplint.reports.drawing.words import end_of, ends_beyond, is_beyond, signed

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure as Paper

_ROW: Final = 0.27
"""Height of a bar with its gap, in inches."""
_FRAME: Final = 0.95
"""Height of the axis, its title and the legend."""
_OF_GROUP: Final = 0.9
"""What a group's name takes, in rows."""


def bars_height(form: Bars) -> float:
    """The height that bars take, in inches."""
    rows = sum(len(bars) + (_OF_GROUP if name else 0.3) for name, bars in form.groups if bars)
    return _FRAME + _ROW * rows


def draw_bars(form: Bars, sheet: Paper) -> None:
    """Draw bars on a sheet, group below group."""
    axes = sheet.add_subplot()
    row, ticks, heads = 0.0, [], []
    beyond = False
    for group, bars in form.groups:
        if not bars:
            continue
        row += _OF_GROUP if group else 0.3
        if group:
            heads.append((row - 0.15, group))
        for bar in bars:
            ticks.append((row + 0.5, bar.name))
            beyond = _draw_bar(axes, form, group, bar, row + 0.5) or beyond
            row += 1
    _rows(axes, row, ticks)
    for at, group in heads:
        axes.annotate(
            named(group, 50),
            (0, at),
            xycoords=("axes fraction", "data"),
            xytext=(4, 0),
            textcoords="offset points",
            va="bottom",
            fontweight="bold",
        )
    axes.set_xlabel(titled(form.axis))
    _room(axes)
    marks: list[Any] = [axes.barh([-1], [0], color=LINES[0])]
    names = [named(form.value_name, 28)]
    if any(bar.limit is not None for _, bars in form.groups for bar in bars):
        marks.append(axes.plot([], [], "|", color=LIMIT, markersize=11, markeredgewidth=2.4)[0])
        names.append(named(form.limit_name, 24))
    if beyond:
        marks.append(axes.barh([-1], [0], **_look(True)))
        names.append(f"beyond its {named(form.limit_name, 16)}")
    sheet.legend(marks, names, loc="outside lower center", ncols=len(names))


def _draw_bar(axes: Axes, form: Bars, group: str, bar: Bar, at: float) -> bool:
    """Draw one bar; whether it is beyond its limit."""
    value = on_axis(form.axis, bar.value)
    limit = None if bar.limit is None else on_axis(form.axis, bar.limit)
    beyond = is_beyond(bar)
    for patch in axes.barh([at], [value], height=0.62, linewidth=0, **_look(beyond)):
        patch.set_gid(f"bar:{group}:{bar.name}")
    says = in_words(form.axis, bar.value)
    end = max(value, 0.0)
    if limit is not None:
        axes.plot([limit, limit], [at - 0.44, at + 0.44], color=LIMIT, linewidth=2.4, gid=f"limit:{group}:{bar.name}")
        says += f" of {in_words(form.axis, bar.limit)}" if bar.limit is not None else ""
        end = max(end, limit)
    axes.annotate(says, (end, at), xytext=(5, 0), textcoords="offset points", va="center", fontsize=8)
    return beyond


def _look(beyond: bool) -> dict[str, Any]:
    """Of a bar: what is beyond its limit is hatched, too."""
    return {"color": LIMIT, "hatch": "////", "edgecolor": PAPER} if beyond else {"color": LINES[0]}


def _rows(axes: Axes, count: float, ticks: list[tuple[float, str]]) -> None:
    axes.set_ylim(count + 0.1, 0)
    axes.set_yticks([at for at, _ in ticks], [named(name, 30) for _, name in ticks])
    axes.tick_params(axis="y", length=0)
    axes.grid(visible=False, axis="y")
    axes.axvline(0, color=QUIET, linewidth=0.8)


def _room(axes: Axes) -> None:
    """Room for the number behind the longest bar."""
    low, high = axes.get_xlim()
    axes.set_xlim(min(low, 0.0), high + 0.28 * (high - min(low, 0.0)))


# -- budgets ----------------------------------------------------------------------------------------------------------
def budgets_height(form: Budgets) -> float:
    """The height that budgets take, in inches."""
    return _FRAME + _ROW * sum(len(budget.steps) + 2.6 + bool(budget.start_name) for budget in form.budgets)


def draw_budgets(form: Budgets, sheet: Paper) -> None:
    """Draw budgets on a sheet, one below the other: each step from where the one before it ended."""
    axes = sheet.add_subplot()
    row = 0.0
    ticks: list[tuple[float, str]] = []
    _fit(axes, form)
    for budget in form.budgets:
        axes.annotate(
            named(budget.name, 50),
            (0, row + 0.75),
            xycoords=("axes fraction", "data"),
            xytext=(4, 0),
            textcoords="offset points",
            va="bottom",
            fontweight="bold",
        )
        row += 1.0
        row = _draw_budget(axes, form, budget, row, ticks)
        row += 0.4 if budget.limit is None else 0.8
    _rows(axes, row, ticks)
    axes.set_xlabel(titled(form.axis))
    if any(budget.limit is not None for budget in form.budgets):
        marks: list[Any] = [axes.plot([], [], color=LIMIT, linewidth=2)[0]]
        names = [named(form.limit_name, 44)]
        if any(ends_beyond(budget) for budget in form.budgets):
            marks.append(axes.barh([-1], [0], **_look(True)))
            names.append("beyond it")
        sheet.legend(marks, names, loc="outside lower center", ncols=len(names))


def _draw_budget(axes: Axes, form: Budgets, budget: Budget, row: float, ticks: list[tuple[float, str]]) -> float:
    first = row
    if budget.start_name:
        _total(axes, form, budget, budget.start_name, budget.start, row + 0.5, ticks)
        row += 1
    at = float(budget.start)
    for name, change in budget.steps:
        start, end = on_axis(form.axis, at), on_axis(form.axis, at + float(change))
        bars = axes.barh([row + 0.5], [end - start], left=[start], height=0.6, color=LINES[1], linewidth=0)
        for patch in bars:
            patch.set_gid(f"step:{budget.name}:{name}")
        axes.plot([end, end], [row + 0.5, row + 1.5], color=QUIET, linewidth=0.7)
        _number(axes, form, budget, signed(form.axis, float(change)), max(start, end), row + 0.5)
        ticks.append((row + 0.5, name))
        at += float(change)
        row += 1
    _total(axes, form, budget, budget.end_name, end_of(budget), row + 0.5, ticks)
    row += 1
    if budget.limit is not None:
        limit = on_axis(form.axis, budget.limit)
        axes.plot([limit, limit], [first, row], color=LIMIT, linewidth=2, gid=f"limit:{budget.name}")
        axes.annotate(
            in_words(form.axis, budget.limit),
            (limit, row),
            xytext=(0, -1),
            textcoords="offset points",
            ha="center",
            va="top",
            color=LIMIT,
            fontsize=8,
        )
    return row


def _total(
    axes: Axes, form: Budgets, budget: Budget, name: str, value: float, at: float, ticks: list[tuple[float, str]]
) -> None:
    look = _look(ends_beyond(budget) and name == budget.end_name)
    for patch in axes.barh([at], [on_axis(form.axis, value)], height=0.6, linewidth=0, **look):
        patch.set_gid(f"total:{budget.name}:{name}")
    _number(axes, form, budget, in_words(form.axis, value), max(0.0, on_axis(form.axis, value)), at, bold=True)
    ticks.append((at, name))


def _number(axes: Axes, form: Budgets, budget: Budget, says: str, x: float, at: float, *, bold: bool = False) -> None:
    """A number behind its bar, or behind the limit where it would stand on that."""
    low, high = axes.get_xlim()
    if budget.limit is not None and 0.0 <= on_axis(form.axis, budget.limit) - x < 0.16 * (high - low):
        x = on_axis(form.axis, budget.limit)
    weight = "bold" if bold else "normal"
    axes.annotate(says, (x, at), xytext=(5, 0), textcoords="offset points", va="center", fontsize=8, fontweight=weight)


def _fit(axes: Axes, form: Budgets) -> None:
    """From where it matters: a budget whose steps are small beside its start does not begin at zero."""
    places: list[float] = []
    for budget in form.budgets:
        at = float(budget.start)
        places += [at] if budget.start_name else [0.0]
        for _, change in budget.steps:
            at += float(change)
            places.append(at)
        if budget.limit is not None:
            places.append(float(budget.limit))
    ends = sorted(on_axis(form.axis, place) for place in (min(places), max(places)))
    if ends[0] > 0.3 * ends[1] > 0:
        ends[0] -= 0.15 * (ends[1] - ends[0])
    else:
        ends[0] = min(0.0, ends[0])
    axes.set_xlim(ends[0], ends[1] + 0.2 * ((ends[1] - ends[0]) or 1.0))
