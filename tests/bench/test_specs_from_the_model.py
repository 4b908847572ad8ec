"""Specs made from the model alone; `fuzz.py` beside this sends many more through every report."""

import functools
import json
import random

import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st
from model_specs import random_spec

from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.inspection import inspect
from swaplint.reports.json_report import dumps, inspection_json
from swaplint.results import Inspection, Report
from swaplint.solving.remedies import MOST_TRIALS
from swaplint.solving.whole import inspect_whole
from swaplint.spec.loading import LoadedSpec, load_text

NO_REMEDY = "No remedy was looked for"


@functools.cache
def base() -> RuleBase:
    return load_rule_base()


def made(seed: int) -> LoadedSpec:
    return load_text(tomli_w.dumps(random_spec(base().model, random.Random(seed))), model=base().model)


def fails_of(inspection: Inspection) -> int:
    return sum(f.kind == "fail" for f in inspection.findings)


@settings(max_examples=8)
@given(seed=st.integers(0, 2**32))
def test_every_rule_has_an_answer_and_none_breaks(seed: int) -> None:
    inspection, problems = inspect_whole(base(), made(seed))
    assert problems == []
    assert {f.rule.id for f in inspection.findings} == {rule.id for _, rule in base().rules}
    shown = json.loads(dumps(inspection_json(Report("1", base().packs, [inspection], []))))
    assert len(shown["specs"][0]["results"]) == len(inspection.findings)


def test_where_most_of_a_build_fails_the_first_have_their_remedies_and_the_rest_say_that_they_do_not() -> None:
    # A build of almost all fields with values that were drawn by lot.
    spec = next(s for s in map(made, range(50, 100)) if fails_of(inspect(base(), s)[0]) > 150)
    inspection, _ = inspect_whole(base(), spec)
    fails = [f for f in inspection.findings if f.kind == "fail"]
    assert any(f.remedies for f in fails)
    unsought = [f for f in inspection.findings if NO_REMEDY in f.message]
    assert unsought
    assert not any(f.remedies for f in unsought)
    first = inspection.findings.index(unsought[0])
    assert not any(f.remedies for f in inspection.findings[first:])
    assert MOST_TRIALS >= 1000
