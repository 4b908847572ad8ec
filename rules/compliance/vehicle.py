"""Rules of the vehicle as a place sees it: its class, how strong an engine it may have, of what kind, its identity."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    does_not_apply,
    given,
    holds,
    name_of,
    needs_review,
    practice,
    quantity,
    rule,
    sheet,
    shown,
    within,
)
from swaplint.engineering import curves
from swaplint.spec.systems.compliance import POINTED, Place, PowerLimit, VehicleClass

from .. import sources
from ..gearing import quantities as gearing
from ..mass import quantities as mass
from .law import ASKED, CAUTIONS, ask_of, asks_nothing, by_law, each_asked, is_place, place_of, places

REFERENCE_ADDS = 100.0
"""What the reference mass has over the kerb mass, kg: driver and luggage as emission rules count them."""


# -- class ------------------------------------------------------------------------------------------------------------
@rule(
    "compliance.vehicle-class",
    level="warning",
    due="plan",
    sources=[ASKED.giving("limit", "the masses that divide the classes")],
    cautions=CAUTIONS,
    about="vehicle.mass.gvwr",
    each=places,
    bad=[
        {"build.places.state.classes.light.mass": "kerb", "build.places.state.classes.light.upto": "1790 kg"},
        {"build.places.state.classes.light.counts_as": "heavy"},
    ],
    good=[{"build.places.state.classes": {}}],
)
def vehicle_class(build: Build, place: Place) -> Verdict:
    """Does the swap move the vehicle into another class of the place, and with what consequences?

    Computes: the class of the vehicle before and after the swap, by the mass that divides the place's classes: the
    gross rating, the kerb mass, or the reference mass, which is the kerb mass and 100 kg.
    Limit: the same class as before; and `vehicle.weight_class`, by which other rules judge, is what the place calls it.
    Consequence: Another licence, tax, brake or emission rule holds than everybody planned with.
    Remedy: a gross rating or empty mass that keeps the class, or the consequences that the result names.
    Cannot tell: classes by fuel, use or seats that the place's sheet does not name; single decisions of an authority.
    """
    groups: dict[str, list[VehicleClass]] = {}
    for one in place.classes.values():
        groups.setdefault(str(one.mass), []).append(one)
    if not groups:
        return holds(True, f"No class of vehicles matters in {place.name}, as its sheet says.")
    demands: dict[str, Callable[[], Verdict]] = {}
    for kind, classes in groups.items():
        demands[kind] = lambda kind=kind, classes=classes: _same_class(build, place, kind, classes)  # type: ignore[misc]
    return all_of(demands, counted=lambda: _counted(build, place))


def _masses(build: Build, kind: str) -> tuple[float, float]:
    """The dividing mass before and after the swap."""
    if kind == "gross":
        return build.vehicle.original.gvwr, build.vehicle.mass.gvwr
    more = REFERENCE_ADDS if kind == "reference" else 0.0
    return mass.kerb(build).total + more, mass.empty(build) + more


def _class_of(classes: list[VehicleClass], found: float) -> VehicleClass | None:
    return next((one for one in classes if _in_class(one, found)), None)


def _in_class(one: VehicleClass, found: float) -> bool:
    above, upto = given(lambda: one.above), given(lambda: one.upto)
    if above is None and upto is None:
        _ = one.upto  # a class without any bound: this asks for one
    return (above is None or found > above) and (upto is None or found <= upto)


def _same_class(build: Build, place: Place, kind: str, classes: list[VehicleClass]) -> Verdict:
    before, now = _masses(build, kind)
    was, is_now = _class_of(classes, before), _class_of(classes, now)
    about = is_now or was or classes[0]
    on = "vehicle.mass.gvwr" if kind == "gross" else "vehicle.mass.kerb_front"
    what = {"gross": "gross rating", "kerb": "kerb mass", "reference": "reference mass"}[kind]
    names = [name_of(one) if one is not None else "" for one in (was, is_now)]
    if names[0] == names[1]:
        called = f"of the class '{names[1]}'" if names[1] else "of none of the classes that the sheet names"
        verdict = holds(True, f"By its {what}, {shown(now, 'mass', 'kg')}, it is {called}, as before.", on=on)
        return by_law(place, about, verdict)
    moved = f"'{names[0] or 'none'}' to '{names[1] or 'none'}'"
    says = (
        f"Its {what} goes from {shown(before, 'mass', 'kg')} to {shown(now, 'mass', 'kg')}, and its class from {moved}."
    )
    brings = given(lambda: is_now.brings) if is_now is not None else None
    if brings:
        says += f" That brings: {brings}."
    return by_law(place, about, holds(False, says, on=on))


def _counted(build: Build, place: Place) -> Verdict:
    """Whether `vehicle.weight_class`, by which other rules judge, is what the place calls the vehicle."""
    for one in place.classes.values():
        found = _masses(build, str(one.mass))[1]
        counts, stated = one.counts_as, build.vehicle.weight_class
        if not _in_class(one, found) or counts == "either":
            continue
        says = f"The spec calls the vehicle {stated}, and so does {place.name}."
        if counts != stated:
            says = (
                f"The spec calls the vehicle {stated}; at {shown(found, 'mass', 'kg')} {place.name} calls it {counts}."
            )
        return by_law(place, one, holds(counts == stated, says, on="vehicle.weight_class"))
    return does_not_apply(f"The sheet of {place.name} does not say what is light or heavy for this vehicle.")


# -- power and displacement -------------------------------------------------------------------------------------------
@quantity(
    "compliance.engine-power",
    "power",
    "kW",
    formula="P = the highest T·ω of the full-load curve",
    sources=[
        sources.POWER.giving("formula", "power from torque and speed"),
        sheet("engine.torque_curve").giving("formula", "full-load curve"),
    ],
)
def engine_power(build: Build) -> float:
    """Highest power of the new engine, as a place counts it."""
    return curves.product_maxima(gearing.torque_curve(build))[0][1]


def power_limits(build: Build) -> Iterator[Any]:
    """The limits on power and displacement of all places."""
    return each_asked(build, "power_limits")


@rule(
    "compliance.power-limit",
    level="error",
    due="plan",
    sources=[
        ASKED.giving("limit", "how many times the old engine's"),
        ASKED.giving("limit", "power for each kilogram"),
        ASKED.giving("limit", "as the largest engine offered"),
        ASKED.giving("limit", "least power for each kilogram of the gross rating"),
    ],
    cautions=CAUTIONS,
    about="engine.torque_curve",
    each=power_limits,
    bad=[
        {"build.places.state.power_limits.power.factor": 1.05, "vehicle.original.engine.largest_power": "92 kW"},
        {
            "build.places.state.power_limits.power.quantity": "displacement",
            "build.places.state.power_limits.power.factor": 1.1,
            "vehicle.original.engine.largest_displacement": "2.7 L",
        },
        {
            "build.places.state.power_limits.power.quantity": "least-power",
            "build.places.state.power_limits.power.least_per_gross": "40 W/kg",
        },
    ],
    good=[
        {"build.places.state.power_limits.power.factor": 1.05},
        {"build.places.state.power_limits.power.quantity": "displacement"},
        {
            "build.places.state.power_limits.power.factor": None,
            "build.places.state.power_limits.power.largest_option": None,
            "build.places.state.power_limits.power.per_mass": "60 W/kg",
        },
    ],
)
def power_limit(build: Build, limit: Any) -> Verdict:
    """Is the engine no stronger, no larger and no weaker than the place allows for this vehicle?

    Computes: the highest power of the torque curve, or the displacement, against the old engine's times a factor, a
    power for each kilogram of the empty vehicle, or the largest engine that the vehicle was offered with: of what the
    place's sheet names the highest. Some places name a least power for each kilogram of the gross rating.
    Limit: the place's. Where it does not bind, more is for the authority to approve, and a person must ask.
    Consequence: The vehicle is not approved with this engine, however well it is fitted.
    Remedy: an engine or a calibration within the limit; or the authority's approval, before the engine is bought.
    Cannot tell: power that is rated to another standard than the place counts by.
    """
    if is_place(limit):
        return ask_of(limit, "power_limits")
    place = place_of(build, limit)
    upto = given(lambda: limit.gross_upto)
    if upto is not None and build.vehicle.mass.gvwr > upto:
        return does_not_apply(f"{place.name} asks this of vehicles up to {shown(upto)} only.")
    if limit.quantity == "least-power":
        return all_of(least=lambda: _least(build, limit, place))
    return all_of(most=lambda: _most(build, limit, place))


def _least(build: Build, limit: PowerLimit, place: Place) -> Verdict:
    least, found = limit.least_per_gross * build.vehicle.mass.gvwr, engine_power(build)
    says = f"{place.name} asks {shown(limit.least_per_gross)} of the gross rating: {shown(least, 'power', 'kW')}."
    return by_law(place, limit, at_least(found, least, says, on="engine.torque_curve", unit=("power", "kW")))


def _most(build: Build, limit: PowerLimit, place: Place) -> Verdict:
    of_power = limit.quantity == "power"
    found = engine_power(build) if of_power else build.engine.displacement
    on = "engine.torque_curve" if of_power else "engine.displacement"
    allowed, whence = _allowed(build, limit, of_power, found)
    kind, unit = ("power", "kW") if of_power else ("volume", "L")
    says = f"The engine has {shown(found, kind, unit)}; {place.name} allows {shown(allowed, kind, unit)}, {whence}."
    verdict = at_most(found, allowed, says, on=on, unit=(kind, unit))
    if verdict.kind == "fail" and not limit.binding:
        verdict = needs_review(f"{says} More is for the authority to approve.", on=on, found=found)
    return by_law(place, limit, verdict)


def _allowed(build: Build, limit: PowerLimit, of_power: bool, found: float) -> tuple[float, str]:
    """The highest of the bounds that a limit names, or the first that is high enough; and where it is from."""
    old = build.vehicle.original
    bounds: list[Callable[[], tuple[float, str]]] = []
    factor, per_mass = given(lambda: limit.factor), given(lambda: limit.per_mass)
    if factor is not None:
        bounds.append(
            lambda: (
                factor * (old.power if of_power else old.engine.displacement),
                f"{factor:g} times the old engine's",
            )
        )
    if per_mass is not None and of_power:
        bounds.append(lambda: (per_mass * mass.empty(build), f"{shown(per_mass)} of the empty vehicle"))
    if given(lambda: limit.largest_option):
        bounds.append(
            lambda: (
                old.engine.largest_power if of_power else old.engine.largest_displacement,
                "as the largest engine that it was offered with",
            )
        )
    if not bounds:
        _ = limit.factor  # none is stated: this asks for one
    best = (0.0, "")
    for bound in bounds:
        best = max(best, bound())
        if best[0] >= found:
            break
    return best


# -- kind -------------------------------------------------------------------------------------------------------------
@rule(
    "compliance.engine-kind",
    level="error",
    due="plan",
    sources=[
        ASKED.giving("limit", "what must stay as it was"),
        ASKED.giving("limit", "whether a charger may be added", demands=["charger"]),
    ],
    cautions=CAUTIONS,
    about="engine.fuel_type",
    each=places,
    later={"other-energies": "quote"},
    bad=[
        {"build.places.state.engine_kind.kept": ["fuel"]},
        {
            "build.places.state.engine_kind.kept": ["fuel"],
            "vehicle.original.fuel_type": "diesel",
            "vehicle.other_energies": ["electric"],
        },
        {"build.places.state.engine_kind.kept": ["cylinders"], "vehicle.original.engine.cylinders": 6},
        {"build.places.state.engine_kind.kept": ["feed"]},
        {"build.places.state.engine_kind.charger_added": False},
    ],
    good=[
        {"build.places.state.engine_kind.kept": ["cylinders"]},
        {"build.places.state.engine_kind.charger_added": False, "vehicle.original.engine.charged": True},
    ],
)
def engine_kind(build: Build, place: Place) -> Verdict:
    """May the new engine burn another fuel, have other cylinders, another feed or a charger?

    Computes: nothing; both engines are compared in what the place wants kept.
    Limit: the place's, as its sheet states it.
    Consequence: The vehicle is not approved with this engine, or needs another approval, tax and insurance.
    Remedy: an engine of the kind that is allowed, or the authority's approval before the engine is bought.
    Cannot tell: what tax and insurance ask besides: tell both of the new fuel and power. Of a gas or electric drive
    it sees only that there is one: no rule judges its tank, battery or wiring.
    """
    fact = place.engine_kind
    kept = list(fact.kept)
    demands: dict[str, Callable[[], Verdict]] = {}
    if "fuel" in kept:
        demands["fuel"] = lambda: _kept(
            build, place, "engine.fuel_type", "fuel", build.engine.fuel_type, build.vehicle.original.fuel_type
        )
    if given(lambda: "fuel" in fact.kept):  # asked only of a place that is known
        demands["other-energies"] = lambda: _energies(build, place)
    if "cylinders" in kept:
        demands["cylinders"] = lambda: _kept(
            build,
            place,
            "engine.cylinders",
            "number of cylinders",
            f"{build.engine.cylinders:.0f}",
            f"{build.vehicle.original.engine.cylinders:.0f}",
        )
    if "feed" in kept:
        demands["feed"] = lambda: _kept(
            build,
            place,
            "engine.fuel.injection",
            "feed",
            build.engine.fuel.injection,
            build.vehicle.original.engine.injection,
        )
    return all_of(demands, charger=lambda: _charger(build, place))


def _energies(build: Build, place: Place) -> Verdict:
    added, on = [str(one) for one in build.vehicle.other_energies], "vehicle.other_energies"
    says = "It is driven by nothing besides."
    if added:
        says = f"It is driven by {' and '.join(added)} besides, which {place.name} does not take."
    return by_law(place, place.engine_kind, holds(not added, says, on=on))


def _kept(build: Build, place: Place, on: str, what: str, now: str, before: str) -> Verdict:
    says = f"The {what} stays as it was: {now}."
    if now != before:
        says = f"The {what} was {before} and becomes {now}, which {place.name} does not take."
    return by_law(place, place.engine_kind, holds(now == before, says, on=on))


def _charger(build: Build, place: Place) -> Verdict:
    fact, on = place.engine_kind, "engine.charged"
    if fact.charger_added:
        return asks_nothing(place, fact, "an added turbocharger or compressor")
    if not build.engine.charged:
        return by_law(place, fact, holds(True, "The engine has neither turbocharger nor compressor.", on=on))
    had = build.vehicle.original.engine.charged
    says = (
        "The old engine was charged, too."
        if had
        else f"The old engine was not charged, and {place.name} takes no added charger."
    )
    return by_law(place, fact, holds(had, says, on=on))


# -- identity ---------------------------------------------------------------------------------------------------------
@rule(
    "compliance.identity",
    level="warning",
    due="quote",  # which parts are kept is settled with the quote; the engine never counts
    changed={"0.2.0": "Its answer is owed from the quote on, no longer from the plan."},
    sources=[ASKED.giving("limit", "points for original parts")],
    cautions=CAUTIONS,
    about="build.replaced",
    each=places,
    bad=[
        {"build.replaced": ["axles", "transmission", "steering"]},
        {"build.alterations": ["body-structure"]},
    ],
    good=[
        {"build.replaced": ["axles", "transmission"]},
        {"build.places.state.identity.counted": False},
        {"build.alterations": ["body-structure"], "build.places.state.identity.altered_chassis_loses": False},
    ],
)
def identity(build: Build, place: Place) -> Verdict:
    """Does the vehicle keep its registration and number, or is it another vehicle to the authority?

    Computes: the points for the parts that are the vehicle's own still; the engine never counts, being another.
    Limit: the sum from which the place lets the registration stand; an altered chassis where that alone ends it.
    Consequence: The vehicle must be approved and registered anew, under the rules of today.
    Remedy: keep one more original part, of those with the most points; or plan for the approval.
    Cannot tell: what the authority takes as original, and places that count otherwise.
    """
    fact = place.identity
    if not fact.counted:
        return asks_nothing(place, fact, "the number of original parts")
    return all_of(points=lambda: _points(build, place), chassis=lambda: _chassis(build, place))


def _points(build: Build, place: Place) -> Verdict:
    fact = place.identity
    gone = {"engine", *(str(part) for part in build.build.replaced)}
    kept = [part for part in POINTED if part not in gone]
    found = sum(float(getattr(fact, part)) for part in kept)
    says = (
        f"Original are {', '.join(kept) or 'none of the counted parts'}: {found:.0f} points of {fact.keeps_from:.0f}."
    )
    return by_law(place, fact, at_least(found, fact.keeps_from, says, on="build.replaced"))


def _chassis(build: Build, place: Place) -> Verdict:
    fact = place.identity
    if not fact.altered_chassis_loses:
        return asks_nothing(place, fact, "an altered chassis beyond its points")
    altered = [part for part in build.build.alterations if part in ("frame", "body-structure")]
    says = "Neither frame nor body structure is altered."
    if altered:
        says = f"Altered: {' and '.join(part.replace('-', ' ') for part in altered)}. That ends the registration."
    return by_law(place, fact, holds(not altered, says, on="build.alterations"))


# -- distance ---------------------------------------------------------------------------------------------------------
CORRECTION = "driveline.speedometer.correction"


@quantity(
    "compliance.distance-ratio",
    formula="s1/s2 = (V1/V2)/reading then",
    symbols={"V1/V2": "gearing.speedometer-ratio", "reading then": "driveline.speedometer.calibrated_reading"},
    sources=[
        practice(
            "an odometer counts the turns that the speedometer is driven by, and does not show more on purpose"
        ).giving("formula")
    ],
)
def distance_ratio(build: Build) -> float:
    """Distance that the odometer shows over the true one after the swap."""
    return gearing.speedometer_ratio(build) / build.driveline.speedometer.calibrated_reading


@rule(
    "compliance.odometer",
    level="warning",
    due="build",
    sources=[ASKED.giving("limit", "error of the distance shown")],
    cautions=CAUTIONS,
    adjust=[CORRECTION],
    each=places,
    bad=[{CORRECTION: 1.06}],
    good=[{"build.places.state.odometer.error_max": "5 %"}],
)
def odometer(build: Build, place: Place) -> Verdict:
    """Is the distance that the odometer shows right enough for the place?

    Computes: distance shown over true distance, from the old and new axle ratio and tyre and the correction put in; the
    odometer is taken to be driven by what drives the speedometer.
    Limit: the place's, as its sheet states it.
    Consequence: The distance on a bill, a contract or a log book is wrong, and the vehicle may be refused.
    Remedy: the correction by gear, adapter or setting that the result names.
    Cannot tell: tachographs; an odometer with a drive of its own.
    """
    fact = place.odometer
    found, most = distance_ratio(build), fact.error_max
    right = build.driveline.speedometer.correction / found if found else None
    says = f"It shows {found * 100:.1f} % of the distance driven; {place.name} takes {most * 100:g} % to either side."
    verdict = within(found, 1.0 - most, 1.0 + most, says, on=CORRECTION, advice=advice(CORRECTION, right))
    return by_law(place, fact, verdict)
