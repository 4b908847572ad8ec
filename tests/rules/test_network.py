"""The network pack on the sound spec: a trunk of 0.3 + 3 + 1.5 + 0.3 m with engine, cluster and body on stubs."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import of_part, one, trial, value

N = "electrics.network"
CLUSTER, BODY = f"{N}.nodes.cluster", f"{N}.nodes.body"
FAST = {"engine.network.bit_rate": "500 kbit/s", f"{N}.nodes.*.bit_rate": "500 kbit/s"}


def message(group: int, milliseconds: float, *parameters: int) -> dict[str, Any]:
    return {"group": group, "period": f"{milliseconds} ms", "bytes": 8, "parameters": list(parameters)}


SPEED_AND_LEVEL = [message(65265, 100, 84), message(65276, 1000, 96)]


# -- bit rate ---------------------------------------------------------------------------------------------------------
def test_the_device_that_differs_is_named() -> None:
    found = one("network.bit-rate", {f"{CLUSTER}.bit_rate": "500 kbit/s"})
    assert (found.kind, found.level, found.subject) == ("fail", "error", f"{CLUSTER}.bit_rate")
    assert found.demand == "rate.cluster"
    assert [(one.field, one.value) for one in found.advice] == [(f"{CLUSTER}.bit_rate", 250e3)]
    assert one("network.bit-rate", {"engine.network.bit_rate": "500 kbit/s"}).subject == "engine.network.bit_rate"
    assert one("network.bit-rate", {f"{BODY}.protocol": "other-11-bit"}).subject == f"{BODY}.protocol"


@pytest.mark.parametrize(("rate", "kind"), [("250 kbit/s", "pass"), ("500 kbit/s", "pass"), ("125 kbit/s", "fail")])
def test_rates_of_j1939(rate: str, kind: str) -> None:
    edits = {"engine.network.bit_rate": rate, f"{N}.nodes.*.bit_rate": rate}
    assert one("network.bit-rate", edits).kind == kind


def test_two_buses_are_judged_one_by_one() -> None:
    # the wire between cluster and body goes, each half gets a rate of its own
    edits = {f"{N}.wires.cab": None, f"{BODY}.bit_rate": "500 kbit/s"}
    found = trial("network.bit-rate", edits)
    assert {f.kind for f in found} == {"pass", "notApplicable"}  # the body alone has nobody to differ from
    lengths = [value("network.trunk-length", edits, part=f"wires.{name}") for name in ("front", "back")]
    assert lengths == pytest.approx([3.3, 0.3])


def test_an_unknown_rate_leaves_it_open() -> None:
    found = one("network.bit-rate", {f"{CLUSTER}.bit_rate": None}, stage="plan")
    assert (found.kind, found.unknown) == ("open", (f"{CLUSTER}.bit_rate",))
    late = one("network.bit-rate", {f"{CLUSTER}.bit_rate": None}, stage="quote")
    assert (late.kind, late.due) == ("open", True)


@pytest.mark.parametrize(
    "rule", ["bit-rate", "trunk-length", "stub-length", "termination", "addresses", "bus-load", "signal-availability"]
)
def test_a_vehicle_without_a_bus(rule: str) -> None:
    found = trial(f"network.{rule}", {N: {"fitted": False}})
    assert [f.kind for f in found] == ["notApplicable"]


# -- trunk ------------------------------------------------------------------------------------------------------------
def test_the_trunk_adds_up() -> None:
    assert value("network.trunk-length") == pytest.approx(5.1)


# SAE J1939-11 and -14: 40 m; the other three lengths come to 2.1 m
@pytest.mark.parametrize(("middle", "kind"), [("37.9 m", "pass"), ("38 m", "fail")])
@pytest.mark.parametrize("edits", [{f"{N}.cable": "shielded"}, FAST])
def test_forty_metres(middle: str, kind: str, edits: dict[str, Any]) -> None:
    found = one("network.trunk-length", {f"{N}.wires.middle.length": middle, **edits})
    assert (found.kind, found.level) == (kind, "error" if kind == "fail" else None)


def test_a_bus_of_another_protocol_takes_the_general_length() -> None:
    # 250 kbit/s: 250 m in public tables of CAN
    other = {"engine.network.protocol": "other-11-bit", f"{N}.nodes.*.protocol": "other-11-bit"}
    assert one("network.trunk-length", {f"{N}.wires.middle.length": "39 m", **other}).kind == "pass"


def test_a_star_and_a_ring_are_errors() -> None:
    star = {f"{N}.wires.spur": {"kind": "trunk", "start": "cluster-tee", "end": "boot", "length": "2 m"}}
    found = one("network.trunk-length", star)
    assert (found.kind, found.level, found.subject) == ("fail", "error", f"{N}.wires.spur.kind")
    assert "cluster-tee" in found.message
    ring = {f"{N}.wires.ring": {"kind": "trunk", "start": "back-end", "end": "front-end", "length": "2 m"}}
    closed = one("network.trunk-length", ring)
    assert "ring" in closed.message
    assert closed.subject == f"{N}.wires.front"  # the first length of trunk
    for edits in (star, ring):
        assert one("network.termination", edits).kind == "notApplicable"
    two = {f"{N}.wires.body.start": "cluster-tee"}
    assert "tee of its own" in one("network.trunk-length", two).message


def devices(number: int) -> dict[str, Any]:
    node = {
        "protocol": "SAE J1939",
        "bit_rate": "250 kbit/s",
        "address": 200,
        "terminated": False,
        "sends": [],
        "needs": [],
    }
    names = [f"extra{i}" for i in range(number)]
    tees = ["front-end", *(f"tee{i}" for i in range(number))]
    edits: dict[str, Any] = {f"{N}.nodes.{name}": node for name in names}
    for i, name in enumerate(names):
        edits[f"{N}.wires.t{i}"] = {"kind": "trunk", "start": tees[i], "end": tees[i + 1], "length": "0.2 m"}
        edits[f"{N}.wires.s{i}"] = {"kind": "stub", "start": tees[i + 1], "end": name, "length": "0.2 m"}
    return edits


@pytest.mark.parametrize(
    ("cable", "extra", "kind"),
    # SAE J1939-11: 30 devices; J1939-15: 10 before 2014, 30 since (from memory); three are there
    [
        ("shielded", 27, "pass"),
        ("shielded", 28, "fail"),
        ("unshielded", 7, "pass"),
        ("unshielded", 8, "review"),
        ("unshielded", 27, "review"),
        ("unshielded", 28, "fail"),
    ],
)
def test_the_number_of_devices(cable: str, extra: int, kind: str) -> None:
    found = one("network.trunk-length", {f"{N}.cable": cable, **devices(extra)}, demand="devices")
    assert (found.kind, found.level) == (kind, "warning" if kind == "fail" else None)
    if kind == "fail":
        assert found.limit is not None
        assert found.limit.value == 30


def test_an_unmeasured_trunk_is_open() -> None:
    found = one("network.trunk-length", {f"{N}.wires.middle.length": None}, stage="plan")
    assert (found.kind, found.unknown) == ("open", (f"{N}.wires.middle.length",))


# -- stubs ------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("edits", "length", "kind", "level"),
    [
        # SAE J1939-15: 3 m (from memory); -11 and -14: 1 m; an error above twice that
        ({}, "3 m", "pass", None),
        ({}, "3.01 m", "fail", "warning"),
        ({}, "6.01 m", "fail", "error"),
        ({f"{N}.cable": "shielded"}, "1 m", "pass", None),
        ({f"{N}.cable": "shielded"}, "1.01 m", "fail", "warning"),
        (
            {f"{where}.bit_rate": "260 kbit/s" for where in ("engine.network", f"{N}.nodes.*")},
            "1.01 m",
            "fail",
            "warning",
        ),
        (FAST, "1 m", "pass", None),
        (FAST, "1.3 m", "fail", "warning"),
        (FAST, "2.01 m", "fail", "error"),
    ],
)
def test_stubs_at_their_limit(edits: dict[str, Any], length: str, kind: str, level: str | None) -> None:
    edits = {**edits, f"{N}.wires.cluster.length": length}
    found = of_part("network.stub-length", "cluster", edits, demand="length")
    assert (found.kind, found.level) == (kind, level)
    assert found.subject == f"{N}.wires.cluster.length"


@pytest.mark.parametrize(
    ("rate", "length", "kind"),
    [
        # ISO 11898-2, quoted in chip makers' notes: 0.3 m at 1 Mbit/s. Up to 500 kbit/s 1 m, as SAE J1939-14 has it at
        # that rate; tables of bus makers print 5 m there, so that more is no error
        ("1 Mbit/s", "0.3 m", "pass"),
        ("1 Mbit/s", "0.31 m", "fail"),
        ("525 kbit/s", "0.31 m", "fail"),
        ("500 kbit/s", "1 m", "pass"),
        ("500 kbit/s", "1.01 m", "fail"),
        ("125 kbit/s", "1 m", "pass"),
        ("125 kbit/s", "2.1 m", "fail"),
    ],
)
def test_stubs_of_a_bus_of_another_protocol(rate: str, length: str, kind: str) -> None:
    other = {f"{where}.protocol": "other-11-bit" for where in ("engine.network", f"{N}.nodes.*")}
    other |= {f"{where}.bit_rate": rate for where in ("engine.network", f"{N}.nodes.*")}
    found = of_part("network.stub-length", "cluster", {**other, f"{N}.wires.cluster.length": length}, demand="length")
    assert (found.kind, found.level) == (kind, "warning" if kind == "fail" else None)


def test_a_stub_of_two_pieces_and_one_of_none() -> None:
    pieces = {
        f"{N}.wires.cluster.end": "joint",
        f"{N}.wires.more": {"kind": "stub", "start": "joint", "end": "cluster", "length": "0.5 m"},
    }
    assert value("network.stub-length", pieces, part="cluster") == pytest.approx(1.1)
    looped = {f"{N}.wires.cluster": None, f"{N}.wires.middle.end": "cluster", f"{N}.wires.cab.start": "cluster"}
    assert value("network.stub-length", looped, part="cluster") == 0.0
    assert of_part("network.stub-length", "cluster", looped).kind == "pass"


def test_the_remedy_says_how_long_the_looped_trunk_is() -> None:
    # 5.1 + 2·(1.3 - 1.0) = 5.7 m
    found = of_part("network.stub-length", "cluster", {**FAST, f"{N}.wires.cluster.length": "1.3 m"})
    assert "5.7 m long" in found.message
    (advised,) = found.advice
    assert advised.field == f"{N}.wires.cluster.length"
    assert advised.value == pytest.approx(1.0)


@pytest.mark.parametrize(("apart", "kind"), [("100 mm", "pass"), ("99 mm", "fail")])
def test_tees_stand_apart(apart: str, kind: str) -> None:
    found = trial("network.stub-length", {f"{N}.wires.middle.length": apart})
    # of the two devices that stand too near each other one tells it
    assert [f.subject for f in found if f.kind == "fail"] == [f"{N}.wires.middle.length"] * (kind == "fail")


def test_a_device_that_is_not_wired() -> None:
    found = of_part("network.stub-length", "cluster", {f"{N}.wires.cluster": None})
    assert (found.kind, found.level, found.subject) == ("fail", "error", CLUSTER)
    for rule in ("addresses", "signal-availability"):
        assert of_part(f"network.{rule}", "cluster", {f"{N}.wires.cluster": None}).kind == "notApplicable"
    assert of_part("network.stub-length", "cluster", {f"{N}.wires.cluster.length": None}, stage="quote").kind == "open"


# -- termination ------------------------------------------------------------------------------------------------------
FRONT = f"{N}.terminators.front"


@pytest.mark.parametrize(
    ("edits", "kind", "ohms", "on"),
    [
        ({}, "pass", 60, ""),
        ({f"{CLUSTER}.terminated": True}, "fail", 40, f"{CLUSTER}.terminated"),  # three
        ({FRONT: None}, "fail", 120, f"{N}.terminators"),  # one
        ({f"{FRONT}.at": "cluster-tee"}, "fail", None, f"{FRONT}.at"),  # in the middle
        ({FRONT: None, "engine.network.terminated": True}, "fail", None, "engine.network.terminated"),
        ({f"{FRONT}.resistance": "60 ohm"}, "fail", 40, f"{FRONT}.resistance"),
        # 120 Ω less 10 %: two of 108 Ω make 54; 10 % more: two of 132 Ω make 66 (SAE J1939-14, read in a summary)
        ({f"{N}.terminators.*.resistance": "108 ohm"}, "pass", 54, ""),
        ({f"{N}.terminators.*.resistance": "107 ohm"}, "fail", 53.5, ""),
        ({f"{N}.terminators.*.resistance": "132 ohm"}, "pass", 66, ""),
        ({f"{N}.terminators.*.resistance": "133 ohm"}, "fail", 66.5, ""),
        # 1/(1/100 + 1/150) = 60 Ω: the meter reads what it should, and both ends reflect
        (
            {f"{FRONT}.resistance": "100 ohm", f"{N}.terminators.back.resistance": "150 ohm"},
            "fail",
            150,
            f"{N}.terminators.back.resistance",
        ),
        # 1/(1/110 + 1/140) = 61.6 Ω, and one is off: 140 Ω
        (
            {f"{FRONT}.resistance": "110 ohm", f"{N}.terminators.back.resistance": "140 ohm"},
            "fail",
            140,
            f"{N}.terminators.back.resistance",
        ),
        # one alone is off: 1/(1/107 + 1/120) = 56.6 Ω
        ({f"{FRONT}.resistance": "107 ohm"}, "fail", 107, f"{FRONT}.resistance"),
    ],
)
def test_two_terminators_at_the_ends(edits: dict[str, Any], kind: str, ohms: float | None, on: str) -> None:
    found = one("network.termination", edits)
    assert (found.kind, found.level) == (kind, "error" if kind == "fail" else None)
    assert found.found == (None if ohms is None else pytest.approx(ohms))
    assert not on or found.subject == on


def test_a_terminator_inside_a_device_at_the_end_is_one() -> None:
    # the trunk now starts at the engine's tee, and the engine brings the terminator
    edits = {FRONT: None, f"{N}.wires.front": None, "engine.network.terminated": True}
    found = one("network.termination", edits, stage="quote")
    assert found.kind == "pass"
    assert found.found == pytest.approx(60)
    assert found.practices == ("terminator of 120 Ω",)
    assert one("network.termination", {**edits, "engine.network.terminator": "120 ohm"}).kind == "pass"


def test_one_resistor_of_60_ohm_is_not_two_of_120() -> None:
    # a second one of 120 Ω beside it would make 40 Ω
    found = one("network.termination", {f"{N}.terminators": {"one": {"at": "front-end", "resistance": "60 ohm"}}})
    assert (found.kind, found.level) == ("fail", "error")
    assert "Fit 120 Ω, 0.25 W or more, at back-end." in found.message
    assert "Put 120 Ω in the place of what is at front-end." in found.message


def test_no_terminator_at_all() -> None:
    found = one("network.termination", {f"{N}.terminators": {}})
    assert (found.kind, found.found) == ("fail", None)
    assert "front-end" in found.message
    assert "back-end" in found.message


def test_a_device_that_may_hide_a_terminator_leaves_it_open() -> None:
    found = one("network.termination", {f"{CLUSTER}.terminated": None}, stage="plan")
    assert (found.kind, found.unknown) == ("open", (f"{CLUSTER}.terminated",))


# -- addresses --------------------------------------------------------------------------------------------------------
def test_one_of_two_with_the_same_address_is_reported() -> None:
    found = {f.part: f for f in trial("network.addresses", {f"{CLUSTER}.address": 0}) if f.demand == "own"}
    assert {part: f.kind for part, f in found.items()} == {"engine.network": "pass", CLUSTER: "fail", BODY: "pass"}
    assert found[CLUSTER].level == "error"
    assert [(one.field, one.value) for one in found[CLUSTER].advice] == [(f"{CLUSTER}.address", 128)]
    mild = of_part("network.addresses", "cluster", {f"{CLUSTER}.address": 0, f"{CLUSTER}.self_configurable": True})
    assert (mild.kind, mild.level) == ("fail", "warning")


@pytest.mark.parametrize(("address", "kind"), [(253, "pass"), (254, "review"), (255, "review")])
def test_addresses_that_nobody_may_own(address: int, kind: str) -> None:
    # by SAE J1939-81, which is known from memory alone: no error
    assert of_part("network.addresses", "cluster", {f"{CLUSTER}.address": address}).kind == kind


def test_a_display_that_listens_to_nobody() -> None:
    found = of_part("network.addresses", "cluster", {f"{CLUSTER}.listens_to": [1]})
    assert (found.kind, found.subject) == ("fail", f"{CLUSTER}.listens_to")
    assert "engine 0" in found.message


def test_addresses_on_two_buses_and_of_other_protocols() -> None:
    apart = {f"{N}.wires.cab": None, f"{BODY}.address": 23}
    assert of_part("network.addresses", "body", apart).kind == "pass"
    other = {"engine.network.protocol": "other-11-bit", f"{N}.nodes.*.protocol": "other-11-bit"}
    assert {f.kind for f in trial("network.addresses", other)} == {"notApplicable"}
    assert of_part("network.addresses", "cluster", {f"{CLUSTER}.address": None}, stage="quote").kind == "open"


# -- load -------------------------------------------------------------------------------------------------------------
# Every second the engine sends 50 + 20 + 1 + 2 + 1 + 1 frames and the body 10 + 1: 86 of 8 bytes with 29 bits. Such a
# frame has 54 + 64 + 13 = 131 bits, with the most stuff bits 160 (Davis, Burns, Bril and Lukkien 2007).
def test_load_by_hand() -> None:
    assert value("network.bus-load") == pytest.approx(100 * 86 * 131 / 250e3)
    assert value("network.worst-bus-load") == pytest.approx(100 * 86 * 160 / 250e3)
    assert value("network.bus-load", FAST) == pytest.approx(100 * 86 * 131 / 500e3)
    # with 11-bit identifiers 34 + 64 + 13 = 111 and 135 bits
    other = {"engine.network.protocol": "other-11-bit", f"{N}.nodes.*.protocol": "other-11-bit"}
    assert value("network.bus-load", other) == pytest.approx(100 * 86 * 111 / 250e3)
    assert value("network.worst-bus-load", other) == pytest.approx(100 * 86 * 135 / 250e3)


def test_long_messages_count_their_packets_and_requests_nothing() -> None:
    # 20 bytes: an announcement and three packets of 8 (SAE J1939-21, from memory), once a second
    long = {f"{BODY}.sends": [*SPEED_AND_LEVEL, {"group": 65226, "period": "1 s", "bytes": 20, "parameters": []}]}
    assert value("network.bus-load", long) == pytest.approx(100 * (86 + 4) * 131 / 250e3)
    asked = {f"{BODY}.sends": [*SPEED_AND_LEVEL, {"group": 65253, "bytes": 8, "parameters": [], "on_request": True}]}
    assert value("network.bus-load", asked) == pytest.approx(100 * 86 * 131 / 250e3)


@pytest.mark.parametrize(
    ("more", "kind"),
    # 40 % of 250 kbit/s are 763 frames of 131 bits each second; 86 + 6·100 are below that, 86 + 7·100 above
    [(6, "pass"), (7, "fail")],
)
def test_load_at_its_limit(more: int, kind: str) -> None:
    sends = [*SPEED_AND_LEVEL, *(message(65280 + i, 10) for i in range(more))]
    found = one("network.bus-load", {f"{BODY}.sends": sends})
    assert (found.kind, found.level) == (kind, "warning" if kind == "fail" else None)
    assert found.subject == f"{BODY}.sends"


def test_a_period_that_nobody_knows_leaves_the_load_open() -> None:
    found = one("network.bus-load", {f"{BODY}.sends[1].period": None}, stage="quote")
    assert (found.kind, found.unknown) == ("open", (f"{BODY}.sends[1].period",))
    # the transport protocol carries 1785 bytes at most (SAE J1939-21, from memory)
    assert one("network.bus-load", {f"{BODY}.sends[1].bytes": 1786}).kind == "review"


# -- who needs what ---------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("needs", "kind", "level"),
    [
        ([190, 110, 100], "pass", None),
        ([175], "fail", "error"),  # oil temperature
        ([177], "fail", "warning"),  # gearbox oil temperature
        ([4711], "fail", "warning"),  # no standard number of the table
        ([], "notApplicable", None),
    ],
)
def test_what_a_gauge_needs(needs: list[int], kind: str, level: str | None) -> None:
    found = [f for f in trial("network.signal-availability", {f"{CLUSTER}.needs": needs}) if f.part == CLUSTER]
    if kind == "notApplicable":
        assert not found
    else:
        assert (found[0].kind, found[0].level, found[0].subject) == (kind, level, f"{CLUSTER}.needs")


def test_a_group_without_the_parameter_does_not_count() -> None:
    found = of_part("network.signal-availability", "cluster", {"engine.network.sends[4].parameters": [94]})
    assert (found.kind, found.level) == ("fail", "error")
    assert "engine oil pressure (100)" in found.message
    assert "group 65263" in found.message


def test_a_group_whose_contents_nobody_knows_is_open() -> None:
    found = of_part(
        "network.signal-availability", "cluster", {"engine.network.sends[4].parameters": None}, stage="plan"
    )
    assert (found.kind, found.unknown) == ("open", ("engine.network.sends[4].parameters",))


def test_a_device_does_not_feed_itself_but_a_sender_of_its_own_does() -> None:
    sends = {f"{CLUSTER}.needs": [175], f"{CLUSTER}.sends": [message(65262, 1000, 175)]}
    assert of_part("network.signal-availability", "cluster", sends).kind == "fail"
    own = {f"{CLUSTER}.needs": [175], f"{CLUSTER}.own_sensors": [175]}
    assert of_part("network.signal-availability", "cluster", own).kind == "pass"


def test_what_is_sent_on_request_must_be_asked_for() -> None:
    hours = {"group": 65253, "bytes": 8, "parameters": [247], "on_request": True}
    edits = {"engine.network.sends[7]": hours, f"{CLUSTER}.needs": [247]}
    assert of_part("network.signal-availability", "cluster", edits).kind == "pass"
    passive = of_part("network.signal-availability", "cluster", {**edits, f"{CLUSTER}.requests": False})
    assert (passive.kind, passive.level) == ("fail", "warning")


def test_another_bus_is_out_of_hearing() -> None:
    # road speed and fuel level come from the body, which is now on a bus of its own
    found = trial("network.signal-availability", {f"{N}.wires.cab": None})
    failed = [f for f in found if f.part == CLUSTER and f.kind == "fail"]
    assert [f.demand for f in failed] == ["gets.84", "gets.96"]
    assert all("for the vehicle to know" in f.message for f in failed)


def test_what_comes_from_a_device_that_it_does_not_listen_to_does_not_count() -> None:
    # road speed and fuel level come from the body's controller, address 33; the engine has address 0
    edits = {f"{CLUSTER}.needs": [190, 84, 96], f"{CLUSTER}.listens_to": [0]}
    found = of_part("network.signal-availability", "cluster", edits)
    assert (found.kind, found.level, found.subject) == ("fail", "warning", f"{CLUSTER}.listens_to")
    assert "(84) comes from body, address 33" in found.message
    both = of_part("network.signal-availability", "cluster", edits | {f"{CLUSTER}.listens_to": [0, 33]})
    assert both.kind == "pass"
    # nobody has address 1: that is the only thing to say
    nobody = of_part("network.signal-availability", "cluster", edits | {f"{CLUSTER}.listens_to": [1]})
    assert nobody.kind == "pass"


def test_needs_that_nobody_states_are_asked_for() -> None:
    found = of_part("network.signal-availability", "cluster", {f"{CLUSTER}.needs": None}, stage="plan")
    assert (found.kind, found.unknown) == ("open", (f"{CLUSTER}.needs",))
