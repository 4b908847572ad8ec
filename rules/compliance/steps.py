"""What is asked for by whoever gives the papers: before the work, and before the keys change hands."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from swaplint.api import Build, Expected, cautions, expect, given, not_needed, shown, step
from swaplint.spec.systems.compliance import Approval, Requirement

from .law import OF_PLATE, each_asked, is_place, of_another_drive, places

LEVEL = ("sound_level", "dB(A)")
MET = ("by", "date", "reference")


def _is_asked(build: Build, fact: Any) -> bool:
    """Whether it is known that the place asks it of this vehicle, or not known that it does not."""
    return not is_place(fact) and given(lambda: of_another_drive(build, fact)) is None


def _before(build: Build) -> Iterator[Approval]:
    """The approvals that are needed before the work begins."""
    for approval in each_asked(build, "approvals"):
        if _is_asked(build, approval) and approval.timing == "before":
            yield approval


def _after(build: Build) -> Iterator[Approval]:
    for approval in each_asked(build, "approvals"):
        if _is_asked(build, approval) and approval.timing == "after":
            yield approval


def _last(build: Build) -> Iterator[Requirement]:
    """The papers and inspections that are needed by the time of commissioning."""
    for requirement in each_asked(build, "requirements"):
        if _is_asked(build, requirement) and requirement.stage == "commission":
            yield requirement


@step(
    "compliance.approved-before",
    moment="before-lifting",
    write="build.places.*.approvals.*.met.done",
    also=[f"build.places.*.approvals.*.met.{one}" for one in MET],
    cautions=[cautions.LAW],
    each=_before,
)
def approved_before(build: Build, approval: Approval) -> Expected:
    """Have the approval in hand before the work begins.

    How: The engineer's letter with drawing and calculation, as the place's sheet asks; cut nothing before.
    """
    who, what = approval.who, [str(one).replace("-", " ") for one in approval.for_any]
    return expect(f"of {who}, where one of these is altered: {', '.join(what)}")


@step(
    "compliance.noise",
    moment="first-hour",
    instrument="sound level meter, class 1, A-weighted, fast; calibrated before and after",
    write="vehicle.noise.now",
)
def noise(build: Build) -> Expected:
    """Measure the stationary noise.

    How: In the open, 3 m free; microphone half a metre from the outlet, 45 degrees off its axis, at its height; three
    quarters of rated speed, half of it above 5000 r/min, then let go. The loudest of three that agree within 2 dB. What
    the place asks may differ.
    """
    asked = [place.noise for place in places(build)]
    if asked and all(one.asked == "nothing" for one in asked):
        return not_needed("The place asks nothing of the noise.")
    bounds = [(float(one.figure), "the place's figure") for one in asked if one.asked == "figure"]
    bounds += [(build.vehicle.noise.plate + one.over_plate, OF_PLATE) for one in asked if one.asked == "plate"]
    if bounds:
        most, whose = min(bounds)
        return expect(f"at most {shown(most, *LEVEL)}, {whose}")
    before = given(lambda: build.vehicle.noise.before)
    return expect(
        "no louder than before the swap"
        if before is None
        else f"no more than the {shown(before, *LEVEL)} before the swap"
    )


NOISE = "measured.noise"


def _noise_counts(build: Build) -> bool:
    asked = [place.noise for place in places(build)]
    return not asked or any(one.asked != "nothing" for one in asked)


@step(
    "compliance.noise-readings",
    moment="first-hour",
    instrument="the same meter",
    write=f"{NOISE}.loudest",
    also=[f"{NOISE}.quietest", f"{NOISE}.speed", f"{NOISE}.date", f"{NOISE}.by"],
    after=["compliance.noise"],
)
def noise_readings(build: Build) -> Expected:
    """Note the loudest and the quietest of the readings of the stationary noise, and the engine speed that was held.

    How: Three readings or more, one after the other, the engine let go after each.
    """
    return expect("within 2 dB of each other") if _noise_counts(build) else not_needed("The place asks nothing of it.")


@step(
    "compliance.noise-around",
    moment="first-hour",
    instrument="the same meter, its calibrator",
    write=f"{NOISE}.background",
    also=[f"{NOISE}.calibrator", f"{NOISE}.calibrated_before", f"{NOISE}.calibrated_after"],
    after=["compliance.noise-readings"],
)
def noise_around(build: Build) -> Expected:
    """Read the noise around with the engine stopped, and the meter on its calibrator before and after.

    How: At the same place, right after. A meter that has moved by more than half a dB makes the test void.
    """
    if not _noise_counts(build):
        return not_needed("The place asks nothing of it.")
    return expect("at least 10 dB below the readings")


@step(
    "compliance.readiness",
    moment="first-drive",
    instrument="diagnostic reader",
    write="vehicle.emissions.ready",
    after=["chassis.brake-test"],
)
def readiness(build: Build) -> Expected:
    """Read whether on-board diagnosis has run all its tests.

    How: After a drive with cold start, idling, steady cruising and coasting; clearing codes sets them back.
    """
    if not any(place.readiness.asked for place in places(build)):
        return not_needed("The place does not look at it.")
    return expect("all ready, no code stored")


@step(
    "compliance.asked-for",
    moment="first-drive",
    write="build.places.*.requirements.*.met.done",
    also=[f"build.places.*.requirements.*.met.{one}" for one in MET],
    cautions=[cautions.LAW],
    after=["compliance.readiness", "mass.new-whole", "gearing.engine-speed"],
    each=_last,
)
def asked_for(build: Build, requirement: Requirement) -> Expected:
    """Get the paper or inspection that the place asks for before the vehicle is used.

    How: By whom the spec names, on the day that it is planned for.
    """
    return expect(requirement.what, f"from {requirement.who}")


@step(
    "compliance.approved-after",
    moment="first-drive",
    write="build.places.*.approvals.*.met.done",
    also=[f"build.places.*.approvals.*.met.{one}" for one in MET],
    cautions=[cautions.LAW],
    after=["compliance.asked-for"],
    each=_after,
    example={"build.places.state.approvals.structure.timing": "after"},
)
def approved_after(build: Build, approval: Approval) -> Expected:
    """Have what was altered approved once the work is done.

    How: As the place's sheet asks; no use on the road before, but the way there where that is allowed.
    """
    return expect(f"of {approval.who}")
