"""Rules about the ratings of the vehicle: whether they agree with each other, and whether they are ever reached."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at,
    at_least,
    at_most,
    cautions,
    given,
    holds,
    is_fitted,
    name_of,
    needs_review,
    path_of,
    practice,
    regulation,
    rule,
    shown,
)
from swaplint.spec.systems.mass import LoadCase

from .. import sources
from . import quantities as q
from .words import as_pounds, kg, kg_up

PAPERS = practice(
    "a gross rating above the one that the vehicle was approved for takes a new approval, on paper"
).giving("limit", "no higher than approved")
TOGETHER = practice("vehicle and trailer together may weigh no less than the vehicle alone").giving(
    "limit", "the gross rating"
)
REACHED = practice("a load case is as heavy as the plate allows when it comes within 2 % of the gross rating").giving(
    "limit", "98 % of the gross rating"
)
REACHES = 0.98
LITTLE_OF_IT = 1.0 / 3.0
"""Share of the payload below which a load case that is said to be a full one is looked at again."""
FAR_BELOW = 3.0
"""Approved mass over the plate from which on a slip of the pen is likelier than a lighter plate; lorries of 7.5 t are
plated at 3.5 t."""

CLASSES = regulation("German StVZO, Anlage XXIX, categories of vehicles", known="second-hand")
CATEGORY_MASS = {"N1": (0.0, 3500.0), "N2": (3500.0, 12000.0), "N3": (12000.0, math.inf)}
"""Permissible mass of goods vehicles by category, kg: above the first, up to the second."""

PASSENGER_OR_LIGHT = ("M1", "N1")
"""The categories whose clause on the sum of the axle ratings was read of, at second hand."""
LEAST_OF_ITS_AXLES = 0.7
LIGHTEST_EMPTY = 0.5
"""The gross rating over what the axles may carry, and the empty mass over the gross rating, are seldom below these: for
telling a slip of the pen from a real overload, not for a verdict."""


@rule(
    "mass.plate-sense",
    level="error",
    due="quote",
    sources=[
        sources.MASSES_RULE.giving(
            "limit", "gross rating within the sum of the axle ratings; empty vehicle within it", known="second-hand"
        ),
        PAPERS,
        TOGETHER,
        CLASSES.giving("limit", "N1 up to 3.5 t, N2 up to 12 t", demands=["category"]),
    ],
    cautions=[cautions.LAW],
    about="vehicle.mass.gvwr",
    bad=[
        {"vehicle.mass.gawr_front": "1290 kg", "vehicle.mass.gawr_rear": "1500 kg"},
        {"vehicle.original.gvwr": "2700 kg", "vehicle.mass.raised_on_paper": False},
        {"vehicle.mass.gcwr": "2700 kg", "vehicle.load_cases.laden.trailer_mass": "0 kg"},
    ],
    good=[
        {"vehicle.mass.gawr_front": "1290 kg", "vehicle.mass.gawr_rear": "1520 kg"},
        {"vehicle.original.gvwr": "2700 kg", "vehicle.mass.raised_on_paper": True},
    ],
)
def plate_sense(build: Build) -> Verdict:
    """Do the plate, the axle ratings, the approved mass and the weighed mass agree with each other?

    Computes: the gross rating against the sum of what the axles may carry, against the gross rating that the vehicle
    was approved for, and against what the finished vehicle weighs empty; the combination rating against the gross one.
    A number that would fit as pounds is named as the likely slip.
    Limit: the axles together carry the gross rating, and the empty vehicle is within it: European rules on masses, for
    other categories than M1 and N1 a warning. A gross rating above the approved one takes a paper; one below a third
    of it goes before a person, and so does one that is not of the stated category (N1 up to 3.5 t, N2 up to 12 t).
    Consequence: The plate promises a load that axles, tyres and brakes were never approved to carry.
    Remedy: a lower gross rating; stronger axles with their rating on paper; or the approval of a higher one, from the
    authority or an engineer, before the vehicle is loaded so. A calibration window is no reason for a higher plate.
    Cannot tell: whether brakes, frame and tyres were looked at when a rating was raised.
    """
    return all_of(
        axle_ratings=lambda: _within_the_axles(build),
        approved_mass=lambda: _within_the_approval(build),
        empty=lambda: _above_the_empty_vehicle(build),
        combination=lambda: _no_less_with_trailer(build),
        category=lambda: _of_its_category(build),
    )


def _within_the_axles(build: Build) -> Verdict:
    gross = build.vehicle.mass.gvwr
    axles = q.end_rating(build, "front") + q.end_rating(build, "rear")
    says = f"The axles may carry {kg(axles)} together; the gross rating is {shown(gross)}."
    if gross <= axles:
        slip = as_pounds(axles, gross, gross / LEAST_OF_ITS_AXLES)
        return needs_review(f"{says} That is out of proportion.{slip}") if slip else at_most(gross, axles, says)
    says += as_pounds(gross, LEAST_OF_ITS_AXLES * axles, axles)
    says += " It cannot be loaded to its plate without overloading an axle."
    lawful = build.vehicle.category in PASSENGER_OR_LIGHT
    return at_most(gross, axles, says, level="error" if lawful else "warning")


def _within_the_approval(build: Build) -> Verdict:
    gross, approved = build.vehicle.mass.gvwr, build.vehicle.original.gvwr
    says = f"The vehicle was approved for {shown(approved)}; it is to be plated at {shown(gross)}."
    if gross > approved:
        says += as_pounds(gross, 0.9 * approved, 1.1 * approved)
        if build.vehicle.mass.raised_on_paper:
            return holds(True, f"{says} The higher mass is approved on paper.")
        says += " Nobody has approved the higher mass on paper."
    elif approved > FAR_BELOW * gross:
        says += " A vehicle is seldom plated so far down, and its brakes are judged by the approved mass: look again."
        return needs_review(says, on="vehicle.original.gvwr")
    return at_most(gross, approved, says)


def _above_the_empty_vehicle(build: Build) -> Verdict:
    gross, empty = build.vehicle.mass.gvwr, q.empty(build)
    says = f"The finished vehicle weighs {shown(empty)} empty; its gross rating is {shown(gross)}."
    if empty > gross:
        says += as_pounds(empty, LIGHTEST_EMPTY * gross, gross) or " It may not carry even its driver."
    return at_most(empty, gross, says)


def _of_its_category(build: Build) -> Verdict:
    """A vehicle that is plated down may keep the category that it was approved in."""
    category, gross, on = str(build.vehicle.category), build.vehicle.mass.gvwr, "vehicle.category"
    if category not in CATEGORY_MASS:
        return holds(True, f"The category {category} has no mass of its own that is judged here.", on=on)
    above, upto = CATEGORY_MASS[category]
    approved = given(lambda: build.vehicle.original.gvwr)
    plated = [gross] if approved is None or approved <= gross else [gross, approved]
    if any(above < mass <= upto for mass in plated):
        return holds(True, f"{shown(gross)} is a gross rating of category {category}.", on=on)
    fits = next(name for name, (low, high) in CATEGORY_MASS.items() if low < gross <= high)
    says = f"The vehicle is said to be of category {category}, and {shown(gross)} is a gross rating of {fits}: brakes, "
    return needs_review(f"{says}steering and fuel tank are judged by the category. Look at the papers.", on=on)


def _no_less_with_trailer(build: Build) -> Verdict:
    gross, together = build.vehicle.mass.gvwr, build.vehicle.mass.gcwr
    says = f"The combination rating is {shown(together)}; the vehicle alone may weigh {shown(gross)}."
    if together < gross:
        says += " Where nothing may be towed the two are equal."
    return at_least(together, gross, says, level="warning", on="vehicle.mass.gcwr")


@rule(
    "mass.load-cases",
    level="warning",
    due="quote",
    sources=[REACHED],
    cautions=[cautions.LAW],
    about="vehicle.load_cases",
    bad=[{"vehicle.mass.below_gross_because": None}],
    good=[
        {"vehicle.mass.below_gross_because": None, "vehicle.load_cases.laden.items.cargo.mass": "700 kg"},
    ],
)
def load_cases(build: Build) -> Verdict:
    """Do the load cases show the vehicle as heavy as it may ever be, and is there a towbar where one is needed?

    Computes: the heaviest load case against the gross rating; for each case with a trailer or a nose load whether the
    vehicle has a towbar.
    Limit: a load case within 2 % of the gross rating: common practice; or the reason why there can be none, such as a
    tank and three seats that hold no more (`vehicle.mass.below_gross_because`); a reason for less than a third of the
    payload is looked at. A trailer needs a towbar. A towbar that
    no load case uses, and a nose load above the mass of its trailer, go before a person.
    Consequence: Payload that no load case puts on an axle overloads axle, springs or tyres unseen.
    Remedy: add a load case with the vehicle full, its load where it lies in use; or write why it cannot be fuller.
    Cannot tell: whether the cases are the worst ones: a load far back or far ahead may be worse than a heavy one.
    """
    demands: dict[str, Callable[[], Verdict]] = {"gross-rating-reached": lambda: _reaches_gross(build)}
    if given(lambda: is_fitted(build.vehicle.towbar)) and not _tows_nothing(build):
        demands["trailer-pulled"] = lambda: _pulls_one(build)
    for case in q.load_cases(build):
        if (given(partial(_pulls, case)) or 0.0) > 0.0:
            demands[f"towbar.{name_of(case)}"] = partial(_has_towbar, build, case)
        if (given(partial(_beyond_trailer, case)) or 0.0) > 0.0:
            demands[f"nose-load.{name_of(case)}"] = partial(_too_much_nose, case)
    return all_of(demands)


def _tows_nothing(build: Build) -> bool:
    """Whether the plate leaves nothing for a trailer."""
    return bool(given(lambda: build.vehicle.mass.gcwr <= build.vehicle.mass.gvwr))


def _pulls_one(build: Build) -> Verdict:
    """A towbar is there to be used; a trailer whose mass nobody has stated is asked for by mass.towbar."""
    if any(given(lambda case=case: case.trailer_mass) != 0.0 for case in q.load_cases(build)):  # type: ignore[misc]
        return holds(True, "A load case pulls a trailer.", on="vehicle.load_cases")
    says = "There is a towbar, and no load case pulls a trailer: add one with the heaviest, loaded as it will be, or "
    return needs_review(f"{says}state the towbar as not fitted.", on="vehicle.towbar")


def _pulls(case: LoadCase) -> float:
    return max(given(lambda: case.nose_load) or 0.0, given(lambda: case.trailer_mass) or 0.0)


def _beyond_trailer(case: LoadCase) -> float:
    """By how much the nose load is more than the whole trailer, kg; 0 without a trailer: it may be a carrier."""
    return case.nose_load - case.trailer_mass if case.trailer_mass > 0.0 else 0.0


def _too_much_nose(case: LoadCase) -> Verdict:
    says = f"In the load case {name_of(case)} the trailer rests {shown(case.nose_load)} on the towbar and weighs "
    says += f"{shown(case.trailer_mass)} in all, nose load included: one of the two is wrong."
    return needs_review(says, on=f"{path_of(case)}.trailer_mass")


def _reaches_gross(build: Build) -> Verdict:
    cases, gross = q.load_cases(build), build.vehicle.mass.gvwr
    reason = given(lambda: build.vehicle.mass.below_gross_because)
    heaviest = max(cases, key=lambda case: q.laden(build, case))
    found = q.laden(build, heaviest)
    if reason is not None:
        carried, payload = found - q.empty(build), gross - q.empty(build)
        if carried < LITTLE_OF_IT * payload:
            says = f"No load case needs to reach the gross rating, as is said: {reason}. The heaviest, "
            says += f"{name_of(heaviest)}, carries {kg(carried)} of the {kg(payload)} that the plate allows: is all of "
            return needs_review(f"{says}it entered?", on=path_of(heaviest))
        return holds(True, f"No load case needs to reach the gross rating: {reason}.")
    if not any(case.items for case in cases) and found < REACHES * gross:
        # Nothing is carried in any case, so nobody has said what is: asked for as if the table were not there.
        build = at(build, {f"{path_of(heaviest)}.items": None})
        heaviest = build.vehicle.load_cases[name_of(heaviest)]
        found = q.laden(build, heaviest)
    says = f"The heaviest load case, {name_of(heaviest)}, comes to {shown(found)} of {shown(gross)}."
    if found < REACHES * gross:
        says += f" {kg_up(gross - found)} of payload are never put on an axle: add a case with the vehicle full."
    return at_least(found, REACHES * gross, says, on=path_of(heaviest))


def _has_towbar(build: Build, case: LoadCase) -> Verdict:
    pulled = shown(_pulls(case), "mass", "kg")
    fitted = is_fitted(build.vehicle.towbar)
    says = f"In the load case {name_of(case)} a trailer adds {pulled}"
    return holds(
        fitted,
        f"{says}; the towbar is there." if fitted else f"{says}, and there is no towbar.",
        level="error",
        on=path_of(case),
        advice=None if fitted else advice("vehicle.towbar.fitted", True),
    )
