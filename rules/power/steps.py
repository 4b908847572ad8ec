"""What is done and measured of batteries, cables, starting and charging."""

from __future__ import annotations

from swaplint.api import Build, Expected, cautions, expect, given, is_fitted, practice, step
from swaplint.spec.systems.power import Ground

from .. import sources
from .quantities import crank_feed, crank_return, open_circuit_voltage

START, CRANKING, CHARGING = "measured.before_start", "measured.cranking", "measured.charging"
ARC = [cautions.BATTERY_ARC]
TESTER = "multimeter on the posts themselves, ±0.01 V"
LOW_SHARE, HIGH_SHARE = 13.5 / 12.0, 14.5 / 12.0
GOOD_JOINT = practice("a good joint takes at most 20 mV for each 100 A")
JOINT = 0.2e-3
"""Ω: 20 mV for each 100 A."""
STEADY = practice("12.8 V at a battery of 12 V that is neither charged nor emptied, 25.6 V at one of 24 V")
STEADY_SHARE = 12.8 / 12.0
ASLEEP = practice("with the key off and all units asleep a vehicle takes at most 50 mA")
MOST_ASLEEP = 0.05
OUTPUT_LINE = practice("the alternator's output line loses at most 0.3 V at 30 A")
GROUND_LINE = practice("each way to ground loses at most 0.1 V")
GROUND_POINT = practice("a ground point loses at most 20 mV with all that it carries switched on, one of motors 5 mV")
MOST_AT_A_POINT = 0.020


def _current(build: Build) -> float:
    """Current that the starter takes, A: as it was measured, before that of its sheet."""
    return given(lambda: build.measured.cranking.current) or build.engine.starter.cranking_current


@step("power.battery-off", moment="before-lifting", cautions=ARC, after=["fuel.relieved"])
def battery_off(build: Build) -> Expected:
    """Take the battery off, negative first, and cover its posts.

    How: Key off, wait until every unit sleeps; rings off; with two batteries in series take both off.
    """
    len(build.electrics.batteries)
    return expect("no cable can spring back onto a post")


@step("power.fuses", moment="before-power", instrument="the take-off's fuse plan")
def fuses(build: Build) -> Expected:
    """Compare every fuse and relay with the plan, and leave the main fuse out.

    How: Each rating read on the fuse itself; spares in the box.
    """
    len(build.electrics.cables)
    return expect("each as planned, none bridged")


@step("power.no-short", moment="before-power", instrument="multimeter, ohms")
def no_short(build: Build) -> Expected:
    """Measure between the battery's positive cable and ground, every switch off.

    How: Battery still off, main fuse out and then in; wiggle the harness at every passage.
    Stop: less than some kilohms: look before any battery goes on.
    """
    len(build.electrics.batteries)
    return expect("no continuity with everything off")


@step("power.grounds", moment="before-crank", write=f"{START}.grounds_tight")
def grounds(build: Build) -> Expected:
    """Go over every ground: bare metal, toothed washer, tight, greased over.

    How: Engine to frame, battery to frame, cab to frame, control unit; pull at each.
    """
    return expect("no paint under an eye, no eye on top of another that is loose")


@step(
    "power.batteries",
    moment="before-crank",
    instrument=TESTER,
    write=f"{START}.battery_held",
    cautions=ARC,
)
def batteries(build: Build) -> Expected:
    """Charge the batteries, fix them, cover their posts, and read them at rest.

    How: Some hours after the charge; the prediction is for three quarters of it, full is a little more.
    """
    return expect(lambda: open_circuit_voltage(build), "or more; no battery moves by hand")


@step(
    "power.crank-current",
    moment="first-start",
    instrument="clamp meter for direct current, ±3 %",
    write=f"{CRANKING}.current",
    also=[f"{CRANKING}.air", f"{CRANKING}.date", f"{CRANKING}.by"],
    cautions=[*ARC, cautions.ROTATING],
)
def crank_current(build: Build) -> Expected:
    """Crank without fuel until oil pressure shows, and read the starter's current.

    How: Engine kept from starting, at most 15 s, two minutes of rest between; the steady value, not the first jump.
    From 120 A on the drops below tell something.
    Stop: the engine does not turn, a cable smokes, or no oil pressure shows after three such turns.
    """
    return expect(lambda: build.engine.starter.cranking_current, "at the coldest start, less when it is warm")


@step(
    "power.crank-feed",
    moment="first-start",
    instrument=TESTER,
    write=f"{CRANKING}.feed_drop",
    cautions=ARC,
    accuracy=0.3,
    after=["power.crank-current"],
)
def feed_drop(build: Build) -> Expected:
    """Measure the voltage lost on the way to the starter while it turns.

    How: From the battery's positive post to the starter's stud. The prediction is for the current read above, before
    that for the starter's sheet. A joint that takes more than 20 mV for each 100 A is bad.
    """
    return expect(lambda: crank_feed(build) * _current(build))


@step(
    "power.crank-return",
    moment="first-start",
    instrument=TESTER,
    write=f"{CRANKING}.return_drop",
    cautions=ARC,
    accuracy=0.3,
    after=["power.crank-feed"],
)
def return_drop(build: Build) -> Expected:
    """Measure the voltage lost on the way back while it turns.

    How: From the starter's housing to the battery's negative post.
    """
    return expect(lambda: crank_return(build) * _current(build))


@step(
    "power.worst-joint",
    moment="first-start",
    instrument=TESTER,
    write=f"{CRANKING}.worst_joint_drop",
    also=[f"{CRANKING}.worst_joint"],
    sources=[GOOD_JOINT.giving("limit")],
    cautions=ARC,
    after=["power.crank-return"],
)
def worst_joint(build: Build) -> Expected:
    """Measure across each joint of the starting circuit while the starter turns, and note the worst.

    How: Post to clamp, clamp to cable, eye to stud, and so on both ways; where feed and return are as predicted, the
    few that can be reached. The limit is for the current read above.
    """
    return expect(at_most=lambda: JOINT * _current(build))


@step(
    "power.crank-battery",
    moment="first-start",
    instrument=TESTER,
    write=f"{CRANKING}.terminal_voltage",
    cautions=ARC,
    after=["power.crank-return"],
)
def battery_while_cranking(build: Build) -> Expected:
    """Measure the battery while the starter turns.

    How: On the posts; of batteries in series each by itself, too.
    """
    return expect("steady; batteries in series alike within 0.5 V")


@step(
    "power.charging-idle",
    moment="first-hour",
    instrument=TESTER,
    write=f"{CHARGING}.idle_voltage",
    also=[f"{CHARGING}.date", f"{CHARGING}.by"],
    sources=[STEADY.giving("limit")],
    cautions=[cautions.ROTATING],
)
def charging_idle(build: Build) -> Expected:
    """Measure the voltage at the battery at warm idle, the usual consumers on.

    How: Lights, blower, wipers; after some minutes.
    """
    return expect(
        "it does not fall while the engine idles", at_least=lambda: STEADY_SHARE * build.electrics.nominal_voltage
    )


@step(
    "power.charging",
    moment="first-hour",
    instrument=TESTER,
    write=f"{CHARGING}.voltage",
    also=[f"{CHARGING}.speed", f"{CHARGING}.air"],
    sources=[sources.CHARGING_TEST.giving("limit", "14.0 V within 0.5 V, 28 V within 1 V")],
    cautions=[cautions.ROTATING],
    after=["power.charging-idle"],
)
def charging(build: Build) -> Expected:
    """Measure the voltage at the battery at 2000 r/min, ten minutes after the start.

    How: The usual consumers on, the air at the regulator noted: it charges higher in the cold.
    Stop: above 15 V of a 12 V system, or 30 V of a 24 V system: engine off, it burns lamps and units.
    """
    return expect(
        at_least=lambda: LOW_SHARE * build.electrics.nominal_voltage,
        at_most=lambda: HIGH_SHARE * build.electrics.nominal_voltage,
    )


@step(
    "power.output-line",
    moment="first-hour",
    instrument=TESTER,
    write=f"{CHARGING}.output_drop",
    also=[f"{CHARGING}.output_current"],
    sources=[OUTPUT_LINE.giving("limit")],
    after=["power.charging"],
)
def output_line(build: Build) -> Expected:
    """Measure the voltage lost between the alternator's output and the battery's positive.

    How: At the same speed, with consumers on until some 30 A flow; clamp meter on the output cable.
    """
    return expect(at_most=0.3)


@step(
    "power.output-ground",
    moment="first-hour",
    instrument=TESTER,
    write=f"{CHARGING}.ground_drop",
    sources=[GROUND_LINE.giving("limit")],
    after=["power.output-line"],
)
def output_ground(build: Build) -> Expected:
    """Measure the voltage between the alternator's housing and the battery's negative.

    How: In the same state, the probe on bare metal.
    """
    return expect(at_most=0.1)


@step(
    "power.ground-points",
    moment="first-hour",
    instrument="multimeter, sharp probes, ±1 mV",
    sources=[GROUND_POINT.giving("limit")],
    after=["power.output-ground"],
    each=lambda build: build.electrics.grounds.values(),
)
def ground_points(build: Build, ground: Ground) -> Expected:
    """Measure the voltage over each end of a ground cable with its consumers on.

    How: Engine idling, lights, blower and fan on; one probe on the eye, the other on the metal under it; where motors
    are grounded 5 mV are much.
    """
    return expect(at_most=MOST_AT_A_POINT, unit=("voltage", "mV"))


@step(
    "power.key-off",
    moment="first-hour",
    instrument="clamp meter for small currents, ±1 mA",
    write=f"{CHARGING}.key_off_current",
    also=[f"{CHARGING}.key_off_wait"],
    sources=[ASLEEP.giving("limit")],
    after=["power.output-ground"],
)
def key_off(build: Build) -> Expected:
    """Measure the current with the key off, when all units sleep.

    How: Locked, doors and bonnet shut, 5 to 75 minutes by the year of the vehicle; never open the circuit for it.
    """
    return expect(lambda: build.electrics.parasitic_current, at_most=MOST_ASLEEP)


@step("power.terminals", moment="first-hundred-hours", instrument="torque wrench", cautions=ARC)
def terminals(build: Build) -> Expected:
    """Tighten battery, starter and alternator terminals and every ground again, after 50 km and after 500 km.

    How: Battery off first; feel each for warmth after a start.
    """
    len(build.electrics.batteries)
    return expect("none loose, none warmer than its cable")


@step("power.batteries-aged", moment="yearly", instrument="battery tester", cautions=ARC)
def batteries_aged(build: Build) -> Expected:
    """Test the batteries and the starting circuit before the cold season.

    How: Charged and rested; then the drops while cranking, as at the first start.
    """
    if is_fitted(build.engine.starter):
        return expect(lambda: open_circuit_voltage(build), "or more at rest")
    return expect(lambda: open_circuit_voltage(build))
