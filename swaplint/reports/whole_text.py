"""The whole sheet of one inspected spec: every result with everything that it rests on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from swaplint.inspecting.results import Finding, Inspection
from swaplint.reports.finding_words import (
    HEADINGS,
    about_words,
    action_words,
    by_rule,
    by_system,
    in_all,
    input_rows,
    lacks_words,
    lines_read,
    numbers_words,
    question_words,
    remedy_words,
    totals_words,
    weight_of,
    where_words,
)
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import (
    asked_for,
    citations,
    counted,
    estimates_words,
    signature_words,
)
from swaplint.reports.values import stated_words
from swaplint.units.prose import told

_TAG = {
    "error": ("ERROR", "bold red"),
    "warning": ("WARNING", "bold yellow"),
    "note": ("NOTE", "bold cyan"),
    "review": ("REVIEW", "bold magenta"),
    "open": ("OPEN", "bold blue"),
    "pass": ("PASS", "green"),
    "notApplicable": ("N/A", "dim"),
    "informational": ("INFO", "cyan"),
}
_HANG = 10
_LABEL = 10
_PART = 3
"""How much deeper the parts of one rule stand."""
_LISTED_INPUTS = 12
"""How many rows of inputs a finding lists; a torque curve, or one field of many alike parts, is one row."""


def add_whole(sheet: Sheet, inspection: Inspection) -> None:
    """Add every result of a spec, below its head, and all that there is to find out."""
    standing = [finding for finding in inspection.findings if finding.suppression is None]
    decided = [finding for finding in standing if finding.kind in _DECIDED]
    ordered = [*decided, *inspection.accepted, *(finding for finding in standing if finding.kind not in _DECIDED)]
    for weight, group in groupby(ordered, key=weight_of):
        findings = list(group)
        sheet.heading(f"{HEADINGS[weight]} ({len(findings)})")
        for system, of_system in groupby(by_system(findings), key=lambda finding: finding.rule.system):
            sheet.blank()
            sheet.line((system, "bold underline"))
            for alike in by_rule(of_system):
                if findings[0].kind in ("fail", "review"):
                    _full(sheet, inspection, alike)
                elif len(alike) > 1:
                    _alike(sheet, inspection, alike)
                else:
                    _short(sheet, inspection, alike[0])
    _ask_next(sheet, inspection)
    sheet.heading("TOTALS")
    sheet.wrapped(totals_words(inspection))


_DECIDED = ("fail", "review")


# -- one rule, in full -------------------------------------------------------------------------------------------
def _full(sheet: Sheet, inspection: Inspection, findings: list[Finding]) -> None:
    """A rule that fails or that a person must decide on; of several parts each, and once what they have in common."""
    first, alone = findings[0], len(findings) == 1
    tag, style = _TAG[first.level or first.kind]
    question = question_words(first) if alone else first.rule.question
    sheet.wrapped(question, label=tag, hang=_HANG, label_style=style, style="bold" if first.kind == "fail" else "")
    sheet.wrapped(first.rule.id, indent=_HANG, style="dim")
    if first.kind == "fail" and first.rule.consequence:
        sheet.wrapped(told(first.rule.consequence, first.rule.id), label="or else", indent=_HANG, hang=_LABEL)
    if any(action_words(finding) for finding in findings):
        sheet.wrapped(told(first.rule.remedy, first.rule.id), label="to do", indent=_HANG, hang=_LABEL)
    common = in_all([inspection.listed_inputs(finding) for finding in findings])
    for finding in findings:
        if alone:
            _said(sheet, inspection, finding, [], _HANG)
            continue
        sheet.wrapped(about_words(finding) or finding.subject or "the build", indent=_HANG)
        own = [path for path in inspection.listed_inputs(finding) if path not in common]
        _said(sheet, inspection, finding, own, _HANG + _PART)
    _inputs(sheet, inspection, common, first.part if alone else "", _HANG)
    more = max(inspection.more_inputs(finding) for finding in findings)
    if more:
        sheet.wrapped(f"and {more} more inputs", indent=_HANG)
    if alone:
        _remedies(sheet, first, _HANG)
    for words in citations(inspection, dict.fromkeys(source for f in findings for source in f.sources), first.rule.id):
        sheet.wrapped(words, label="source", indent=_HANG, hang=_LABEL)
    for caution in dict.fromkeys(caution for f in findings for caution in f.cautions):
        sheet.wrapped(told(caution, first.rule.id), label="caution", indent=_HANG, hang=_LABEL, style="yellow")
    sheet.blank()


def _said(sheet: Sheet, inspection: Inspection, finding: Finding, own: Sequence[str], indent: int) -> None:
    """What is said of one part: numbers, message, place; of one of several also what only it rests on."""
    numbers = numbers_words(finding)
    if numbers:
        sheet.wrapped(numbers, indent=indent, style="bold")
    sheet.wrapped(finding.message, indent=indent)
    if finding.suppression is not None:
        words = signature_words(finding.suppression, inspection.spec)
        sheet.wrapped(words, label="accepted", indent=indent, hang=_LABEL)
    if finding.not_accepted:
        sheet.wrapped(finding.not_accepted, label="signed", indent=indent, hang=_LABEL)
    if finding.reweighed is not None:
        sheet.wrapped(f"{finding.reweighed.words}.", label="level", indent=indent, hang=_LABEL)
    _about(sheet, inspection, finding, indent)
    if indent > _HANG:
        _inputs(sheet, inspection, own, finding.part, indent)
        _remedies(sheet, finding, indent)


def _about(sheet: Sheet, inspection: Inspection, finding: Finding, indent: int) -> None:
    if finding.subject:
        sheet.leader(
            finding.subject, where_words(inspection, finding.subject), indent=indent, label="about", hang=_LABEL
        )


def _remedies(sheet: Sheet, finding: Finding, indent: int) -> None:
    for remedy in finding.remedies:
        sheet.wrapped(remedy_words(remedy), label="remedy", indent=indent, hang=_LABEL)


# -- one rule, shortly -------------------------------------------------------------------------------------------
def _alike(sheet: Sheet, inspection: Inspection, findings: list[Finding]) -> None:
    """Several parts that one rule passes, cannot decide on, or has nothing to say of: a line for each part."""
    rule, kind = findings[0].rule, findings[0].kind
    tag, style = _TAG[kind]
    sheet.wrapped(rule.id, label=tag, hang=_HANG, label_style=style)
    sheet.wrapped(rule.question, indent=_HANG)
    for finding in findings:
        says = finding.message if kind != "pass" or finding.practices or finding.found is None else ""
        if kind == "open" and finding.unknown:
            says = lacks_words(finding)
        words = "; ".join(piece for piece in (numbers_words(finding), says) if piece)
        part = about_words(finding)
        sheet.wrapped(f"{part}: {words}" if part else words, indent=_HANG + _PART, hang=_PART)
    merged = replace(
        findings[0],
        inputs=tuple(dict.fromkeys(path for f in findings for path in f.inputs)),
        sources=tuple(dict.fromkeys(source for f in findings for source in f.sources)),
        cautions=tuple(dict.fromkeys(caution for f in findings for caution in f.cautions)),
    )
    _from(sheet, inspection, merged)


def _short(sheet: Sheet, inspection: Inspection, finding: Finding) -> None:
    tag, style = _TAG[finding.kind]
    numbers = numbers_words(finding)
    head = finding.rule.id + (f": {numbers}" if numbers else "")
    sheet.wrapped(head, label=tag, hang=_HANG, label_style=style)
    sheet.wrapped(question_words(finding), indent=_HANG)
    if finding.message and (finding.kind != "pass" or finding.practices or not numbers):
        sheet.wrapped(finding.message, indent=_HANG)
    if finding.kind == "open":
        _about(sheet, inspection, finding, _HANG)
    _from(sheet, inspection, finding)


def _from(sheet: Sheet, inspection: Inspection, finding: Finding) -> None:
    """What a short entry rests on, its sources and cautions."""
    pieces = [lines_read(inspection, inspection.listed_inputs(finding))] if finding.inputs else []
    if finding.kind != "notApplicable":
        pieces += citations(inspection, finding.sources, finding.rule.id)
    if pieces:
        sheet.wrapped("; ".join(pieces), label="from", indent=_HANG, hang=6, style="dim")
    if finding.kind != "notApplicable":
        for caution in finding.cautions:
            sheet.wrapped(told(caution, finding.rule.id), label="mind", indent=_HANG, hang=6, style="dim yellow")


# -- pieces ------------------------------------------------------------------------------------------------------
def _inputs(sheet: Sheet, inspection: Inspection, paths: Iterable[str], part: str, indent: int) -> None:
    """What a finding rests on: first what is stated of the part itself, then the rest, many alike values in one row."""
    rows = input_rows(inspection, paths, part)
    label = "rests on"
    for left, right in rows[:_LISTED_INPUTS]:
        sheet.leader(left, right, indent=indent, label=label, hang=_LABEL)
        label = ""
    if len(rows) > _LISTED_INPUTS:
        sheet.wrapped(f"and {len(rows) - _LISTED_INPUTS} more", indent=indent + _LABEL, style="dim")


# -- what comes last ------------------------------------------------------------------------------------------------
def _ask_next(sheet: Sheet, inspection: Inspection) -> None:
    asks = inspection.ask_next
    if not asks:
        return
    sheet.heading("FIND OUT NEXT")
    if len(asks) > 1:
        sheet.wrapped("What most answers wait for comes first; a rule whose fail is an error weighs most.", style="dim")
    for ask in asks:
        sheet.leader(ask.field, counted(len(ask.rules), "rule waits", "rules wait"))
        what, found = asked_for(inspection, ask)
        now = stated_words(inspection, ask.field)
        words = (
            what,
            f"Normally from {found}." if found else "",
            f"So far stated as {now}." if now else "",
            *(estimates_words(inspection, ask.field) if not now else ()),
        )
        says = " ".join(piece for piece in words if piece)
        if says:
            sheet.wrapped(says, indent=_PART, style="dim")
