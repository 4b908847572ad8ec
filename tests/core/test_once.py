"""A function of the build that is asked once for each view: what it read counts each time."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from swaplint.api import Build, OutsideRange, given, name_of, once
from swaplint.build.nodes import Unknown
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.host.packs import load_rule_base
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.selection import selected, selection_of
from swaplint.kit.edits import edited_spec
from swaplint.spec.facts import Stated

CALLS: list[str] = []


@once
def ratio_of(build: Build, name: str) -> float:
    CALLS.append(name)
    given(lambda: build.driveline.axles[name].x)
    return float(build.driveline.axles[name].ratio)


def read(view: View, name: str) -> tuple[float, Reads]:
    reads = Reads()
    view.stack.append(reads)
    try:
        return ratio_of(view.build, name), reads
    finally:
        view.stack.pop()


@pytest.fixture
def view() -> View:
    CALLS.clear()
    return View(edited_spec({}).build)


def test_it_is_worked_out_once_and_what_it_read_counts_each_time(view: View) -> None:
    name = name_of(next(iter(view.build.driveline.axles.values())))
    (first, one), (second, other) = read(view, name), read(view, name)
    assert (first, CALLS) == (second, [name])
    assert f"driveline.axles.{name}.ratio" in one.fields
    assert list(one.fields) == list(other.fields)
    assert (list(one.own), list(one.optional)) == (list(other.own), list(other.optional))


def test_each_view_has_its_own_answer(view: View) -> None:
    name = name_of(next(iter(view.build.driveline.axles.values())))
    before, _ = read(view, name)
    changed = view.changed({f"driveline.axles.{name}.ratio": Stated(before + 1.0)})
    assert read(changed, name)[0] == pytest.approx(before + 1.0)
    assert read(view, name)[0] == pytest.approx(before)


def test_what_is_missing_is_asked_for_or_can_be_done_without(view: View) -> None:
    name = name_of(next(iter(view.build.driveline.axles.values())))
    field = f"driveline.axles.{name}.ratio"
    bare = view.changed({field: None})
    reads = Reads()
    bare.stack.append(reads)
    with pytest.raises(Unknown):
        ratio_of(bare.build, name)
    assert field in reads.unknown
    bare.stack[-1] = reads = Reads()
    assert given(lambda: ratio_of(bare.build, name)) is None
    assert (list(reads.unknown), field in reads.optional) == ([], True)


@once
def axles(build: Build) -> list[Any]:
    """A list, as a pack's author may well give it."""
    return list(build.driveline.axles.values())


@once
def by_role(build: Build) -> dict[str, list[Any]]:
    return {"any": axles(build), "none": []}


@once
def used_up(build: Build) -> Any:
    return (axle for axle in build.driveline.axles.values())


def test_nobody_can_change_what_others_are_given(view: View) -> None:
    """A rule that uses up what it is given does not starve the next one: it is the one that breaks."""
    for change in (
        lambda: axles(view.build).clear(),
        lambda: axles(view.build).pop(),
        lambda: by_role(view.build)["any"].append(1),
        lambda: by_role(view.build).update(none=[1]),  # type: ignore[func-returns-value]
    ):
        with pytest.raises(AttributeError, match=r"tuple|mappingproxy"):
            change()  # type: ignore[no-untyped-call]
    assert tuple(axles(view.build)) == tuple(view.build.driveline.axles.values())
    assert {role: tuple(of) for role, of in by_role(view.build).items()} == {
        "any": tuple(axles(view.build)),
        "none": (),
    }


def test_what_is_used_up_by_the_first_who_looks_is_refused(view: View) -> None:
    for _ in range(2):
        with pytest.raises(TypeError, match="used_up is asked once for all: let it give a tuple"):
            used_up(view.build)


PACK = '''
from swaplint.api import INTERFACE, Pack, holds, hookimpl, once, practice, rule

DOC = """Is it as it should be?

Computes: nothing of use.
Limit: an invented limit.
Consequence: nothing to mind.
Remedy: change it.
Cannot tell: anything else.
"""

@once
def axles(build):
    return list(build.driveline.axles.values())

def greedy(build):
    found = axles(build)
    while found:
        found.pop()
    return holds(True)

def modest(build):
    return holds(len(axles(build)) == 2, f"It has {len(axles(build))} axles.")

def made(id, function):
    function.__doc__ = DOC
    return rule(id, level="note", due="plan", sources=[practice("invented").giving("limit")], about="driveline",
                bad=[{"engine.cylinders": 5}], good=[{"engine.cylinders": 4}])(function)

RULES = [made("fit.acme-a", greedy), made("fit.acme-b", modest)]

@hookimpl
def swaplint_pack():
    return Pack("acme", interface=INTERFACE, rules=RULES)
'''


def test_a_rule_that_uses_up_what_it_is_given_breaks_and_the_next_one_does_not(tmp_path: Path) -> None:
    pack = tmp_path / "acme.py"
    pack.write_text(PACK)
    base = load_rule_base([str(pack)], installed=False)
    assert base.problems == []
    inspection, problems = inspect(
        selected(base, selection_of(base, [], ["fit.acme-a", "fit.acme-b"])), edited_spec({})
    )
    assert [(problem.rule, "pop" in problem.what) for problem in problems] == [("fit.acme-a", True)]
    assert [(finding.rule.id, finding.kind) for finding in inspection.findings] == [("fit.acme-b", "pass")]


@once
def never_known(build: Build, name: str) -> float:
    CALLS.append(name)
    return float(build.driveline.axles[name].x)


def asked_for_what_is_not_known(view: View, name: str) -> Reads:
    view.stack.append(reads := Reads())
    assert given(lambda: never_known(view.build, name)) is None
    view.stack.pop()
    return reads


@pytest.mark.parametrize("probing", [False, True])
def test_that_it_gives_nothing_is_found_out_once(probing: bool) -> None:
    CALLS.clear()
    view = View(edited_spec({}).build, probing=probing)
    name = next(name for name, axle in view.build.driveline.axles.items() if axle._spot.raw.x is None)
    field = f"driveline.axles.{name}.x"
    for _ in range(3):
        reads = asked_for_what_is_not_known(view, name)
        assert field in reads.optional
        assert field not in reads.unknown
    assert len(CALLS) == 1
    # a rule that cannot do without it lacks the field, or goes on with what is typical
    view.stack.append(reads := Reads())
    if probing:
        assert never_known(view.build, name) > 0.0
    else:
        with pytest.raises(Unknown):
            never_known(view.build, name)
    view.stack.pop()
    assert field in reads.unknown


def test_what_is_kept_of_a_failure_holds_no_frames() -> None:
    @once
    def beyond(build: Build) -> float:
        raise OutsideRange("it does not hold here")

    view = View(edited_spec({}).build)
    lengths = []
    for _ in range(3):
        with pytest.raises(OutsideRange) as raised:
            beyond(view.build)
        lengths.append(len(raised.traceback))
    assert lengths[1] == lengths[2]
