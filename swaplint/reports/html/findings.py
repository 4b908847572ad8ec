"""Results on the page: those to act on in full, all others as a line that folds open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from swaplint.declare.verdicts import LEVELS
from swaplint.inspecting.results import Finding, Inspection
from swaplint.reports.finding_words import (
    HEADINGS,
    about_words,
    by_rule,
    by_system,
    consequence_words,
    decides_words,
    lacks_words,
    limit_from,
    remedy_words,
    weight_of,
    where_words,
)
from swaplint.reports.html.elements import EMPTY, Html, Long, Piece, around, el, facts, in_pieces, joined, table
from swaplint.reports.html.evidence import Evidence
from swaplint.reports.html.naming import link, place
from swaplint.reports.naming import counted, signature_words
from swaplint.reports.values import limit_words, margin_words, number_words
from swaplint.spec.systems import SYSTEMS

TAGS = {
    "error": "error",
    "warning": "warning",
    "note": "note",
    "review": "review",
    "accepted": "accepted",
    "due": "owed",
    "open": "open",
    "pass": "pass",
    "notApplicable": "n/a",
    "informational": "info",
}
"""The word that stands before a result, by what it weighs."""
IN_FULL = ("error", "warning", "note", "review", "accepted")
"""What stands in sections of its own, above the list of all."""


def in_full(evidence: Evidence) -> list[tuple[str, str, Html]]:
    """The sections of what must be put right, decided on or was signed for: name, heading and content of each."""
    by_weight: dict[str, list[Finding]] = {}
    for finding in evidence.inspection.findings:
        by_weight.setdefault(weight_of(finding), []).append(finding)
    sections = []
    for weight in IN_FULL:
        findings = by_weight.get(weight)
        if findings:
            heading = f"{HEADINGS[weight].capitalize()} ({len(findings)})"
            groups = by_rule(by_system(findings))
            sections.append((weight, heading, joined([_whole(evidence, alike, weight) for alike in groups])))
    return sections


# -- one rule in full ----------------------------------------------------------------------------------------------
def _whole(evidence: Evidence, findings: Sequence[Finding], weight: str) -> Html:
    first, rule = findings[0], findings[0].rule
    alone = len(findings) == 1
    about = about_words(first) if alone else ""
    fold = el("details", el("summary", "How it is worked out, lines, source"), evidence.of(findings), cls="fold")
    return el(
        "article",
        el("h4", _tag(weight), " ", rule.question),
        el("p", el("code", rule.id), f" {about}" if about else None, cls="id"),
        el("p", consequence_words(first), cls="consequence") if first.kind == "fail" and rule.consequence else None,
        [_said(evidence.inspection, finding, alone=alone) for finding in findings],
        fold,
        cls=f"result {weight}",
        id=place(weight, rule.id),
    )


def _tag(weight: str) -> Html:
    return el("span", TAGS[weight], cls=f"tag {weight}")


def _said(inspection: Inspection, finding: Finding, *, alone: bool) -> Html:
    """What is said of one part: numbers, message, what mends it, the place, and what was made of it since."""
    signed = finding.suppression
    limit = limit_from(inspection, finding)
    told: list[tuple[str, Piece]] = [
        ("remedy", [el("p", remedy_words(remedy)) for remedy in finding.remedies] or None),
        ("decides", decides_words(finding) if finding.kind == "review" and finding.deciding else None),
        ("place", f"{finding.subject}: {where_words(inspection, finding.subject)}" if finding.subject else None),
        ("limit", _without_label(limit) if finding.limit is not None else None),
        ("accepted", signature_words(signed, inspection.spec) if signed is not None else None),
        ("signed", finding.not_accepted),
        ("compared", _since(inspection, finding)),
        ("level", f"{finding.reweighed.words}." if finding.reweighed is not None else None),
    ]
    return el(
        "div",
        None if alone else el("h5", about_words(finding) or finding.subject or "the build"),
        _numbers(finding),
        el("p", finding.message),
        facts(told),
        cls="part",
    )


def _since(inspection: Inspection, finding: Finding) -> str:
    if inspection.baseline is None:
        return ""
    # Imported here: most calls compare nothing.
    from swaplint.reports.baseline_text import since_words

    return since_words(inspection.baseline, finding)


def _without_label(limit: str) -> str:
    for label in ("limit from ", "limit by ", "limit: "):
        limit = limit.removeprefix(label)
    return limit


def _numbers(finding: Finding) -> Html:
    """Found, allowed, margin: side by side."""
    if finding.found is None:
        return EMPTY
    return facts(
        [
            ("found", number_words(finding.found, finding.quantity, finding.unit)),
            ("allowed", limit_words(finding)),
            ("margin", margin_words(finding.margin)),
        ],
        cls="found",
    )


# -- every result, by system ---------------------------------------------------------------------------------------
def every_result(evidence: Evidence) -> Long:
    """A line for each rule by system; what stands in full above is pointed at, all else folds open."""
    by_name: dict[str, list[Finding]] = {}
    for finding in evidence.inspection.findings:
        by_name.setdefault(finding.rule.system, []).append(finding)
    return in_pieces(_system(evidence, name, by_name[name]) for name in SYSTEMS if name in by_name)


def _system(evidence: Evidence, system: str, findings: Sequence[Finding]) -> Long:
    counts = Counter(map(weight_of, findings))
    words = ", ".join(_counted(counts[weight], weight) for weight in HEADINGS if counts[weight])
    return around(
        "details",
        el("summary", el("h4", system), el("span", words, cls="sum")),
        around("div", _of_system(evidence, findings), id=place("system", system)),
        cls="system",
    )


def _counted(number: int, weight: str) -> str:
    word = TAGS[weight]
    return counted(number, word, f"{word}s" if weight in LEVELS else word)


def _of_system(evidence: Evidence, findings: Sequence[Finding]) -> Long:
    lines = []
    for weight in HEADINGS:
        of_weight = [finding for finding in findings if weight_of(finding) == weight]
        for alike in by_rule(of_weight) if of_weight else ():
            lines.append(_pointed_at(alike, weight) if weight in IN_FULL else _folded(evidence, alike, weight))
    return lines


def _pointed_at(findings: Sequence[Finding], weight: str) -> Html:
    id = findings[0].rule.id
    return el(
        "p",
        _tag(weight),
        " ",
        link(weight, id, id),
        el("span", findings[0].rule.question, cls="asks"),
        el("span", _summed_up(findings), cls="sum"),
        cls="line",
    )


def _folded(evidence: Evidence, findings: Sequence[Finding], weight: str) -> Html:
    rule = findings[0].rule
    rest = EMPTY if weight == "notApplicable" else evidence.of(findings)
    return el(
        "details",
        el(
            "summary",
            _tag(weight),
            " ",
            el("code", rule.id),
            el("span", rule.question, cls="asks"),
            el("span", _summed_up(findings), cls="sum"),
        ),
        el("div", _parts(evidence.inspection, findings, weight), rest, cls="inside"),
        cls=f"line {weight}",
    )


def _summed_up(findings: Sequence[Finding]) -> str:
    """The number of one result, or how many there are and the tightest margin."""
    if len(findings) == 1:
        one = findings[0]
        if one.found is None:
            return ""
        margin = f" ({margin_words(one.margin)})" if one.margin is not None else ""
        return f"{number_words(one.found, one.quantity, one.unit)}{margin}"
    margins = [finding.margin for finding in findings if finding.margin is not None]
    tightest = f", tightest {margin_words(min(margins))}" if margins else ""
    return f"{counted(len(findings), 'result')}{tightest}"


def _parts(inspection: Inspection, findings: Sequence[Finding], weight: str) -> Html:
    """What was found of each part."""
    if len(findings) == 1:
        one = findings[0]
        about = about_words(one)
        says = _says(one)
        return joined(
            el("p", about, cls="about") if about else None,
            _numbers(one),
            el("p", says) if says else None,
            _missing(inspection, one) if weight in ("open", "due") else None,
        )
    numbers = any(finding.found is not None for finding in findings)
    words = any(_says(finding) for finding in findings)
    heads = ["part", *(("found", "allowed", "margin") if numbers else ()), *(("",) if words else ())]
    rows = [
        [
            about_words(finding) or "the build",
            *(_cells(finding) if numbers else ()),
            *(
                (lacks_words(finding) if finding.kind == "open" and finding.unknown else _says(finding),)
                if words
                else ()
            ),
        ]
        for finding in findings
    ]
    return table("What was found of each part", [head or "says" for head in heads], rows, cls="parts", unseen=True)


def _cells(finding: Finding) -> tuple[str, str, str]:
    if finding.found is None:
        return "", "", ""
    found = number_words(finding.found, finding.quantity, finding.unit)
    return found, limit_words(finding), margin_words(finding.margin)


def _says(finding: Finding) -> str:
    """What is said of a result besides its numbers: of a plain pass nothing."""
    return finding.message if finding.kind != "pass" or finding.practices or finding.found is None else ""


def _missing(inspection: Inspection, finding: Finding) -> Html:
    where = where_words(inspection, finding.subject) if finding.subject else ""
    return facts([("place", f"{finding.subject}: {where}" if where else None)])
