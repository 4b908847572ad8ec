"""The report of `study`, as text, JSON and CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from swaplint.declare.cautions import CLOSING
from swaplint.host.problems import Problem
from swaplint.inspecting.selection import EVERYTHING, Selection
from swaplint.reports.json_report import problem_json, selection_json
from swaplint.reports.judging import NOTHING_KNOWN, Judging, add_not_judged
from swaplint.reports.layout import Sheet, safe
from swaplint.reports.naming import counted, listed
from swaplint.reports.sizing import add_stated_anyway, value_json
from swaplint.reports.takeoff_words import problem_words
from swaplint.reports.values import margin_words, number_words, size_words
from swaplint.solving.study import Row, Study, Varied, quantity_named
from swaplint.spec.facts import Stated
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.table_text import harmless
from swaplint.units.output import in_unit, in_unit_shown, plain_number, unit_shown
from swaplint.units.value import Value

T = TypeVar("T")
TEXT_ROWS = 40
NOT_WITHIN_TOLERANCES = "Too many combinations to look at each within the tolerances: each is judged as stated."
NARROWEST = 44
"""What came of a combination stands below it where it has less room than that beside it."""


def study_json(
    label: str,
    study: Study,
    rows: Sequence[Row],
    selection: Selection = EVERYTHING,
    problems: Sequence[Problem] = (),
) -> dict[str, Any]:
    """The contract's JSON. `problems` is what could not be read, loaded or run."""
    return {
        "spec": label,
        "vary": {v.pattern: [value_json(value, v.facts) for value in v.values] for v in study.varied},
        "rows": [
            {
                "values": {
                    v.pattern: value_json(value, v.facts) for v, value in zip(study.varied, row.values, strict=True)
                },
                "fails": list(row.fails),
                "reviews": list(row.reviews),
                "open": list(row.opens),
                "opens": list(row.opens),
                "broken": list(row.broken),
                "worst_margin": None if row.worst_margin is None else plain_number(row.worst_margin),
                "worst_rule": row.worst_rule,
                "shown": _by_id(study, _shown(study, row)),
            }
            for row in rows
        ],
        "units": {
            **{v.pattern: v.facts.unit or None for v in study.varied},
            **_by_id(study, [_unit(study, name) for name in study.show]),
        },
        "combinations": study.count,
        "unmoved": study.unmoved,
        "stated_anyway": study.stated_anyway,
        "within_tolerances": study.within_tolerances,
        "selection": selection_json(selection),
        "problems": [problem_json(problem) for problem in problems],
    }


def _by_id(study: Study, values: Sequence[T]) -> dict[str, T]:
    """What is shown by its name; of a quantity of several parts also by its id alone, which is the first of them."""
    named = dict(zip(study.show, values, strict=True))
    ids: dict[str, T] = {}
    for name, value in named.items():
        ids.setdefault(name.partition(" ")[0], value)
    return {**named, **ids}


def study_csv(study: Study, rows: Sequence[Row], problems: Sequence[Problem] = ()) -> str:
    """A table for a spreadsheet; units stand in the heads of the columns.

    What could not be read, loaded or run, or was not looked at, stands in rows of its own, in the last column.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(
        [
            *(_head(v.pattern, unit_shown(v.facts.kind_name, v.facts.unit, v.pattern)) for v in study.varied),
            "fails",
            "reviews",
            "open",
            "broken",
            "worst margin",
            "worst rule",
            *(_head(name, _unit_shown(study, name)) for name in study.show),
            "note",
        ]
    )
    for row in rows:
        writer.writerow(
            [
                *(_harmless(_cell_value(value, v)) for v, value in zip(study.varied, row.values, strict=True)),
                " ".join(row.fails),
                " ".join(row.reviews),
                " ".join(row.opens),
                " ".join(row.broken),
                "" if row.worst_margin is None else plain_number(row.worst_margin),
                row.worst_rule or "",
                *("" if value is None else value for value in _shown(study, row, in_unit_shown)),
                "",
            ]
        )
    before = len(study.varied) + 6 + len(study.show)
    notes = [] if study.within_tolerances else [NOT_WITHIN_TOLERANCES]
    for note in [*notes, *map(problem_words, problems)]:
        writer.writerow([*[""] * before, _harmless(safe(note))])
    return out.getvalue()


def study_sheet(
    spec: LoadedSpec,
    study: Study,
    rows: Sequence[Row],
    judging: Judging,
    width: int,
    top: int | None,
    selection: Selection = EVERYTHING,
) -> Sheet:
    """The combinations as a person reads them, best first. `judging` is what can be said of the first of them."""
    sheet = Sheet.of_width(width)
    shared = add_question(sheet, spec, study, rows, judging, selection)
    best = rows[: top or TEXT_ROWS]
    cells = [row_words(study, row) for row in best]
    heads = heads_of(study)
    widths = [max([len(head), *(len(line[n]) for line in cells)]) for n, head in enumerate(heads)]
    hang = sum(widths) + 2 * len(widths)
    # Where there is no room for a table, each combination names its numbers one after another.
    wide = hang - 2 > sheet.width
    beside = wide and _side_by_side(sheet, heads, cells, best, judged=bool(judging.judging))
    sheet.heading("BEST FIRST")
    if not wide:
        sheet.line(("  ".join(head.rjust(w) for head, w in zip(heads, widths, strict=True)), "bold"))
    for number, (row, line) in enumerate(zip(best, cells, strict=True), 1):
        outcome = outcome_words(row, shared, judging)
        style = "green" if judging.judging and not row.fails and not row.broken else "dim"
        label = "  ".join(cell.rjust(w) for cell, w in zip(line, widths, strict=True)) + "  "
        named = ", ".join(f"{head} {cell}" for head, cell in zip(heads, line, strict=True))
        if beside:
            named = f"{number}: {', '.join(line[: len(study.varied)])}"
        if wide:
            sheet.wrapped(named, hang=4)
            sheet.wrapped(outcome, indent=4, style=style)
        elif hang > sheet.width - NARROWEST:
            sheet.line((label.rstrip(), ""))
            sheet.wrapped(outcome, indent=4, style=style)
        else:
            sheet.wrapped(outcome, label=label, hang=hang, label_style="", style=style)
    if len(rows) > len(best):
        sheet.wrapped(f"and {len(rows) - len(best)} more, see --top, or --format csv for all")
    add_not_judged(sheet, judging, fields_words(study))
    sheet.blank()
    sheet.wrapped(verdict_words(study, rows, judging), style="bold")
    sheet.blank()
    sheet.wrapped(CLOSING, style="italic")
    return sheet


def add_question(
    sheet: Sheet,
    spec: LoadedSpec,
    study: Study,
    rows: Sequence[Row],
    judging: Judging,
    selection: Selection,
) -> Shared:
    """Add what is varied, who judges it and what holds for every combination, which is given back."""
    varied = listed([v.pattern for v in study.varied])
    sheet.wrapped(f"{counted(study.count, 'combination')} of {varied}", style="bold")
    judges = counted(len(judging.judging), "rule judges", "rules judge") if judging.judging else "no rule judges"
    sheet.wrapped(f"{spec.label}; {judges} {fields_words(study)}{'' if judging.judging else ' yet'}")
    if selection:
        sheet.wrapped(f"Judged only by: {selection.words}. What other rules say is not looked at.")
    if study.unmoved:
        sheet.wrapped(f"Left out of account, because they fail whatever is chosen here: {', '.join(study.unmoved)}.")
    if study.stated_anyway:
        add_stated_anyway(sheet, study.stated_anyway)
    if not study.within_tolerances:
        sheet.wrapped(NOT_WITHIN_TOLERANCES)
    shared = Shared.of(rows)
    for ids, what in ((shared.fails, "What fails"), (shared.reviews, "What a person must decide on")):
        if ids:
            sheet.wrapped(f"{what} in every combination, not said again below: {', '.join(sorted(ids))}.")
    return shared


def fields_words(study: Study) -> str:
    """What the fields that are varied are called."""
    return ("this field", "these fields")[len(study.varied) > 1]


def heads_of(study: Study) -> list[str]:
    """What stands above the numbers of the combinations."""
    return [*(short_name(v.pattern) for v in study.varied), *map(_short_shown, study.show), "worst margin"]


def row_words(study: Study, row: Row) -> list[str]:
    """The numbers of one combination."""
    return [
        *(number_or_word(value, v) for v, value in zip(study.varied, row.values, strict=True)),
        *(_cell(study, name, value) for name, value in zip(study.show, row.shown, strict=True)),
        margin_words(row.worst_margin) or "no number",
    ]


def verdict_words(study: Study, rows: Sequence[Row], judging: Judging) -> str:
    """How many combinations pass, in a sentence."""
    passing = sum(1 for row in rows if not row.fails and not row.broken)
    every = {0: f"Each of {len(rows)} combinations fails", len(rows): f"None of {len(rows)} combinations fails"}
    if len(rows) == 1:
        every = {0: "The combination fails", 1: "The combination does not fail"}
    few = f"{passing} of {len(rows)} combinations fail no rule"
    verdict = f"{every[passing]} a rule" if passing in every else few
    so_far = ", as far as these can judge" if judging.opens else ""
    return f"{verdict} that reads {fields_words(study)}{so_far}." if judging.judging else NOTHING_KNOWN


def _side_by_side(
    sheet: Sheet, heads: Sequence[str], cells: Sequence[Sequence[str]], rows: Sequence[Row], *, judged: bool
) -> bool:
    """Add a column for each combination, where these have room beside each other; whether they have."""
    counts: list[tuple[str, list[str]]] = []
    if judged:
        counts = [
            (what, [str(len(ids)) for ids in of_rows])
            for what, of_rows in (
                ("rules that fail", [row.fails for row in rows]),
                ("rules to review", [row.reviews for row in rows]),
                ("rules still open", [row.opens for row in rows]),
            )
        ]
    table = [("", [str(number) for number in range(1, len(rows) + 1)])]
    table += [(head, [_narrow(line[n]) for line in cells]) for n, head in enumerate(heads)]
    table += counts
    first = max(len(name) for name, _ in table)
    widths = [max(len(line[n]) for _, line in table) for n in range(len(rows))]
    if first + sum(widths) + 2 * len(widths) > sheet.width:
        return False
    sheet.heading("SIDE BY SIDE")
    for name, line in table:
        text = name.ljust(first) + "".join(f"  {cell.rjust(width)}" for cell, width in zip(line, widths, strict=True))
        sheet.line((text, "" if name else "bold"))
    return True


def _narrow(cell: str) -> str:
    """A data sheet by the name of its file alone; a number in few characters."""
    if cell.endswith(".toml"):
        return cell.rpartition("/")[2].split(".", 1)[0]
    return cell.replace("more than -", "≤ -").replace("more than +", "≥ +")


def _short_shown(name: str) -> str:
    """What is shown, a part by the last name of its path."""
    id, _, part = name.partition(" ")
    return f"{id}, {' '.join(path.rpartition('.')[2] for path in part.split(' '))}" if part else short_name(id)


@dataclass(frozen=True, slots=True)
class Shared:
    """What all rows of a study of several have in common: said once for all."""

    fails: frozenset[str] = frozenset()
    reviews: frozenset[str] = frozenset()
    opens: frozenset[str] = frozenset()

    @classmethod
    def of(cls, rows: Sequence[Row]) -> Shared:
        """Of some rows; nothing of a single one."""
        if len(rows) < 2:
            return cls(opens=frozenset(rows[0].opens if rows else ()))
        return cls(*(frozenset.intersection(*map(frozenset, ids)) for ids in zip(*map(_said, rows), strict=True)))


def _said(row: Row) -> tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]:
    return row.fails, row.reviews, row.opens


def outcome_words(row: Row, shared: Shared, judging: Judging) -> str:
    """What came of a combination, but for what came of all of them."""
    if not judging.judging and not row.fails:
        return "not judged"
    fails = [id for id in row.fails if id not in shared.fails]
    words = f"fails {', '.join(fails)}" if fails else "fails nothing more" if row.fails else "passes"
    if row.broken:
        words = f"{words if fails else 'not judged by all'}; could not be run {', '.join(row.broken)}"
    for ids, said, what in ((row.reviews, shared.reviews, "to review"), (row.opens, shared.opens, "open")):
        own = [id for id in ids if id not in said and id not in row.fails]
        if own:
            words += f"; {what} {', '.join(own)}"
    return words


def number_or_word(value: Any, varied: Any) -> str:
    """A value in the unit of its field, or its word."""
    if isinstance(value.value, bool | str):
        return str(value.written)
    return size_words(value.value, varied.facts, varied.pattern)


def _cell(study: Study, name: str, value: float | None) -> str:
    if value is None:
        return "unknown"
    quantity = quantity_named(study.what_if.base, name)
    if quantity is None:
        return margin_words(value)
    return number_words(value, quantity.kind, quantity.unit, quantity.id)


def _harmless(value: float | str | bool | None) -> float | str | bool | None:
    """A value that no spreadsheet takes for a formula."""
    return harmless(value) if isinstance(value, str) else value


def _cell_value(value: Stated, varied: Varied) -> float | str | bool | None:
    if isinstance(value.value, bool | str):
        return value.value
    return in_unit_shown(value.value, varied.facts.kind_name, varied.facts.unit, varied.pattern)


def _shown(study: Study, row: Row, number: Callable[[float, str, str], float] = in_unit) -> list[float | None]:
    out: list[float | None] = []
    for name, value in zip(study.show, row.shown, strict=True):
        quantity = quantity_named(study.what_if.base, name)
        if value is None or quantity is None:
            out.append(None if value is None else plain_number(value))
        else:
            out.append(number(Value.of(value, quantity.kind, quantity.unit, quantity.id), quantity.kind, quantity.unit))
    return out


def _unit(study: Study, name: str) -> str | None:
    quantity = quantity_named(study.what_if.base, name)
    return (quantity.unit or None) if quantity is not None else None


def _unit_shown(study: Study, name: str) -> str:
    quantity = quantity_named(study.what_if.base, name)
    return unit_shown(quantity.kind, quantity.unit, quantity.id) if quantity is not None else ""


def _head(name: str, unit: str) -> str:
    return f"{name} [{unit}]" if unit else name


def short_name(path: str) -> str:
    """The end of a long path, enough to know it by."""
    pieces = path.split(".")
    return path if len(path) <= 24 else ".".join(pieces[-2:])
