"""What a spec leaves open, as questions: one at a time on a screen, or all as a table for clipboard or spreadsheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from swaplint.inspecting.results import Ask, Inspection
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import asked_for, counted, estimates_words, listed, whom_to_ask
from swaplint.reports.values import limit_words, number_words
from swaplint.spec.facts import FieldFacts
from swaplint.spec.paths import path_key
from swaplint.writing.answers import Target, item_fields, target_of
from swaplint.writing.filling import Decided

FIELD, ANSWER = "field", "answer"
COLUMNS = (
    FIELD,
    "what it is",
    "where to find it",
    "unit or kind",
    "typical",
    "what waits for it",
    "whom to ask",
    ANSWER,
)
"""The columns of the table of questions; answers are read from the first and the last."""
MOST_NAMED = 4
"""How many of the rules that wait, or that an answer decides, are named."""


def question_rows(inspection: Inspection, asks: Iterable[Ask]) -> list[list[str]]:
    """The rows of the table of questions, the answers blank."""
    rows = []
    for ask in asks:
        says, where = asked_for(inspection, ask)
        asked, named = whom_to_ask(inspection, ask.field, where)
        whom = named or (asked or "").replace("-", " ")
        kind, typical = takes_words(inspection, ask.field)
        instead = _estimates(inspection, ask)
        if instead:
            where = " ".join([f"{where}." if where else "", *instead]).strip()
        rows.append([ask.field, says, where, kind, typical, _few(ask.rules), whom, ""])
    return rows


def add_question(sheet: Sheet, inspection: Inspection, ask: Ask, left: int) -> None:
    """Add one question: the field, what it is, where it is found, what is usual and what waits for it."""
    says, where = asked_for(inspection, ask)
    kind, typical = takes_words(inspection, ask.field)
    sheet.line((ask.field, "bold"), (f"   {counted(left, 'question')} left", "dim"))
    if says:
        sheet.wrapped(says, indent=2)
    if where:
        sheet.wrapped(where, indent=2, label="from", hang=9)
    for words in _estimates(inspection, ask):
        sheet.wrapped(words, indent=2, hang=9)
    usual = f"often {typical}" if typical else ""
    sheet.wrapped("; ".join(filter(None, (kind, usual))), indent=2, label="takes", hang=9)
    waits = counted(len(ask.rules), "rule waits", "rules wait")
    sheet.wrapped(f"{waits}: {_few(ask.rules)}", indent=2, label="for", hang=9)
    stated = inspection.stated(ask.field)
    if stated is not None:
        sheet.wrapped(stated.written, indent=2, label="now", hang=9)


def _estimates(inspection: Inspection, ask: Ask) -> list[str]:
    """What to measure for an estimate instead, where nobody has stated the field yet."""
    return estimates_words(inspection, ask.field) if inspection.stated(ask.field) is None else []


def _few(rules: Sequence[str]) -> str:
    left = len(rules) - MOST_NAMED
    return ", ".join(rules[:MOST_NAMED]) + (f" and {left} more" if left > 0 else "")


def takes_words(inspection: Inspection, field: str) -> tuple[str, str]:
    """What an answer to a field looks like, and what it often is."""
    target = target_of(type(inspection.spec.build), path_key(field))
    if target is None:
        return "", ""
    facts = target.member.facts
    if target.role == "parts":
        return "their names, with commas between, or none", ""
    if target.role == "items":
        return _points(target)
    if facts is None:
        return "fitted, not fitted or the name of a data sheet", ""
    typical = facts.example(field).strip('"')
    kind = _kind(facts, typical)
    if target.role == "plain-list":
        none = ", or none" if facts.type in ("text", "word") else ""
        return f"several, with semicolons between: {kind}{none}", ""
    return kind, {"true": "yes", "false": "no"}.get(typical, typical) if facts.type == "flag" else typical


def _kind(facts: FieldFacts, typical: str) -> str:
    if facts.type == "measure":
        return typical.partition(" ")[2]
    return {
        "number": "a number",
        "count": "a whole number",
        "flag": "yes or no",
        "word": " or ".join(filter(None, (", ".join(facts.options[:-1]), "".join(facts.options[-1:])))),
        "text": "a text",
        "date": "year-month-day",
    }[facts.type]


def _points(target: Target) -> tuple[str, str]:
    fields = item_fields(target.member)
    if not fields:
        return "a list of tables as the file has it, [{ … }, { … }]", ""
    usual = ", ".join(facts.example().strip('"') for facts in fields.values())
    return f"for each {listed(list(fields))}, with semicolons between them", f"{usual}; …"


# -- what an answer decided ------------------------------------------------------------------------------------------
_WORDS = {
    "fail": ("fails", "fail"),
    "review": ("needs a person", "need a person"),
    "pass": ("passes", "pass"),
    "informational": ("informs", "inform"),
    "notApplicable": ("does not apply", "do not apply"),
}


def add_decided(sheet: Sheet, found: Sequence[Decided]) -> None:
    """Add a line for each kind of what was decided: which rules pass now, fail, or need a person."""
    for kind, (one, several) in _WORDS.items():
        rules = [each for each in found if each.kind == kind]
        if rules:
            named = [_named(each) for each in rules[:MOST_NAMED]]
            more = f" and {len(rules) - MOST_NAMED} more" if len(rules) > MOST_NAMED else ""
            verb = one if len(rules) == 1 else several
            label = f"{len(rules)} {verb}:"
            style = "bold red" if kind == "fail" else ""
            sheet.wrapped(f"{label} {', '.join(named)}{more}", indent=2, style=style)


def _named(decided: Decided) -> str:
    finding = decided.finding
    if decided.kind != "fail" or finding.found is None or finding.limit is None:
        return decided.rule
    found = number_words(finding.found, finding.quantity, finding.unit, finding.rule.id)
    return f"{decided.rule} ({found}, allowed {limit_words(finding)})"
