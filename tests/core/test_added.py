"""What a change leaves alone is neither listed nor worked out again."""

from __future__ import annotations

import pytest

from swaplint.api import Build, once, stated_values
from swaplint.build.added import EVERY_SYSTEM, systems_at
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.spec.facts import Stated
from swaplint.spec.loading import load_text
from swaplint.spec.model import Build as BuildModel

SPEC = """
[engine.mass]
wet = "300 kg"
[plumbing.fuel.cooler]
fitted = false
"""


@pytest.mark.parametrize(
    ("path", "systems"),
    [
        ("engine.mass.wet", {"mass"}),
        ("plumbing.fuel.cooler.duty", {"fuel"}),
        ("plumbing.fuel.cooler.fitted", {"fuel", ""}),  # what identifies its data sheet belongs to none
        ("supply[2].mass", {"supply"}),
        ("build.name", {""}),
        ("vehicle.no_such_part.length", EVERY_SYSTEM),
    ],
)
def test_systems_of_what_stands_at_a_path(path: str, systems: set[str]) -> None:
    assert systems_at(BuildModel, path) == systems


def test_a_section_has_the_systems_of_all_below_it() -> None:
    assert systems_at(BuildModel, "vehicle") > {"mass", "mounts", "fit"}


def _listed(view: View, system: str) -> Reads:
    reads = Reads()
    view.stack.append(reads)
    stated_values(view.build, system)
    view.stack.pop()
    return reads


@pytest.mark.parametrize(("system", "touched"), [("fuel", True), ("mass", False)])
def test_a_part_that_is_fitted_touches_what_lists_its_system_alone(system: str, touched: bool) -> None:
    view = View(load_text(SPEC).build)
    other = view.changed({"plumbing.fuel.cooler.fitted": Stated(True), "plumbing.fuel.cooler.duty": Stated(800.0)})
    assert other.touches(_listed(view, system)) is touched


@pytest.mark.parametrize("duty", [800.0, 900.0])
def test_what_is_stated_of_a_part_that_is_fitted_now_is_listed_with_its_value(duty: float) -> None:
    view = View(load_text(SPEC).build)
    for value in (700.0, duty):
        changes = {"plumbing.fuel.cooler.fitted": Stated(True), "plumbing.fuel.cooler.duty": Stated(value)}
        stated = {path: one.value for path, one, _ in stated_values(view.changed(changes).build, "fuel")}
        assert stated == {"plumbing.fuel.cooler.fitted": True, "plumbing.fuel.cooler.duty": value}


ASKED: list[float] = []


@once
def doubled(build: Build) -> float:
    ASKED.append(build.engine.mass.wet)
    return ASKED[-1] * 2


def test_a_number_is_worked_out_again_only_where_a_change_touches_it() -> None:
    view = View(load_text(SPEC).build)
    ASKED.clear()
    elsewhere = view.changed({"vehicle.mass.gvw": Stated(3500.0)})
    heavier = view.changed({"engine.mass.wet": Stated(400.0)})
    assert [doubled(one.build) for one in (view, elsewhere, heavier)] == [600.0, 600.0, 800.0]
    assert ASKED == [300.0, 400.0]
