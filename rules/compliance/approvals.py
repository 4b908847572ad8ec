"""Rules of approvals, noise, papers and inspections: what must be at hand, from whom, and when."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    needs_review,
    path_of,
    practice,
    regulation,
    rule,
    shown,
)
from swaplint.spec.systems.compliance import Approval, Evidence, Place, Requirement
from swaplint.spec.systems.compliance.facts import LARGER_ENGINE, OTHER_ENGINE

from .law import (
    ASKED,
    CAUTIONS,
    OF_PLATE,
    ask_of,
    asks_nothing,
    by_law,
    each_asked,
    is_place,
    of_another_drive,
    place_of,
    places,
)
from .vehicle import engine_power

MARKS = regulation("UN Regulation No. 10, electromagnetic compatibility", known="from memory")
DECIDED = practice("who inspects, and on which day, is settled before the work is quoted")


# -- alterations ------------------------------------------------------------------------------------------------------
def approvals(build: Build) -> Iterator[Any]:
    """The approvals that all places ask for."""
    return each_asked(build, "approvals")


@rule(
    "compliance.structure-brakes-steering",
    level="error",
    due="build",
    sources=[
        ASKED.giving("limit", "the alterations that it is asked for"),
        ASKED.giving("limit", "before or after the work"),
    ],
    cautions=[cautions.FRAME, cautions.BRAKES, cautions.STEERING, *CAUTIONS],
    about="build.alterations",
    each=approvals,
    changed={"0.2.0": "A paper that is dated after the day of judging is not at hand."},
    later={"after": "commission"},
    without={
        "vehicle.cross_members": "The spec states what the swap alters; a cross-member that it describes counts, too.",
    },
    bad=[
        {"build.places.state.approvals.structure.met.done": False},
        {"build.places.state.approvals.structure.met.date": "2026-06-01"},
    ],
    good=[
        {"build.alterations": []},
        {"build.places.state.approvals.structure.timing": "after"},
        {"build.places.state.approvals.structure.for_any": ["larger-engine"]},
        {"build.places.state.approvals.structure.for_any": ["other-engine"]},
    ],
)
def structure_brakes_steering(build: Build, approval: Any) -> Verdict:
    """Is each alteration approved by whom the place names, before the work where it asks for that?

    Computes: which of the alterations that the spec states call for the approval; a made cross-member that it describes
    is one. Whether the engine is larger, in power or displacement, is seen from the figures.
    Limit: every approval that the place's sheet asks for is given: by whom, on which day, under which number. One that
    is dated after the day of judging is not; nor is one that is needed before the work and younger than the first
    start.
    Consequence: Work that is done must be undone, or the vehicle never gets its approval.
    Remedy: the engineer's letter, with a drawing or photograph and a calculation of each alteration, before steel
    is cut.
    Cannot tell: what the authority takes as structure, and whether a report is any good.
    """
    if is_place(approval):
        return ask_of(approval, "approvals")
    return all_of({str(approval.timing): lambda: _approved(build, approval)})


def _approved(build: Build, approval: Approval) -> Verdict:
    spared = of_another_drive(build, approval)
    if spared is not None:
        return spared
    place = place_of(build, approval)
    asked = [str(one) for one in approval.for_any]
    stated = {str(one) for one in build.build.alterations}
    if given(lambda: build.vehicle.cross_members):
        stated.add("cross-member")
    altered = [one for one in asked if one in stated]
    if LARGER_ENGINE in asked and _larger(build):
        altered.append(LARGER_ENGINE)
    if OTHER_ENGINE in asked:
        altered.append(OTHER_ENGINE)
    if not altered:
        verdict = holds(True, "The swap alters nothing that it is asked for.", on="build.alterations")
        return by_law(place, approval, verdict)
    what = ", ".join(one.replace("-", " ") for one in altered)
    when = "before the work begins" if approval.timing == "before" else "once the work is done"
    paper, before = f"the approval of {approval.who} for {what}, needed {when}", approval.timing == "before"
    return by_law(place, approval, _shown(build, approval.met, paper, path_of(approval), before=before))


def _larger(build: Build) -> bool:
    old = build.vehicle.original
    return engine_power(build) > old.power or build.engine.displacement > old.engine.displacement


def _shown(
    build: Build, evidence: Evidence, what: str, on: str, *, before: bool = False, finished: bool = False
) -> Verdict:
    """Whether something was done; what was done says by whom, on which day, and where the paper is.

    A paper of a day that is still to come is not at hand. `before` is whether it had to be there before the work,
    `finished` whether it is of the finished vehicle.
    """
    if not evidence.done:
        return holds(False, f"Not at hand: {what}.", on=f"{on}.met.done")
    dated, judged = evidence.date, build.build.judged_on
    if dated > judged:
        says = (
            f"Not at hand on {judged}, the day of judging: {what}. What is stated for it is dated {dated}; put the "
            "date right, or judge on a later day."
        )
        return holds(False, says, on=f"{on}.met.date")
    says = f"At hand: {what}; {evidence.by}, {dated}, {evidence.reference}."
    started = given(lambda: build.measured.before_start.date)
    if before and started is not None and dated > started:
        says += f" That is too late: on {started} the work was done and the engine about to start."
        return holds(False, says, on=f"{on}.met.date")
    if finished and started is not None and dated < started:
        says += f" On {started} the engine was only about to start: the vehicle was not finished. Have it done anew."
        return needs_review(says, on=f"{on}.met.date")
    return holds(True, says, on=f"{on}.met.done")


# -- noise ------------------------------------------------------------------------------------------------------------
@rule(
    "compliance.noise-emc",
    level="warning",
    due="build",
    sources=[
        ASKED.giving("limit", "the place's figure", demands=["noise"]),
        ASKED.giving("limit", "what it is held against", demands=["noise"]),
        MARKS.giving("limit", "electronic units carry a mark of approval", demands=["marks"]),
    ],
    cautions=CAUTIONS,
    about="vehicle.noise.now",
    each=places,
    later={"noise": "commission"},
    bad=[
        {"vehicle.noise.now": "91 dB(A)"},
        {
            "build.places.state.noise.asked": "plate",
            "vehicle.noise.plate": "84 dB(A)",
            "build.places.state.noise.over_plate": "0 dB",
        },
        {"build.places.state.noise.asked": "not-louder", "vehicle.noise.before": "84 dB(A)"},
        {"vehicle.noise.units_marked": False},
    ],
    good=[
        {"build.places.state.noise.asked": "plate", "build.places.state.noise.over_plate": "0 dB"},
        {"build.places.state.noise.asked": "not-louder"},
        {"build.places.state.noise.asked": "nothing"},
        {"build.places.state.noise.gross_upto": "2500 kg"},
    ],
)
def noise_emc(build: Build, place: Place) -> Verdict:
    """Is the vehicle no louder than the place takes, and are its new electronics approved not to disturb others?

    Computes: nothing; what the stationary test comes to is compared with the place's figure, with that of the plate, or
    with what it came to before the swap.
    Limit: the place's, as its sheet states it; marks of electromagnetic approval, UN Regulation 10 (from memory).
    Consequence: The vehicle is refused at inspection, or stopped on the road.
    Remedy: a silencer that takes off what the result names, in dB; units that carry the mark.
    Cannot tell: pass-by noise, and what only the test shows: two meters differ by 1 or 2 dB.
    """
    return all_of(noise=lambda: _noise(build, place), marks=lambda: _marks(build))


def _noise(build: Build, place: Place) -> Verdict:
    fact, on = place.noise, "vehicle.noise.now"
    if fact.asked == "nothing":
        return asks_nothing(place, fact, "the noise")
    upto = given(lambda: fact.gross_upto)
    if upto is not None and build.vehicle.mass.gvwr > upto:
        return does_not_apply(f"{place.name} asks this of vehicles up to {shown(upto)} only.")
    found = build.vehicle.noise.now
    if fact.asked == "figure":
        most, whose = fact.figure, "the place's figure"
    elif fact.asked == "plate":
        most, whose = build.vehicle.noise.plate + fact.over_plate, OF_PLATE
    else:
        most, whose = build.vehicle.noise.before, "what it came to before the swap"
    level = ("sound_level", "dB(A)")
    says = f"The stationary test comes to {shown(found, *level)}, and {whose} is {shown(most, *level)}"
    says += "." if found <= most else f": the silencer must take off {found - most:g} dB more."
    return by_law(place, fact, at_most(found, most, says, on=on, scale=10.0, unit=level))


def _marks(build: Build) -> Verdict:
    marked, on = build.vehicle.noise.units_marked, "vehicle.noise.units_marked"
    says = (
        "Every electronic unit carries a mark of electromagnetic approval."
        if marked
        else "An electronic unit carries no mark of electromagnetic approval: ask its maker for one that does."
    )
    return holds(marked, says, on=on)


# -- papers and inspections -------------------------------------------------------------------------------------------
_TICKET = "build.places.state.requirements.weighbridge"
_INSPECTION = "build.places.state.requirements.inspection"


def requirements(build: Build) -> Iterator[Any]:
    """The papers, inspections and conditions that all places ask for."""
    return each_asked(build, "requirements")


@rule(
    "compliance.inspection-plan",
    level="error",
    due="plan",
    sources=[ASKED.giving("limit", "met by the stage that it names")],
    cautions=CAUTIONS,
    about="build.places",
    each=requirements,
    changed={"0.2.0": "A paper that is dated after the day of judging is not at hand."},
    later={"quote": "quote", "build": "build", "commission": "commission"},
    bad=[
        {f"{_TICKET}.met.done": False, f"{_TICKET}.planned_for": "2026-06-01"},
        {f"{_INSPECTION}.met.done": False, f"{_INSPECTION}.planned_for": "2026-06-01"},
        {f"{_INSPECTION}.met.date": "2026-06-01", f"{_INSPECTION}.planned_for": "2026-06-01"},
    ],
    good=[{f"{_TICKET}.stage": "build"}, {f"{_TICKET}.met.date": "2026-05-31"}],
)
def inspection_plan(build: Build, requirement: Any) -> Verdict:
    """Is each paper, inspection and condition that the place asks for met by the stage that needs it?

    Computes: nothing; what is asked for is compared with what is shown to be at hand: by whom, when, which number. What
    is dated after the day of judging is not, and an inspection from before the engine first ran is none of the finished
    vehicle: a person decides.
    Limit: all that the place's sheet names, each from the stage of the job that it names.
    Consequence: A finished vehicle without its papers may not be driven.
    Remedy: collect each paper on the way, when it costs nothing: tickets, photographs, torque records, certificates.
    Cannot tell: the inspector's own list; whether a paper says what it should.
    """
    if is_place(requirement):
        return ask_of(requirement, "requirements")
    return all_of({str(requirement.stage): lambda: _met(build, requirement)})


def _met(build: Build, requirement: Requirement) -> Verdict:
    spared = of_another_drive(build, requirement)
    if spared is not None:
        return spared
    place = place_of(build, requirement)
    of_it = requirement.stage == "commission" and given(lambda: requirement.topic) == "inspection"
    shown_is = _shown(build, requirement.met, str(requirement.what), path_of(requirement), finished=of_it)
    return by_law(place, requirement, shown_is)


@rule(
    "compliance.who-and-when",
    level="warning",
    due="quote",
    sources=[DECIDED.giving("limit", "settled when the work is quoted")],
    cautions=CAUTIONS,
    about="build.places",
    each=requirements,
    bad=[{f"{_INSPECTION}.met.done": False}],
    good=[{f"{_INSPECTION}.met.done": None, f"{_INSPECTION}.planned_for": "2026-05-31"}],
    stricter=["compliance.inspection-plan"],
)
def who_and_when(build: Build, requirement: Any) -> Verdict:
    """Is it settled who sees to each paper and inspection, and on which day?

    Computes: whether each has a name and a day, and whether the day is still to come where it is not met yet.
    Limit: settled when the work is quoted, common practice.
    Consequence: The vehicle stands finished and waits weeks for an appointment or a paper.
    Remedy: name who does it and the day; ask the office how long its appointments take.
    Cannot tell: whether the day is kept.
    """
    if is_place(requirement):
        return ask_of(requirement, "requirements")
    spared = of_another_drive(build, requirement)
    if spared is not None:
        return spared
    on = path_of(requirement)
    now = build.build.judged_on
    if given(lambda: requirement.met.done) and (given(lambda: requirement.met.date) or now) <= now:
        return holds(True, f"Met: {requirement.what}.", on=f"{on}.met.done")
    who, planned = requirement.who, requirement.planned_for
    says = f"{who} sees to it on {planned}: {requirement.what}."
    if planned < now:
        _ = requirement.met.done  # where nobody says, it may have been met since: asked for
        says = f"Planned for {planned}, which is past, and not met: {requirement.what}. Name another day, or state it."
    return holds(planned >= now, says, on=f"{on}.planned_for")
