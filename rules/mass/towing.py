"""The rule about what hangs on the towbar: mass of the trailer, nose load, and the force between."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_most,
    cautions,
    does_not_apply,
    given,
    is_fitted,
    needs_review,
    quantity,
    regulation,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import towing
from swaplint.engineering.constants import G
from swaplint.spec.systems.mass import LoadCase

from .. import rounding
from . import quantities as q
from .words import kg_up

TOWBAR = "vehicle.towbar"
STEP = 10.0
"""What a D-value is rounded to in a sentence, N."""
OVER_STRONG = 2.0
"""A towbar's D-value over g times the gross rating, which is what the heaviest trailer of all could ask for."""
TIMES_ITS_OWN = 3.0
"""A trailer's mass on the towbar's plate over the vehicle's gross rating from which on the plate is looked at again."""
PRESSED_DOWN = 0.25
"""Nose load over the trailer's mass on the plate; usual are 4 to 15 %."""
COUPLINGS = regulation("UN Regulation No. 55, coupling devices, as makers of couplings repeat it", known="second-hand")


@quantity(
    "mass.coupling-force",
    "force",
    "kN",
    formula="D = g·T·R/(T + R), R the whole trailer",
    symbols={"T": "vehicle.mass.gvwr", "R": "vehicle.load_cases.*.trailer_mass"},
    sources=[COUPLINGS.giving("formula", "D-value of a coupling")],
    each=q.load_cases,
)
def coupling_force(build: Build, case: LoadCase) -> float:
    """Force between vehicle and trailer that the towbar must be rated for."""
    return towing.coupling_force(build.vehicle.mass.gvwr, case.trailer_mass)


@rule(
    "mass.towbar",
    level="error",
    due="quote",
    sources=[
        sheet(f"{TOWBAR}.trailer_mass_max"),
        sheet(f"{TOWBAR}.nose_load_max"),
        sheet(f"{TOWBAR}.d_value"),
        COUPLINGS.giving("formula", "D-value of a coupling"),
    ],
    cautions=[cautions.LAW],
    about=TOWBAR,
    each=q.load_cases,
    instead={
        f"{TOWBAR}.trailer_mass_max": f"{TOWBAR}.d_value",
        f"{TOWBAR}.d_value": f"{TOWBAR}.trailer_mass_max",
    },
    bad=[
        {f"{TOWBAR}.trailer_mass_max": "750 kg"},
        {f"{TOWBAR}.nose_load_max": "45 kg"},
        {f"{TOWBAR}.d_value": "6 kN"},
    ],
    good=[{f"{TOWBAR}.trailer_mass_max": "800 kg", f"{TOWBAR}.nose_load_max": "50 kg", f"{TOWBAR}.d_value": "6.11 kN"}],
)
def towbar(build: Build, case: LoadCase) -> Verdict:
    """Does the towbar bear the trailer and its nose load?

    Computes: D = g·T·R/(T + R) from the gross rating and the whole trailer of the load case.
    Limit: what the plates of towbar and coupling say: highest mass of a trailer, nose load S, D-value. One of mass and
    D-value will do. A plate far out of proportion to the vehicle is read again.
    Consequence: The towbar tears off or its frame cracks, and the trailer comes loose on the road.
    Remedy: a towbar with a higher rating, less nose load, or a lighter trailer.
    Cannot tell: whether the frame bears the towbar, and what the papers of this vehicle allow it to tow, which may be
    less. Its brakes: chassis.trailer-brakes.
    """
    bar = build.vehicle.towbar
    if given(lambda: is_fitted(bar)) is False:
        return does_not_apply("There is no towbar; where a load case needs one, mass.load-cases says so.")
    trailer, nose = case.trailer_mass, case.nose_load
    if trailer == 0.0 and nose == 0.0:
        return does_not_apply("Nothing hangs on a towbar in this load case.")
    demands: dict[str, Callable[[], Verdict]] = {}
    if nose > 0.0:
        demands["nose-load"] = lambda: _nose(build, case)
    if trailer > 0.0:
        by_force = given(lambda: bar.d_value) is not None
        if by_force:
            demands["force"] = lambda: _force(build, case)
        if not by_force or given(lambda: bar.trailer_mass_max) is not None:
            demands["trailer"] = lambda: _trailer(build, case)
    odd = _out_of_proportion(build)
    if odd is not None:
        demands["plate-sense"] = lambda: odd
    return all_of(demands)


def _out_of_proportion(build: Build) -> Verdict | None:
    """The verdict on a plate that does not suit this vehicle: it is likelier misread. None where it does."""
    bar, gross = build.vehicle.towbar, given(lambda: build.vehicle.mass.gvwr)
    if gross is None:
        return None
    force, trailer = given(lambda: bar.d_value), given(lambda: bar.trailer_mass_max)
    nose = given(lambda: bar.nose_load_max)
    if force is not None and force > OVER_STRONG * G * gross:
        most = shown(G * gross, "force", "kN", digits=3)
        return _plate("d_value", force, f"a D-value of {shown(force)}, and no trailer asks more than {most}")
    if trailer is not None and trailer > TIMES_ITS_OWN * gross:
        return _plate("trailer_mass_max", trailer, f"a trailer of {shown(trailer)} behind a vehicle of {shown(gross)}")
    if trailer is not None and nose is not None and nose > PRESSED_DOWN * trailer:
        return _plate("nose_load_max", nose, f"a nose load of {shown(nose)} for a trailer of {shown(trailer)}")
    return None


def _plate(field: str, found: float, what: str) -> Verdict:
    says = f"The plate of the towbar is said to give {what}: read it again, its decimal point and its unit."
    return needs_review(says, on=f"{TOWBAR}.{field}", found=found)


def _trailer(build: Build, case: LoadCase) -> Verdict:
    most, found = build.vehicle.towbar.trailer_mass_max, case.trailer_mass
    says = f"The trailer weighs {shown(found)}; the towbar may pull {shown(most)}."
    says += f" Tow {kg_up(found - most)} less, or fit a stronger one." if found > most else ""
    return at_most(found, most, says, on=f"{TOWBAR}.trailer_mass_max")


def _nose(build: Build, case: LoadCase) -> Verdict:
    most, found = build.vehicle.towbar.nose_load_max, case.nose_load
    says = f"{shown(found)} rest on the towbar, which bears {shown(most)}."
    says += " Move the trailer's load back until no more rests on it than that." if found > most else ""
    return at_most(found, most, says, on=f"{TOWBAR}.nose_load_max")


def _force(build: Build, case: LoadCase) -> Verdict:
    most, found = build.vehicle.towbar.d_value, coupling_force(build, case)
    says = f"Between this vehicle and a trailer of {shown(case.trailer_mass)} the towbar needs a D-value of "
    says += f"{_rounded_up(found)}; its plate says {shown(most)}."
    says += " Tow less, or fit a towbar with a higher one." if found > most else ""
    return at_most(found, most, says, on=f"{TOWBAR}.d_value")


def _rounded_up(force: float) -> str:
    """A force to order by: never less than what is needed."""
    return shown(rounding.up(force, STEP), "force", "kN")
