"""The derived checks that silence never passes: each on a pack of one rule that it must find, or leave alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.kit import derived

HEAD = """
from swaplint.api import *

ASSUMED = Practice("hose bend radius of at least 100 mm", 0.1, practice("invented for a test"))

@hookimpl
def swaplint_pack():
    return Pack("acme", interface=INTERFACE, rules=rules_in(__name__), quantities=quantities_in(__name__))

@quantity("fit.acme-number", formula="as stated", sources=[practice("invented").giving("formula")]QUANTITY)
def number(build):
    '''The number of cylinders.'''
    return given(lambda: build.engine.cylinders) or 4.0

@rule("fit.acme", level="warning", due="plan", about="engine.cylinders",
      sources=[practice("invented for a test").giving("limit", "any")],
      bad=[{"engine.cylinders": 1}], good=[{"engine.cylinders": 8}]DECLARED)
def judged(build):
    '''Is it sound?

    Computes: nothing.
    Limit: none.
    Consequence: none.
    Remedy: none.
    Cannot tell: much.
    '''
"""
"""A pack with one rule and one quantity; the rule's body follows."""


def base_with(tmp_path: Path, body: str, declared: str = "", of_quantity: str = "") -> RuleBase:
    text = HEAD.replace("DECLARED", f", {declared}" if declared else "")
    text = text.replace("QUANTITY", f", {of_quantity}" if of_quantity else "")
    lines = "".join(f"    {line}\n" for line in body.splitlines())
    (tmp_path / "acme.py").write_text(text + lines, encoding="utf-8")
    base = load_rule_base([str(tmp_path / "acme.py")], installed=False)
    assert base.problems == []
    return base


def silent(tmp_path: Path, body: str, declared: str = "", of_quantity: str = "") -> list[str]:
    base = base_with(tmp_path, body, declared, of_quantity)
    return derived.check_silence(base, base.rules[0][1])


def emptied(tmp_path: Path, body: str, declared: str = "") -> list[str]:
    base = base_with(tmp_path, body, declared)
    return derived.check_emptied(base, base.rules[0][1])


CYLINDERS = """
count = given(lambda: build.engine.cylinders)
return holds(count is None or count > 2.0)
"""
ON_SILENCE = {
    "a-number": (
        CYLINDERS,
        "fit.acme: engine.cylinders: on the sound spec it says pass with engine.cylinders not stated, "
        "and fail with engine.cylinders = 1 (the build)",
    ),
    "a-word": (
        "return holds(given(lambda: build.driveline.gearbox.kind) != 'automatic')",
        "it says pass with driveline.gearbox.kind not stated, and fail with driveline.gearbox.kind = automatic",
    ),
    "a-flag-that-the-sound-spec-leaves-out": (
        "return holds(not given(lambda: build.driveline.axles['rear'].integral))",
        "driveline.axles.*.integral: on the sound spec it says pass with driveline.axles.rear.integral not stated, and",
    ),
    "a-demand-that-is-not-made": (
        "count = given(lambda: build.engine.cylinders)\n"
        "more = {} if count is None else {'count': at_least(count, 3.0)}\n"
        "return all_of({'idle': holds(build.engine.speed.idle > 1.0), **more})",
        "it says nothing with engine.cylinders not stated, and fail with engine.cylinders = 1 (count)",
    ),
    "a-rule-that-does-not-apply": (
        "count = given(lambda: build.engine.cylinders)\n"
        "return does_not_apply('Not known.') if count is None else at_least(count, 3.0)",
        "it says notApplicable with engine.cylinders not stated",
    ),
    "a-part": (
        "return holds(given(lambda: is_fitted(build.plumbing.cooling.heater)) is not False)",
        "plumbing.cooling.heater.fitted: on the sound spec it says pass with plumbing.cooling.heater not stated, "
        "and fail with plumbing.cooling.heater.fitted = false",
    ),
    "a-list": (
        "ratios = given(lambda: build.driveline.gearbox.ratios)\nreturn holds(ratios is None or len(ratios) > 1)",
        "it says pass with driveline.gearbox.ratios not stated, and fail with driveline.gearbox.ratios = [",
    ),
    "a-collection": (
        "shafts = given(lambda: list(build.driveline.shafts.values())) or []\n"
        "return holds(all(shaft.length < 2.5 for shaft in shafts))",
        "driveline.shafts: on the sound spec it says pass with driveline.shafts not stated, and fail with",
    ),
    "in-a-quantity": ("return at_least(number(build), 2.5)", "engine.cylinders: on the sound spec it says pass with"),
    "only-on-an-example": (
        "if build.engine.cylinders != 8.0:\n    return holds(build.engine.cylinders > 2.0)\n"
        "return holds(given(lambda: build.engine.strokes) != 2.0)",
        "engine.strokes: on the sound spec with {'engine.cylinders': 8} it says pass with engine.strokes not stated",
    ),
}


@pytest.mark.parametrize("name", ON_SILENCE)
def test_a_pass_on_silence_is_found_and_told_with_field_value_and_both_answers(name: str, tmp_path: Path) -> None:
    body, words = ON_SILENCE[name]
    faults = silent(tmp_path, body)
    assert words in faults[0]
    assert len(faults) == 2
    assert "without=" in faults[1]


SOUND = {
    "it-asks": "return at_least(build.engine.cylinders, 3.0)",
    "no-value-turns-it": "return holds((given(lambda: build.engine.cylinders) or 4.0) > 0.5)",
    "a-practice-stands-in": ("return at_least(or_practice(lambda: build.engine.speed.idle, ASSUMED), 75.0)"),
    "a-person-decides": (
        "count = given(lambda: build.engine.cylinders)\n"
        "return needs_review('How many?') if count is None else at_least(count, 3.0)"
    ),
    "what-is-said-of-a-part-says-that-it-is-there": (
        "return holds(is_fitted(build.plumbing.cooling.heater) and build.engine.cylinders > 2.0)"
    ),
}


@pytest.mark.parametrize("name", SOUND)
def test_what_asks_or_names_a_practice_is_left_alone(name: str, tmp_path: Path) -> None:
    assert silent(tmp_path, SOUND[name]) == []


WHY = "without={'engine.cylinders': 'Every engine of this kind has four or more.'}"


def test_a_rule_may_say_why_it_does_without(tmp_path: Path) -> None:
    assert silent(tmp_path, CYLINDERS, WHY) == []
    (stale,) = silent(tmp_path, "return at_least(build.engine.cylinders, 3.0)", WHY)
    assert "excuses nothing with engine.cylinders" in stale


def test_a_quantity_may_say_it_for_the_rules_that_use_it(tmp_path: Path) -> None:
    base = base_with(tmp_path, "return at_least(number(build), 2.5)", of_quantity=WHY)
    assert derived.check_silence(base, base.rules[0][1]) == []
    assert derived.check_silence_of_quantity(base, base.quantities[0][1]) == []
    base = base_with(tmp_path, CYLINDERS, of_quantity=WHY)
    assert "engine.cylinders" in derived.check_silence(base, base.rules[0][1])[0]
    (stale,) = derived.check_silence_of_quantity(base, base.quantities[0][1])
    assert "excuses nothing with engine.cylinders" in stale


def test_another_field_takes_its_place_only_where_it_is_read_and_stated(tmp_path: Path) -> None:
    body = "return holds((given(lambda: build.engine.speed.cruise_low) or {}) > 150.0)"
    takes = "instead={'engine.speed.cruise_low': 'engine.speed.idle'}"
    assert silent(tmp_path, body.format("build.engine.speed.idle * 2"), takes) == []
    assert "engine.speed.cruise_low" in silent(tmp_path, body.format("200.0"), takes)[0]


def test_a_collection_written_empty_must_not_pass(tmp_path: Path) -> None:
    vacuous = "return holds(all(pipe.length < 100.0 for pipe in build.plumbing.exhaust.pipes.values()))"
    faults = emptied(tmp_path, vacuous)
    assert faults[0] == "fit.acme: plumbing.exhaust.pipes: with plumbing.exhaust.pipes written empty it says pass"
    assert "may_be_empty=" in faults[1]
    assert emptied(tmp_path, "return holds(len(build.plumbing.exhaust.pipes) > 0)") == []
    assert emptied(tmp_path, "return holds(all(axle.ratio > 1.0 for axle in build.driveline.axles.values()))") == []


def test_a_rule_may_say_why_it_passes_with_an_empty_collection(tmp_path: Path) -> None:
    vacuous = "return holds(all(pipe.length < 100.0 for pipe in build.plumbing.exhaust.pipes.values()))"
    why = "without={'plumbing.exhaust.pipes': 'Where there is no pipe another rule says so at once.'}"
    assert emptied(tmp_path, vacuous, why) == []
    assert silent(tmp_path, vacuous, why) == []
    (stale,) = silent(tmp_path, "return holds(len(build.plumbing.exhaust.pipes) > 0)", why)
    assert "excuses nothing with plumbing.exhaust.pipes" in stale
