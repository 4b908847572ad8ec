"""The rule about the brakes of a trailer."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    path_of,
    regulation,
    rule,
    shown,
)
from swaplint.spec.systems.mass import LoadCase

from ..mass import quantities as mass

TRAILERS = regulation("UN Regulation No. 13, braking of trailers").giving(
    "limit", "750 kg and half of the vehicle's empty mass without brakes, 3500 kg with an overrun brake"
)
UNBRAKED, SHARE, BY_OVERRUN = 750.0, 0.5, 3500.0
"""Highest mass of a trailer, kg: without brakes, also as a share of the vehicle's empty mass; with an overrun brake."""


@rule(
    "chassis.trailer-brakes",
    level="warning",
    due="quote",
    sources=[TRAILERS],
    cautions=[cautions.BRAKES, cautions.LAW],
    about="vehicle.load_cases",
    each=mass.load_cases,
    bad=[{"vehicle.load_cases.laden.trailer_brakes": "none"}],
    good=[
        {"vehicle.load_cases.laden.trailer_brakes": "from-vehicle"},
        {"vehicle.load_cases.laden.trailer_brakes": "none", "vehicle.load_cases.laden.trailer_mass": "750 kg"},
    ],
)
def trailer_brakes(build: Build, case: LoadCase) -> Verdict:
    """Has the trailer the brakes that its mass asks for?

    Computes: nothing; the trailer's mass is compared with the limit of what brakes it.
    Limit: without brakes 750 kg, and half of what the vehicle weighs empty; with an overrun brake 3500 kg: European
    rules, from memory. Other places have other limits: what exceeds these is a question for the authority.
    Consequence: The trailer pushes the vehicle on where it brakes: the stop gets long, and the two jack-knife.
    Remedy: a trailer with brakes, or a lighter one.
    Cannot tell: whether the trailer's brakes work and are set; whether the line, cable or controller for them is there.
    """
    if given(lambda: is_fitted(build.vehicle.towbar)) is False:
        return does_not_apply("There is no towbar; where a load case needs one, mass.load-cases says so.")
    trailer, on = case.trailer_mass, f"{path_of(case)}.trailer_brakes"
    if trailer == 0.0:
        return does_not_apply("No trailer is pulled in this load case.")
    if case.trailer_brakes == "from-vehicle":
        return all_of(brakes=holds(True, "The trailer is braked from the vehicle.", on=on))
    if case.trailer_brakes == "overrun":
        says = f"The trailer of {shown(trailer)} is braked by its push on the towbar, which does up to "
        says += f"{shown(BY_OVERRUN, 'mass', 'kg')}."
        return all_of(brakes=at_most(trailer, BY_OVERRUN, says, on=on))
    most = min(UNBRAKED, SHARE * mass.empty(build))
    says = f"The trailer of {shown(trailer)} has no brakes of its own, which does up to {shown(most, 'mass', 'kg')}."
    says += " Tow one with brakes." if trailer > most else ""
    return all_of(brakes=at_most(trailer, most, says, on=on))
