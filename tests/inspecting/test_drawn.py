"""What a pack can draw, and what a figure that breaks costs: its own drawing and no other."""

from __future__ import annotations

import functools
from pathlib import Path

import pytest

from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.inspecting.drawn import Drawn, drawn
from swaplint.inspecting.selection import selection_of
from swaplint.kit.edits import sound_spec
from swaplint.kit.figures import check_figure_drawn

PACK = '''
import math
import sys
from swaplint.api import *

ROAD = Axis("speed", "speed", "km/h")


@hookimpl
def swaplint_pack():
    return Pack("acme", interface=INTERFACE, figures=[*figures_in(__name__), "no figure"])


@figure("gearing.acme-cruise")
def cruise(build):
    """Cruise.

    Its speed.
    """
    return Bars(ROAD, [("", [Bar("cruise", build.build.design.cruise_speed)])], "speed")


@figure("gearing.acme-blind")
def blind(build):
    """Always the same."""
    return Bars(ROAD, [("", [Bar("cruise", 1.0)])], "speed")


@figure("gearing.acme-raises")
def raises(build):
    """Raises."""
    return build.build.design.cruise_speed / 0


@figure("gearing.acme-rude")
def rude(build):
    """Changes what is not its own."""
    sys.setrecursionlimit(sys.getrecursionlimit() + 7)
    return cruise(build)


@figure("gearing.acme-text")
def text(build):
    """Returns a text."""
    return "a curve"


@figure("gearing.acme-infinite")
def infinite(build):
    """Has no end."""
    return Chart(ROAD, ROAD, [Curve("line", [(0.0, 0.0), (1.0, math.inf)])])


@figure("gearing.acme-unit")
def unit(build):
    """Has no such unit."""
    return Chart(Axis("speed", "speed", "parsec"), ROAD, [Curve("line", [(0.0, 0.0)])])


@figure("gearing.acme-loose")
def loose(build):
    """Has a loose link."""
    return Network([Node("a", "A")], [Link("a", "b")])


@figure("gearing.acme-look")
def look(build):
    """Has a look that there is not."""
    return Chart(ROAD, ROAD, [Curve("line", [(0.0, 0.0)], "founds")])


@figure("gearing.acme-many")
def many(build):
    """Has too much in it."""
    return Chart(ROAD, ROAD, [Curve("line", [(0.0, 0.0)] * 20000)])


@figure("gearing.acme-empty")
def empty(build):
    """Has nothing in it."""
    return Network([], [])


@figure("Gearing")
def misnamed(build):
    """Has no id."""


@figure("gearing.pull")
def taken(build):
    """Has the id of another."""


@figure("gearing.acme-nameless")
def nameless(build):
    return Network([], [])
'''


@pytest.fixture(scope="module")
def base(tmp_path_factory: pytest.TempPathFactory) -> RuleBase:
    file: Path = tmp_path_factory.mktemp("pack") / "acme.py"
    file.write_text(PACK, encoding="utf-8")
    return load_rule_base([str(file)])


def _of_acme(base: RuleBase) -> tuple[dict[str, Drawn], list[str]]:
    found, problems = drawn([base.packs[-1]], sound_spec(base))
    return {one.figure.id: one for one in found}, [problem.what for problem in problems]


def test_what_is_declared_wrongly_costs_only_itself(base: RuleBase) -> None:
    said = [problem.what for problem in base.problems]
    assert any("a str is in the pack's figures" in what for what in said)
    assert any("'Gearing' is not a figure id; one looks like fuel.suction-budget" in what for what in said)
    assert any("gearing.pull is taken already by the pack gearing" in what for what in said)
    assert any("gearing.acme-nameless: a figure needs a docstring" in what for what in said)
    assert len(said) == 4
    assert len(base.packs[-1].figures) == 11


def test_a_figure_is_drawn_with_what_its_docstring_says(base: RuleBase) -> None:
    found, _ = _of_acme(base)
    one = found["gearing.acme-cruise"]
    assert (one.figure.title, one.figure.explanation) == ("Cruise", "Its speed.")
    assert one.form is not None
    assert set(found) == {"gearing.acme-cruise", "gearing.acme-blind"}  # what is empty is no figure


@pytest.mark.parametrize(
    "says",
    [
        "gearing.acme-raises raised ZeroDivisionError",
        "gearing.acme-rude changed the recursion limit, which is not its own and was put back",
        "gearing.acme-text returned a str instead of a Chart",
        "gearing.acme-infinite returned a number that is not finite",
        "gearing.acme-unit returned an axis in 'parsec', which is no unit of speed",
        "gearing.acme-loose returned a link from 'a' to 'b', of which one is no node",
        "gearing.acme-look returned a Curve with 'founds'; it can be found, other, limit",
        "gearing.acme-many returned more than 20000 numbers and names",
    ],
)
def test_what_breaks_is_a_problem_and_no_drawing(base: RuleBase, says: str) -> None:
    _, problems = _of_acme(base)
    assert any(f"the figure {says}" in what for what in problems)
    assert len(problems) == 8


@pytest.mark.parametrize(
    ("id", "says"),
    [
        ("cruise", ""),
        ("blind", "reads nothing of the build"),
        ("raises", "raises ZeroDivisionError"),
        ("infinite", "returns a number that is not finite"),
        ("empty", "has nothing to draw on the sound spec"),
    ],
)
def test_the_derived_test_of_a_figure(base: RuleBase, id: str, says: str) -> None:
    figure = next(one for one in base.packs[-1].figures if one.id == f"gearing.acme-{id}")
    faults = check_figure_drawn(base, figure)
    assert [says in fault for fault in faults] == ([True] if says else [])


@functools.cache
def _installed() -> RuleBase:
    return load_rule_base()


def test_a_selection_has_the_figures_of_its_systems() -> None:
    base = _installed()
    spec = sound_spec(base)
    of_fuel, _ = drawn(base.packs, spec, selection_of(base, ["fuel"], []))
    assert {one.figure.id for one in of_fuel} == {"fuel.pressure-budget", "fuel.tank-on-slopes"}
    of_rule, _ = drawn(base.packs, spec, selection_of(base, [], ["mounts.isolation"]))
    assert [one.figure.id for one in of_rule] == ["mounts.frequencies"]


def test_what_a_figure_rests_on_is_told() -> None:
    base = _installed()
    spec = sound_spec(base, {"plumbing.fuel.grade.viscosity": None})
    (budget, _), _ = drawn(base.packs, spec, selection_of(base, ["fuel"], []))
    assert "fuel.supply-friction" in budget.quantities
    assert any(name.startswith("diesel viscosity") for name in budget.practices)
    assert any("White" in source.title for source in budget.sources)


def test_what_is_missing_is_listed_and_no_field_that_a_practice_stands_in_for() -> None:
    base = _installed()
    joint = "driveline.shafts.front.input_joint"
    spec = sound_spec(base, {f"{joint}.ride": None, f"{joint}.plan": None, "driveline.shafts.rear.length": None})
    found, _ = drawn(base.packs, spec, selection_of(base, ["driveline"], []))
    assert [one.lacks for one in found] == [(f"{joint}.ride", "driveline.shafts.rear.length")]
