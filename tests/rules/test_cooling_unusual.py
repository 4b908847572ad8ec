"""Two unlike fans, an electric coolant pump, an engine with two thermostats: what can be is judged.

By hand, on the sound spec (160 L/min, hoses of 38 mm):
160 L/min through a bore of 38 mm run at (0.16/60)/(π/4·0.038²) = 2.351 m/s, half of it at 1.176 m/s.
"""

from __future__ import annotations

from typing import Any

import pytest
from told import Row, by_trial, says

from swaplint.kit.trial import of_part, one, value

P = "plumbing.cooling"
UNLIKE = f"{P}.second_fan = {{'place': 'pusher', 'load': 'fan'}}"
BOTH = f"{P}.second_fan = {{'place': 'pusher', 'load': 'fan', 'air': '%s'}}"
PUMP = f"{P}.electric_pump = {{'flow': '%s', 'pressure': '%s', 'load': 'fan'}}"
SECOND_PORT: dict[str, Any] = {
    "engine.coolant.ports.other_bank": {"use": "to-radiator", "bore": "38 mm"},
    f"{P}.hoses.other_bank": {
        "side": "delivery",
        "port": "other_bank",
        "bore": "38 mm",
        "length": "0.8 m",
        "fittings_k": 2.0,
    },
}

ROWS: list[Row] = [
    ("cooling.fan-flow idle", UNLIKE, "review", "two unlike fans work on one core"),
    ("cooling.fan-flow flow.peak-torque", UNLIKE, "review", "two unlike fans"),
    ("cooling.fan-flow idle", BOTH % "1.2 kg/s", "pass", "1.2 kg/s of it pass"),
    ("cooling.fan-flow idle", BOTH % "0.07 kg/s", "fail error", "0.07 kg/s of it pass"),
    ("cooling.fan-flow idle", f"{P}.second_fan = {{'fitted': False}}", "pass", "of it pass"),
    ("power.consumers-counted counted @second_fan", UNLIKE, "pass", "counts the radiator's second fan"),
    (
        "power.consumers-counted @second_fan",
        f"{P}.second_fan = {{'place': 'pusher'}}",
        "open",
        f"{P}.second_fan.load is not stated",
    ),
    # the pump moves at least what the engine's own does, and has the pressure that hoses and radiator take
    ("cooling.external-circuit electric-pump", PUMP % ("160 L/min", "40 kPa"), "pass", "moves 160 L/min"),
    ("cooling.external-circuit electric-pump", PUMP % ("159 L/min", "40 kPa"), "fail warning", "fit a larger one"),
    ("cooling.external-circuit restriction", PUMP % ("160 L/min", "40 kPa"), "pass", ""),
    (
        "cooling.external-circuit restriction",
        PUMP % ("160 L/min", "3 kPa"),
        "fail warning",
        "The pump moves too little",
    ),
    (
        "cooling.external-circuit restriction",
        f"{P}.electric_pump = {{'flow': '160 L/min'}}",
        "open",
        f"{P}.electric_pump.pressure is not stated",
    ),
    (
        "power.consumers-counted counted @electric_pump",
        f"{P}.electric_pump = {{'load': 'no-such-consumer'}}",
        "fail warning",
        "its current is not counted",
    ),
]


@pytest.mark.parametrize(("rule", "edits", "rows"), by_trial(ROWS))
def test_what_is_said(rule: str, edits: str, rows: tuple[Row, ...]) -> None:
    says(rule.split(".")[0], edits, [(row[0].partition(".")[2], row[1], row[2], row[3]) for row in rows])


def test_two_ports_to_the_radiator_share_the_flow() -> None:
    alone = value("cooling.hose-velocity", part="upper")
    shared = value("cooling.hose-velocity", SECOND_PORT, part="upper")
    assert (alone, shared) == (pytest.approx(2.351, abs=0.001), pytest.approx(1.176, abs=0.001))
    # the lower hose still takes all of it
    assert value("cooling.hose-velocity", SECOND_PORT, part="lower") == pytest.approx(alone)
    # hoses side by side do not add up: the more resisting one counts, which a longer one is
    whole = value("cooling.external-restriction", SECOND_PORT)
    upper = value("cooling.hose-drop", SECOND_PORT, part="hoses.upper")
    other = value("cooling.hose-drop", SECOND_PORT, part="other_bank")
    lower = value("cooling.hose-drop", SECOND_PORT, part="lower")
    assert whole == pytest.approx(value("cooling.radiator-drop") + lower + max(upper, other))
    # two hoses on one port stand in a row and do
    in_a_row = {f"{P}.hoses.more": {**SECOND_PORT[f"{P}.hoses.other_bank"], "port": "radiator_out"}}
    more = value("cooling.hose-drop", in_a_row, part="more")
    assert value("cooling.external-restriction", in_a_row) == pytest.approx(
        value("cooling.external-restriction") + more
    )


def test_two_narrow_ports_are_no_bottleneck() -> None:
    # two hoses of 28 mm: 80 L/min in each run at (0.08/60)/(π/4·0.028²) = 2.165 m/s; one alone at 4.33 m/s
    narrow = {"engine.coolant.ports.radiator_out.bore": "28 mm", f"{P}.hoses.upper.bore": "28 mm"}
    assert one("cooling.external-circuit", narrow, demand="speed.upper").kind == "fail"
    two: dict[str, Any] = {**SECOND_PORT, **narrow, f"{P}.hoses.other_bank.bore": "28 mm"}
    found = one("cooling.external-circuit", two, demand="speed.upper")
    assert found.kind == "pass"
    assert value("cooling.hose-velocity", two, part="hoses.upper") == pytest.approx(2.165, abs=0.001)


def test_an_electric_pump_moves_as_much_at_idle() -> None:
    electric: dict[str, Any] = {f"{P}.electric_pump": {"flow": "160 L/min", "pressure": "40 kPa", "load": "fan"}}
    # with more coolant at idle the same heat warms it less
    assert value("cooling.idle-rise", electric) < value("cooling.idle-rise")
    assert value("cooling.coolant-flow", electric, part="peak_torque") == pytest.approx(160.0)
    assert value("cooling.coolant-flow", part="peak_torque") < 160.0


def test_a_second_electric_fan_weighs_on_the_charging() -> None:
    # the consumer `fan` of the sound spec, running without a pause, on top of what is wanted on average
    edits: dict[str, Any] = {
        f"{P}.second_fan": {"place": "pusher", "load": "fan"},
        "electrics.loads.fan.voltage": "13 V",
        "electrics.loads.fan.current": "10 A",
        "electrics.loads.fan.duty_idle": "40 %",
    }
    assert value("power.demand-idle-hot", edits) - value("power.demand-idle", edits) == pytest.approx(6.0)
    assert of_part("power.charge-balance", "", edits, demand="idle-with-fan").kind == "pass"
