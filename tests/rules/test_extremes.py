"""The sound spec at its ends: numbers as large and small as are accepted, nothing in a list. No rule breaks."""

from __future__ import annotations

import tomllib
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from swaplint.build.view import View
from swaplint.declare.rule import Rule
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.running import run_rule
from swaplint.kit.edits import edited_data, sound_spec, sound_text
from swaplint.kit.trial import rule_base
from swaplint.solving.editing import EditedSpec
from swaplint.spec.facts import Stated
from swaplint.spec.loading import SpecErrors, load_text
from swaplint.spec.paths import path_text
from swaplint.spec.shape import facts_at
from swaplint.units import LARGEST, SMALLEST


@pytest.mark.thorough
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


def collections(data: dict[str, Any], path: tuple[str, ...] = ()) -> Iterator[tuple[str, Any]]:
    """Every list and every table of named parts in a spec, with an empty one of its sort."""
    for key, value in data.items():
        if isinstance(value, list):
            yield path_text((*path, key)), []
        elif isinstance(value, dict) and "value" not in value:
            if value and all(isinstance(part, dict) for part in value.values()):
                yield path_text((*path, key)), {}
            yield from collections(value, (*path, key))


@pytest.mark.thorough
def test_no_rule_breaks_where_a_list_or_a_table_of_parts_is_empty() -> None:
    base, edited = rule_base(), EditedSpec(rule_base(), "quote")
    tried, refused = 0, []
    for path, empty in collections(tomllib.loads(sound_text())):
        try:
            spec = load_text(tomli_w.dumps(edited_data({path: empty})), model=base.model)
        except SpecErrors as error:
            refused.append(str(error))
            continue
        _, problems = edited.inspect(spec)
        assert not problems, (path, problems)
        tried += 1
    assert tried > 60
    assert len(refused) == 1
    assert "driveline.gearbox.ratios: is an empty list" in refused[0]


def test_a_pump_without_a_point_on_its_curve_is_a_question() -> None:
    base = rule_base()
    data = tomllib.loads(Path("specs/skerrivar-van.toml").read_text(encoding="utf-8"))
    text = tomli_w.dumps(edited_data({"plumbing.fuel.pump.curve": []}, data))
    inspection, problems = inspect(base, load_text(text, folder=Path("specs"), model=base.model))
    assert not problems
    found = [finding for finding in inspection.findings if finding.rule.id == "fuel.supply-pump"]
    asking = [finding for finding in found if "plumbing.fuel.pump.curve" in finding.unknown]
    assert {finding.kind for finding in asking} == {"open"}
