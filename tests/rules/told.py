"""Rows of what a rule says in a case: rule and demand, edits to the sound spec as they are typed, kind, words."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable
from typing import Any, TypeAlias

from swaplint.inspecting.results import Finding
from swaplint.kit.trial import trial

SECTIONS = ("build", "driveline", "electrics", "engine", "joints", "measured", "plumbing", "quote", "vehicle")
LITERAL = re.compile(r"None|True|False|-?[\d.]+|[\[{].*")

Row: TypeAlias = tuple[str, str, str, str]
"""'rule', 'rule demand' or 'rule demand @end of the part's path'; edits; kind, with the level after it; words."""


def edited(text: str, within: str = "") -> dict[str, Any]:
    """Edits of 'field = value; field = value'. A field of no section of the spec is one of `within`.

    >>> edited("bore = 8 mm; plumbing.fuel.tank.baffled = True; joints = 2", "plumbing.line")
    {'plumbing.line.bore': '8 mm', 'plumbing.fuel.tank.baffled': True, 'plumbing.line.joints': 2}
    """
    edits: dict[str, Any] = {}
    for edit in filter(None, text.split("; ")):
        field, _, value = edit.partition(" = ")
        # the list of what is supplied stands at the top; a section may have a supply of its own
        on_top = field.startswith("supply[") or re.split(r"[.[]", field)[0] in SECTIONS
        whole = field if on_top else f"{within}.{field}"
        edits[whole] = ast.literal_eval(value) if LITERAL.fullmatch(value) else value
    return edits


def told(rule: str, edits: str, within: str = "") -> Finding:
    """What 'rule demand' or 'rule demand @part' finds on the sound spec with some edits."""
    return _of(rule, trial(rule.split(" ")[0], edited(edits, within)))


def _of(rule: str, findings: list[Finding]) -> Finding:
    """The finding that a row speaks of: about one part, and in one demand or in the worst of them."""
    called, _, part = rule.partition(" @")
    demand = called.partition(" ")[2]
    about = [finding for finding in findings if finding.part.endswith(part)]
    assert len({finding.part for finding in about}) == 1, (rule, [finding.part for finding in about])
    chosen = [finding for finding in about if not demand or finding.demand == demand]
    assert chosen, (rule, [finding.demand for finding in about])
    return chosen[0]


def by_trial(rows: Iterable[Row]) -> list[tuple[str, str, tuple[Row, ...]]]:
    """The rows that one trial of a rule answers, together: the rule, the edits, and those rows."""
    together: dict[tuple[str, str], list[Row]] = {}
    for row in rows:
        together.setdefault((row[0].split(" ")[0], row[1]), []).append(row)
    return [(rule, edits, tuple(found)) for (rule, edits), found in together.items()]


def says(pack: str, edits: str, rows: Iterable[Row], within: str = "") -> None:
    """Hold what a rule finds and the words of its sentence; '!' before them: that it does not say them."""
    rows = list(rows)
    findings = trial(f"{pack}.{rows[0][0].split(' ')[0]}", edited(edits, within))
    for rule, _, kind, words in rows:
        found = _of(rule, findings)
        assert f"{found.kind} {found.level or ''}".startswith(kind), (rule, found.kind, found.level, found.message)
        if words.startswith("!"):
            assert words[1:] not in found.message
        else:
            assert words in found.message, found.message
