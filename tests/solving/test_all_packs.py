"""Tolerances on random specs, with every built-in pack: no point inside contradicts a plain pass."""

import functools
import random
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from swaplint.build.view import View
from swaplint.kit.edits import sound_spec, sound_text
from swaplint.kit.trial import rule_base
from swaplint.solving.what_if import WhatIf
from swaplint.solving.whole import inspect_whole
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.spec.paths import path_text
from swaplint.spec.shape import facts_at


def _leaves(node: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str, Any]]:
    if isinstance(node, Mapping) and "value" not in node:
        for key, value in node.items():
            yield from _leaves(value, (*path, key))
    elif isinstance(node, list):
        for number, value in enumerate(node):
            yield from _leaves(value, (*path, number))
    else:
        yield path_text(path), node


@functools.cache
def fields() -> list[tuple[str, float, FieldFacts]]:
    """The numbers with a plausible range that the sound spec states: path, value in the field's own unit, facts."""
    out = []
    base = rule_base()
    spec = sound_spec(base)
    own = {path: value for pack in base.packs for path, value in pack.sound.items()}
    stated = [*(path for path, _ in _leaves(tomllib.loads(sound_text()))), *own]
    for path in dict.fromkeys(stated):
        facts, now = facts_at(base.model, path), spec.stated(path)
        if facts is None or now is None or facts.type not in ("measure", "number") or facts.plausible is None:
            continue
        if facts.kind_name in ("temperature", "conductor") or not now.value or isinstance(now.value, bool | str):
            continue  # a conductor has a size of its series; a tolerance of a temperature is no share of it
        out.append((path, float(now.value), facts))
    return out


SHARE = st.floats(0.85, 1.18)
TOLERANCE = st.sampled_from([1, 2, 5, 10, 15])


@st.composite
def edits(draw: st.DrawFn) -> dict[str, Any]:
    """A few numbers changed within their plausible ranges, each with a tolerance."""
    chosen = draw(st.lists(st.integers(0, len(fields()) - 1), min_size=3, max_size=12, unique=True))
    out: dict[str, Any] = {}
    for index in chosen:
        path, now, facts = fields()[index]
        low, high = facts.plausible_si() or (now, now)
        value = min(max(now * draw(SHARE), min(low, now)), max(high, now))
        shown = f"{value / now:.6g}"
        out[path] = _written(path, float(shown), draw(TOLERANCE), facts)
    return out


@functools.cache
def _sound() -> Any:
    return sound_spec(rule_base())


def _written(path: str, factor: float, tolerance: int, facts: FieldFacts) -> dict[str, Any]:
    from swaplint.solving.what_if import stated_as, value_shown

    value = value_shown(float(_sound().stated(path).value) * factor, facts)
    written: Any = (
        float(f"{value:.6g}")
        if facts.type == "number"
        else stated_as(float(_sound().stated(path).value) * factor, facts).written
    )
    return {"value": written, "tol": f"{tolerance} %", "basis": "assumed"}


def test_there_are_fields_of_every_system() -> None:
    found = {path.rsplit(".", 1)[0].split(".")[0] for path, _, _ in fields()}
    assert found >= {"build", "vehicle", "engine", "driveline", "electrics", "plumbing"}
    assert len(fields()) > 200


@pytest.mark.thorough
@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
@given(edits(), st.integers(0, 10_000))
def test_no_point_inside_contradicts_a_plain_pass(changed: dict[str, Any], seed: int) -> None:
    base = rule_base()
    spec = sound_spec(base, changed)
    # at the quote stage an assumed value is not yet a matter for a person by itself
    inspection, problems = inspect_whole(base, spec, "quote", remedies="none")
    assert not [p for p in problems if "longer than" not in p.what]
    what_if = WhatIf(base, spec, inspection.stage, View(spec.build))
    source = random.Random(seed)
    for found in inspection.findings:
        moving = [path for path in found.inputs if path in changed]
        if found.kind != "pass" or not moving or found.carried:
            continue  # a limit that holds the tolerances already is no wider at another point
        for _ in range(4):
            point: dict[str, Stated | None] = {}
            for path in moving:
                stated = spec.stated(path)
                assert stated is not None
                assert stated.tol > 0
                point[path] = Stated(float(stated.value) + source.uniform(-1, 1) * stated.tol)
            again = what_if.finding(found, point)
            assert again is not None
            assert again.kind == "pass", (found.key, {p: (s and s.value) for p, s in point.items()})
