"""Rows of what a rule says in a case: rule and demand, edits to the sound spec as they are typed, kind, words."""

from __future__ import annotations

import ast
import re
from typing import Any

from swaplint.inspecting.results import Finding
from swaplint.kit.trial import of_part, one

SECTIONS = ("build", "driveline", "electrics", "engine", "measured", "plumbing", "quote", "vehicle")
LITERAL = re.compile(r"None|True|False|-?[\d.]+|[\[{].*")


def edited(text: str, within: str = "") -> dict[str, Any]:
    """Edits of 'field = value; field = value'. A field of no section of the spec is one of `within`.

    >>> edited("bore = 8 mm; plumbing.fuel.tank.baffled = True; joints = 2", "plumbing.line")
    {'plumbing.line.bore': '8 mm', 'plumbing.fuel.tank.baffled': True, 'plumbing.line.joints': 2}
    """
    edits: dict[str, Any] = {}
    for edit in filter(None, text.split("; ")):
        field, _, value = edit.partition(" = ")
        whole = field if field.split(".")[0] in SECTIONS else f"{within}.{field}"
        edits[whole] = ast.literal_eval(value) if LITERAL.fullmatch(value) else value
    return edits


def told(rule: str, edits: str, within: str = "") -> Finding:
    """What 'rule demand' or 'rule demand @part' finds on the sound spec with some edits."""
    called, _, part = rule.partition(" @")
    name, _, demand = called.partition(" ")
    if part:
        return of_part(name, part, edited(edits, within), demand=demand)
    return one(name, edited(edits, within), demand=demand)


def says(rule: str, edits: str, kind: str, words: str, within: str = "") -> None:
    """Hold what a rule finds and the words of its sentence; '!' before them: that it does not say them.

    `kind` may name the level too, as in 'fail warning'.
    """
    found = told(rule, edits, within)
    assert f"{found.kind} {found.level or ''}".startswith(kind), (found.kind, found.level, found.message)
    if words.startswith("!"):
        assert words[1:] not in found.message
    else:
        assert words in found.message, found.message
