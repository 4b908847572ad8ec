"""The sense in which the wheels turn, where engine and axle do not stand as the vehicle's maker had them."""

from __future__ import annotations

from swaplint.api import Build, Verdict, all_of, cautions, does_not_apply, given, holds, practice, rule

SENSE = practice(
    "an engine that faces the rear turns the other way as the vehicle sees it: an axle turned round with it drives "
    "backwards in all forward gears"
)
FORWARD = "driveline.drivetrain.turns_forward"


@rule(
    "driveline.sense-of-rotation",
    level="error",
    due="quote",
    sources=[SENSE.giving("limit", "first gear drives forwards")],
    cautions=[cautions.CRUSH],
    without={
        FORWARD: "An engine that faces the front or lies across the vehicle, on a gearbox made for one that turns its "
        "way, drives forwards; where somebody has found otherwise, it is stated."
    },
    about=FORWARD,
    bad=[{FORWARD: False}],
    good=[{FORWARD: True}],
)
def sense_of_rotation(build: Build) -> Verdict:
    """Does the vehicle drive forwards in first gear, where its engine is turned round?

    Computes: nothing; asks for what the drawing, or the crank turned by hand, shows.
    Limit: the wheels turn forwards in first gear. It is asked where the engine's own front faces the rear; else it is
    judged where somebody states it, as for an engine that turns the other way than the gearbox was made for.
    Consequence: The finished vehicle has one gear forwards and all the others backwards.
    Remedy: the final drive turned over, so that its ring gear stands at the other side of the pinion, where its maker
    allows that and its oil still reaches the pinion; a gearbox, transfer case or angle drive that turns the sense.
    Cannot tell: whether gears, oil pump and bearings of an axle stand it to be driven on the other side of its teeth.
    """
    stated = given(lambda: build.driveline.drivetrain.turns_forward)
    if stated is None and given(lambda: build.vehicle.engine_place.front_faces) != "rear":
        return does_not_apply("The engine does not face the rear.")
    forward = build.driveline.drivetrain.turns_forward
    says = "In first gear the wheels turn forwards."
    if not forward:
        says = "In first gear the wheels turn backwards: have the sense turned in axle, gearbox or transfer case."
    return all_of(forwards=holds(forward, says, on=FORWARD))
