"""Controls and network on the example builds: the van's planted mistakes, and mistakes planted in the sound tender."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from on_examples import found_on

from swaplint.inspecting.results import Finding

SPECS = Path(__file__).parents[2] / "specs"
TENDER, VAN = "tarnholt-tender.toml", "skerrivar-van.toml"
N, C = "electrics.network", "electrics.cables"


def findings(name: str, edits: Mapping[str, Any] | None = None) -> list[Finding]:
    return [f for f in found_on(name, edits) if f.rule.system in ("controls", "network")]


def not_good(found: list[Finding]) -> dict[tuple[str, str], str | None]:
    return {(f.rule.id, f.subject): f.level for f in found if f.kind in ("fail", "review", "open")}


# -- the van ----------------------------------------------------------------------------------------------------------
def test_the_van_has_its_four_mistakes_each_once_on_its_field() -> None:
    assert not_good(findings(VAN)) == {
        ("controls.key-feed-crank", f"{C}.ecm_ignition.start"): "error",
        # what follows from the first: a control unit that falls asleep in crank lets go of its fuel pump's relay
        ("controls.relay-rating", f"{C}.fuel_pump.switched_by"): "error",
        ("network.termination", f"{N}.nodes.display.terminated"): "error",
        ("network.stub-length", f"{N}.wires.display.length"): "warning",
        ("network.signal-availability", f"{N}.nodes.display.needs"): "error",
    }


def the_vans(rule: str) -> Finding:
    return next(f for f in findings(VAN) if f.rule.id == rule and f.kind == "fail")


def test_the_vans_feed_dies_in_crank() -> None:
    found = the_vans("controls.key-feed-crank")
    assert "accessory" in found.message
    assert "dead in crank" in found.message
    assert "terminal 15" in found.message


def test_the_vans_three_terminators() -> None:
    found = the_vans("network.termination")
    assert found.found == pytest.approx(40)  # three of 120 Ω
    assert "inside display" in found.message
    assert "reads 60 Ω" in found.message


def test_the_vans_long_stub() -> None:
    found = the_vans("network.stub-length")
    assert found.found == pytest.approx(1.3)
    assert found.limit is not None
    assert found.limit.value == 1.0  # SAE J1939-14
    assert "6.8 m" in found.message  # 6.2 + 2·0.3 m


def test_the_vans_gauge_that_nobody_feeds() -> None:
    found = the_vans("network.signal-availability")
    assert "engine oil pressure (100)" in found.message
    assert "lamp output only" in found.message
    assert "65263" in found.message
    for number in (190, 110, 168, 96, 84):
        assert f"({number})" not in found.message


def test_the_vans_mistakes_can_be_mended() -> None:
    mended = {
        f"{C}.ecm_ignition.start": "key-15",
        f"{N}.nodes.display.terminated": False,
        f"{N}.wires.display.length": "0.9 m",
        f"{N}.nodes.display.own_sensors": [100],
    }
    assert not_good(findings(VAN, mended)) == {}


# -- the tender -------------------------------------------------------------------------------------------------------
def test_the_tenders_controls_and_network_are_sound() -> None:
    assert not_good(findings(TENDER)) == {}


@pytest.mark.parametrize(
    ("edits", "expected"),
    [
        ({f"{C}.ecm_ignition.start": "key-accessory"}, ("controls.key-feed-crank", f"{C}.ecm_ignition.start")),
        ({f"{C}.ecm.fuse": "30 A"}, ("controls.ecm-feed", f"{C}.ecm.fuse")),
        (
            {"electrics.ecm.height": "500 mm", "electrics.ecm.temperature": "90 degC"},
            ("controls.ecm-environment", "electrics.ecm.temperature"),
        ),
        (
            {"electrics.routes.bulkhead-engine.length": "2.2 m"},
            ("controls.harness-reach", "electrics.routes.bulkhead-engine.length"),
        ),
        ({"electrics.openings.bulkhead.hole": "80 mm"}, ("controls.bulkhead-pass", "electrics.openings.bulkhead.hole")),
        ({"electrics.pedal.tracks": 1}, ("controls.pedal-match", "electrics.pedal.tracks")),
        ({"electrics.tach.correction": 1.0}, ("controls.tach-signal", "electrics.tach.correction")),
        ({"electrics.lamps.heater": None}, ("controls.warning-lamps", "electrics.lamps")),
        (
            {"electrics.diagnostic.protocol": "ISO 14230"},
            ("controls.diagnostic-access", "electrics.diagnostic.protocol"),
        ),
        ({"electrics.signals.clutch_switch": None}, ("controls.immobiliser-signals", "engine.inputs_required")),
        ({f"{C}.solenoid.relay_rating": "30 A"}, ("controls.start-interlock", f"{C}.solenoid.relay_rating")),
        ({f"{N}.nodes.display.bit_rate": "500 kbit/s"}, ("network.bit-rate", f"{N}.nodes.display.bit_rate")),
        ({f"{N}.wires.body.length": "35 m"}, ("network.trunk-length", f"{N}.wires.front.length")),
        ({f"{N}.wires.service.length": "1.1 m"}, ("network.stub-length", f"{N}.wires.service.length")),
        ({f"{N}.terminators.rear": None}, ("network.termination", f"{N}.terminators")),
        ({f"{N}.nodes.pump-panel.address": 23}, ("network.addresses", f"{N}.nodes.pump-panel.address")),
        ({f"{N}.nodes.pump-panel.needs": [190, 183]}, ("network.signal-availability", f"{N}.nodes.pump-panel.needs")),
    ],
)
def test_a_mistake_planted_in_the_tender_is_found_once(edits: dict[str, Any], expected: tuple[str, str]) -> None:
    assert list(not_good(findings(TENDER, edits))) == [expected]


def test_the_vans_fuel_pump_runs_in_crank_once_the_control_unit_is_awake() -> None:
    mended = findings(VAN, {f"{C}.ecm_ignition.start": "key-15"})
    kinds = {f.kind for f in mended if f.rule.id in ("controls.relay-rating", "controls.key-feed-crank")}
    assert "pass" in kinds
    assert "fail" not in kinds
