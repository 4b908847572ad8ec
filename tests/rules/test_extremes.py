"""Every number of the sound spec as large and as small as the spec accepts: a verdict or a question, no exception."""

from __future__ import annotations

from collections import defaultdict

import pytest

from swaplint.inspection import facts_at, inspect, run_rule
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base
from swaplint.rule import Rule
from swaplint.spec.fields import Stated
from swaplint.units import LARGEST, SMALLEST
from swaplint.view import View


@pytest.mark.parametrize("value", [LARGEST, SMALLEST])
def test_no_rule_breaks_at_the_largest_and_the_smallest_number(value: float) -> None:
    base = rule_base()
    spec = sound_spec(base)
    view = View(spec.build)
    inspection, problems = inspect(base, spec, "quote", view)
    assert not problems
    read: dict[str, dict[str, Rule]] = defaultdict(dict)
    for finding in inspection.findings:
        for path in (*finding.inputs, *finding.unknown, *finding.optional):
            read[path][finding.rule.id] = finding.rule
    tried = 0
    for path, rules in read.items():
        facts = facts_at(base.model, path)
        if facts is None or facts.type not in ("measure", "number"):
            continue
        changed = view.changed({path: Stated(value, written=repr(value))})
        for rule in rules.values():
            assert run_rule(rule, changed), (rule.id, path)
        tried += 1
    assert tried > 500
