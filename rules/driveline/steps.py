"""What is measured, filled and tightened of the driveline."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Expected, OutsideRange, cautions, expect, is_fitted, or_practice, practice, sheet, step
from swaplint.spec.systems.driveline import PropShaft
from swaplint.spec.systems.driveline.shafts import ShaftJoint
from swaplint.spec.systems.gearing import Axle

from ..gearing import chain
from ..gearing.quantities import gear_ratios, shift_speed, speed_after_shift
from .angles import RUNNING
from .quantities import bore_runout, converter_gap, face_runout
from .tightening import bolted, torque_of

DIAL = "dial indicator on the crank, ±0.02 mm"
OIL_CHANGE = practice("new gears wear in: their oil is changed once after 1000 km")


@step(
    "driveline.bore-runout",
    moment="trial-fit",
    instrument=DIAL,
    write="driveline.alignment.bore_runout",
    sources=[sheet("driveline.gearbox.runout_bore_max")],
    cautions=[cautions.CRUSH],
)
def bore(build: Build) -> Expected:
    """Measure the runout of the bore that centres the gearbox.

    How: Housing and adapter bolted up, the crank turned by hand through a whole turn, total indicator reading.
    """
    return expect(lambda: bore_runout(build), at_most=lambda: build.driveline.gearbox.runout_bore_max)


@step(
    "driveline.face-runout",
    moment="trial-fit",
    instrument=DIAL,
    write="driveline.alignment.face_runout",
    sources=[sheet("driveline.gearbox.runout_face_max")],
)
def face(build: Build) -> Expected:
    """Measure the runout of the face that the gearbox bolts to.

    How: As the bore, the indicator on the face; push the crank forwards all the while.
    """
    return expect(lambda: face_runout(build), at_most=lambda: build.driveline.gearbox.runout_face_max)


@step(
    "driveline.converter-gap",
    moment="trial-fit",
    instrument="feeler gauge, ±0.1 mm",
    sources=[sheet("driveline.converter.gap_min"), sheet("driveline.converter.gap_max")],
    example={
        "driveline.gearbox.kind": "automatic",
        "driveline.converter": {"fitted": True, "seating_depth": "-42 mm", "gap_min": "3 mm", "gap_max": "5 mm"},
    },
)
def gap_of_converter(build: Build) -> Expected:
    """Measure how far the seated converter must come forward to the flex-plate.

    How: Converter pushed home until it stands on the pump, gearbox bolted up by hand, before a bolt draws anything.
    Stop: there is no gap: bolted up, it would break the pump.
    """
    converter = build.driveline.converter
    return expect(lambda: converter_gap(build), at_least=lambda: converter.gap_min, at_most=lambda: converter.gap_max)


@step(
    "driveline.angle-in",
    moment="trial-fit",
    instrument="inclinometer, ±0.1°",
    write="driveline.shafts.*.input_joint.ride",
    sources=[sheet("driveline.shafts.*.input_joint.running_angle_max")],
    each=lambda build: build.driveline.shafts.values(),
)
def angle_in(build: Build, shaft: PropShaft) -> Expected:
    """Measure the angle of the joint at the driving end of the propshaft.

    How: Laden ride height; the difference of the slopes ahead of the joint and behind it.
    """
    joint = shaft.input_joint
    return expect(
        lambda: joint.ride, at_least=lambda: -joint.running_angle_max, at_most=lambda: joint.running_angle_max
    )


@step(
    "driveline.angle-out",
    moment="trial-fit",
    instrument="inclinometer, ±0.1°",
    write="driveline.shafts.*.output_joint.ride",
    sources=[sheet("driveline.shafts.*.output_joint.running_angle_max")],
    each=lambda build: build.driveline.shafts.values(),
)
def angle_out(build: Build, shaft: PropShaft) -> Expected:
    """Measure the angle of the joint at the driven end of the propshaft.

    How: As at the driving end. Yokes of one shaft stand in line.
    """
    joint = shaft.output_joint
    return expect(
        lambda: joint.ride, at_least=lambda: -joint.running_angle_max, at_most=lambda: joint.running_angle_max
    )


@step("driveline.tighten", moment="before-crank", instrument="torque wrench", cautions=[cautions.CRUSH], each=bolted)
def tighten(build: Build, piece: Any) -> Expected:
    """Tighten the bolts between engine and gearbox.

    How: Faces drawn together by hand first, threads clean and dry, crosswise in two rounds; mark each bolt.
    Stop: a gap does not close by hand: bolts that draw it shut break the pump or the pilot.
    """
    return expect(lambda: torque_of(piece), "each bolt")


@step("driveline.gearbox-oil", moment="before-crank", write="measured.before_start.gearbox_oil_filled")
def gearbox_oil(build: Build) -> Expected:
    """Fill the gearbox with its oil.

    How: To the plug or the mark, the vehicle level; an automatic gearbox again when it has run and is warm.
    """
    return expect(lambda: build.driveline.gearbox.oil.volume)


@step("driveline.transfer-oil", moment="before-crank")
def transfer_oil(build: Build) -> Expected:
    """Fill the transfer case with its oil.

    How: To the plug, the vehicle level.
    """
    return expect(lambda: build.driveline.transfer.oil.volume)


@step("driveline.axle-oil", moment="before-crank", each=chain.oiled_axles)
def axle_oil(build: Build, axle: Axle) -> Expected:
    """Look at the oil of the axle.

    How: To the plug, the vehicle level.
    """
    return expect(lambda: axle.oil.volume)


LADEN = "measured.laden"
SHIFTING = "measured.shifting"


@step(
    "driveline.laden-in",
    moment="first-drive",
    instrument="inclinometer, ±0.1°",
    write=f"{LADEN}.shafts.*.input",
    also=[f"{LADEN}.date", f"{LADEN}.by", f"{LADEN}.conditions"],
    sources=[sheet("driveline.shafts.*.input_joint.running_angle_max")],
    cautions=[cautions.ROTATING, cautions.CRUSH],
    after=["mass.new-whole"],
    each=lambda build: build.driveline.shafts.values(),
)
def laden_in(build: Build, shaft: PropShaft) -> Expected:
    """Measure the angle of the joint at the driving end of the propshaft, laden.

    How: Loaded as it will mostly run, rolled to and fro, on level ground, wheels chocked; as at trial fit.
    """
    return _planned(shaft.input_joint)


@step(
    "driveline.laden-out",
    moment="first-drive",
    instrument="inclinometer, ±0.1°",
    write=f"{LADEN}.shafts.*.output",
    sources=[sheet("driveline.shafts.*.output_joint.running_angle_max")],
    cautions=[cautions.ROTATING, cautions.CRUSH],
    after=["driveline.laden-in"],
    each=chain.last_shafts,
)
def laden_out(build: Build, shaft: PropShaft) -> Expected:
    """Measure the angle of the joint at the driven end of the propshaft, laden.

    How: As at the driving end, at the same load.
    """
    return _planned(shaft.output_joint)


def _planned(joint: ShaftJoint) -> Expected:
    """The planned angle, within what the joint may run at."""

    def most() -> float:
        return or_practice(lambda: joint.running_angle_max, RUNNING)

    return expect(lambda: joint.ride, at_least=lambda: -most(), at_most=most)


def _automatic(build: Build) -> bool:
    return build.driveline.gearbox.kind == "automatic"


@step(
    "driveline.shift-points",
    moment="first-drive",
    instrument="the control unit's own reading, a second person",
    write=f"{SHIFTING}.before",
    also=[f"{SHIFTING}.gear", f"{SHIFTING}.date", f"{SHIFTING}.by"],
    sources=[sheet("engine.speed.rated")],
    after=["gearing.engine-speed"],
)
def shift_points(build: Build) -> Expected:
    """Read the engine speed at which it is shifted up at full load.

    How: Off the public road, into top gear or the highest that the place allows; note the gear that was left. A new
    automatic must learn its clutches first.
    Stop: it flares or bangs into a gear.
    """
    if not _automatic(build):
        return expect(lambda: shift_speed(build), "or what the place allows")
    controller = build.driveline.gearbox.controller
    if not is_fitted(controller):
        return expect(at_most=lambda: build.engine.speed.rated)
    return expect(lambda: controller.shift_speed_max, "at the latest", at_most=lambda: build.engine.speed.rated)


@step(
    "driveline.shift-landing",
    moment="first-drive",
    instrument="the control unit's own reading, a second person",
    write=f"{SHIFTING}.after",
    sources=[sheet("engine.torque.plateau_low")],
    after=["driveline.shift-points"],
    accuracy=0.03,
)
def shift_landing(build: Build) -> Expected:
    """Read the engine speed at which it pulls again after that shift.

    How: At the same moment. The prediction is for the highest shift, begun where it was reckoned.
    """

    def lands() -> float:
        ratios = gear_ratios(build)
        if len(ratios) < 2:
            raise OutsideRange("a gearbox of one gear is not shifted")
        return speed_after_shift(build, ratios[-2], ratios[-1])

    return expect(lands, at_least=lambda: build.engine.torque.plateau_low)


@step("driveline.flanges", moment="first-hundred-hours", instrument="torque wrench", cautions=[cautions.ROTATING])
def flanges(build: Build) -> Expected:
    """Tighten the bolts of the propshafts' flanges and joints again, after 50 km and after 500 km.

    How: Engine off, wheels chocked; to the torque of the maker, each bolt marked.
    """
    len(build.driveline.shafts)
    return expect("no bolt turns further than its mark")


@step("driveline.oil-change", moment="first-hundred-hours", sources=[OIL_CHANGE.giving("formula", "1000 km")])
def oil_change(build: Build) -> Expected:
    """Change the oil of new or rebuilt gearboxes and axles once, after 1000 km.

    How: Warm; look at the magnet of the plug.
    """
    return expect("grey paste on the magnet, no chips")


@step("driveline.joints", moment="yearly", cautions=[cautions.ROTATING, cautions.CRUSH])
def joints(build: Build) -> Expected:
    """Grease the joints and slip joints of the propshafts, and feel for play.

    How: Engine off, wheels chocked, no load on the driveline.
    """
    len(build.driveline.shafts)
    return expect("no play, no rust at the cups")
