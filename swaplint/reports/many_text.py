"""Many specs in one table: a line each."""

from __future__ import annotations

from collections.abc import Sequence

from swaplint.declare.verdicts import LEVELS
from swaplint.gating.gate import GateLevel, gate_of
from swaplint.inspecting.results import Inspection
from swaplint.reports.baseline_text import counts_words
from swaplint.reports.head import accepted_words, reviews_words
from swaplint.reports.layout import Sheet, cut
from swaplint.reports.naming import counted

COLUMNS = ("gate", "errors", "warnings", "notes", "owed", "review    ")
NARROW = 8
"""A column's least width. The last has in brackets how many of its reviews are those of error-level rules."""


MOST_SHUT = 20
"""How many shut specs are listed with what shuts them."""
MOST_RULES = 4
"""How many rules are named for each."""


def add_table(sheet: Sheet, inspections: Sequence[Inspection], level: GateLevel, unreadable: int = 0) -> None:
    """Add a line for each spec, in the order given, and how many gates are shut and specs could not be read."""
    room = sheet.width - sum(max(NARROW, len(name) + 2) for name in COLUMNS) - 11
    names = [cut(inspection.spec.label, room) for inspection in inspections]
    first = max(4, *map(len, names))
    sheet.line(("spec".ljust(first) + "  stage     ", "bold"), *((_cell(name, name), "bold") for name in COLUMNS))
    shut = left = accepted = 0
    for name, inspection in zip(names, inspections, strict=True):
        counts, gate = inspection.counts(), gate_of(inspection, level)
        fails, due = counts["fail"], counts["due"]
        assert isinstance(fails, dict)
        assert isinstance(due, dict)
        shut += not gate.open
        left += gate.reviews
        accepted += gate.accepted
        stage = inspection.stage + ("?" if inspection.assumed_stage else "")
        numbers = [*(fails[one] for one in LEVELS), sum(due.values()), counts["review"]]
        words = [str(number or "·") for number in numbers]
        words[-1] += (f" ({gate.reviews})" if gate.reviews else "").ljust(len(" (0)"))
        cells = [(_cell(column, word), "") for column, word in zip(COLUMNS[1:], words, strict=True)]
        gated = (_cell("gate", "open" if gate.open else "shut"), "green" if gate.open else "bold red")
        sheet.line((f"{name.ljust(first)}  {stage.ljust(10)}", ""), gated, *cells)
    _add_shut(sheet, inspections, level)
    sheet.blank()
    gates = f"{counted(len(inspections), 'spec')}, the gate is shut for {shut}{reviews_words(left)}"
    gates += " (in brackets)" if left else ""
    sheet.wrapped(f"{gates}{accepted_words(accepted)}.", style="bold")
    terms = inspections[0].terms
    if terms.policy is not None:
        sheet.wrapped(f"Policy: {terms.policy} ({terms.policy.file}).")
    wrong = sum(len(inspection.terms.deviations_wrong) for inspection in inspections)
    if wrong:
        sheet.wrapped(f"Deviations that accept nothing, or not as they must: {wrong}.", style="bold red")
    days = [inspection.terms.on for inspection in inspections if inspection.terms.on]
    if days:
        sheet.wrapped(f"What depends on the day is judged as on {days[0]}.")
    if unreadable:
        sheet.wrapped(f"{counted(unreadable, 'spec')} more could not be read and judged.", style="bold red")
    for inspection in inspections:
        if inspection.baseline is not None:
            sheet.wrapped(f"{inspection.spec.label}: {counts_words(inspection.baseline)}.")
    if any(inspection.assumed_stage for inspection in inspections):
        sheet.wrapped("A stage with ? is not stated in the spec.")
    sheet.wrapped("Name one spec to see its sheet, or add --whole for all of each.", style="dim")


def _add_shut(sheet: Sheet, inspections: Sequence[Inspection], level: GateLevel) -> None:
    """The specs whose gate is shut, worst first, each with what shuts it."""
    shut = [(inspection, gate) for inspection in inspections if not (gate := gate_of(inspection, level)).open]
    if not shut:
        return
    shut.sort(key=lambda one: (_badness(one[0]), one[0].spec.label))
    sheet.blank()
    sheet.line(("shut, worst first", "bold"))
    for inspection, gate in shut[:MOST_SHUT]:
        by = [*gate.not_run, *gate.packs_missing, *gate.packs_wanted, *gate.shut_by]
        by += ["deviations"] if gate.deviations and not by else []
        more = f" and {len(by) - MOST_RULES} more" if len(by) > MOST_RULES else ""
        sheet.wrapped(f"{inspection.spec.label}: {', '.join(by[:MOST_RULES])}{more}", indent=2)
    if len(shut) > MOST_SHUT:
        sheet.wrapped(f"and {len(shut) - MOST_SHUT} more specs", indent=2)


def _badness(inspection: Inspection) -> tuple[int, ...]:
    """The more negative the worse: rules without a result, then fails and what is owed, level by level."""
    counts = inspection.counts()
    fails, due = counts["fail"], counts["due"]
    assert isinstance(fails, dict)
    assert isinstance(due, dict)
    return (-len(inspection.broken), *(-number for one in LEVELS for number in (fails[one], due[one])))


def _cell(column: str, text: str) -> str:
    return text.rjust(max(NARROW, len(column) + 2))
