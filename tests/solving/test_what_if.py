"""What-ifs: a rule that is asked again says what it would say if it were asked for the first time."""

from __future__ import annotations

import random
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from swaplint.api import Build, Verdict, at_most, each_of, is_fitted, name_of, practice, rule
from swaplint.build.view import View
from swaplint.declare.rule import Rule
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.inspecting.findings import judgement_of
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding
from swaplint.inspecting.running import RuleBroke, run_rule
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base
from swaplint.solving.what_if import NoPlace, WhatIf, fields_to_change
from swaplint.spec.facts import Stated
from swaplint.spec.loading import LoadedSpec, load_spec, load_text
from swaplint.spec.shape import facts_at

SPECS = Path(__file__).parents[2] / "specs"
OFF = Stated(False, written="false")
CHANGES = 16
"""How many changes are tried on each spec, out of some two thousand."""


def asked_afresh(rule: Rule, spec: LoadedSpec, changes: Mapping[str, Stated | None]) -> list[Finding]:
    """What a rule judges on a view that shares nothing with another."""
    try:
        return [judgement_of(rule, outcome, "quote") for outcome in run_rule(rule, View(spec.build, changes))]
    except RuleBroke:
        return []


def some_changes(spec: LoadedSpec, base: RuleBase, findings: list[Finding]) -> list[dict[str, Stated | None]]:
    """A field changed, given a value that it had not, taken away; a part taken out."""
    source = random.Random(11)

    def some(paths: set[str], count: int) -> list[str]:
        return source.sample(sorted(paths), min(count, len(paths)))

    out: list[dict[str, Stated | None]] = []
    stated = {path for f in findings for path in f.inputs}
    lacking = {path for f in findings for path in (*f.unknown, *f.optional)}
    for path in some(stated, CHANGES // 2):
        facts, now = facts_at(base.model, path), spec.stated(path)
        if facts is None or now is None:
            continue
        other = now if isinstance(now.value, str | bool) else Stated(now.value * source.choice([0.5, 0.9, 1.3]))
        out += [{path: other}, {path: None}]
    for path in some(lacking, CHANGES // 4):
        facts = facts_at(base.model, path)
        if facts is not None and "[" not in path:
            out.append({path: Stated(facts.typical_value(), written="as is typical")})
    parts = {path.rsplit(".", 1)[0] for path in stated if "[" not in path}
    out += [{f"{part}.fitted": OFF} for part in some(parts, CHANGES // 4)]
    return out


@pytest.mark.thorough
@pytest.mark.parametrize("name", ["tarnholt-tender", "day-one-idea"])
def test_a_rule_asked_again_says_what_it_says_asked_afresh(name: str) -> None:
    base = rule_base()
    spec = load_spec(str(SPECS / f"{name}.toml"), model=base.model)
    view = View(spec.build)
    inspection, problems = inspect(base, spec, "quote", view)
    assert not problems
    what_if = WhatIf(base, spec, "quote", view)
    for changes in some_changes(spec, base, inspection.findings):
        for _, one in base.rules:
            again = what_if.judgements_on(one, view.changed(changes))
            assert again == asked_afresh(one, spec, changes), (one.id, changes)


@pytest.mark.parametrize(
    ("pattern", "fields"),
    [
        ("vehicle.mass.gvwr", ("vehicle.mass.gvwr",)),
        ("driveline.gearbox.ratios[2]", ("driveline.gearbox.ratios[2]",)),
        ("driveline.axles.*.ratio", ("driveline.axles.front.ratio",)),
        (
            "vehicle.aero.frontal_area",
            ("vehicle.aero.frontal_area",),
        ),  # a part with one place, whether it is stated or not
    ],
)
def test_what_can_be_changed_is_what_the_spec_has_a_place_for(pattern: str, fields: tuple[str, ...]) -> None:
    spec = load_text("[driveline]\ngearbox.ratios = [4.0, 2.0]\n[driveline.axles.front]\nratio = 4.1\n")
    assert fields_to_change(pattern, spec, []) == fields


@pytest.mark.parametrize(
    ("pattern", "says"),
    [
        ("driveline.gearbox.ratios[3]", "the spec has no driveline.gearbox.ratios[3]: driveline.gearbox.ratios has 2 "),
        ("driveline.gearbox.ratios", "driveline.gearbox.ratios is a list: name one of its entries, like driveline.gea"),
        ("driveline.axles.rear.ratio", "the spec has no driveline.axles.rear: driveline.axles has front"),
        ("electrics.cables.a.size", "the spec has no electrics.cables.a, for it states no electrics.cables"),
        ("supply[1].mass", "the spec has no supply[1], for it states no supply"),
        ("electrics.cables.*.size", "the spec has no part that electrics.cables.*.size names"),
    ],
)
def test_what_the_spec_has_no_place_for_is_refused_with_a_sentence(pattern: str, says: str) -> None:
    spec = load_text("[driveline]\ngearbox.ratios = [4.0, 2.0]\n[driveline.axles.front]\nratio = 4.1\n")
    with pytest.raises(NoPlace, match=re.escape(says)):
        fields_to_change(pattern, spec, [])


def counting(asked: list[str]) -> Rule:
    """A rule about every axle that tells of which it was asked."""

    @rule(
        "gearing.made-up",
        level="error",
        due="plan",
        sources=[practice("made up for this test")],
        each=lambda build: [axle for axle in each_of(build.driveline.axles) if is_fitted(axle)],
    )
    def judge(build: Build, axle: Any) -> Verdict:
        """Is it so?

        Computes: the ratio
        Limit: ten
        Remedy: change it
        Cannot tell: anything else
        """
        asked.append(name_of(axle))
        return at_most(axle.ratio, 10.0)

    return judge


AXLES = {f"driveline.axles.{name}.ratio": 4.1 for name in ("one", "two", "three")}


def with_axles(asked: list[str]) -> tuple[WhatIf, Rule, LoadedSpec]:
    """The sound spec with three axles more, and the rule that tells of which it was asked."""
    one = counting(asked)
    base = RuleBase([LoadedPack("made-up", "1", False, [one])], [], rule_base().model)
    spec = sound_spec(base, AXLES)
    return WhatIf(base, spec, "quote", View(spec.build)), one, spec


def test_only_the_part_that_is_changed_is_asked_about_again() -> None:
    asked: list[str] = []
    what_if, one, _ = with_axles(asked)
    changes: dict[str, Stated | None] = {"driveline.axles.two.ratio": Stated(12.0)}
    first = what_if.judgements_on(one, what_if.view.changed(changes))
    kinds = {f.part.rsplit(".", 1)[-1]: f.kind for f in first}
    assert kinds["two"] == "fail"
    assert kinds["one"] == kinds["three"] == "pass"
    asked.clear()
    what_if.judgements_on(one, what_if.view.changed({"driveline.axles.two.ratio": Stated(9.0)}))
    assert asked == ["two"]
    asked.clear()
    what_if.judgements_on(one, what_if.view.changed({"vehicle.mass.gvwr": Stated(2000.0)}))
    assert asked == []


def test_where_the_change_decides_which_parts_there_are_all_are_asked_about_again() -> None:
    asked: list[str] = []
    what_if, one, spec = with_axles(asked)
    changes = {"driveline.axles.two.fitted": OFF}
    what_if.before(one)
    asked.clear()
    found = what_if.judgements_on(one, what_if.view.changed(changes))
    assert "two" not in asked
    assert {"one", "three"} <= set(asked)
    assert found == asked_afresh(one, spec, changes)
    assert not [f for f in found if f.part.endswith(".two")]


def test_a_rule_that_lists_what_is_stated_is_asked_again_whatever_changes() -> None:
    base = rule_base()
    spec = sound_spec(base, {"vehicle.mass.gvwr": "80000 kg", "vehicle.mass.kerb_front": "50000 kg"})
    one = next(rule for _, rule in base.rules if rule.id == "mass.plausible-value")
    what_if = WhatIf(base, spec, "quote", View(spec.build))
    both = {f.part for f in what_if.judgements_on(one, what_if.view)}
    assert both == {"vehicle.mass.gvwr", "vehicle.mass.kerb_front"}
    (left,) = what_if.judgements_on(one, what_if.view.changed({"vehicle.mass.kerb_front": Stated(2000.0)}))
    assert left.part == "vehicle.mass.gvwr"


def test_a_rule_that_lists_other_parts_each_time_does_no_harm() -> None:
    times = iter(range(100))

    @rule(
        "gearing.made-up",
        level="error",
        due="plan",
        sources=[practice("made up for this test")],
        each=lambda build: list(each_of(build.driveline.axles))[: 3 - next(times) % 2],
    )
    def whimsical(build: Build, axle: Any) -> Verdict:
        """Is it so?

        Computes: the ratio
        Limit: ten
        Remedy: change it
        Cannot tell: anything else
        """
        return at_most(axle.ratio, 10.0)

    base = RuleBase([LoadedPack("made-up", "1", False, [whimsical])], [], rule_base().model)
    spec = sound_spec(base, AXLES)
    what_if = WhatIf(base, spec, "quote", View(spec.build))
    third = list(spec.build.driveline.axles)[2]  # type: ignore[attr-defined]
    changes: dict[str, Stated | None] = {f"driveline.axles.{third}.ratio": Stated(12.0)}
    # What lists the parts read nothing that changed, so they are those of before.
    assert len(what_if.judgements_on(whimsical, what_if.view.changed(changes))) == 3
    more: dict[str, Stated | None] = {
        "driveline.axles.fourth.ratio": Stated(12.0),
        f"driveline.axles.{third}.ratio": None,
    }
    assert len(what_if.judgements_on(whimsical, what_if.view.changed(more))) in (2, 3)


def test_a_rule_that_breaks_as_stated_is_still_asked_about_changes() -> None:
    @rule("gearing.made-up", level="error", due="plan", sources=[practice("made up")], about="vehicle.mass.gvwr")
    def breaks(build: Build) -> Verdict:
        """Is it so?

        Computes: the mass
        Limit: two tonnes
        Remedy: change it
        Cannot tell: anything else
        """
        if build.vehicle.mass.gvwr > 1000.0:
            raise RuntimeError("too heavy to think about")
        return at_most(build.vehicle.mass.gvwr, 2000.0)

    base = RuleBase([LoadedPack("made-up", "1", False, [breaks])], [], rule_base().model)
    spec = sound_spec(base, {"vehicle.mass.gvwr": "1500 kg"})
    what_if = WhatIf(base, spec, "quote", View(spec.build))
    assert what_if.judgements_on(breaks, what_if.view.changed({"vehicle.mass.gvwr": Stated(1400.0)})) == []
    (found,) = what_if.judgements_on(breaks, what_if.view.changed({"vehicle.mass.gvwr": Stated(900.0)}))
    assert found.kind == "pass"


def test_another_value_of_a_lists_entry_reaches_what_rests_on_all_that_is_stated() -> None:
    base = rule_base()
    spec = sound_spec(base, {})
    what_if = WhatIf(base, spec, "quote", View(spec.build))
    plausible = base.find("gearing.plausible-value")
    assert plausible is not None
    changed = what_if.view.changed({"driveline.gearbox.ratios[1]": Stated(900.0)})
    assert {f.kind for f in what_if.judgements_on(plausible, what_if.view)} == {"pass"}
    assert "pass" not in {f.kind for f in what_if.judgements_on(plausible, changed)}
    other = base.find("fuel.plausible-value")
    assert other is not None
    assert what_if.outcomes(other, changed) == what_if.before(other)
