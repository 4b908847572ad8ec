"""One spec inspected after each edit says the same as inspected afresh, however unlike it is to what came before."""

from __future__ import annotations

import functools
import random
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from swaplint.api import (
    Build,
    Rule,
    Verdict,
    all_of,
    at_least,
    at_most,
    each_of,
    given,
    holds,
    informs,
    is_fitted,
    or_practice,
    quantity,
)
from swaplint.build.stated import stated_values
from swaplint.build.view import View
from swaplint.declare.practices import Practice
from swaplint.host.packs import RuleBase
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.kept import Kept
from swaplint.inspecting.results import Finding, Inspection
from swaplint.inspecting.running import run_rule
from swaplint.kit.edits import edited_data
from swaplint.kit.trial import rule_base
from swaplint.solving.editing import EditedSpec
from swaplint.solving.tolerance import carry_tolerances, worst_corner
from swaplint.solving.what_if import WhatIf
from swaplint.solving.whole import inspect_whole
from swaplint.spec.differences import differences
from swaplint.spec.facts import Stated
from swaplint.spec.loading import load_text
from tests.core.tests_making import SOURCE, base_of, made

sys.path.insert(0, "tests/bench")
import chains


@pytest.fixture(autouse=True, scope="module")
def _one_rule_base() -> None:
    """The packs are loaded once for the whole process."""
    chains.installed = rule_base


def said(inspection: Inspection) -> list[Any]:
    return [inspection.findings, inspection.ask_next]


# -- chains of unlike specs, all rules ------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "seed", [*range(5), *(pytest.param(seed, marks=pytest.mark.thorough) for seed in range(5, 24))]
)
def test_a_chain_of_unlike_specs_says_of_each_what_it_says_afresh(seed: int) -> None:
    """`tests/bench/chains.py` goes through longer ones, and many more of them."""
    assert list(chains.kept_and_afresh(chains.chain_of(random.Random(seed), (2, 2, 3)))) == []


@pytest.mark.parametrize("seed", range(4))
def test_a_single_edit_and_back_says_what_it_says_afresh(seed: int) -> None:
    assert list(chains.kept_and_afresh(chains.single_edit(random.Random(seed)))) == []


def test_remedies_are_those_found_afresh() -> None:
    sound = edited_data({})
    failing = edited_data({"driveline.shafts.rear.length": "2300 mm", "electrics.cables.ecm.fuse": "60 A"})
    assert list(chains.kept_and_afresh([sound, failing], remedies=True)) == []


def test_specs_in_one_call_have_the_lines_that_they_have_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    chain = chains.chain_of(random.Random(3), (3,))
    assert list(chains.together_and_alone(chain, tmp_path)) == []


def test_the_comparison_sees_what_differs() -> None:
    """The proof is none if it cannot fail."""
    base = rule_base()
    spec = chains.loaded(edited_data({}))
    other = chains.loaded(edited_data({"driveline.shafts.rear.length": "2300 mm"}))
    assert spec is not None
    assert other is not None
    one, two = inspect_whole(base, spec, remedies="none"), inspect_whole(base, other, remedies="none")
    assert chains.unlike(one, one) == ""
    assert "driveline.critical-speed" in chains.unlike(one, two)
    fewer = inspect_whole(base, spec, remedies="none")
    fewer[0].findings.pop()
    assert "findings" in chains.unlike(one, fewer)


def test_most_of_what_an_edit_does_not_touch_is_kept() -> None:
    """Else nothing was put to the test."""
    edited = EditedSpec(rule_base())
    before = edited.inspect(chains.loaded(edited_data({})))[0].findings
    after = edited.inspect(chains.loaded(edited_data({"driveline.shafts.rear.length": "2300 mm"})))[0].findings
    known = {id(finding) for finding in before}
    assert sum(id(finding) in known for finding in after) > 0.8 * len(after)


# -- cases by name --------------------------------------------------------------------------------------------------
SHAFT = edited_data({})["driveline"]["shafts"]["rear"]
CABLE = edited_data({})["electrics"]["cables"]["ecm"]


def with_shafts(shafts: Mapping[str, Any]) -> dict[str, Any]:
    data = edited_data({})
    data["driveline"]["shafts"] = dict(shafts)
    return data


def only_shafts(shafts: Mapping[str, Any]) -> dict[str, Any]:
    """A spec of nothing but what a shaft's speed hangs on, and the shafts."""
    data = with_shafts(shafts)
    return {"build": data["build"], "driveline": data["driveline"]}


def with_cables(cables: Mapping[str, Any]) -> dict[str, Any]:
    data = edited_data({})
    data["electrics"]["cables"] = {**data["electrics"]["cables"], **cables}
    if "ecm" not in cables:
        del data["electrics"]["cables"]["ecm"]
    return data


def in_turn(*specs: Any) -> list[list[Finding]]:
    """The findings of each spec, all through one `EditedSpec`, which are those that it has afresh."""
    found: list[Inspection] = []
    assert list(chains.kept_and_afresh(specs, found=found)) == []
    return [inspection.findings for inspection in found]


def kinds(findings: list[Finding], rule: str, part: str) -> dict[str, tuple[str, str | None]]:
    return {f.demand: (f.kind, f.level) for f in findings if f.rule.id == rule and f.part == part}


@pytest.mark.parametrize("other_spec", [with_shafts, only_shafts])
def test_a_shaft_that_comes_back_longer_whirls(other_spec: Callable[[Mapping[str, Any]], dict[str, Any]]) -> None:
    """A shaft of 1050 mm, then a spec with only another shaft, then the first one again with 1700 mm."""
    short, long = {**SHAFT, "length": "1050 mm"}, {**SHAFT, "length": "2300 mm"}
    middling = {**SHAFT, "length": "1700 mm"}
    fast = {"tube_outer": "50.8 mm", "tube_wall": "1.65 mm"}
    specs = [
        with_shafts({"rear": {**short, **fast}}),
        other_spec({"other": {**SHAFT, "length": "1050 mm", "drives": "front"}}),
        with_shafts({"rear": {**middling, **fast}}),
        with_shafts({"rear": long}),
    ]
    before, without, after, last = in_turn(*specs)
    rule, part = "driveline.critical-speed", "driveline.shafts.rear"
    assert {kind for kind, _ in kinds(before, rule, part).values()} == {"pass"}
    assert kinds(without, rule, part) == {}
    assert ("fail", "error") in kinds(after, rule, part).values()
    assert ("fail", "error") in kinds(last, rule, part).values()


def test_a_cable_that_comes_back_with_a_greater_fuse_burns() -> None:
    """A cable with a fuse of 25 A, then a spec with only another cable in its place, then the first with 60 A."""
    specs = [
        with_cables({"ecm": {**CABLE, "fuse": "25 A"}}),
        with_cables({"other": {**CABLE, "fuse": "25 A"}}),
        with_cables({"ecm": {**CABLE, "fuse": "60 A"}}),
    ]
    before, without, after = in_turn(*specs)
    rule, part = "power.fuse-cable-match", "electrics.cables.ecm"
    assert {kind for kind, _ in kinds(before, rule, part).values()} == {"pass"}
    assert kinds(without, rule, part) == {}
    assert ("fail", "error") in kinds(after, rule, part).values()


def test_items_that_change_places_are_other_items() -> None:
    curve = [("1000 r/min", "300 Nm"), ("2000 r/min", "400 Nm"), ("3000 r/min", "350 Nm")]

    def points(order: tuple[int, ...]) -> dict[str, Any]:
        data = edited_data({})
        data["engine"]["torque_curve"] = [{"speed": curve[n][0], "torque": curve[n][1]} for n in order]
        return data

    specs = [points(order) for order in ((0, 1, 2), (0, 2), (0, 1, 2))]
    assert list(chains.kept_and_afresh(specs)) == []


def test_a_section_that_goes_and_comes_back() -> None:
    whole, without = edited_data({}), edited_data({})
    for name in ("electrics", "driveline"):
        del without[name]
    assert list(chains.kept_and_afresh([whole, without, whole])) == []


# -- what a rule rests on besides what it reads as stated -----------------------------------------------------------
def same_as_afresh(base: RuleBase, *texts: str) -> list[Inspection]:
    """Each spec through one `EditedSpec`: the same as afresh, or an error."""
    edited, out = EditedSpec(base, "plan"), []
    for text in texts:
        spec = load_text(text)
        kept = edited.inspect(spec, remedies=True)
        assert chains.unlike(kept, inspect_whole(base, spec, "plan")) == ""
        out.append(kept[0])
    return out


def test_typical_values_that_did_not_fit_together_may_do_so_after_an_edit() -> None:
    """Looking for all that a rule lacks broke on another value than the one that is missing."""

    def rule(build: Build) -> Verdict:
        strokes = build.engine.strokes
        if build.engine.cylinders > 4.0:
            raise ZeroDivisionError
        return at_most(strokes, build.vehicle.mass.gvwr)

    first, second = same_as_afresh(base_of(made("fit.made-up", rule)), "engine.cylinders = 6", "engine.cylinders = 4")
    assert first.findings[0].unknown == ("engine.strokes",)
    assert second.findings[0].unknown == ("engine.strokes", "vehicle.mass.gvwr")


def test_at_a_corner_all_demands_count_where_the_worst_of_them_is_meant() -> None:
    """One verdict as stated, several at the end of a tolerance: a demand that was not the worst may become so."""

    def rule(build: Build) -> Verdict:
        if build.engine.cylinders * build.engine.speed.idle <= 4.0 * 750.0 * 0.1047198:
            return at_least(build.engine.speed.idle, 1.0)
        return all_of(
            one=lambda: at_most(build.vehicle.mass.gvwr, 4000.0),
            other=lambda: at_most(build.vehicle.mass.gcwr, 4000.0),
        )

    idle = '[engine]\ncylinders = 4\nspeed.idle = { value = "750 r/min", tol = "5 %" }\n[vehicle.mass]\n'
    texts = [f'{idle}gvwr = "3900 kg"\ngcwr = "{gcwr} kg"' for gcwr in (3000, 5000, 3000)]
    inspections = same_as_afresh(base_of(made("fit.made-up", rule)), *texts)
    assert [i.findings[0].kind for i in inspections] == ["pass", "review", "pass"]


def test_the_worst_corner_is_told_from_the_finding_as_stated() -> None:
    """Which way a tolerance is worse does not hang on whether it was looked up before the finding became a review."""

    def rule(build: Build) -> Verdict:
        given(lambda: build.engine.displacement)  # is read, and changes nothing
        return at_most(build.engine.speed.idle, 80.0)

    text = '[engine]\ndisplacement = { value = "2 L", tol = "5 %" }\nspeed.idle = { value = "750 r/min", tol = "5 %" }'
    base, spec = base_of(made("fit.made-up", rule)), load_text(text)
    asked = WhatIf(base, spec, "plan", View(spec.build))
    inspection, _ = inspect(base, spec, "plan", asked.view)
    carry_tolerances(asked, inspection)
    (review,) = inspection.findings
    assert review.kind == "review"
    known = worst_corner(asked, review, ())
    assert list(known) == ["engine.speed.idle"]
    assert worst_corner(WhatIf(base, spec, "plan", View(spec.build)), review, ()) == known


# -- what must be asked again ---------------------------------------------------------------------------------------
def asked(*rules: Rule) -> tuple[RuleBase, list[str]]:
    """A base with rules that note when they are asked."""
    notes: list[str] = []

    def noting(one: Rule) -> Rule:
        @functools.wraps(one.function)
        def function(build: Build, *part: Any) -> Verdict:
            notes.append(one.id)
            return one.function(build, *part)

        return made(one.id, function, each=one.each)

    return base_of(*(noting(one) for one in rules)), notes


def read_speed(build: Build) -> Verdict:
    return holds(build.engine.speed.rated > 200.0)


def read_mass(build: Build) -> Verdict:
    return holds(build.engine.mass.wet > 1.0)


def read_gearbox(build: Build) -> Verdict:
    return holds(is_fitted(build.driveline.gearbox))


def read_cable(build: Build, cable: Any) -> Verdict:
    return holds(cable.size > 0.0)


def list_power(build: Build) -> Verdict:
    return informs(" ".join(path for path, _, _ in stated_values(build, "power")))


RULES = (
    made("gearing.speed", read_speed),
    made("mass.engine", read_mass),
    made("driveline.gearbox", read_gearbox),
    made("power.cable", read_cable, each=lambda build: each_of(build.electrics.cables)),
    made("power.list", list_power),
)
SPEC = """
[engine]
speed.rated = "2000 r/min"
mass.wet = "300 kg"
[electrics.cables.starter]
size = "50 mm2"
[electrics.cables.earth]
size = "50 mm2"
"""


@pytest.mark.parametrize(
    ("old", "new", "again"),
    [
        ("", "", []),
        ("2000 r/min", "2100 r/min", ["gearing.speed"]),
        # Where a part comes or goes, all that list what is stated are asked.
        ('speed.rated = "2000 r/min"', "", ["gearing.speed", "power.list"]),
        ('"300 kg"', '{ value = "300 kg", tol = "2 %" }', ["mass.engine"]),
        ('"300 kg"', '"300.0 kg"', ["mass.engine"]),  # the value is shown as it is written
        ('starter]\nsize = "50 mm2"', 'starter]\nsize = "70 mm2"', ["power.cable", "power.list"]),
        ("cables.earth", "cables.ground", ["power.cable", "power.cable", "power.list"]),
        ("[engine]", "[driveline.gearbox]\nfitted = false\n[engine]", ["driveline.gearbox", "power.list"]),
        ("[engine]", "[engine]\nfitted = true", ["gearing.speed", "mass.engine", "power.list"]),
    ],
)
def test_only_what_read_a_change_is_asked_again(old: str, new: str, again: list[str]) -> None:
    base, notes = asked(*RULES)
    edited = EditedSpec(base, "plan")
    edited.inspect(load_text(SPEC))
    notes.clear()
    spec = load_text(SPEC.replace(old, new))
    kept, _ = edited.inspect(spec)
    # A rule that lacks something is asked once more with typical values in its place.
    assert sorted(dict.fromkeys(notes)) == sorted(dict.fromkeys(again))
    assert said(kept) == said(inspect_whole(base, spec, "plan", remedies="none")[0])


def test_only_the_demands_that_read_a_change_are_asked_again() -> None:
    notes: list[str] = []

    def fast(build: Build) -> Verdict:
        notes.append("fast")
        return at_least(build.engine.speed.rated, 100.0)

    def wet(build: Build) -> Verdict:
        notes.append("wet")
        return at_least(build.engine.mass.wet, 1.0)

    def rule(build: Build) -> Verdict:
        demands = {"fast": lambda: fast(build), "heavy": lambda: all_of({"wet": lambda: wet(build)})}
        return all_of(dict(reversed(demands.items())) if build.engine.cylinders > 4.0 else demands)

    base = base_of(made("gearing.both", rule))
    texts = [
        f'[engine]\ncylinders = {count}\nspeed.rated = "{speed} r/min"\nmass.wet = "{mass} kg"'
        for count, speed, mass in ((4, 2000, 300), (4, 2100, 300), (4, 2100, 310), (6, 2100, 310), (6, 2100, 310))
    ]
    edited, again = EditedSpec(base, "plan"), []
    for text in texts:
        notes.clear()
        spec = load_text(text)
        kept = edited.inspect(spec)[0]
        again.append(list(notes))
        assert said(kept) == said(inspect_whole(base, spec, "plan", remedies="none")[0])
    # Where what demands there are hangs on it, all are asked.
    assert again == [["fast", "wet"], ["fast"], ["wet"], ["wet", "fast"], []]


def test_another_stage_starts_anew() -> None:
    base, notes = asked(*RULES)
    edited = EditedSpec(base)
    edited.inspect(load_text('build.stage = "plan"\n' + SPEC))
    notes.clear()
    edited.inspect(load_text('build.stage = "build"\n' + SPEC))
    assert set(notes) == {rule.id for rule in RULES}


def test_other_packs_start_anew() -> None:
    kept = Kept()
    for _ in range(2):
        base, notes = asked(*RULES)
        inspect_whole(base, load_text(SPEC), "plan", remedies="none", kept=kept)
        assert set(notes) == {rule.id for rule in RULES}


def test_a_fallback_in_the_place_of_a_quantity_is_named_each_time() -> None:
    """The quantity that cannot be computed is kept, and each rule that does without it says so."""

    @quantity("gearing.invented", formula="the rated speed", sources=[SOURCE])
    def invented(build: Build) -> float:
        """An invented number."""
        return float(build.engine.speed.rated)

    fallback = Practice("an invented speed", 1.0, SOURCE)

    def use(build: Build) -> Verdict:
        return holds(or_practice(lambda: invented(build), fallback) > 0.0 and build.engine.mass.wet > 1.0)

    edited = EditedSpec(base_of(made("gearing.use", use), made("gearing.use-too", use)), "plan")
    for text in ('[engine.mass]\nwet = "300 kg"', '[engine.mass]\nwet = "310 kg"'):
        found = edited.inspect(load_text(text))[0].findings
        assert [finding.practices for finding in found] == [("an invented speed",)] * 2


def test_a_fallback_is_named_on_a_view_that_takes_the_quantity_from_another_one() -> None:
    @quantity("gearing.invented", formula="the rated speed", sources=[SOURCE])
    def invented(build: Build) -> float:
        """An invented number."""
        return float(build.engine.speed.rated)

    fallback = Practice("an invented speed", 1.0, SOURCE)

    def use(build: Build) -> Verdict:
        return holds(or_practice(lambda: invented(build), fallback) > 0.0 and build.engine.mass.wet > 1.0)

    one, view = made("gearing.use", use), View(load_text('[engine.mass]\nwet = "300 kg"').build)
    changed = view.changed({"engine.mass.wet": Stated(310.0, written="310 kg")})
    for seen in (view, changed):
        (outcome,) = run_rule(one, seen)
        assert list(outcome.reads.practices) == ["an invented speed"]


def test_a_field_that_one_rule_lacks_is_said_of_the_next_one_too() -> None:
    """A list that is made up to find out what a rule lacks is still one that the spec does not state."""

    def lack(build: Build) -> Verdict:
        return holds(bool(given(lambda: build.engine.speed.rated)) or len(build.electrics.cables) > 3)

    base = base_of(made("power.one", lack), made("power.two", lack))
    found = inspect(base, load_text(""), "plan")[0].findings
    assert [finding.unknown for finding in found] == [("electrics.cables",)] * 2


# -- differences ----------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("one", "other", "paths"),
    [
        ("", "", set()),
        ('[engine]\nspeed.rated = "2000 r/min"', '[engine]\nspeed.rated = "2000 r/min"', set()),
        ('[engine]\nspeed.rated = "2000 r/min"', '[engine]\nspeed.rated = "2100 r/min"', {"engine.speed.rated"}),
        (
            "[driveline.gearbox]\nratios = [4.0, 1.0]",
            "[driveline.gearbox]\nratios = [4.0, 1.1]",
            {"driveline.gearbox.ratios"},
        ),
        (
            "[electrics.cables.a]\n[electrics.cables.b]",
            "[electrics.cables.b]\n[electrics.cables.a]",
            {"electrics.cables"},
        ),
        (
            '[electrics.cables.a]\nsize = "5 mm2"',
            '[electrics.cables.a]\nsize = "6 mm2"\n[electrics.cables.b]',
            {"electrics.cables", "electrics.cables.a.size", "electrics.cables.b.fitted"},
        ),
        ("[driveline.gearbox]\nfitted = false", "[driveline.gearbox]", {"driveline.gearbox.fitted"}),
    ],
)
def test_differences(one: str, other: str, paths: set[str]) -> None:
    builds = load_text(one).build, load_text(other).build
    assert differences(*builds) == paths
    assert differences(*reversed(builds)) == paths


def test_a_part_that_only_one_build_states_differs_in_all_that_it_states() -> None:
    builds = load_text("[driveline]").build, load_text('[driveline.gearbox]\nkind = "manual"').build
    assert differences(*builds) == {"driveline.gearbox.fitted", "driveline.gearbox.kind"}


def test_builds_of_other_models_are_not_compared() -> None:
    class Other(Build):
        pass

    with pytest.raises(TypeError, match="cannot be compared"):
        differences(load_text("").build, Other.model_construct())
