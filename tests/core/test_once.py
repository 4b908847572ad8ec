"""A function of the build that is asked once for each view: what it read counts each time."""

from __future__ import annotations

import pytest

from swaplint.api import Build, given, name_of, once
from swaplint.build.nodes import Unknown
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.kit.edits import edited_spec
from swaplint.spec.fields import Stated

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
