"""The weighed start masses of the tender known to 5 % only: every verdict that depends on them is right at both ends.

What the tool says with the tolerance is held against inspections of files that state other masses and no tolerance.
"""

import functools
import itertools
import random
import re
from pathlib import Path

import pytest

from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding
from swaplint.kit.trial import rule_base
from swaplint.solving.whole import inspect_whole
from swaplint.spec.loading import LoadedSpec, load_text

SPECS = Path("specs")
FRONT, REAR = "vehicle.mass.kerb_front", "vehicle.mass.kerb_rear"
STATED = {FRONT: 2230.0, REAR: 1870.0}
TOL = 0.05

Key = tuple[str, str]


NARROW = {
    # laden as stated: 2878 kg in front, 3785 kg behind, 6663 kg in all
    'gawr_front = "3000 kg"': 'gawr_front = "2920 kg"',
    'gawr_rear = "5200 kg"': 'gawr_rear = "3830 kg"',
    '[vehicle.mass]\ngvwr = "7500 kg"': '[vehicle.mass]\ngvwr = "6750 kg"',
}
"""Ratings so near to the laden masses that they lie inside the tolerance."""


def spec_with(front: str, rear: str, narrow: bool = False) -> LoadedSpec:
    text = (SPECS / "tarnholt-tender.toml").read_text(encoding="utf-8")
    for old, new in NARROW.items() if narrow else ():
        assert text.count(old) == 1
        text = text.replace(old, new)
    for key, value in (("kerb_front", front), ("kerb_rear", rear)):
        text, changed = re.subn(rf"(?m)^{key} = \{{[^}}]*\}}", f"{key} = {value}", text)
        assert changed == 1
    return load_text(text, label="tender.toml", folder=SPECS, model=rule_base().model)


@functools.cache
def at(front: float, rear: float, narrow: bool = False) -> dict[Key, Finding]:
    """What the rules find with masses in kg that are known exactly."""
    masses = (f'{{ value = "{value!r} kg", basis = "measured" }}' for value in (front, rear))
    inspection, problems = inspect(rule_base(), spec_with(*masses, narrow=narrow))
    assert not problems
    return {(f.rule.id, f.part): f for f in inspection.findings}


@functools.cache
def toleranced(narrow: bool = False) -> dict[Key, Finding]:
    """What the tool says with both masses at 5 %."""
    front, rear = (f'{{ value = "{value} kg", tol = "5 %", basis = "measured" }}' for value in STATED.values())
    inspection, problems = inspect_whole(rule_base(), spec_with(front, rear, narrow), remedies="none")
    assert not problems
    return {(f.rule.id, f.part): f for f in inspection.findings if {FRONT, REAR} & set(f.inputs)}


def points() -> list[tuple[float, float]]:
    """Both ends of both masses, and points inside."""
    ends = list(itertools.product(*((v * (1 - TOL), v * (1 + TOL)) for v in STATED.values())))
    source = random.Random(4)
    inside = [tuple(v * source.uniform(1 - TOL, 1 + TOL) for v in STATED.values()) for _ in range(12)]
    return [*ends, *inside]  # type: ignore[list-item]


def test_enough_verdicts_depend_on_the_masses() -> None:
    assert len(toleranced()) >= 8
    assert len({rule for rule, _ in toleranced()}) >= 5
    assert {f.kind for f in toleranced(narrow=True).values()} >= {"pass", "review"}


@pytest.mark.thorough
@pytest.mark.parametrize("narrow", [False, True], ids=["as it is", "with narrow ratings"])
def test_a_plain_pass_passes_at_both_ends_and_between(narrow: bool) -> None:
    plain = [key for key, found in toleranced(narrow).items() if found.kind == "pass"]
    assert plain
    for front, rear in points():
        found = at(front, rear, narrow)
        for key in plain:
            assert found[key].kind == "pass", (key, front, rear, found[key].message)


def test_a_straddling_verdict_turns_where_it_says() -> None:
    """The value at which a verdict turns: on files, it passes just this side of it and not just beyond."""
    straddling = {
        key: found for key, found in toleranced(narrow=True).items() if found.kind == "review" and found.deciding
    }
    assert {rule for rule, _ in straddling} >= {"mass.axle-rating", "mass.gross-rating"}
    for key, found in straddling.items():
        assert {FRONT, REAR} & set(found.deciding), key
        assert at(*STATED.values(), narrow=True)[key].kind == "pass", key
        assert any(at(*point, narrow=True)[key].kind == "fail" for point in points()[:4]), key
        turns = re.findall(r"passes (up|down) to (vehicle\.mass\.kerb_\w+) = ([\d\s]+(?:\.\d+)?) kg\.", found.message)
        assert {field for _, field, _ in turns} <= set(found.deciding)
        assert turns, found.message
        for way, field, said in turns:
            beyond = 1e-3 if way == "up" else -1e-3
            for share, kind in ((-beyond, "pass"), (beyond, "fail")):
                masses = {**STATED, field: float("".join(said.split())) * (1 + share)}
                assert at(masses[FRONT], masses[REAR], narrow=True)[key].kind == kind, (key, field)
