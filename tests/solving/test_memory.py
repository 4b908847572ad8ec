"""Inspecting one spec after another with a memory says the same as inspecting each by itself."""

from __future__ import annotations

import copy
import functools
import random
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
import tomli_w
from swaplint.inspecting.memory import Memory

from swaplint.api import Build, Rule, Verdict, each_of, given, holds, informs, is_fitted, or_practice, quantity
from swaplint.build.stated import stated_values
from swaplint.build.view import View
from swaplint.declare.practices import Practice
from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Inspection
from swaplint.inspecting.running import run_rule
from swaplint.solving.whole import inspect_whole
from swaplint.spec.differences import differences
from swaplint.spec.fields import Stated
from swaplint.spec.loading import LoadedSpec, SpecErrors, load_text
from tests.core.tests_making import SOURCE, base_of, made

SPECS = Path("specs")
STARTS = ("specs/tarnholt-tender.toml", "specs/skerrivar-van.toml", "swaplint/kit/sound.toml")


@functools.cache
def installed() -> RuleBase:
    return load_rule_base()


def spec_of(data: Any, base: RuleBase) -> LoadedSpec:
    return load_text(tomli_w.dumps(data), folder=SPECS, model=base.model)


# -- any changes, all rules ---------------------------------------------------------------------------------------
def leaves(node: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    found = [path] if path else []
    children = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, child in children:
        found += leaves(child, (*path, key))
    return found


def change(data: Any, dice: random.Random) -> None:
    """One change as a builder makes them: another number, a field or part gone, doubled or not fitted."""
    path = dice.choice(leaves(data))
    holder = data
    for key in path[:-1]:
        holder = holder[key]
    key, value = path[-1], holder[path[-1]]
    kind = dice.random()
    if kind < 0.25:
        del holder[key]
    elif kind < 0.35 and isinstance(holder, dict) and isinstance(value, dict) and "value" not in value:
        holder[f"{key}-too"] = copy.deepcopy(value)
    elif kind < 0.45 and isinstance(value, dict) and "value" not in value:
        value["fitted"] = False
    elif kind < 0.55 and isinstance(holder, dict):
        holder[key] = holder.pop(key)  # another order
    elif isinstance(value, str) and (number := re.match(r"\d+(\.\d+)?(?= )", value)):
        text = f"{float(number.group()) * dice.choice([0.5, 0.9, 1.01, 1.3, 4.0]):g}{value[number.end() :]}"
        holder[key] = {"value": text, "tol": "4 %", "basis": "assumed"} if dice.random() < 0.3 else text
    elif isinstance(value, bool):
        holder[key] = not value
    elif isinstance(value, float):
        holder[key] = value * dice.choice([0.8, 1.1])
    elif isinstance(value, list) and len(value) > 1:
        dice.shuffle(value)


def changed(data: Any, dice: random.Random, base: RuleBase) -> tuple[Any, LoadedSpec]:
    """The data with some changes that leave a spec which can be read, and that spec."""
    while True:
        new = copy.deepcopy(data)
        for _ in range(dice.choice([1, 1, 2, 5])):
            change(new, dice)
        try:
            return new, spec_of(new, base)
        except SpecErrors:
            continue


def said(inspection: Inspection) -> list[Any]:
    return [inspection.findings, inspection.ask_next]


@pytest.mark.parametrize("seed", range(9))
def test_a_memory_changes_nothing_of_what_is_found(seed: int) -> None:
    base, dice, memory = installed(), random.Random(seed), Memory()
    data = tomllib.loads(Path(STARTS[seed % 3]).read_text(encoding="utf-8"))
    stage = dice.choice(["plan", "quote", "build", "commission"])
    kept = 0
    for _ in range(4):
        data, spec = changed(data, dice, base)
        before = {id(outcome) for outcomes in memory.outcomes.values() for outcome in outcomes}
        remembered, _ = inspect_whole(base, spec, stage, remedies=False, memory=memory)
        alone, _ = inspect_whole(base, spec, stage, remedies=False)
        assert said(remembered) == said(alone)
        kept += sum(id(outcome) in before for outcomes in memory.outcomes.values() for outcome in outcomes)
    assert kept > 300  # else nothing was put to the test


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
    memory = Memory()
    inspect(base, load_text(SPEC), "plan", memory=memory)
    notes.clear()
    spec = load_text(SPEC.replace(old, new))
    remembered, _ = inspect(base, spec, "plan", memory=memory)
    # A rule that lacks something is asked once more with typical values in its place.
    assert sorted(dict.fromkeys(notes)) == sorted(dict.fromkeys(again))
    assert said(remembered) == said(inspect(base, spec, "plan")[0])


def test_another_stage_or_other_packs_start_anew() -> None:
    base, notes = asked(*RULES)
    memory = Memory()
    inspect(base, load_text(SPEC), "plan", memory=memory)
    notes.clear()
    inspect(base, load_text(SPEC), "build", memory=memory)
    assert len(notes) >= len(RULES)
    other, other_notes = asked(*RULES)
    inspect(other, load_text(SPEC), "build", memory=memory)
    assert len(other_notes) >= len(RULES)


def test_a_fallback_in_the_place_of_a_quantity_is_named_each_time() -> None:
    """The quantity that cannot be computed is kept, and each rule that does without it says so."""

    @quantity("gearing.invented", formula="the rated speed", sources=[SOURCE])
    def invented(build: Build) -> float:
        """An invented number."""
        return float(build.engine.speed.rated)

    fallback = Practice("an invented speed", 1.0, SOURCE)

    def use(build: Build) -> Verdict:
        return holds(or_practice(lambda: invented(build), fallback) > 0.0 and build.engine.mass.wet > 1.0)

    base, memory = base_of(made("gearing.use", use), made("gearing.use-too", use)), Memory()
    for text in ('[engine.mass]\nwet = "300 kg"', '[engine.mass]\nwet = "310 kg"'):
        found = inspect(base, load_text(text), "plan", memory=memory)[0].findings
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
            {"electrics.cables", "electrics.cables.a.size"},
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
