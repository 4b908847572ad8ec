"""The whole sheet of one inspected spec: every result with everything that it rests on."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from swaplint.inspecting.results import Finding, Inspection, Remedy
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import (
    asked_for,
    citations,
    counted,
    estimates_words,
    lines_words,
    listed,
    part_words,
    place_words,
    signature_words,
)
from swaplint.reports.values import limit_words, margin_words, number_words, stated_words
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.paths import path_key
from swaplint.spec.shape import pattern_at
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
_HEADINGS = {
    "error": "MUST BE PUT RIGHT",
    "warning": "LIKELY TROUBLE",
    "note": "WORTH KNOWING",
    "review": "A PERSON MUST DECIDE",
    "accepted": "ACCEPTED, SIGNED FOR",
    "due": "STILL OWED AT THIS STAGE",
    "open": "NOT ENOUGH KNOWN TO DECIDE",
    "pass": "PASSES",
    "notApplicable": "DOES NOT APPLY",
    "informational": "FOR INFORMATION",
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
    for weight, group in groupby(ordered, key=_weight):
        findings = list(group)
        sheet.heading(f"{_HEADINGS[weight]} ({len(findings)})")
        for system, of_system in groupby(_by_system(findings), key=lambda finding: finding.rule.system):
            sheet.blank()
            sheet.line((system, "bold underline"))
            for alike in _by_rule(of_system):
                if findings[0].kind in ("fail", "review"):
                    _full(sheet, inspection, alike)
                elif len(alike) > 1:
                    _alike(sheet, inspection, alike)
                else:
                    _short(sheet, inspection, alike[0])
    _ask_next(sheet, inspection)
    _totals(sheet, inspection)


_DECIDED = ("fail", "review")


def _weight(finding: Finding) -> str:
    if finding.suppression is not None:
        return "accepted"
    return finding.level or ("due" if finding.due else finding.kind)


def _by_system(findings: list[Finding]) -> list[Finding]:
    """In the order of the systems; first of all what nobody supplies yet, which a newcomer must see."""
    return sorted(findings, key=lambda f: (f.rule.system != "supply", f.sort_key[2], f.sort_key))


def _by_rule(findings: Iterable[Finding]) -> list[list[Finding]]:
    """The findings of each rule together: what fails in the order of the worst part, all else by the rules' ids."""
    together: dict[str, list[Finding]] = {}
    for finding in findings:
        together.setdefault(finding.rule.id, []).append(finding)
    groups = list(together.values())
    return groups if groups[0][0].kind in ("fail", "review") else sorted(groups, key=lambda alike: alike[0].rule.id)


# -- one rule, in full -------------------------------------------------------------------------------------------
def _full(sheet: Sheet, inspection: Inspection, findings: list[Finding]) -> None:
    """A rule that fails or that a person must decide on; of several parts each, and once what they have in common."""
    first, alone = findings[0], len(findings) == 1
    tag, style = _TAG[first.level or first.kind]
    question = _question(first) if alone else first.rule.question
    sheet.wrapped(question, label=tag, hang=_HANG, label_style=style, style="bold" if first.kind == "fail" else "")
    sheet.wrapped(first.rule.id, indent=_HANG, style="dim")
    if first.kind == "fail" and first.rule.consequence:
        sheet.wrapped(told(first.rule.consequence, first.rule.id), label="or else", indent=_HANG, hang=_LABEL)
    common = _in_all([inspection.listed_inputs(finding) for finding in findings])
    for finding in findings:
        if alone:
            _said(sheet, inspection, finding, [], _HANG)
            continue
        sheet.wrapped(_about_words(finding) or finding.subject or "the build", indent=_HANG)
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


def _in_all(lists: Sequence[Sequence[str]]) -> dict[str, None]:
    """What stands in every list, in the order of the first."""
    sets = [set(one) for one in lists[1:]]
    return {path: None for path in lists[0] if all(path in one for one in sets)}


def _said(sheet: Sheet, inspection: Inspection, finding: Finding, own: Sequence[str], indent: int) -> None:
    """What is said of one part: numbers, message, place; of one of several also what only it rests on."""
    numbers = _numbers(finding)
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
        sheet.leader(finding.subject, _where(inspection, finding.subject), indent=indent, label="about", hang=_LABEL)


def _where(inspection: Inspection, path: str) -> str:
    """Where the builder can act on a field; of one that nobody states, in which table it belongs."""
    spec = inspection.spec
    place = spec.act_place(path)
    line = place.line
    words = place_words(spec, place.file, line)
    if spec.has(path):
        return words
    if (line, place.column) == (1, 1):
        return "not stated"
    return f"not stated, see {place_words(spec, place.file, _commented(spec, path, line) or line)}"


def _commented(spec: LoadedSpec, path: str, header: int) -> int | None:
    """The line below a table's header where a field stands in a comment, as in a draft; None where there is none."""
    keys = [str(key) for key in path_key(path)]
    own = [re.escape(".".join(keys[start:])) for start in range(1, len(keys))]
    field = re.compile(rf"#+ ?(?:{'|'.join(own)}) *=") if own else None
    for number, text in enumerate(spec.file.text.split("\n")[header:], header + 1):
        if text.startswith("["):
            return None
        if field is not None and field.match(text):
            return number
    return None


def _remedies(sheet: Sheet, finding: Finding, indent: int) -> None:
    for remedy in finding.remedies:
        sheet.wrapped(_remedy(remedy), label="remedy", indent=indent, hang=_LABEL)


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
            says = _lacks(finding)
        words = "; ".join(piece for piece in (_numbers(finding), says) if piece)
        part = _about_words(finding)
        sheet.wrapped(f"{part}: {words}" if part else words, indent=_HANG + _PART, hang=_PART)
    merged = replace(
        findings[0],
        inputs=tuple(dict.fromkeys(path for f in findings for path in f.inputs)),
        sources=tuple(dict.fromkeys(source for f in findings for source in f.sources)),
        cautions=tuple(dict.fromkeys(caution for f in findings for caution in f.cautions)),
    )
    _from(sheet, inspection, merged)


def _lacks(finding: Finding) -> str:
    """What one of several parts lacks, its own fields named as they are called in it."""
    inside = f"{finding.part.split(' ')[0]}."
    own = [path.removeprefix(inside) for path in finding.unknown if path.startswith(inside)]
    others = [path for path in finding.unknown if not path.startswith(inside)]
    pieces = [f"its {listed(own)}"] if own else []
    return f"lacks {'; and '.join([*pieces, *([listed(others)] if others else [])])}"


def _short(sheet: Sheet, inspection: Inspection, finding: Finding) -> None:
    tag, style = _TAG[finding.kind]
    numbers = _numbers(finding)
    head = finding.rule.id + (f": {numbers}" if numbers else "")
    sheet.wrapped(head, label=tag, hang=_HANG, label_style=style)
    sheet.wrapped(_question(finding), indent=_HANG)
    if finding.message and (finding.kind != "pass" or finding.practices or not numbers):
        sheet.wrapped(finding.message, indent=_HANG)
    if finding.kind == "open":
        _about(sheet, inspection, finding, _HANG)
    _from(sheet, inspection, finding)


def _from(sheet: Sheet, inspection: Inspection, finding: Finding) -> None:
    """What a short entry rests on, its sources and cautions."""
    pieces = [_lines_read(inspection, inspection.listed_inputs(finding))] if finding.inputs else []
    if finding.kind != "notApplicable":
        pieces += citations(inspection, finding.sources, finding.rule.id)
    if pieces:
        sheet.wrapped("; ".join(pieces), label="from", indent=_HANG, hang=6, style="dim")
    if finding.kind != "notApplicable":
        for caution in finding.cautions:
            sheet.wrapped(told(caution, finding.rule.id), label="mind", indent=_HANG, hang=6, style="dim yellow")


# -- pieces ------------------------------------------------------------------------------------------------------
def _question(finding: Finding) -> str:
    about = _about_words(finding)
    return f"{about}: {finding.rule.question}" if about else finding.rule.question


def _about_words(finding: Finding) -> str:
    """The part and the demand that a finding is about, as far as there are several."""
    return ", ".join(words for words in (part_words(finding.part), finding.demand) if words)


def _numbers(finding: Finding) -> str:
    if finding.found is None:
        return ""
    words = f"found {number_words(finding.found, finding.quantity, finding.unit)}"
    if finding.limit is not None:
        words += f", allowed {limit_words(finding)}"
    if finding.margin is not None:
        words += f", margin {margin_words(finding.margin)}"
    return words


def _inputs(sheet: Sheet, inspection: Inspection, paths: Iterable[str], part: str, indent: int) -> None:
    """What a finding rests on: first what is stated of the part itself, then the rest, many alike values in one row."""
    model = type(inspection.spec.build)
    of_part = f"{part.split(' ')[0]}."
    groups: dict[str, list[str]] = {}
    for path in sorted(paths, key=lambda path: not path.startswith(of_part)):
        name = pattern_at(model, path)[0].split("[", 1)[0]
        if path.startswith(of_part):
            name = path.split("[", 1)[0]
        groups.setdefault(name, []).append(path)
    rows = [row for name, alike in groups.items() for row in _rows(inspection, name, alike)]
    label = "rests on"
    for left, right in rows[:_LISTED_INPUTS]:
        sheet.leader(left, right, indent=indent, label=label, hang=_LABEL)
        label = ""
    if len(rows) > _LISTED_INPUTS:
        sheet.wrapped(f"and {len(rows) - _LISTED_INPUTS} more", indent=indent + _LABEL, style="dim")


def _rows(inspection: Inspection, name: str, paths: Sequence[str]) -> list[tuple[str, str]]:
    places = [inspection.spec.place(path) for path in paths]
    if len(paths) <= 2:
        return [
            (f"{path} = {stated_words(inspection, path)}", place_words(inspection.spec, place.file, place.line))
            for path, place in zip(paths, places, strict=True)
        ]
    lines = sorted(place.line for place in places)
    one_file = len({place.file for place in places}) == 1
    where = place_words(inspection.spec, places[0].file, lines[0], lines[-1]) if one_file else "several files"
    return [(f"{name} ({len(paths)} values)", where)]


def _lines_read(inspection: Inspection, paths: Iterable[str]) -> str:
    by_file: dict[str, set[int]] = {inspection.spec.label: set()}
    for path in paths:
        place = inspection.spec.place(path)
        by_file.setdefault(place.file, set()).add(place.line)
    return "; ".join(lines_words(inspection.spec, file, lines) for file, lines in by_file.items() if lines)


def _remedy(remedy: Remedy) -> str:
    before = "" if remedy.before is None else f" from {_amount(remedy.before, remedy)}"
    words = f"{remedy.field}{before} to {_amount(remedy.after, remedy)} passes"
    if remedy.mends:
        words += f"; it also mends {', '.join(remedy.mends)}"
    if remedy.drops:
        words += f"; state {', '.join(remedy.drops)} anew, or take them out"
    if remedy.fits:
        words += f", with {', '.join(f'{path} = {written}' for path, written in remedy.fits)}"
    if remedy.breaks:
        words += f"; but it breaks {', '.join(remedy.breaks)}"
    return words + "."


def _amount(value: float | str, remedy: Remedy) -> str:
    return number_words(value, remedy.quantity, remedy.unit) if isinstance(value, float) else value


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


def _totals(sheet: Sheet, inspection: Inspection) -> None:
    counts = inspection.counts()
    fails, owed = counts["fail"], counts["due"]
    assert isinstance(fails, dict)
    assert isinstance(owed, dict)
    pieces = [counted(number, name) for name, number in fails.items()]
    pieces += [f"{sum(owed.values())} still owed"]
    pieces += [f"{counts['review']} to review", f"{counts['open']} open", f"{counts['pass']} pass"]
    not_applicable = counts["notApplicable"]
    assert isinstance(not_applicable, int)
    pieces.append(counted(not_applicable, "does not apply", "do not apply"))
    if counts["suppressed"]:
        pieces.append(f"{counts['suppressed']} accepted")
    if counts["informational"]:
        pieces.append(f"{counts['informational']} for information")
    sheet.heading("TOTALS")
    sheet.wrapped(", ".join(pieces))
