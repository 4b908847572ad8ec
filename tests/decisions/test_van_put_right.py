"""The van is put right by its own report: first by the remedies that it prints, then by what its sentences say.

Each remedy that breaks nothing goes into the text as it is printed, one after the other in the order of the report.
What fails then is put right by the action that its own sentence names. Each step is inspected: what it is for fails no
more, and nothing else begins to fail but what the report said before.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from swaplint.gating.gate import gate_of
from swaplint.inspecting.results import Finding, Inspection, Remedy
from swaplint.kit.trial import rule_base
from swaplint.solving.remedies import Wanted
from swaplint.solving.whole import inspect_whole
from swaplint.spec.editing import edited
from swaplint.spec.paths import path_key

from .support import SPECS, VAN

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))

from remedies import loaded, printed, text_with

Key = tuple[str, str, str]
"""Rule, part and demand."""
HELD = ("pass", "review")
"""What a result may be once it is put right; a mere practice leaves it to a person."""


def inspected(text: str, remedies: Wanted = "none") -> Inspection:
    """The van with this text, every rule having come to an end."""
    inspection, problems = inspect_whole(rule_base(), loaded(rule_base(), text, SPECS), remedies=remedies)
    assert [problem.what for problem in problems] == []
    return inspection


def fails(inspection: Inspection) -> dict[Key, Finding]:
    return {finding.key: finding for finding in inspection.findings if finding.kind == "fail"}


def kind_of(inspection: Inspection, key: Key) -> str:
    """The kind of the one result with this key."""
    (kind,) = [finding.kind for finding in inspection.findings if finding.key == key]
    return kind


# -- by remedies ------------------------------------------------------------------------------------------------------
class Applied(NamedTuple):
    """A remedy that was put into the text."""

    key: Key
    field: str
    words: str
    kind: str
    """What the result is with it."""
    newly: set[Key]
    """What fails with it and did not before."""


def harmless(inspection: Inspection) -> tuple[Finding, Remedy] | None:
    """The first remedy of the report that breaks nothing."""
    mended = ((finding, remedy) for finding in fails(inspection).values() for remedy in finding.remedies)
    return next(((finding, remedy) for finding, remedy in mended if not remedy.breaks), None)


def put_right_by_remedies() -> tuple[list[Applied], str]:
    """The remedies of the van's report, each with what came of it, and the text with all of them."""
    text, steps = Path(VAN).read_text(encoding="utf-8"), list[Applied]()
    now = inspected(text, "all")
    while (found := harmless(now)) is not None:
        finding, remedy = found
        assert (finding.key, remedy.field) not in [step[:2] for step in steps], "the same remedy again"
        text = text_with(rule_base(), now.spec, text, remedy, printed(remedy))
        before, now = now, inspected(text, "all")
        newly = fails(now).keys() - fails(before).keys()
        steps.append(Applied(finding.key, remedy.field, printed(remedy), kind_of(now, finding.key), newly))
    return steps, text


@pytest.fixture(scope="module")
def by_remedies() -> tuple[list[Applied], str]:
    return put_right_by_remedies()


def test_each_printed_remedy_holds(by_remedies: tuple[list[Applied], str]) -> None:
    steps, _ = by_remedies
    assert len(steps) >= 10
    assert [step for step in steps if step.kind not in HELD] == []
    assert [step for step in steps if step.newly] == []
    # an axle that climbs, a shorter starter cable and one terminator fewer are among them
    assert {
        "driveline.axles.rear.ratio",
        "electrics.cables.starter.length",
        "electrics.network.nodes.display.terminated",
    } <= {step.field for step in steps}


# -- by what the sentences say ----------------------------------------------------------------------------------------
MOUNTS = {"left": (420, 140), "right": (420, 140), "gearbox": (300, 100)}
"""Axial and shear stiffness of the mounts as the draft has them, N/mm."""


def mounts(factor: float) -> dict[str, Any]:
    """All mounts so many times as stiff as in the draft, in either direction."""
    return {
        f"vehicle.mounts.{name}.{way}_stiffness": f"{factor * stiffness:.6g} N/mm"
        for name, pair in MOUNTS.items()
        for way, stiffness in zip(("axial", "shear"), pair, strict=True)
    }


class Action(NamedTuple):
    """What a sentence tells the builder to do, as edits of the fields that say it."""

    keys: tuple[Key, ...]
    """The results that say so."""
    words: str
    """The words of their sentence that name the action."""
    edits: Mapping[str, Any]


def covered(function: str, field: str, value: Any) -> Action:
    """A function that nobody supplies, named in the line that covers it."""
    words = f'Name it in the line that covers it, functions = ["{function}"].'
    return Action((("supply.function-coverage", function, ""),), words, {field: value})


FIRING, TURN = ("mounts.roll-mode", "", "idle-firing"), ("mounts.roll-mode", "", "whole-turn")
STAY = ("brake-booster", "key-switch", "steering-hoses", "steering-pump", "vacuum-hose")
ACTIONS = [
    Action(  # the nose must fill the bearing, 16 of its 18 mm, and keep 2 mm to its shoulder: 11 mm alone does
        (("driveline.depth-stack", "", "nose-in-pilot"),),
        "an adapter made to 11 mm would",
        {"driveline.adapter.thickness": "11 mm"},
    ),
    Action(
        (("controls.key-feed-crank", "engine.ecm.feeds.ignition", "live"),),
        "Live in both: terminal 15. Take it from there.",
        {"electrics.cables.ecm_ignition.start": "key-15"},
    ),
    Action(
        (("network.signal-availability", "electrics.network.nodes.display", "gets.100"),),
        "Give it a sender of its own",
        {"electrics.network.nodes.display.own_sensors": [100]},
    ),
    covered("ground-straps", "supply[11].functions[6]", "ground-straps"),
    covered("heat-shields", "supply[4].functions[5]", "heat-shields"),
    covered("main-fuse", "supply[11].functions[7]", "main-fuse"),
    covered("pedal", "supply[13]", {"item": "pedal of the engine package", "by": "kit", "functions": ["pedal"]}),
    covered("warning-lamps", "supply[11].functions[8]", "warning-lamps"),
    Action((TURN,), "Mounts 0.88 or 1.63 times as stiff clear it;", mounts(0.88)),
    Action((FIRING,), "Mounts 0.78 times as stiff would make it 2;", mounts(0.88 * 0.78)),
    covered("consumables", "supply[12].functions[5]", "consumables"),
    covered("diagnostic-connector", "supply[11].functions[9]", "diagnostic-connector"),
    covered(
        "engineering-report",
        "supply[14]",
        {"item": "engineer's report", "by": "owner", "functions": ["engineering-report"]},
    ),
    covered("other-fluids", "supply[12].functions[6]", "other-fluids"),
    covered("start-interlock", "supply[11].functions[10]", "start-interlock"),
    Action(
        tuple(("supply.function-coverage", function, "") for function in STAY),
        "state the line's condition",
        {"supply[8].condition": "looked at, no leak and no play"},
    ),
]


def put_right_as_said(text: str) -> str:
    """The text with every action, each looked at before and after."""
    now = inspected(text)
    for action in ACTIONS:
        before = fails(now)
        for key in action.keys:
            assert action.words in before[key].message
        text = edited(text, {path_key(field): value for field, value in action.edits.items()})
        now = inspected(text)
        assert {key: kind_of(now, key) for key in action.keys if kind_of(now, key) not in HELD} == {}
        assert fails(now).keys() - before.keys() == set(), action.keys
    return text


# -- what one remedy breaks, another mends ----------------------------------------------------------------------------
CHARGE, CRAWL = ("power.charge-balance", "", "idle-with-fan"), ("gearing.crawl", "", "")
TOO_FAST = ("chassis.accessory-speed", "plumbing.belts.engine.pulleys.alternator", "highest-speed")
LOOKED_AT = {
    ("fuel.tank-conversion", "plumbing.fuel.conversion.filler_conductive"): True,
    ("chassis.vacuum-source", "plumbing.vacuum.check_valve"): {"fitted": True},
}
"""What is owed in the end, rule and field, and what the builder finds when he looks."""


def remedy_on(inspection: Inspection, key: Key, field: str) -> Remedy:
    """The remedy of a fail that changes one field."""
    (remedy,) = [remedy for remedy in fails(inspection)[key].remedies if remedy.field == field]
    return remedy


def with_remedy(inspection: Inspection, text: str, key: Key, field: str) -> tuple[str, Inspection]:
    """The text with a remedy that breaks what it names and nothing else, inspected."""
    remedy = remedy_on(inspection, key, field)
    text = text_with(rule_base(), inspection.spec, text, remedy, printed(remedy))
    now = inspected(text, "all")
    assert kind_of(now, key) in HELD
    assert {rule for rule, _, _ in fails(now).keys() - fails(inspection).keys()} == set(remedy.breaks)
    return text, now


def test_the_rest_is_put_right_as_its_sentences_say(by_remedies: tuple[list[Applied], str]) -> None:
    text = put_right_as_said(by_remedies[1])
    now = inspected(text, "all")
    assert fails(now).keys() == {CHARGE}  # nothing is left but what has no remedy without a price

    # A smaller pulley alone is no way out: at governed speed it turns this alternator too fast, and nothing mends that.
    _, faster = with_remedy(now, text, CHARGE, "engine.alternator.pulley_ratio")
    assert fails(faster).keys() == {TOO_FAST}
    assert fails(faster)[TOO_FAST].remedies == ()

    # A higher idle is one: the van then creeps too fast in first gear, until the axle ratio is a little higher.
    text, now = with_remedy(now, text, CHARGE, "engine.speed.idle")
    assert fails(now).keys() == {CRAWL}
    text, now = with_remedy(now, text, CRAWL, "driveline.axles.rear.ratio")
    assert fails(now) == {}

    # The gate waits for what nobody has looked at yet, and for nothing else: each field is named.
    due = [finding for finding in now.findings if finding.due]
    assert {(finding.key[0], *finding.unknown) for finding in due} == LOOKED_AT.keys()
    assert set(gate_of(now, "error").shut_by) == {rule for rule, _ in LOOKED_AT}

    # Looked at and found good, the gate is open.
    text = edited(text, {path_key(field): value for (_, field), value in LOOKED_AT.items()})
    now = inspected(text)
    assert fails(now) == {}
    assert gate_of(now, "error").open
