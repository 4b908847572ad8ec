"""Which way a control unit is fed, where there are several. Each number with its working."""

from __future__ import annotations

from typing import Any

import pytest
from advising import advised
from asked import build
from swaplint_rules.controls import feeding, takeoff

from swaplint.kit.trial import of_part, one, trial, value

CABLES = "electrics.cables"
WIRE = {"role": "other", "size": "4 mm2", "returns_by": "own-conductor", "return_length": "1 m", "length": "1 m"}


def cables(**named: tuple[str, str, str, str]) -> dict[str, Any]:
    """Cables by name: from, to, length there and length back."""
    return {
        f"{CABLES}.{name}": WIRE | {"start": start, "end": end, "length": there, "return_length": back}
        for name, (start, end, there, back) in named.items()
    }


FIRST = {f"{CABLES}.ecm.start": "middle"} | cables(first=("battery-positive", "middle", "1 m", "1 m"))


@pytest.mark.parametrize(
    ("others", "milliohms"),
    [
        # 4 mm² have 4.95 mΩ/m, and each conductor 0.06 mΩ of lugs: 1 m and 2 m there, 2 m back by the last one's way
        ({}, 5 * 4.95 + 3 * 0.06),
        # three cables from the other battery, however short, are further than two from this one
        (
            cables(
                a=("auxiliary-positive", "one", "0.1 m", "0.1 m"),
                b=("one", "two", "0.1 m", "0.1 m"),
                c=("two", "ecm-main", "0.1 m", "0.1 m"),
            ),
            5 * 4.95 + 3 * 0.06,
        ),
        # and one is nearer: 5 m there and 3 m back
        (cables(a=("auxiliary-positive", "ecm-main", "5 m", "3 m")), 8 * 4.95 + 2 * 0.06),
    ],
)
def test_the_nearest_of_two_batteries_feeds(others: dict[str, Any], milliohms: float) -> None:
    # 15 A of the main feed
    assert value("controls.feed-drop", FIRST | others, part="engine.ecm.feeds.main") == pytest.approx(
        15 * milliohms / 1000
    )


@pytest.mark.parametrize(
    ("others", "says"),
    [
        ({}, "comes from battery-positive."),
        (cables(a=("auxiliary-positive", "ecm-main", "1 m", "1 m")), "comes from auxiliary-positive."),
        (cables(a=("ecm-main", "auxiliary-positive", "1 m", "1 m")), "comes from auxiliary-positive."),
        (
            cables(a=("auxiliary-positive", "ecm-main", "1 m", "1 m"))
            | {f"{CABLES}.a.switched_by": ["key-run"], f"{CABLES}.first.fitted": False},
            "comes from auxiliary-positive through a relay closed by key-run. It must stay live whatever the key says",
        ),
    ],
)
def test_which_battery_feeds_is_said(others: dict[str, Any], says: str) -> None:
    found = of_part("controls.ecm-feed", "engine.ecm.feeds.main", FIRST | others, demand="constant")
    assert says in found.message


BARE = WIRE | {"size": "1 mm2", "diode": False}


@pytest.mark.parametrize(
    ("wires", "advice"),
    [
        # the current that feeds back runs against the wire: a diode along it stops that
        ({"lamp": ("key-run", "alternator-excitation")}, {f"{CABLES}.lamp.diode": True}),
        # drawn the other way round a diode along it would let it through, and so with one of two
        ({"lamp": ("alternator-excitation", "key-run")}, {}),
        ({"lamp": ("key-run", "alternator-excitation"), "other": ("alternator-excitation", "key-run")}, {}),
    ],
)
def test_a_diode_is_advised_in_a_wire_that_is_drawn_towards_the_alternator(
    wires: dict[str, tuple[str, str]], advice: dict[str, bool]
) -> None:
    edits = {f"{CABLES}.{name}": BARE | {"start": start, "end": end} for name, (start, end) in wires.items()}
    found = one("controls.key-off-stops", edits, demand="alternator")
    assert (found.kind, advised(found)) == ("fail", advice)


def test_a_lead_is_short_by_whole_millimetres_and_no_more() -> None:
    # 2.4 m less 1.05 * (1 + 1.3) m and 0.15 m of slack: 165 mm, of which floating point makes a little more
    found = of_part("controls.harness-reach", "pedal", {"electrics.routes.bulkhead-pedal.length": "1.3 m"})
    assert "it is short by 0.165 m." in found.message


@pytest.mark.parametrize(
    ("edits", "demand", "margin"),
    # a hundred kelvin and a right angle are a whole margin
    [
        ({"electrics.ecm.temperature": "80 degC"}, "temperature", (105 - 80) / 100),
        ({"electrics.ecm.tilt": "12 deg"}, "tilt", (30 - 12) / 90),
    ],
)
def test_the_margins_of_the_place_of_the_control_unit(edits: dict[str, Any], demand: str, margin: float) -> None:
    assert one("controls.ecm-environment", edits, demand=demand).margin == pytest.approx(margin, rel=1e-4)


@pytest.mark.parametrize(
    ("cable", "current", "kind"),
    # what a contact carries without a pause is a question of every cable but the starter's, which need not say it
    [("fan", None, "open"), ("fan", "40 A", "pass"), ("starter", None, ""), ("starter", "250 A", "pass")],
)
def test_of_which_contacts_a_lasting_current_is_asked(cable: str, current: str | None, kind: str) -> None:
    edits = {f"{CABLES}.{cable}.current": current, f"{CABLES}.{cable}.relay_rating": "300 A"}
    found = {f.demand: f.kind for f in trial("controls.relay-rating", edits) if f.part.endswith(cable)}
    assert found.get("contact", "") == kind


@pytest.mark.parametrize(
    ("closed_by", "asked"),
    # a relay that is closed as the starter turns must hold; one that drops out, or none, is not asked about
    [(["key-run"], True), (["key-accessory"], False), (None, False)],
)
def test_of_which_relay_it_is_asked_whether_its_coil_holds(closed_by: list[str] | None, asked: bool) -> None:
    pump = WIRE | {"role": "fuel-pump", "start": "cab-fuses", "end": "pump", "current": "5 A", "relay_rating": "30 A"}
    edits = {f"{CABLES}.pump": pump | ({"switched_by": closed_by} if closed_by else {})}
    found = {f.demand for f in trial("controls.relay-rating", edits) if f.part.endswith("cables.pump")}
    assert ("coil-holds" in found) is asked
    assert "live-in-crank" in found


@pytest.mark.parametrize(
    ("more", "demands"),
    # a motor with a contact closes it on more than it runs at; with none, or with no motor, nothing is closed on more
    [
        ({"role": "fuel-pump", "relay_rating": "30 A"}, {"contact", "making", "live-in-crank"}),
        ({"role": "fuel-pump"}, {"live-in-crank"}),
        ({"role": "other", "relay_rating": "30 A"}, {"contact"}),
        ({"role": "other", "relay_rating": "30 A", "inrush": "20 A"}, {"contact", "making"}),
        ({"role": "other", "relay_rating": "30 A", "live_in_crank": True}, {"contact", "live-in-crank"}),
        ({"role": "fuel-pump", "relay_rating": "30 A", "live_in_crank": False}, {"contact", "making"}),
    ],
)
def test_what_is_asked_of_what_switches_a_consumer(more: dict[str, Any], demands: set[str]) -> None:
    edits = {f"{CABLES}.pump": WIRE | {"start": "cab-fuses", "end": "pump", "current": "5 A"} | more}
    found = {f.demand for f in trial("controls.relay-rating", edits) if f.part.endswith("cables.pump")}
    assert found == demands


@pytest.mark.parametrize(
    ("edits", "field"),
    [
        ({}, "ecm_switched.start"),
        # a relay on the way, one cable before the pin; a terminal there; and a pin that nothing leads to
        ({f"{CABLES}.ecm_switched.start": "mid"} | cables(mid=("cab-fuses", "mid", "1 m", "1 m"))
         | {f"{CABLES}.mid.switched_by": ["key-run"]}, "mid.switched_by"),
        ({f"{CABLES}.ecm_switched.start": "mid"} | cables(mid=("key-run", "mid", "1 m", "1 m")), "mid.start"),
        ({f"{CABLES}.ecm_switched.start": "mid"} | cables(mid=("cab-fuses", "mid", "1 m", "1 m")),
         "ecm_switched.start"),
        ({f"{CABLES}.ecm_switched.start": "nowhere"}, "ecm_switched.start"),
    ],
)  # fmt: skip
def test_the_field_that_says_where_a_feed_comes_from(edits: dict[str, Any], field: str) -> None:
    assert feeding.source_field(build(edits), "ecm-switched") == f"{CABLES}.{field}"


@pytest.mark.parametrize(("fuse", "kind"), [("20 A", "pass"), ("45 A", "fail"), ("46 A", "notApplicable")])
def test_a_fuse_too_big_for_its_cable_is_told_elsewhere(fuse: str, kind: str) -> None:
    # alone in the cab 4 mm² carry 45 A; the sheet asks for 20 A
    edits = {f"{CABLES}.ecm.place": "cab", f"{CABLES}.ecm.bundled_with": 0, f"{CABLES}.ecm.fuse": fuse}
    assert of_part("controls.ecm-feed", "engine.ecm.feeds.main", edits, demand="fuse").kind == kind


def test_what_a_throttle_cable_lacks_is_advised() -> None:
    lever: dict[str, Any] = {"engine.pedal.fitted": False, "electrics.pedal.fitted": False}
    lever |= {"engine.throttle.travel": "40 mm", "electrics.throttle.stop": True, "electrics.throttle.springs": 1}
    lever |= {"electrics.throttle.travel": "39 mm"}
    for demand, field, wanted in (("springs", "springs", 2), ("travel", "travel", 0.040)):
        found = one("controls.throttle-cable", lever, demand=demand)
        assert (found.kind, advised(found)) == ("fail", {f"electrics.throttle.{field}": pytest.approx(wanted)})
    found = one("controls.throttle-cable", {**lever, "electrics.throttle.springs": 2}, demand="springs")
    assert (found.kind, "2 springs bring" in found.message) == ("pass", True)


@pytest.mark.parametrize(("only_guard", "level"), [(True, "warning"), (False, "note"), (None, "note")])
def test_a_tachometer_that_stays_at_zero_weighs_more_where_nothing_else_guards(
    only_guard: bool | None, level: str
) -> None:
    # no device on the bus takes the engine's speed, parameter 190; and so with a gauge that shows twice the speed
    dead = {"electrics.tach.source": "bus", "electrics.network": {"fitted": False}}
    for edits in (dead, {"electrics.tach.correction": 2.0}):
        found = one("controls.tach-signal", {**edits, "electrics.tach.only_guard": only_guard})
        assert (found.kind, found.level) == ("fail", level)


def test_a_lead_with_just_its_slack_is_not_short() -> None:
    # 1.2 m for 1.05 * (0.5 + 0.5) m and 0.15 m
    edits = {f"electrics.routes.{one}.length": "0.5 m" for one in ("ecm-bulkhead", "bulkhead-pedal")}
    found = of_part(
        "controls.harness-reach", "pedal", {**edits, "engine.harness.pedal.length": "1.2 m"}, demand="reach"
    )
    assert (found.kind, found.message) == ("pass", "The lead pedal has 1.2 m for a way of 1 m.")


def test_where_a_lead_can_be_led_otherwise() -> None:
    # its last stretch takes the slack; one that ends where it starts has its own length alone
    routes = {f"electrics.routes.{one}.length": "0.2 m" for one in ("ecm-bulkhead", "bulkhead-pedal")}
    for edits, field in (
        (routes, "electrics.routes.bulkhead-pedal.length"),
        ({"engine.harness.pedal.end": "ecm"}, "engine.harness.pedal"),
    ):
        found = of_part("controls.harness-reach", "pedal", edits, demand="coil")
        assert (found.kind, found.subject) == ("fail", field)


def test_what_passes_through_a_hole() -> None:
    edits = {f"{CABLES}.fan.through": "bulkhead", "plumbing.hoses.heater": {"through": "bulkhead"}}
    edits |= {f"{CABLES}.key.through": "floor"}
    assert takeoff._passing(build(edits), "bulkhead") == "ecm-bulkhead, cable fan, hose heater"
    assert takeoff._passing(build({**edits, CABLES: None}), "bulkhead") == "ecm-bulkhead, hose heater"
    assert takeoff._passing(build(), "floor") == ""
