"""The controls pack on the sound spec: every number worked out by hand.

Conductors at 20 °C, mΩ/m, from IEC 60228, class 5: 1 mm² 19.5, 2.5 mm² 7.98, 4 mm² 4.95, 10 mm² 1.91, 50 mm² 0.386.
Each cable has two joints of 0.03 mΩ (common practice).
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from swaplint.inspecting.results import Finding
from swaplint.kit.trial import of_part, one, trial, value

C = "electrics.cables"
KEY = "electrics.key_switch.terminals"
SWITCHED, MAIN = "feeds.switched", "feeds.main"


def advised(found: Finding) -> dict[str, Any]:
    return {one.field: one.value for one in found.advice}


# -- key feed ---------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("edits", "kind", "on"),
    [
        ({}, "pass", f"{C}.ecm_switched.start"),
        ({f"{C}.ecm_switched.start": "key-accessory"}, "fail", f"{C}.ecm_switched.start"),  # dead in crank
        ({f"{C}.ecm_switched.start": "key-start"}, "fail", f"{C}.ecm_switched.start"),  # dead in run
        ({f"{KEY}.run.live_in": ["run"]}, "fail", f"{C}.ecm_switched.start"),
        ({f"{C}.key": None}, "pass", f"{C}.ecm_switched.start"),  # nobody states what feeds the key: taken as fed
    ],
)
def test_the_switched_feed_is_walked_back_to_its_terminal(edits: dict[str, Any], kind: str, on: str) -> None:
    found = of_part("controls.key-feed-crank", SWITCHED, edits, demand="live")
    assert (found.kind, found.subject) == (kind, on)


def test_a_dead_feed_names_the_terminal_that_is_live_in_both() -> None:
    found = of_part("controls.key-feed-crank", SWITCHED, {f"{C}.ecm_switched.start": "key-accessory"})
    assert found.level == "error"
    assert "dead in crank" in found.message
    assert "terminal run" in found.message


def test_without_such_a_terminal_a_relay_is_advised_and_helps() -> None:
    split = {f"{KEY}.run.live_in": ["run"]}
    assert "relay" in of_part("controls.key-feed-crank", SWITCHED, split).message
    relay = {f"{C}.ecm_switched.start": "cab-fuses", f"{C}.ecm_switched.switched_by": ["key-run", "key-start"]}
    assert of_part("controls.key-feed-crank", SWITCHED, {**split, **relay}).kind == "pass"
    one_coil = {**relay, f"{C}.ecm_switched.switched_by": ["key-run"]}
    found = of_part("controls.key-feed-crank", SWITCHED, {**split, **one_coil})
    assert (found.kind, found.subject) == ("fail", f"{C}.ecm_switched.switched_by")


OWN_RELAY = {f"{C}.ecm_switched.start": "cab-fuses", f"{C}.ecm_switched.switched_by": ["ecm-relay"]}
WOKEN = {
    "engine.ecm.feeds.sense": {"kind": "switched", "current": "0.3 A", "fuse": "5 A", "live_in_crank": True},
    f"{C}.sense": {
        "role": "switched-feed",
        "start": "key-run",
        "end": "ecm-sense",
        "size": "1 mm2",
        "length": "2.4 m",
        "current": "0.3 A",
        "returns_by": "own-conductor",
        "return_length": "2.4 m",
        "insulation_temp": "105 degC",
        "place": "engine-space",
        "bundled_with": 2,
        "fuse": "5 A",
    },
}


@pytest.mark.parametrize(
    ("edits", "kind"),
    [
        (OWN_RELAY | WOKEN, "pass"),  # the key wakes the unit, which then closes its main relay
        (OWN_RELAY, "fail"),  # nothing wakes it: its output is dead, the relay open, the feed dead
        (OWN_RELAY | WOKEN | {f"{C}.sense.start": "key-accessory"}, "fail"),  # woken in run, dead in crank
        ({f"{C}.key.switched_by": ["ecm-relay"], f"{C}.key.relay_rating": "40 A"}, "fail"),  # so is the key itself
    ],
)
def test_a_main_relay_is_live_once_something_else_wakes_the_control_unit(edits: dict[str, Any], kind: str) -> None:
    found = of_part("controls.key-feed-crank", SWITCHED, edits, demand="live")
    assert found.kind == kind
    if f"{C}.key.switched_by" in edits:
        assert "The key switch itself gets no current" in found.message


def test_a_main_relay_opens_again_with_what_woke_the_control_unit() -> None:
    assert one("controls.key-off-stops", OWN_RELAY | WOKEN, demand="held").kind == "pass"


def test_a_terminal_with_no_battery_behind_it_is_dead() -> None:
    assert of_part("controls.key-feed-crank", SWITCHED, {f"{C}.key.start": "nowhere"}).kind == "fail"


def test_an_engine_that_stays_live_with_the_key_off_is_an_error() -> None:
    edits = {f"{C}.ecm_switched.start": "cab-fuses"}
    found = of_part("controls.key-feed-crank", SWITCHED, edits, demand="dead-in-off")
    assert (found.kind, found.level) == ("fail", "error")
    assert of_part("controls.key-feed-crank", SWITCHED, edits, demand="live").kind == "pass"


@pytest.mark.parametrize(("gap", "kind"), [("50 ms", "pass"), ("51 ms", "fail")])  # the sheet rides through 50 ms
def test_the_break_of_the_key_against_the_hold_up_time(gap: str, kind: str) -> None:
    found = of_part("controls.key-feed-crank", SWITCHED, {f"{KEY}.run.gap": gap}, demand="break")
    assert (found.kind, found.subject) == (kind, f"{KEY}.run.gap")


def test_a_break_that_nobody_has_measured_is_a_question() -> None:
    unmeasured = {f"{KEY}.run.gap": None}
    found = of_part("controls.key-feed-crank", SWITCHED, unmeasured, demand="break")
    assert (found.kind, found.unknown, found.due) == ("open", (f"{KEY}.run.gap",), True)
    unknown = of_part("controls.key-feed-crank", SWITCHED, {"engine.ecm.hold_up_time": None}, demand="break")
    assert (unknown.kind, unknown.unknown) == ("open", ("engine.ecm.hold_up_time",))
    # a feed that may die in cranking has no break to ride through
    needless = unmeasured | {"engine.ecm.feeds.switched.live_in_crank": False}
    assert {f.kind for f in trial("controls.key-feed-crank", needless)} == {"pass"}


@pytest.mark.parametrize(
    ("coils", "gaps", "kind"),
    [
        # a relay opens with its coil: that of one terminal breaks as the terminal does
        (["key-run"], {"run": "51 ms"}, "fail"),
        (["key-run"], {"run": None}, "open"),
        # two terminals live in both: the one that breaks for the shorter time holds it; 50 ms are ridden through
        (["key-run", "key-ignition"], {"run": "51 ms", "ignition": "50 ms"}, "pass"),
        # one that hands over to the other breaks by what is known of it
        (["key-accessory", "key-start"], {"start": "51 ms"}, "fail"),
    ],
)
def test_the_break_of_a_relay_that_the_key_closes(coils: list[str], gaps: dict[str, Any], kind: str) -> None:
    edits: dict[str, Any] = {
        f"{C}.ecm_switched.start": "cab-fuses",
        f"{C}.ecm_switched.switched_by": coils,
        f"{C}.ecm_switched.relay_rating": "20 A",
    }
    if "ignition" in gaps:
        edits[f"{KEY}.ignition"] = {"live_in": ["run", "crank"]}
    edits |= {f"{KEY}.{terminal}.gap": gap for terminal, gap in gaps.items()}
    assert of_part("controls.key-feed-crank", SWITCHED, edits, demand="break").kind == kind


def test_an_undocumented_switch_leaves_it_open() -> None:
    found = of_part("controls.key-feed-crank", SWITCHED, {f"{KEY}.run.live_in": None}, stage="plan")
    assert (found.kind, found.unknown) == ("open", (f"{KEY}.run.live_in",))
    late = of_part("controls.key-feed-crank", SWITCHED, {f"{KEY}.run.live_in": None}, stage="quote")
    assert (late.kind, late.due) == ("open", True)


# -- feeds ------------------------------------------------------------------------------------------------------------
def test_the_loss_on_each_feed_by_hand() -> None:
    # 2 m of 4 mm² with two joints, there and back, at 15 A
    assert value("controls.feed-drop", part=MAIN) == pytest.approx(15 * 2 * (2 * 4.95 + 0.06) / 1000)
    # 0.6 m of 50 mm², 2.5 m of 10, 1 m of 2.5, 2.4 m of 1 mm²; back 2.4 m of 1 mm²; 2 A
    out = (0.6 * 0.386 + 0.06) + (2.5 * 1.91 + 0.06) + (7.98 + 0.06) + (2.4 * 19.5 + 0.06)
    assert value("controls.feed-drop", part=SWITCHED) == pytest.approx(2 * (out + 2.4 * 19.5 + 0.06) / 1000)


@pytest.mark.parametrize(("amperes", "kind"), [("25.1 A", "pass"), ("25.2 A", "fail")])  # 0.5 V/19.92 mΩ = 25.10 A
def test_the_loss_at_its_limit(amperes: str, kind: str) -> None:
    assert of_part("controls.ecm-feed", MAIN, {"engine.ecm.feeds.main.current": amperes}).kind == kind


def test_without_a_sheet_the_limit_grows_with_the_voltage() -> None:
    edits = {"engine.ecm.feeds.main.drop_max": None, "electrics.nominal_voltage": "24 V"}
    found = of_part("controls.ecm-feed", MAIN, edits, stage="quote", demand="loss")
    assert found.limit is not None
    assert found.limit.value == pytest.approx(1.0)
    assert found.practices == ("0.5 V lost on a 12 V control unit feed at its highest current",)


@pytest.mark.parametrize(("fuse", "kind"), [("20 A", "pass"), ("15 A", "fail"), ("25 A", "fail")])
def test_the_fuse_is_the_sheets(fuse: str, kind: str) -> None:
    found = of_part("controls.ecm-feed", MAIN, {f"{C}.ecm.fuse": fuse}, demand="fuse")
    assert (found.kind, found.subject) == (kind, f"{C}.ecm.fuse")
    assert kind == "pass" or advised(found) == {f"{C}.ecm.fuse": 20.0}


def test_a_constant_feed_comes_from_the_battery() -> None:
    for start in ("key-run", "key-accessory"):
        found = of_part("controls.ecm-feed", MAIN, {f"{C}.ecm.start": start})
        assert (found.kind, found.subject) == ("fail", f"{C}.ecm.start")
    behind_relay = of_part("controls.ecm-feed", MAIN, {f"{C}.ecm.switched_by": ["key-run"]})
    assert (behind_relay.kind, behind_relay.subject) == ("fail", f"{C}.ecm.switched_by")


@pytest.mark.parametrize(("used", "kind"), [(3, "pass"), (2, "fail"), (0, "fail")])
def test_all_ground_pins(used: int, kind: str) -> None:
    found = of_part("controls.ecm-feed", "engine.ecm", {"electrics.ecm.ground_pins_used": used})
    assert (found.kind, found.subject) == (kind, "electrics.ecm.ground_pins_used")


def test_a_feed_that_nothing_leads_to() -> None:
    found = of_part("controls.ecm-feed", MAIN, {f"{C}.ecm.end": "ecm-mian"})
    assert (found.kind, found.subject) == ("fail", C)
    assert "ecm-main" in found.message


def test_an_engine_without_a_control_unit() -> None:
    ids = ("ecm-feed", "key-feed-crank", "ecm-environment", "diagnostic-access")
    for id in ids:
        assert one(f"controls.{id}", {"engine.ecm": {"fitted": False}}).kind == "notApplicable"


def test_an_engine_without_a_control_unit_may_have_no_harness() -> None:
    bare = {"engine.ecm": {"fitted": False}, "engine.harness": None, "electrics.routes": None}
    for id in ("controls.harness-reach", "controls.bulkhead-pass"):
        assert [f.kind for f in trial(id, bare)] == ["notApplicable"]
    # one that has a control unit has a harness: nobody has said which
    silent = one("controls.harness-reach", {"engine.harness": None}, stage="plan")
    assert (silent.kind, silent.unknown) == ("open", ("engine.harness",))


# -- place ------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("wetting", "codes", "kind"),
    [
        ("none", ["IP50"], "pass"),
        ("none", ["IP4K2"], "fail"),
        ("spray", ["IP67"], "pass"),
        ("spray", ["IP65"], "fail"),
        ("spray", ["IP6K6K"], "pass"),
        ("pressure-wash", ["IP67"], "fail"),
        ("pressure-wash", ["IP6K9K"], "pass"),
        ("immersion", ["IP6K9K"], "fail"),
        ("immersion", ["IP6K9K", "IP6K7"], "pass"),
    ],
)
def test_water_asks_for_its_own_code(wetting: str, codes: list[str], kind: str) -> None:
    edits = {"electrics.ecm.wetting": wetting, "engine.ecm.ip_codes": codes}
    found = one("controls.ecm-environment", edits)
    assert found.kind == kind
    assert kind == "pass" or found.level == "warning"


@pytest.mark.parametrize(("height", "kind"), [("301 mm", "pass"), ("300 mm", "fail")])  # the sound spec wades 300 mm
def test_a_control_unit_below_the_wading_depth_is_immersed(height: str, kind: str) -> None:
    found = one("controls.ecm-environment", {"electrics.ecm.height": height, "engine.ecm.ip_codes": ["IP6K9K"]})
    assert found.kind == kind


@pytest.mark.parametrize(("degrees", "kind"), [("105 degC", "pass"), ("106 degC", "fail")])
def test_heat_is_an_error(degrees: str, kind: str) -> None:
    found = one("controls.ecm-environment", {"electrics.ecm.temperature": degrees})
    assert (found.kind, found.level) == (kind, "error" if kind == "fail" else None)
    assert one("controls.ecm-environment", {"electrics.ecm.temperature": None}, stage="quote").kind == "open"


def test_an_impossible_code_is_for_a_person() -> None:
    assert one("controls.ecm-environment", {"engine.ecm.ip_codes": ["splash-proof"]}).kind == "review"


# -- start circuit ----------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(("rating", "kind"), [("25 A", "pass"), ("24.9 A", "fail")])
def test_the_relay_bears_the_solenoid(rating: str, kind: str) -> None:
    found = one("controls.start-interlock", {f"{C}.solenoid.relay_rating": rating}, demand="switch-rating")
    assert found.kind == kind
    if kind == "fail":
        assert advised(found) == {f"{C}.solenoid.relay_rating": 37.5}  # 1.5 · 25 A


def test_a_solenoid_on_the_old_key_switch() -> None:
    bare = {f"{C}.solenoid.start": "key-start", f"{C}.solenoid.switched_by": None}
    found = one("controls.start-interlock", bare)  # rated 10 A
    assert (found.kind, found.subject) == ("fail", f"{C}.solenoid.start")
    assert one("controls.start-interlock", {**bare, f"{KEY}.start.rating": "30 A"}).kind == "pass"
    unknown = one("controls.start-interlock", {**bare, f"{KEY}.start.rating": None})
    assert unknown.practices == ("old key switch carries at most 10 A",)


@pytest.mark.parametrize("coil", [["key-run"], ["key-accessory"], ["nothing"]])
def test_the_solenoid_is_live_in_crank_only(coil: list[str]) -> None:
    found = one("controls.start-interlock", {f"{C}.solenoid.switched_by": coil})
    assert (found.kind, found.level, found.subject) == ("fail", "error", f"{C}.solenoid.switched_by")
    assert one("controls.start-interlock", {f"{C}.solenoid.switched_by": ["ecm-start"]}).kind == "pass"


@pytest.mark.parametrize(
    ("gearbox", "interlock", "kind", "level"),
    [
        ("manual", "clutch", "pass", None),
        ("manual", "none", "fail", "warning"),
        ("automatic", "neutral", "pass", None),
        ("automatic", "clutch", "fail", "error"),
        ("automatic", "none", "fail", "error"),
    ],
)
def test_the_interlock_suits_the_gearbox(gearbox: str, interlock: str, kind: str, level: str | None) -> None:
    edits = {"driveline.gearbox.kind": gearbox, "electrics.start.interlock": interlock}
    found = one("controls.start-interlock", edits)
    assert (found.kind, found.level) == (kind, level)


def test_a_start_circuit_that_is_not_stated() -> None:
    assert "not stated" in one("controls.start-interlock", {f"{C}.solenoid": None}).message
    assert one("controls.start-interlock", {"electrics.start.interlock": None}, stage="plan").kind == "open"


# -- harness ----------------------------------------------------------------------------------------------------------
def test_slack_by_hand() -> None:
    # 1 + 0.8 m of routes: 2.4 - (1.05·1.8 + 0.15) = 0.36 m; 1 + 1.2 m: 2.8 - 2.46 = 0.34 m
    assert value("controls.lead-way", part="pedal") == pytest.approx(1.8)
    assert value("controls.lead-slack", part="pedal") == pytest.approx(0.36)
    assert value("controls.lead-slack", part="cluster") == pytest.approx(0.34)


@pytest.mark.parametrize(
    ("length", "kind", "level"),
    [("2.04 m", "pass", None), ("2.03 m", "fail", "error"), ("2.54 m", "pass", None), ("2.55 m", "fail", "note")],
)
def test_a_lead_is_neither_short_nor_far_too_long(length: str, kind: str, level: str | None) -> None:
    found = of_part("controls.harness-reach", "pedal", {"engine.harness.pedal.length": length})
    assert (found.kind, found.level) == (kind, level)


def test_the_shortest_way_counts_and_an_extension_adds() -> None:
    shortcut = {"start": "ecm", "end": "pedal", "length": "1.5 m", "bend_radius": "80 mm", "moves_with_engine": False}
    # 2.4 - (1.05·1.5 + 0.15) = 0.675 m
    assert value("controls.lead-slack", {"electrics.routes.shortcut": shortcut}, part="pedal") == pytest.approx(0.675)
    extension = {"electrics.extensions.more": {"lead": "pedal", "length": "0.1 m"}}
    assert value("controls.lead-slack", extension, part="pedal") == pytest.approx(0.46)
    other = {"electrics.extensions.more": {"lead": "cluster", "length": "0.1 m"}}
    assert value("controls.lead-slack", other, part="pedal") == pytest.approx(0.36)


def test_a_short_lead_says_how_much_is_missing() -> None:
    # way 2.4 m: 2.67 m are needed, 2.4 m are there
    edits: dict[str, Any] = {"electrics.routes.bulkhead-pedal.length": "1.4 m"}
    found = of_part("controls.harness-reach", "pedal", edits, demand="reach")
    assert "short by 0.27 m" in found.message
    assert advised(found) == {}
    # an extension of 0.1 m that is there already has to be 0.27 m long
    extension = {"electrics.extensions.more": {"lead": "pedal", "length": "0.1 m"}}
    longer = of_part("controls.harness-reach", "pedal", edits | extension, demand="reach")
    assert advised(longer) == {"electrics.extensions.more.length": pytest.approx(0.27)}


def test_short_leads_point_at_the_longest_stretch_of_their_way() -> None:
    # 1.6 m to the bulkhead, 0.8 m on to the pedal and 1.2 m to the cluster
    found = trial("controls.harness-reach", {"electrics.routes.ecm-bulkhead.length": "1.6 m"})
    failed = [(f.demand, f.subject) for f in found if f.kind == "fail"]
    assert failed == [("reach", "electrics.routes.ecm-bulkhead.length")] * 2


def test_a_place_that_no_route_leads_to_or_none_is_stated() -> None:
    found = of_part("controls.harness-reach", "pedal", {"engine.harness.pedal.end": "roof"})
    assert (found.kind, found.subject) == ("fail", "engine.harness.pedal.end")
    lacking = of_part("controls.harness-reach", "pedal", {"electrics.routes": None}, stage="plan")
    assert (lacking.kind, lacking.unknown) == ("open", ("electrics.routes",))


DIAGONAL = math.hypot(50, 28) + 2  # 59.31 mm


@pytest.mark.parametrize(("hole", "kind"), [("59.4 mm", "pass"), ("59.2 mm", "fail")])
def test_a_hole_takes_the_diagonal_and_2_mm(hole: str, kind: str) -> None:
    found = of_part("controls.bulkhead-pass", "cluster", {"electrics.openings.bulkhead.hole": hole})
    assert found.kind == kind
    if kind == "fail":
        assert found.limit is not None
        assert found.limit.value == pytest.approx(DIAGONAL / 1000)


def test_a_loose_end_needs_only_room_for_itself() -> None:
    edits = {"electrics.openings.bulkhead.hole": "16 mm", "electrics.openings.bulkhead.grommet": "plain"}
    assert of_part("controls.bulkhead-pass", "cluster", edits).kind == "fail"
    loose = {**edits, "engine.harness.cluster.pre_terminated": False}  # 14 mm + 2 mm
    assert of_part("controls.bulkhead-pass", "cluster", loose).kind == "pass"
    assert (
        of_part("controls.bulkhead-pass", "cluster", {**loose, "electrics.openings.bulkhead.hole": "15.9 mm"}).kind
        == "fail"
    )


@pytest.mark.parametrize(
    ("radius", "moves", "kind"),
    [("70 mm", False, "pass"), ("69 mm", False, "fail"), ("140 mm", True, "pass"), ("139 mm", True, "fail")],
)
def test_bends_of_five_and_ten_diameters(radius: str, moves: bool, kind: str) -> None:
    route = "electrics.routes.bulkhead-cluster"  # the lead measures 14 mm
    found = of_part(
        "controls.bulkhead-pass", "cluster", {f"{route}.bend_radius": radius, f"{route}.moves_with_engine": moves}
    )
    assert found.kind == kind


@pytest.mark.parametrize(
    ("edits", "on"),
    [
        ({"electrics.openings.bulkhead.grommet": "none"}, "electrics.openings.bulkhead.grommet"),
        ({"electrics.routes.ecm-bulkhead.opening": "floor"}, "electrics.routes.ecm-bulkhead.opening"),
        ({"electrics.routes.ecm-bulkhead.straight_end": "29 mm"}, "electrics.routes.ecm-bulkhead.straight_end"),
    ],
)
def test_what_is_wrong_with_a_way_that_two_leads_take_is_told_once(edits: dict[str, Any], on: str) -> None:
    assert [f.subject for f in trial("controls.bulkhead-pass", edits) if f.kind == "fail"] == [on]


def test_an_opening_that_is_not_measured() -> None:
    lacking = of_part("controls.bulkhead-pass", "pedal", {"electrics.openings.bulkhead.hole": None}, stage="quote")
    assert (lacking.kind, lacking.unknown) == ("open", ("electrics.openings.bulkhead.hole",))


# -- pedal, gauge, lamps, socket --------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("field", "wrong"),
    [
        ("tracks", 1),
        ("track_ratio", 1.9),
        ("inverted", True),
        ("supplies", 1),
        ("supply_voltage", "12 V"),
        ("idle_switch", True),
        ("connector", "another (invented)"),
        ("voltages_adapted", True),
        ("returns_to_idle", False),
    ],
)
def test_a_pedal_that_differs_in_one_thing(field: str, wrong: Any) -> None:
    found = one("controls.pedal-match", {f"electrics.pedal.{field}": wrong})
    assert (found.kind, found.level, found.subject) == ("fail", "error", f"electrics.pedal.{field}")
    lacking = one("controls.pedal-match", {f"electrics.pedal.{field}": None}, stage="plan")
    assert (lacking.kind, lacking.unknown) == ("open", (f"electrics.pedal.{field}",))


@pytest.mark.parametrize(("ratio", "kind"), [(1.96, "pass"), (1.959, "fail"), (2.04, "pass"), (2.041, "fail")])
def test_the_ratio_of_the_tracks_within_two_per_cent(ratio: float, kind: str) -> None:
    assert one("controls.pedal-match", {"electrics.pedal.track_ratio": ratio}).kind == kind


@pytest.mark.parametrize(
    ("rule", "field", "demand", "owed"),
    [
        # a trial on the running engine, and looks at what is not built yet, are no questions for a quote
        ("controls.pedal-match", "electrics.pedal.returns_to_idle", "returns-to-idle", "commission"),
        ("controls.pedal-match", "electrics.pedal.voltages_adapted", "unchanged-voltages", "build"),
        ("controls.pedal-match", "electrics.pedal.tracks", "tracks", "quote"),
        ("controls.diagnostic-access", "electrics.diagnostic.in_reach", "in-reach", "build"),
    ],
)
def test_what_nobody_can_know_yet_is_not_owed(rule: str, field: str, demand: str, owed: str) -> None:
    stages = ("quote", "build", "commission")
    for stage in stages:
        found = one(rule, {field: None}, demand=demand, stage=stage)
        assert (found.kind, found.due) == ("open", stages.index(stage) >= stages.index(owed))


def test_a_cable_worked_engine_needs_no_pedal_sensor() -> None:
    assert one("controls.pedal-match", {"engine.pedal": {"fitted": False}}).kind == "notApplicable"
    assert one("controls.pedal-match", {"electrics.pedal": {"fitted": False}}).kind == "fail"


def test_the_tachometer_by_hand() -> None:
    assert value("controls.tach-error") == pytest.approx(0.0)
    # alternator of 12 poles at 2.8 turns: 6·2.8 = 16.8 pulses; a gauge for 16 reads 5 % too much
    edits = {"electrics.tach.source": "alternator", "engine.alternator.poles": 12, "electrics.tach.pulses_per_rev": 16}
    assert value("controls.tach-source", edits) == pytest.approx(16.8)
    assert value("controls.tach-error", edits) == pytest.approx(5.0)
    found = one("controls.tach-signal", edits)
    assert (found.kind, found.level) == ("fail", "note")
    assert advised(found) == {"electrics.tach.correction": pytest.approx(16 / 16.8)}
    assert one("controls.tach-signal", {**edits, "electrics.tach.only_guard": True}).level == "warning"


@pytest.mark.parametrize(("factor", "kind"), [(1.03, "pass"), (1.031, "fail"), (0.97, "pass"), (0.969, "fail")])
def test_three_per_cent_on_the_tachometer(factor: float, kind: str) -> None:
    assert one("controls.tach-signal", {"electrics.tach.correction": factor}).kind == kind


def test_other_sources_of_the_tachometer() -> None:
    assert one("controls.tach-signal", {"electrics.tach.source": "bus"}).kind == "notApplicable"
    # no bus, or nothing on it that takes the engine's speed, parameter 190: it stays at zero
    for dead in ({"electrics.network.fitted": False}, {"electrics.network.nodes.*.needs": [110]}):
        found = one("controls.tach-signal", {"electrics.tach.source": "bus", **dead})
        assert (found.kind, found.subject) == ("fail", "electrics.tach.source")
    assert one("controls.tach-signal", {"electrics.tach": {"fitted": False}}).kind == "notApplicable"
    assert one("controls.tach-signal", {"engine.outputs.tach": {"fitted": False}}).kind == "fail"
    lacking = one("controls.tach-signal", {"electrics.tach.pulses_per_rev": None}, stage="quote")
    assert lacking.kind == "open"


@pytest.mark.parametrize(
    ("lamp", "level"),
    [("oil", "error"), ("charge", "error"), ("brake", "error"), ("fuel", "warning"), ("glow", "warning")],
)
def test_a_missing_lamp(lamp: str, level: str) -> None:
    found = one("controls.warning-lamps", {f"electrics.lamps.{lamp}": None})
    assert (found.kind, found.level, found.subject) == ("fail", level, "electrics.lamps")


@pytest.mark.parametrize(
    ("current", "kind"), [("300 mA", "pass"), ("301 mA", "fail"), ("20 mA", "pass"), ("19 mA", "fail")]
)
def test_a_lamp_that_the_engine_drives(current: str, kind: str) -> None:
    found = one("controls.warning-lamps", {"electrics.lamps.glow.current": current})
    assert found.kind == kind
    if current == "19 mA":
        assert found.demand == "seen.glow"
        assert "550 Ω" in found.message  # (12 - 1) V / 20 mA
        assert advised(found) == {"electrics.lamps.glow.current": pytest.approx(0.02)}


def test_the_resistor_that_is_printed_lets_enough_current_through() -> None:
    # (12 - 1) V / 24 mA = 458.3 Ω: rounded to the nearest 460 Ω it would let 23.9 mA through
    edits = {"electrics.lamps.glow.current": "19 mA", "engine.outputs.lamp_current_min": "24 mA"}
    assert "450 Ω" in one("controls.warning-lamps", edits, demand="seen.glow").message


def test_a_resistor_of_kilohms_is_rounded_down_too() -> None:
    # (12 - 1) V / 2.4 mA = 4583 Ω: rounded to the nearest 4600 Ω it would let less through
    edits = {"electrics.lamps.glow.current": "1 mA", "engine.outputs.lamp_current_min": "2.4 mA"}
    assert "A resistor of 4500 Ω or less" in one("controls.warning-lamps", edits, demand="seen.glow").message


def test_a_resistor_of_a_round_value_stays_what_it_is() -> None:
    # (13.2 - 1) V / 24.4 mA are 500 Ω, of which floating point leaves 499.999...
    edits = {"electrics.lamps.glow.current": "19 mA", "engine.outputs.lamp_current_min": "24.4 mA"}
    edits["electrics.nominal_voltage"] = "13.2 V"
    assert "A resistor of 500 Ω or less" in one("controls.warning-lamps", edits, demand="seen.glow").message


@pytest.mark.parametrize(
    ("correction", "says"), [(1.0, "it reads right."), (1.1, "10 % too much."), (0.9, "10 % too little.")]
)
def test_how_a_tachometer_reads_is_said(correction: float, says: str) -> None:
    assert one("controls.tach-signal", {"electrics.tach.correction": correction}).message.endswith(says)


def test_each_lamp_is_judged_by_itself() -> None:
    edits = {"electrics.lamps.malfunction.colour": "red", "electrics.lamps.glow.current": "301 mA"}
    failed = {f.demand: f.level for f in trial("controls.warning-lamps", edits) if f.kind == "fail"}
    assert failed == {"colour.malfunction": "warning", "bears.glow": "warning"}
    amber = one("controls.warning-lamps", edits, demand="colour.malfunction")
    assert advised(amber) == {"electrics.lamps.malfunction.colour": "amber"}


def test_lamps_without_an_output_and_open_questions() -> None:
    found = one(
        "controls.warning-lamps",
        {"electrics.lamps.oil.driven_by": "engine-output", "electrics.lamps.oil.current": "60 mA"},
    )
    assert (found.kind, found.subject) == ("fail", "electrics.lamps.oil.driven_by")
    lacking = one("controls.warning-lamps", {"engine.warnings_required": None}, stage="plan")
    assert (lacking.kind, lacking.unknown) == ("open", ("engine.warnings_required",))


@pytest.mark.parametrize(
    ("field", "wrong"),
    [("connector", "other"), ("protocol", "SAE J1939"), ("in_reach", False), ("needs_tool", True)],
)
def test_the_diagnostic_connector(field: str, wrong: Any) -> None:
    path = f"electrics.diagnostic.{field}"
    found = one("controls.diagnostic-access", {path: wrong})
    assert (found.kind, found.level, found.subject) == ("fail", "error", path)
    assert one("controls.diagnostic-access", {path: wrong, "engine.diagnostics.required": False}).level == "warning"
    assert one("controls.diagnostic-access", {path: None}, stage="plan").kind == "open"


def test_the_diagnostic_connector_needs_a_constant_feed() -> None:
    found = one("controls.diagnostic-access", {f"{C}.diagnostic.start": "key-run"})
    assert (found.kind, found.subject) == ("fail", f"{C}.diagnostic.start")
    assert one("controls.diagnostic-access", {f"{C}.diagnostic": None}).subject == C
    assert one("controls.diagnostic-access", {"electrics.diagnostic": {"fitted": False}}).kind == "fail"


# -- signals ----------------------------------------------------------------------------------------------------------
def test_signals_count_whoever_gives_them() -> None:
    edits: dict[str, Any] = {"electrics.signals.brake_switch": None}
    found = of_part("controls.immobiliser-signals", "engine", edits)
    assert (found.kind, found.level, found.subject) == ("fail", "error", "engine.inputs_required")
    by_module = {**edits, "vehicle.modules.body.sends": ["door-open", "brake-switch"]}
    assert of_part("controls.immobiliser-signals", "engine", by_module).kind == "pass"


@pytest.mark.parametrize(("blocks", "level"), [(True, "error"), (False, "warning")])
def test_a_module_that_waits_for_the_old_engine(blocks: bool, level: str) -> None:
    edits = {"vehicle.modules.body.needs": ["old-engine-code"], "vehicle.modules.body.blocks_start": blocks}
    found = of_part("controls.immobiliser-signals", "body", edits)
    assert (found.kind, found.level, found.subject) == ("fail", level, "vehicle.modules.body.needs")


def test_an_immobiliser_without_its_key_and_open_questions() -> None:
    found = of_part("controls.immobiliser-signals", "immobiliser", {"electrics.signals.key_reader": None})
    assert (found.kind, found.level) == ("fail", "error")
    parts = {f.part for f in trial("controls.immobiliser-signals", {"engine.immobiliser": {"fitted": False}})}
    assert parts == {"engine", "vehicle.modules.body"}
    lacking = of_part("controls.immobiliser-signals", "engine", {"engine.inputs_required": None}, stage="plan")
    assert lacking.kind == "open"


ELECTRIC = {"plumbing.cooling.fan.drive": "electric"}
FAN = "electrics.fan_control"


OWN_SWITCH = {f"{FAN}.takes": "own-thermo-switch", f"{C}.fan.switched_by": ["thermo-switch"]}


@pytest.mark.parametrize(
    ("edits", "kind", "level", "on"),
    [
        ({}, "pass", None, f"{C}.fan.relay_rating"),
        ({f"{FAN}.coil_current": "0.5 A"}, "pass", None, f"{FAN}.coil_current"),
        ({f"{FAN}.coil_current": "0.51 A"}, "fail", "error", f"{FAN}.coil_current"),
        ({f"{C}.fan.relay_rating": "10 A"}, "pass", None, f"{C}.fan.relay_rating"),
        ({f"{C}.fan.relay_rating": "9.9 A"}, "fail", "error", f"{C}.fan.relay_rating"),
        ({f"{C}.fan.switched_by": ["key-run"]}, "fail", "error", f"{C}.fan.switched_by"),
        ({f"{FAN}.takes": "pulse-width"}, "fail", "error", f"{FAN}.takes"),
        ({f"{FAN}.takes": "own-thermo-switch"}, "fail", "warning", f"{FAN}.takes"),
        # a plain relay drops out when its signal is lost, and nobody can make it do otherwise
        ({f"{FAN}.on_when_lost": False}, "pass", None, ""),
        ({"engine.outputs.fan": {"fitted": False}}, "fail", "error", f"{FAN}.takes"),
        # where the engine cannot run it a thermo-switch is what runs it
        ({"engine.outputs.fan": {"fitted": False}, **OWN_SWITCH}, "pass", None, ""),
        ({"engine.ecm": {"fitted": False}, **OWN_SWITCH}, "pass", None, ""),
    ],
)
def test_the_fan_and_the_engines_output(edits: dict[str, Any], kind: str, level: str | None, on: str) -> None:
    found = one("controls.fan-output", {**ELECTRIC, **edits})
    assert (found.kind, found.level) == (kind, level)
    assert kind == "pass" or found.subject == on


@pytest.mark.parametrize(
    ("hertz", "kind"), [("50 Hz", "pass"), ("49 Hz", "fail"), ("150 Hz", "pass"), ("151 Hz", "fail")]
)
def test_pulses_inside_the_controllers_range(hertz: str, kind: str) -> None:
    edits = {
        **ELECTRIC,
        f"{FAN}.takes": "pulse-width",
        f"{FAN}.frequency_min": "50 Hz",
        f"{FAN}.frequency_max": "150 Hz",
        "engine.outputs.fan.kind": "pulse-width",
        "engine.outputs.fan.frequency": hertz,
    }
    assert one("controls.fan-output", edits).kind == kind


def test_a_fan_on_the_engine_and_an_unknown_one() -> None:
    assert one("controls.fan-output").kind == "notApplicable"
    assert one("controls.fan-output", {**ELECTRIC, f"{FAN}.takes": None}, stage="plan").kind == "open"


BOX = "driveline.gearbox.controller"
AUTOMATIC: dict[str, Any] = {
    "driveline.gearbox.kind": "automatic",
    f"{BOX}.needs": ["engine-torque", "vehicle-speed"],
    f"{BOX}.limits_torque": True,
    f"{BOX}.shift_speed_max": "3300 r/min",
    "engine.transmission_messages.sends": ["engine-torque"],
    "engine.transmission_messages.accepts_torque_limit": True,
}


@pytest.mark.parametrize(
    ("edits", "kind", "on"),
    [
        ({}, "pass", f"{BOX}.shift_speed_max"),
        ({f"{BOX}.needs": ["engine-torque", "gear-lever"]}, "fail", f"{BOX}.needs"),
        ({f"{BOX}.shift_speed_max": "3400 r/min"}, "pass", ""),  # rated speed
        ({f"{BOX}.shift_speed_max": "3401 r/min"}, "fail", f"{BOX}.shift_speed_max"),
        (
            {"engine.transmission_messages.accepts_torque_limit": False},
            "fail",
            "engine.transmission_messages.accepts_torque_limit",
        ),
        ({"engine.transmission_messages.accepts_torque_limit": False, f"{BOX}.limits_torque": False}, "pass", ""),
    ],
)
def test_the_gearbox_controller(edits: dict[str, Any], kind: str, on: str) -> None:
    found = one("controls.transmission-messages", {**AUTOMATIC, **edits})
    assert found.kind == kind
    assert kind == "pass" or (found.level, found.subject) == ("error", on)
    if on.endswith("shift_speed_max") and kind == "fail":
        # 100 r/min below the 3400 r/min at which the engine is rated
        assert advised(found) == {on: pytest.approx(3300 * math.pi / 30)}


def test_a_controller_that_waits_for_nothing_needs_no_messages() -> None:
    # a stand-alone controller: whether the engine's sheet lists messages is no question
    alone = {**AUTOMATIC, f"{BOX}.needs": [], f"{BOX}.limits_torque": False, "engine.transmission_messages": None}
    found = trial("controls.transmission-messages", alone)
    assert {f.demand: f.kind for f in found} == {"signals": "pass", "shift-speed": "pass"}


def test_nobody_gives_himself_what_he_waits_for() -> None:
    # vehicle-speed comes from a sensor; the gear is what the controller itself sends
    own = {**AUTOMATIC, f"{BOX}.needs": ["engine-torque", "gear"], f"{BOX}.sends": ["gear"]}
    assert one("controls.transmission-messages", own, demand="signals").kind == "fail"
    module = {"vehicle.modules.body.needs": ["old-code"], "vehicle.modules.body.sends": ["old-code"]}
    assert of_part("controls.immobiliser-signals", "modules.body", module).kind == "fail"


def test_gearboxes_without_a_controller_and_unknown_ones() -> None:
    assert one("controls.transmission-messages").kind == "notApplicable"
    assert one("controls.transmission-messages", {**AUTOMATIC, BOX: {"fitted": False}}).kind == "notApplicable"
    lacking = one("controls.transmission-messages", {**AUTOMATIC, f"{BOX}.shift_speed_max": None}, stage="plan")
    assert (lacking.kind, lacking.unknown) == ("open", (f"{BOX}.shift_speed_max",))


def test_a_connector_without_a_fuse_gets_one_of_10_a() -> None:
    bare = {"role": "other", "start": "battery-positive", "end": "diagnostic", "fused": False}
    found = one("controls.diagnostic-access", {f"{C}.diagnostic": bare}, demand="fuse")
    assert advised(found) == {f"{C}.diagnostic.fuse": pytest.approx(10.0)}


@pytest.mark.parametrize(
    ("function", "parameter"),
    # suspect parameter numbers of SAE J1939-71, from memory
    [
        ("oil-pressure", 100),
        ("coolant-temperature", 110),
        ("charge", 167),
        ("fuel-level", 96),
        ("parking-brake", 70),
        ("water-in-fuel", 97),
        ("coolant-level", 111),
    ],
)
def test_what_a_lamp_on_the_bus_takes_from_it(function: str, parameter: int) -> None:
    lamp = {"function": function, "driven_by": "bus"}
    found = one("controls.warning-lamps", {"electrics.lamps": {"lamp": lamp}}, demand="bus.lamp")
    assert f"({parameter})" in found.message


def test_a_harness_is_straight_for_30_mm_behind_a_connector() -> None:
    for straight, kind in (("29.5 mm", "fail"), ("30.5 mm", "pass")):
        found = trial("controls.bulkhead-pass", {"electrics.routes.ecm-bulkhead.straight_end": straight})
        assert {f.kind for f in found if f.demand.startswith("straight")} == {kind}
