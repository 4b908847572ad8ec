"""Specs made from the model alone; `fuzz.py` beside this sends many more through every report."""

import functools
import json
import random

import tomli_w
from hypothesis import given, settings
from hypothesis import strategies as st
from model_specs import random_spec

from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.inspecting.results import Report
from swaplint.reports.json_report import dumps, inspection_json
from swaplint.solving.whole import inspect_whole
from swaplint.spec.loading import LoadedSpec, load_text


@functools.cache
def base() -> RuleBase:
    return load_rule_base()


def made(seed: int) -> LoadedSpec:
    return load_text(tomli_w.dumps(random_spec(base().model, random.Random(seed))), model=base().model)


@settings(max_examples=3)
@given(seed=st.integers(0, 2**32))
def test_every_rule_has_an_answer_and_none_breaks(seed: int) -> None:
    inspection, problems = inspect_whole(base(), made(seed))
    assert problems == []
    assert {f.rule.id for f in inspection.findings} == {rule.id for _, rule in base().rules}
    shown = json.loads(dumps(inspection_json(Report("1", base().packs, [inspection], []), "error")))
    assert len(shown["specs"][0]["results"]) == len(inspection.findings)
