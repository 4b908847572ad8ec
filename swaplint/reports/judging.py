"""Which rules can judge a choice at all: silence is no pass, so a report of choices says who did not speak, and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from swaplint.declare.rule import Rule
from swaplint.inspecting.results import Finding, Inspection
from swaplint.reports.layout import Sheet
from swaplint.reports.naming import counted
from swaplint.solving.what_if import WhatIf
from swaplint.spec.facts import Stated
from swaplint.units.prose import told

MOST_FACTS = 8
"""How many of the facts that are wanting are named."""

NOTHING_KNOWN = "No value can be named: too little is known yet."
"""The answer where no rule can judge."""


@dataclass(slots=True)
class Judging:
    """What the rules that read a field can say of one choice."""

    judging: list[str] = field(default_factory=list)
    """Those that judge all or a part of it."""
    opens: list[str] = field(default_factory=list)
    """Those that are open in all or a part of it, because something is not known."""
    broken: list[str] = field(default_factory=list)
    """Those that could not be run."""
    lacking: Counter[str] = field(default_factory=Counter)
    """The fields that are wanting, and how many rules wait for each."""

    practices: dict[str, list[str]] = field(default_factory=dict)
    """The common-practice fallbacks that stand in for what nobody states, and the rules that judge by each."""

    @property
    def all_passing(self) -> list[str]:
        """Those that judge the whole of it."""
        return [id for id in self.judging if id not in self.opens]


def judging_of(
    what_if: WhatIf,
    as_stated: Inspection,
    rules: Iterable[Rule],
    changes: Mapping[str, Stated | None],
    binding: Collection[str] = (),
) -> Judging:
    """Ask each rule what it can say of a choice. One that does not apply stands nowhere.

    `as_stated` is what all rules find as the build is stated, which names every field that they lack. A rule that
    names none of the fields there says nothing of them, unless it is known to stop a value (`binding`). One that broke
    there read nobody knows what.
    """
    before: dict[str, list[Finding]] = {}
    for finding in as_stated.findings:
        before.setdefault(finding.rule.id, []).append(finding)
    view = what_if.view.changed(dict(changes))
    found = Judging(broken=list(as_stated.broken))
    for rule in rules:
        known = before.get(rule.id, [])
        if rule.id not in binding and known and not any(_names(finding, changes) for finding in known):
            continue
        findings = what_if.findings_on(rule, view)
        if not findings and rule.id not in found.broken:
            found.broken.append(rule.id)
        if any(finding.kind in ("pass", "fail", "review") for finding in findings):
            found.judging.append(rule.id)
        for practice in dict.fromkeys(name for finding in findings for name in finding.practices):
            found.practices.setdefault(practice, []).append(rule.id)
        open_now = {finding.key for finding in findings if finding.kind == "open"}
        if open_now:
            found.opens.append(rule.id)
            waiting = [f for f in known if f.kind == "open" and f.key in open_now]
            waiting = waiting or [f for f in (*known, *findings) if f.kind == "open"]
            found.lacking.update(
                list(dict.fromkeys(path for f in waiting for path in f.unknown if path not in changes))
            )
    return found


def _names(finding: Finding, fields: Collection[str]) -> bool:
    return any(field in names for field in fields for names in (finding.inputs, finding.unknown, finding.optional))


def add_not_judged(sheet: Sheet, found: Judging, what: str) -> None:
    """Add which rules broke, which judge by a fallback, which are open and the facts that most of them wait for."""
    if found.broken:
        sheet.blank()
        sheet.wrapped(
            f"Could not be run, so that nothing is known of them: {', '.join(found.broken)}.", style="bold red"
        )
    if found.practices:
        sheet.heading("JUDGED BY COMMON PRACTICE, FOR WANT OF A STATED LIMIT")
        for practice, rules in found.practices.items():
            sheet.wrapped(f"{', '.join(rules)}: {told(practice, rules[0])}")
    if not found.opens:
        return
    sheet.heading("NOT JUDGED YET")
    readers = counted(len(found.opens), "rule that reads", "rules that read")
    some = ", or not all of it. What passes above may fail there" if found.judging else ""
    sheet.wrapped(f"{readers} {what} cannot decide yet{some}:")
    sheet.wrapped(", ".join(found.opens), indent=3)
    if not found.lacking:
        return
    sheet.wrapped(f"For want of {counted(len(found.lacking), 'fact')}, those that most rules wait for first:")
    wanted = [f"{path} ({number})" for path, number in found.lacking.most_common(MOST_FACTS)]
    left = len(found.lacking) - len(wanted)
    sheet.wrapped(", ".join(wanted) + (f" and {left} more" if left else ""), indent=3)


def judging_json(found: Judging) -> dict[str, Any]:
    """The rules that could not judge, for programs, and the fields that they wait for."""
    return {"opens": found.opens, "broken": found.broken, "unknown": list(found.lacking), "practices": found.practices}
