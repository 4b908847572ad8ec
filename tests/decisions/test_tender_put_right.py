"""The tender put right by its own report: what the report says to do is done to the file, until no fail is left.

First the remedies as they are printed, in the order of the report, as long as one breaks nothing; then what the
sentences of the other fails say. The numbers of each edit are taken from the sentence, so that an action which is not
named, or does not help, is found here. What a step breaks is named beside it, and is put right by its own words.
"""

from __future__ import annotations

import re
import sys
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from swaplint.gating.gate import gate_of
from swaplint.inspecting.results import Finding, Inspection, Remedy
from swaplint.kit.trial import rule_base
from swaplint.solving.remedies import Wanted
from swaplint.solving.whole import inspect_whole
from swaplint.spec.editing import edited
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.paths import path_key

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))

from remedies import SPECS, Key, loaded, printed, text_with

PULLEY, CORRECTION = "engine.alternator.pulley_ratio", "electrics.tach.correction"
CHARGE: Key = ("power.charge-balance", "", "idle")
TACH: Key = ("controls.tach-signal", "", "")
RETURN: Key = ("fuel.return-pressure", "", "pressure")

Edits = Mapping[str, Any]
Doing = Callable[[LoadedSpec, re.Match[str]], Edits]
"""The edits that say in the spec what a sentence names, from the spec and the words found in the sentence."""


# -- what the sentences say, as edits --------------------------------------------------------------------------------
@dataclass(frozen=True)
class Action:
    """What a sentence names, and the fields that say it."""

    words: str
    """The words of the sentence that name the action, as a pattern; from its groups the edits are made."""
    doing: Doing
    breaks: tuple[Key, ...] = ()
    """What fails after it that did not before."""


def states(field: str, words: str | bool) -> Doing:
    """A field with what the sentence says, `{}` for each group of the pattern."""
    return lambda _, said: {field: words.format(*said.groups()) if isinstance(words, str) else words}


def stiffer(spec: LoadedSpec, said: re.Match[str]) -> Edits:
    return mounts_times(spec, float(said[2]))


def mounts_times(spec: LoadedSpec, factor: float) -> Edits:
    """Both stiffnesses of all four mounts by a factor. They stand in N/m, and are written in N/mm."""
    edits = {}
    for mount in ("front_left", "front_right", "rear_left", "rear_right"):
        for stiffness in ("axial_stiffness", "shear_stiffness"):
            stated = spec.stated(field := f"vehicle.mounts.{mount}.{stiffness}")
            assert stated is not None
            edits[field] = f"{float(stated.value) / 1000 * factor:.6g} N/mm"
    return edits


def return_cooler(_: LoadedSpec, said: re.Match[str]) -> Edits:
    """Of the power named. The pressure that it takes is of the cooler that is bought; this is the field's typical."""
    return {"plumbing.fuel.cooler": {"duty": f"{said[1]} kW", "drop": "2 kPa"}}


def supply_line(spec: LoadedSpec, item: str) -> tuple[str, list[str]]:
    """The line of the scope of supply with an item, and the functions that it names."""
    lines = tomllib.loads(spec.file.text)["supply"]
    (number,) = [number for number, line in enumerate(lines, 1) if line["item"] == item]
    return f"supply[{number}]", lines[number - 1]["functions"]


def named_in(item: str) -> Doing:
    """The function that the sentence names, in the line that covers it."""

    def doing(spec: LoadedSpec, said: re.Match[str]) -> Edits:
        line, functions = supply_line(spec, item)
        return {f"{line}.functions": [*functions, said[1]]}

    return doing


def only_in_the_second(spec: LoadedSpec, said: re.Match[str]) -> Edits:
    """A cable named in two lines, taken out of the first of them."""
    line, functions = supply_line(spec, said[1])
    return {f"{line}.functions": [name for name in functions if name != "starter-cable"]}


def condition_of_booster(spec: LoadedSpec, _: re.Match[str]) -> Edits:
    line, _functions = supply_line(spec, "brake booster of 1989")
    return {f"{line}.condition": "diaphragm and valve tested, no leaks"}


COVERAGE = "supply.function-coverage"
ACTIONS: dict[Key, Action] = {
    ("chassis.brake-duty", "", "energy"): Action(
        r"A limiter at ([\d.]+) km/h or less would do\.",
        lambda _, said: {"driveline.speed_limiter": {"speed": f"{said[1]} km/h"}},
        breaks=(("gearing.top-speed", "", "speed-wanted"),),
    ),
    ("gearing.top-speed", "", "speed-wanted"): Action(
        r"It reaches ([\d.]+) km/h; .* Its limiter holds it to that: want no more",
        states("build.design.road_speed_max", "{} km/h"),
    ),
    ("mounts.roll-mode", "", "whole-turn"): Action(r"Mounts ([\d.]+) or ([\d.]+) times as stiff clear it;", stiffer),
    ("fuel.return-heating", "", ""): Action(
        r"A return cooler of ([\d.]+) kW would keep it at the limit\.",
        return_cooler,
        breaks=((COVERAGE, "fuel-cooler", ""), RETURN),
    ),
    (COVERAGE, "fuel-cooler", ""): Action(
        r'Name it in the line that covers it, functions = \["([\w-]+)"\]', named_in("fuel lines and primary filter")
    ),
    (COVERAGE, "engineering-report", ""): Action(
        r'Name it in the line that covers it, functions = \["([\w-]+)"\]',
        named_in("first start, trials and inspection"),
    ),
    (COVERAGE, "starter-cable", ""): Action(
        r"It comes with '([^']+)' .* settle who supplies it, and name it there only\.", only_in_the_second
    ),
    ("intake.inlet-air", "", "embers"): Action(
        r"fit a fine metal screen", states("plumbing.intake.inlet.ember_screen", words=True)
    ),
    (COVERAGE, "brake-booster", ""): Action(r"look at it and state the line's condition", condition_of_booster),
}


# -- the tender, step by step ----------------------------------------------------------------------------------------
class Tender:
    """The text of the tender as edited so far, with what is found in it."""

    def __init__(self, remedies: Wanted) -> None:
        """As it stands in the examples."""
        self.text = (SPECS / "tarnholt-tender.toml").read_text(encoding="utf-8")
        self.spec, self.inspection = self.inspected(remedies)

    def inspected(self, remedies: Wanted) -> tuple[LoadedSpec, Inspection]:
        spec = loaded(rule_base(), self.text, SPECS)
        inspection, problems = inspect_whole(rule_base(), spec, remedies=remedies)
        assert problems == []
        return spec, inspection

    @property
    def fails(self) -> dict[Key, Finding]:
        """What fails, in the order of the report."""
        return {finding.key: finding for finding in self.inspection.findings if finding.kind == "fail"}

    def step(self, key: Key, text: str, breaks: set[Key], remedies: Wanted) -> None:
        """To another text: what it is for neither fails nor is owed, and nothing newly fails but what is named."""
        before = set(self.fails)
        assert key in before
        assert text != self.text
        self.text = text
        self.spec, self.inspection = self.inspected(remedies)
        assert key not in self.fails, self.fails[key].message
        assert not [finding.message for finding in self.inspection.findings if finding.key == key and finding.due]
        assert set(self.fails) - before == breaks, key

    def put_in(self, key: Key, remedy: Remedy, breaks: set[Key]) -> None:
        text = text_with(rule_base(), self.spec, self.text, remedy, printed(remedy))
        self.step(key, text, breaks, remedies="all")

    def by_remedies(self) -> Iterator[tuple[Key, str]]:
        """Each first remedy of the report that breaks nothing, put in; the fail that it was for, and its field."""
        while found := [(key, r) for key, fail in self.fails.items() for r in fail.remedies if not r.breaks]:
            key, remedy = found[0]
            self.put_in(key, remedy, set())
            yield key, remedy.field

    def act(self, key: Key) -> None:
        """What the sentence of a fail says is done."""
        action, says = ACTIONS[key], self.fails[key].message
        said = re.search(action.words, says)
        assert said is not None, says
        changes = action.doing(self.spec, said)
        text = edited(self.text, {path_key(field): value for field, value in changes.items()})
        self.step(key, text, set(action.breaks), remedies="none")


def test_the_tender_is_put_right_by_its_report() -> None:
    tender = Tender("all")
    assert not gate_of(tender.inspection, "error").open

    by_remedies = dict(tender.by_remedies())
    assert {("driveline.gearbox-torque", "", "input-torque"), ("chassis.brake-duty", "", "descent")} < set(by_remedies)

    # A pulley that charges more at idle turns the tachometer's source faster; its own remedy sets that right.
    (pulley,) = [remedy for remedy in tender.fails[CHARGE].remedies if remedy.field == PULLEY]
    assert pulley.breaks == (TACH[0],)
    tender.put_in(CHARGE, pulley, {TACH})
    assert list(tender.by_remedies()) == [(TACH, CORRECTION)]

    done = []
    while fails := list(tender.fails):
        if fails[0] == RETURN:  # the cooler's pressure on top of a narrow line's: what it breaks has a remedy
            tender.spec, tender.inspection = tender.inspected("all")
            assert list(tender.by_remedies()) == [(RETURN, "plumbing.fuel.return_line.bore")]
            continue
        assert fails[0] in ACTIONS, tender.fails[fails[0]].message
        tender.act(fails[0])
        done.append(fails[0])
    assert sorted(done) == sorted(ACTIONS)

    assert not tender.fails
    assert gate_of(tender.inspection, "error").open
    assert gate_of(tender.inspection, "warning").open


def test_softer_mounts_clear_the_roll_mode_too() -> None:
    """The other of the two factors that the sentence names. The unit then moves further, which other rules say."""
    tender = Tender("none")
    key: Key = ("mounts.roll-mode", "", "whole-turn")
    said = re.search(ACTIONS[key].words, tender.fails[key].message)
    assert said is not None
    changes = mounts_times(tender.spec, float(said[1]))
    tender.text = edited(tender.text, {path_key(field): value for field, value in changes.items()})
    tender.spec, tender.inspection = tender.inspected("none")
    assert key not in tender.fails
