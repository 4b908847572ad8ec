"""What the network rules say in each case, and where they turn: at, below and above each edge. Numbers by hand."""

import pytest
from swaplint_rules.network import figures, line, topology, traffic  # type: ignore[import-not-found]
from told import Row, by_trial, edited, says, told

from swaplint.api import Build
from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base, trial, value

N = "electrics.network"
ALL_500 = "nodes.*.bit_rate = 500 kbit/s; engine.network.bit_rate = 500 kbit/s"
OTHER = "nodes.*.protocol = other-29-bit; engine.network.protocol = other-29-bit"

SAID = [
    # rates
    ("bit-rate rate.cluster", "", "pass", "cluster runs at 250 kbit/s, as its bus does."),
    ("bit-rate rate.cluster", "nodes.cluster.bit_rate = 500 kbit/s", "fail error",
     "cluster is set to 500 kbit/s, the others run at 250 kbit/s: set it, or use a gateway."),
    ("bit-rate rate.cluster", "nodes.cluster.bit_rate = 0.25 Mbit/s", "pass", ""),
    ("bit-rate rate.cluster", "nodes.cluster.bit_rate = 250.1 kbit/s", "fail error", "is set to 250.1 kbit/s"),
    ("bit-rate protocol.cluster", "", "pass", "cluster speaks SAE J1939, as its bus does."),
    ("bit-rate protocol.cluster", "nodes.cluster.protocol = other-29-bit", "fail error",
     "cluster speaks another protocol (29-bit), the others SAE J1939: use a gateway."),
    ("bit-rate rate-of-protocol", ALL_500, "pass", "500 kbit/s is a rate of SAE J1939: 250 or 500 kbit/s."),
    ("bit-rate rate-of-protocol", ALL_500.replace("500", "125"), "fail error", "125 kbit/s is no rate of SAE J1939"),
    ("bit-rate rate-of-protocol", ALL_500.replace("500 k", "250.1 k"), "fail error", "250.1 kbit/s is no rate"),
    ("bit-rate", "nodes.cluster.fitted = False; nodes.body.fitted = False", "notApplicable",
     "Fewer than two devices are wired"),
    # trunk: 5.1 m and 1.5 m of stubs, in all 6.6 of 40
    ("trunk-length length", "", "pass",
     "Trunk and stubs are 6.6 m long, the trunk 5.1 m of it; SAE J1939-15 allows 40 m with the stubs."),
    ("trunk-length length", "wires.middle.length = 36.4 m", "pass", "Trunk and stubs are 40 m long"),
    ("trunk-length length", "wires.middle.length = 36.5 m", "fail error", ""),
    ("trunk-length length", "cable = shielded", "pass", "The trunk is 5.1 m long; SAE J1939-11 allows 40 m."),
    ("trunk-length length", "cable = shielded; wires.middle.length = 37.8 m", "pass", "The trunk is 39.9 m long"),
    ("trunk-length length", "cable = shielded; wires.middle.length = 38 m", "fail error", "The trunk is 40.1 m long"),
    ("trunk-length length", ALL_500, "pass", "SAE J1939-14 allows 40 m."),
    ("trunk-length length", OTHER, "pass", "CAN in general allows"),
    ("trunk-length devices", "", "pass", "3 devices hang on this bus; SAE J1939-15 allows 30."),
    ("trunk-length shape", "", "pass", "The trunk is one line with two ends."),
    ("trunk-length shape",
     "wires.spur = {'kind': 'trunk', 'start': 'cluster-tee', 'end': 'boot', 'length': '2 m'}", "fail error",
     "Three or more lengths of trunk meet at cluster-tee: a star."),
    ("trunk-length shape", "wires.back.end = front-end", "fail error",
     "The trunk closes into a ring: open it, and terminate both ends."),
    ("trunk-length shape", "wires.body.start = cluster-tee", "fail error",
     "More than one stub starts at cluster-tee: give each a tee"),
    # stubs: 3 m unshielded, 1 m shielded; an error beyond twice that
    ("stub-length length @nodes.cluster", "wires.cluster.length = 3 m", "pass",
     "The stub to cluster is 3 m long; SAE J1939-15 allows 3 m."),
    ("stub-length length @nodes.cluster", "wires.cluster.length = 3 m", "pass", "!Move its tee"),
    # 0.2 m too long: looped, the trunk is 5.1 + 2 · 0.2 m
    ("stub-length length @nodes.cluster", "wires.cluster.length = 3.2 m", "fail warning",
     "Move its tee nearer, or loop the trunk through its connector: the trunk is then 5.5 m long."),
    ("stub-length length @nodes.cluster", "wires.cluster.length = 6 m", "fail warning", ""),
    ("stub-length length @nodes.cluster", "wires.cluster.length = 6.1 m", "fail error", ""),
    ("stub-length length @nodes.cluster", f"wires.cluster.length = 6.1 m; {OTHER}", "fail warning",
     "CAN in general allows 1 m."),
    ("stub-length length @nodes.cluster",
     f"wires.cluster.length = 0.4 m; {OTHER}; {ALL_500.replace('500 k', '1000 k')}", "fail warning", "0.3 m"),
    ("stub-length length @nodes.cluster", f"wires.cluster.length = 1 m; {OTHER}; {ALL_500}", "pass", "allows 1 m."),
    ("stub-length wired @nodes.cluster", "wires.cluster = None", "fail error",
     "No bus cable joins cluster to a trunk."),
    ("stub-length apart @nodes.cluster", "wires.middle.length = 0.1 m", "pass", "Its tee stands clear of the next."),
    ("stub-length apart @engine.network", "wires.middle.length = 0.1 m", "pass", "Its tee stands clear"),
    ("stub-length apart @engine.network", "wires.middle.length = 0.09 m", "fail warning",
     "The tee of engine is 0.09 m from the next one; 0.1 m or more are asked for."),
    ("stub-length apart @nodes.cluster", "wires.middle.length = 0.09 m", "pass", "Its tee stands clear"),
    # what lies between a tee and the end of the trunk may be short
    ("stub-length apart @engine.network", "wires.front.length = 0.05 m", "pass", "Its tee stands clear"),
    # terminators
    ("termination", "", "pass", "Terminators at front-end, back-end: 2, 60 Ω together."),
    ("termination", "", "pass", "!A meter"),
    # one that hangs on no cable of this bus, or is not there, changes nothing
    ("termination", "terminators.third = {'at': 'boot', 'resistance': '120 ohm'}", "pass",
     "Terminators at front-end, back-end: 2, 60 Ω together."),
    ("termination", "terminators.third = {'at': 'cluster-tee', 'fitted': False}", "pass",
     "Terminators at front-end, back-end: 2, 60 Ω together."),
    ("termination", "terminators.front = None", "fail error",
     "Terminators at back-end: 1, 120 Ω together. Fit 120 Ω, 0.25 W or more, at front-end. A meter"),
    ("termination", "terminators = {}", "fail error",
     "Terminators at none: 0. Fit 120 Ω, 0.25 W or more, at front-end and at back-end."),
    ("termination", "nodes.cluster.terminated = True; nodes.cluster.terminator = 120 ohm", "fail error",
     "40 Ω together. The one inside cluster stands at no free end of the trunk: take it out. A meter then reads 60 Ω."),
    ("termination",
     "nodes.cluster.terminated = True; nodes.cluster.terminator = 120 ohm; nodes.body.terminated = True; "
     "nodes.body.terminator = 120 ohm", "fail error",
     "The one inside cluster and the one inside body stand at no free end of the trunk: take them out."),
    ("termination", "terminators.front.at = cluster-tee", "fail error",
     "The one at cluster-tee stands at no free end of the trunk: take it out. Fit"),
    # one of 108 to 132 Ω at each end
    ("termination", "terminators.front.resistance = 132 ohm", "pass", "!Put 120"),
    ("termination", "terminators.front.resistance = 108 ohm", "pass", "!Put 120"),
    ("termination", "terminators.front.resistance = 133 ohm", "fail error",
     "Put 120 Ω in the place of what is at front-end. A meter then reads 60 Ω."),
    ("termination", "terminators.front.resistance = 107 ohm", "fail error",
     "Put 120 Ω in the place of what is at front-end."),
    ("termination", "terminators.front.resistance = 150 ohm; terminators.back.resistance = 100 ohm", "fail error",
     "60 Ω together. Put 120 Ω in the place of what is at front-end and at back-end."),
    ("termination", "wires.back.end = front-end", "notApplicable", "The trunk is not one line with two ends"),
    # addresses
    ("addresses own @nodes.cluster", "", "pass", "cluster has address 23, the preferred one of: instrument cluster."),
    ("addresses own @nodes.cluster", "nodes.cluster.address = 100", "pass", "cluster has address 100."),
    ("addresses own @nodes.cluster", "nodes.cluster.address = 0", "fail error",
     "cluster has the same address 0 as engine: give it another."),
    ("addresses own @nodes.cluster", "nodes.cluster.address = 0; nodes.cluster.self_configurable = True",
     "fail warning", "the same address 0"),
    ("addresses own @nodes.cluster", "nodes.cluster.address = 0; engine.network.self_configurable = True",
     "fail warning", "the same address 0"),
    ("addresses own @engine.network", "nodes.cluster.address = 0", "pass", ""),
    ("addresses own @nodes.cluster", "nodes.cluster.address = 253", "pass", "cluster has address 253"),
    ("addresses allowed @nodes.cluster", "nodes.cluster.address = 254", "review", "254 means none and 255 everybody"),
    ("addresses allowed @nodes.cluster", "nodes.cluster.address = 255", "review", "cluster has address 255"),
    ("addresses listens-to @nodes.cluster", "", "pass", "cluster listens to addresses that its bus has."),
    ("addresses listens-to @nodes.cluster", "nodes.cluster.listens_to = [0, 1, 2]", "fail error",
     "cluster listens to address 1, 2, which nobody on its bus has (engine 0, body 33)."),
    ("addresses @nodes.cluster", "nodes.cluster.protocol = other-29-bit", "notApplicable",
     "Only SAE J1939 gives devices addresses."),
    ("addresses @nodes.cluster", "wires.cluster = None", "notApplicable", "No bus cable joins it to a trunk"),
    # load
    ("bus-load", "", "pass",
     "8 periodic messages take 4.506 % of the time at 250 kbit/s, 5.504 % with the most stuff bits."),
    # signals
    ("signal-availability gets.190 @nodes.cluster", "", "pass", "cluster gets engine speed (190)."),
    ("signal-availability gets.100 @nodes.cluster", "engine.network.sends[4].parameters = [94]", "fail error",
     "cluster needs engine oil pressure (100), which no device on its bus sends."),
    ("signal-availability gets.168 @nodes.cluster", "engine.network.sends[5].parameters = []", "fail warning",
     "battery voltage (168), which no"),
    # what another group carries need not be known
    ("signal-availability gets.100 @nodes.cluster", "engine.network.sends[1].parameters = None", "pass",
     "cluster gets engine oil pressure (100)."),
    # oil pressure in the wrong group
    ("signal-availability gets.100 @nodes.cluster",
     "engine.network.sends[4].parameters = [94]; engine.network.sends[3].parameters = [110, 100]", "fail",
     "which no device on its bus sends where it is looked for: engine is said to send it in group 65262."),
    ("signal-availability gets.100 @nodes.cluster",
     "engine.network.sends[4].parameters = [94]; nodes.cluster.own_sensors = [100]", "pass",
     "cluster measures engine oil pressure (100) by a sender of its own."),
    ("signal-availability gets.100 @nodes.cluster", "engine.network.sends[4].on_request = True", "pass",
     "cluster gets"),
    ("signal-availability gets.100 @nodes.cluster",
     "engine.network.sends[4].on_request = True; nodes.cluster.requests = False", "fail",
     "engine oil pressure (100) is sent on request only, and cluster never asks for it."),
    ("signal-availability gets.100 @nodes.cluster", "nodes.cluster.listens_to = [33]", "fail error",
     "engine oil pressure (100) comes from engine, address 0, and cluster takes no messages from there: set it"),
    ("signal-availability gets.96 @nodes.cluster", "nodes.cluster.listens_to = [33]", "pass",
     "cluster gets fuel level (96)."),
    # an address that nobody has keeps no message off
    ("signal-availability gets.100 @nodes.cluster", "nodes.cluster.listens_to = [33, 99]", "pass", "cluster gets"),
    ("signal-availability @nodes.cluster", "wires.cluster = None", "notApplicable",
     "No bus cable joins cluster to a trunk: see network.stub"),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "edits", "rows"), by_trial(SAID))
def test_what_is_said(rule: str, edits: str, rows: tuple[Row, ...]) -> None:
    says("network", edits, rows, N)


@pytest.mark.parametrize(
    ("rule", "edits", "advice"),
    [
        ("bit-rate rate.cluster", "nodes.cluster.bit_rate = 500 kbit/s", {"nodes.cluster.bit_rate": 250e3}),
        ("stub-length length @nodes.cluster", "wires.cluster.length = 3.2 m", {"wires.cluster.length": 3.0}),
        ("stub-length length @nodes.cluster", "", {"wires.cluster.length": 3.0}),
        ("stub-length apart @engine.network", "wires.middle.length = 0.05 m", {"wires.middle.length": 0.1}),
        (
            "termination",
            "nodes.cluster.terminated = True; nodes.cluster.terminator = 120 ohm",
            {"nodes.cluster.terminated": 0.0},
        ),
        ("termination", "terminators.front.resistance = 200 ohm", {"terminators.front.resistance": 120.0}),
        ("termination", "terminators.back.resistance = 60 ohm", {"terminators.back.resistance": 120.0}),
    ],
)
def test_what_is_advised(rule: str, edits: str, advice: dict[str, float]) -> None:
    found = told(f"network.{rule}", edits, N)
    given = {one.field.removeprefix(f"{N}."): float(one.value) for one in found.advice}
    assert given == pytest.approx(advice) or (found.kind == "pass" and not given)


def test_a_terminator_in_the_wrong_place_goes_to_the_end_that_has_none() -> None:
    (one,) = told("network.termination", "terminators.front.at = cluster-tee", N).advice
    assert (one.field, one.value) == (f"{N}.terminators.front.at", "front-end")


# -- asked directly ----------------------------------------------------------------------------------------------------
def built(edits: str = "") -> Build:
    return View(sound_spec(rule_base(), edited(edits, N)).build).build


@pytest.mark.parametrize(
    ("edits", "name", "trunk", "stub"),
    [
        ("", "SAE J1939-15", 40.0, 3.0),
        ("cable = shielded", "SAE J1939-11", 40.0, 1.0),
        (ALL_500, "SAE J1939-14", 40.0, 1.0),
        (f"{ALL_500}; cable = shielded", "SAE J1939-14", 40.0, 1.0),
    ],
)
def test_which_document_a_bus_keeps(edits: str, name: str, trunk: float, stub: float) -> None:
    build = built(edits)
    (first,) = topology.lines(build)
    allowed, called = line.limits(build, topology.bus_of(build, first))
    assert (called, allowed.trunk, allowed.stub) == (name, trunk, stub)


def test_where_everything_stands_along_the_trunk() -> None:
    # 0.3, 3, 1.5 and 0.3 m from the front end on, whichever way round a length is stated
    for edits in ("", "wires.middle.start = cluster-tee; wires.middle.end = engine-tee"):
        build = built(edits)
        bus = topology.bus_of(build, topology.lines(build)[0])
        places = figures._along(bus)
        assert {name: round(at, 6) for name, at in places.items()} == {
            "front-end": 0.0, "engine-tee": 0.3, "cluster-tee": 3.3, "body-tee": 4.8, "back-end": 5.1,
        }  # fmt: skip
    star = built("wires.spur = {'kind': 'trunk', 'start': 'cluster-tee', 'end': 'boot', 'length': '2 m'}")
    with pytest.raises(ValueError, match="not one line with two ends"):
        figures._along(topology.bus_of(star, topology.lines(star)[0]))


def test_the_bus_is_drawn_with_its_stubs_by_turns() -> None:
    build = built()
    (sketch,) = figures.bus(build).sketches
    drawn = {shape.name: shape for shape in sketch.shapes}
    # the engine's half metre down, the cluster's 0.6 up, the body's 0.4 down; limits at 3 m
    assert drawn["engine"].points == [(0.3, 0.0), (0.3, -0.5)]
    assert drawn["cluster"].points[1] == pytest.approx((3.3, 0.6))
    assert drawn["body"].points[1] == pytest.approx((4.8, -0.4))
    limits = [shape for shape in sketch.shapes if shape.name == "limit"]
    assert [(shape.points[0], shape.label) for shape in limits] == [
        ((0.0, 3.0), "longest stub, 3 m"), ((0.0, -3.0), ""),
    ]  # fmt: skip
    assert [shape.points[1] for shape in limits] == [pytest.approx((5.1, 3.0)), pytest.approx((5.1, -3.0))]
    # each device at the end of its stub, each terminator at its end of the trunk
    assert [(point.name, round(point.x, 6), point.y) for point in sketch.points] == [
        ("engine, 0.5 m", 0.3, -0.5), ("cluster, 0.6 m", 3.3, 0.6), ("body, 0.4 m", 4.8, -0.4),
        ("terminator, 120 Ω", 0.0, 0.0), ("terminator, 120 Ω", 5.1, 0.0),
    ]  # fmt: skip
    (trunk,) = [shape for shape in sketch.shapes if shape.name == "trunk"]
    assert trunk.points[0] == (0.0, 0.0)
    assert trunk.points[1] == pytest.approx((5.1, 0.0))
    assert trunk.label == "trunk, 5.1 m"
    assert sketch.name == "bus of 3 devices"


def test_a_device_on_the_trunk_has_no_stub() -> None:
    looped = edited("wires.middle.end = cluster; wires.cab.start = cluster; wires.cluster = None", N)
    assert value("network.stub-length", looped, part="cluster") == 0.0
    kinds = {(f.part.split(".")[-1], f.demand): f.kind for f in trial("network.stub-length", looped)}
    assert kinds["cluster", "length"] == "pass"


def test_the_busiest_device_is_named() -> None:
    # the engine sends 50 + 20 + 1 + 2 + 1 + 1 frames a second, the body 10 + 1
    assert told("network.bus-load", "", N).subject == "engine.network.sends"
    build = built()
    assert traffic._frames_per_second(build.engine.network) == pytest.approx(75.0)
    assert traffic._frames_per_second(build.electrics.network.nodes["body"]) == pytest.approx(11.0)


def test_of_a_stub_in_two_lengths_the_longer_is_told() -> None:
    # 3.1 and 0.4 m, half a metre more than the 3 m of SAE J1939-15: 2.6 m would do
    edits = "wires.cluster.end = plug; wires.cluster.length = 3.1 m; "
    edits += "wires.lead = {'kind': 'stub', 'start': 'plug', 'end': 'cluster', 'length': '0.4 m'}"
    found = told("network.stub-length length @nodes.cluster", edits, N)
    assert (found.kind, found.subject) == ("fail", f"{N}.wires.cluster.length")
    assert {one.field: one.value for one in found.advice} == {found.subject: pytest.approx(2.6)}
