"""Derived numbers of the mass system. All that follow from weighed masses are smooth functions of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from swaplint.api import Build, OutsideRange, Practice, given, is_fitted, once, or_practice, practice, quantity
from swaplint.engineering import statics, tyres
from swaplint.engineering.statics import AxleLoads, PointMass
from swaplint.spec.systems.mass import AxleSprings, LoadCase

from .. import sources
from ..axle_loads import change, load, nose
from ..axle_loads import kerb as kerb
from ..axle_loads import kerb_on as kerb_on
from ..axle_loads import load_cases as load_cases
from ..axle_loads import nose_load as nose_load
from ..axle_loads import was_out as was_out
from ..gearing import places
from ..gearing.fitted_tyres import tyres_at
from ..ledger_masses import item_mass

Axle = places.End
"""`front` or `rear`: the axle there, or the group of axles."""

EVEN_BEFORE = Practice(
    "half of the kerb mass on the left wheels before the swap",
    0.5,
    practice("a vehicle as built stands about evenly on its sides; only four wheel scales tell"),
)

WEIGHED_WHOLE = {
    "vehicle.ledger.*.out_when_weighed": "The kerb mass is that of the vehicle with all its old parts in, so that only "
    "what the ledger marks was out."
}
"""Why a rule may do without what a vehicle was weighed without."""

FULL_PRESSURE = Practice(
    "tyres kept at the pressure that their load index is stated for",
    1.0,
    practice("nobody says what the tyres are kept at, so they are taken as fully pumped up"),
)


# -- the vehicle and what it carries --------------------------------------------------------------------------------
def axles(build: Build) -> Sequence[Axle]:
    """Both ends: the axle, or the group of axles, in front and behind."""
    del build
    return ("front", "rear")


def axles_by_case(build: Build) -> list[tuple[LoadCase, Axle]]:
    """Each axle in each load case."""
    return [(case, axle) for case in load_cases(build) for axle in axles(build)]


def of_axle(axle: Axle, front: float, rear: float) -> float:
    """The one of two numbers that belongs to an axle."""
    return front if axle == "front" else rear


def grouped_axles_by_case(build: Build) -> list[tuple[LoadCase, Any]]:
    """Each axle that shares its end with others, in each load case."""
    ends = [places.axles_at(build, end) for end in axles(build)]
    grouped = [axle for group in ends if len(group) > 1 for axle in group]
    return [(case, axle) for case in load_cases(build) for axle in grouped] if grouped else []


# -- masses on the axles --------------------------------------------------------------------------------------------
@quantity(
    "mass.axle-change",
    "mass",
    "kg",
    formula="ΔR = Σ m·x/L on the rear, ΔF = Σ m − ΔR on the front axle, over the ledger",
    sources=[sources.STATICS.giving("formula")],
    each=axles,
)
def axle_change(build: Build, axle: Axle) -> float:
    """What the swap adds to an axle."""
    loads = change(build)
    return of_axle(axle, loads.front, loads.rear)


@quantity(
    "mass.empty-axle",
    "mass",
    "kg",
    formula="mass at the kerb before the swap + mass.axle-change",
    sources=[sources.STATICS.giving("formula")],
    each=axles,
    without=WEIGHED_WHOLE,
)
def empty_axle(build: Build, axle: Axle) -> float:
    """What an axle carries after the swap: tank full, nobody in it, nothing loaded."""
    return kerb_on(build, axle) + axle_change(build, axle)


@quantity(
    "mass.empty",
    "mass",
    "kg",
    formula="m = F_kerb + R_kerb + Σ m over the ledger, what was out when the vehicle was weighed apart",
    sources=[sources.STATICS.giving("formula")],
    without=WEIGHED_WHOLE,
)
def empty(build: Build) -> float:
    """Mass of the vehicle after the swap: tank full, nobody in it, nothing loaded.

    Where a thing stands does not matter for that, so that no place is asked for.
    """
    weighed, items = build.vehicle.mass, build.vehicle.ledger.values()
    return weighed.kerb_front + weighed.kerb_rear + sum(item_mass(build, item) for item in items if not was_out(item))


@quantity(
    "mass.payload",
    "mass",
    "kg",
    formula="gross rating − mass.empty",
    symbols={"gross rating": "vehicle.mass.gvwr"},
    sources=[sources.STATICS.giving("formula")],
)
def payload(build: Build) -> float:
    """What the finished vehicle may carry, people and nose load included."""
    return build.vehicle.mass.gvwr - empty(build)


@quantity(
    "mass.axle-load",
    "mass",
    "kg",
    formula="mass.empty-axle + Σ m·x/L (rear), or + Σ m·(1 − x/L) (front), over the load; "
    "a nose load acts at L + overhang",
    sources=[
        sources.STATICS.giving("formula", "a load split over the axles by its place"),
        sources.VEHICLE_DYNAMICS.giving("formula", "nose load behind the axle"),
    ],
    each=axles_by_case,
)
def axle_load(build: Build, case: LoadCase, axle: Axle) -> float:
    """What an axle carries in a load case, on level ground."""
    loads = load(build, case)
    return empty_axle(build, axle) + of_axle(axle, loads.front, loads.rear)


@quantity(
    "mass.grouped-axle-load",
    "mass",
    "kg",
    formula="mass.axle-load of the group · the axle's share in it",
    sources=[sources.STATICS.giving("formula")],
    each=grouped_axles_by_case,
)
def grouped_axle_load(build: Build, case: LoadCase, axle: Any) -> float:
    """What one axle of a group carries in a load case."""
    end = places.end_of(build, axle)
    return axle_load(build, case, end) * places.share_of(build, end, axle)


@quantity(
    "mass.end-rating",
    "mass",
    "kg",
    formula="the rating of the front or rear, at most the sum of the ratings that its axles have of their own",
    sources=[sources.STATICS.giving("formula")],
    each=axles,
    instead={"driveline.axles.*.rating": ("vehicle.mass.gawr_front", "vehicle.mass.gawr_rear")},
)
def end_rating(build: Build, axle: Axle) -> float:
    """What the axle, or the group of axles, in front or behind may carry."""
    return places.end_rating(build, axle)


@quantity(
    "mass.laden",
    "mass",
    "kg",
    formula="mass.empty + Σ m over the load, nose load included",
    sources=[sources.STATICS.giving("formula")],
    each=load_cases,
)
def laden(build: Build, case: LoadCase) -> float:
    """Mass that stands on the vehicle's wheels in a load case."""
    return empty(build) + sum(item.mass for item in case.items.values()) + nose_load(build, case)


@quantity(
    "mass.combination",
    "mass",
    "kg",
    formula="mass.laden − nose load + trailer",
    symbols={
        "nose load": "vehicle.load_cases.*.nose_load",
        "trailer": "vehicle.load_cases.*.trailer_mass",
    },
    sources=[sources.STATICS.giving("formula")],
    each=load_cases,
)
def combination(build: Build, case: LoadCase) -> float:
    """Mass of vehicle and trailer together in a load case."""
    if not is_fitted(build.vehicle.towbar):
        return laden(build, case)
    return laden(build, case) - nose_load(build, case) + case.trailer_mass


@quantity(
    "mass.front-share",
    "share",
    "%",
    formula="F/(F + R)",
    sources=[sources.STATICS.giving("formula")],
    each=load_cases,
)
def front_share(build: Build, case: LoadCase) -> float:
    """Share of the laden mass that stands on the front axle, which steers."""
    return AxleLoads(axle_load(build, case, "front"), axle_load(build, case, "rear")).front_share


# -- sides ------------------------------------------------------------------------------------------------------------
@once
def _unladen(build: Build, axle: Axle) -> tuple[PointMass, ...]:
    """What stands on an axle in every load case, counted from where the front carries."""
    vehicle, start = build.vehicle, places.middle_of(build, "front")
    off_centre = or_practice(lambda: vehicle.mass.kerb_left_share, EVEN_BEFORE) - 0.5
    if axle == "front":
        weighed = PointMass(vehicle.mass.kerb_front, 0.0, off_centre * vehicle.track_front)
    else:
        weighed = PointMass(vehicle.mass.kerb_rear, places.load_base(build), off_centre * vehicle.track_rear)
    placed = [PointMass(item_mass(build, i), i.x - start, i.y) for i in vehicle.ledger.values() if not was_out(i)]
    return (weighed, *placed)


@once
def sides(build: Build, case: LoadCase, axle: Axle) -> tuple[float, float]:
    """What stands under the left and the right wheel of an axle, or pair of twin wheels.

    What the vehicle weighed on one axle puts nothing on the other, so that each needs its own weight and track alone.
    """
    vehicle, start = build.vehicle, places.middle_of(build, "front")
    behind = nose(build, case)
    masses = [
        *_unladen(build, axle),
        *(PointMass(item.mass, item.x - start, item.y) for item in case.items.values()),
        PointMass(behind.mass, behind.x - start),
    ]
    track = vehicle.track_front if axle == "front" else vehicle.track_rear
    return statics.sides_of_axle(masses, places.load_base(build), track, rear=axle == "rear")


@quantity(
    "mass.side-difference",
    "share",
    "%",
    formula="(left − right)/(left + right) on the axle, left − right = 2·M/track, M = Σ m·y split between the axles "
    "by x/L",
    sources=[sources.STATICS.giving("formula")],
    each=axles_by_case,
)
def side_difference(build: Build, case: LoadCase, axle: Axle) -> float:
    """What the left side of an axle carries more than the right; negative where the right side carries more."""
    return statics.side_excess(*sides(build, case, axle))


# -- springs ----------------------------------------------------------------------------------------------------------
def springs_of(build: Build, axle: Axle) -> AxleSprings:
    """The springs of an axle."""
    return build.vehicle.suspension.front if axle == "front" else build.vehicle.suspension.rear


@quantity(
    "mass.sink",
    "length",
    "mm",
    formula="Δz = ΔF·g/(2·k) with mass.axle-change and the rate k of one side at the wheel; in a group each axle its "
    "even part",
    sources=[sources.SPRINGS.giving("formula")],
    each=axles,
)
def sink(build: Build, axle: Axle) -> float:
    """How far the swap lowers an axle, empty; negative where it rises."""
    return statics.spring_deflection(
        axle_change(build, axle) / places.count_at(build, axle), springs_of(build, axle).rate
    )


@quantity(
    "mass.bump-travel-before",
    "length",
    "mm",
    formula="bump clearance at the kerb − load·g/(2·k)",
    sources=[sources.SPRINGS.giving("formula")],
    each=axles_by_case,
)
def bump_travel_before(build: Build, case: LoadCase, axle: Axle) -> float:
    """Bump travel that is left with the same load before the swap."""
    loads, springs = load(build, case), springs_of(build, axle)
    added = of_axle(axle, loads.front, loads.rear) / places.count_at(build, axle)
    return springs.bump_clearance - statics.spring_deflection(added, springs.rate)


@quantity(
    "mass.bump-travel",
    "length",
    "mm",
    formula="mass.bump-travel-before − mass.sink",
    sources=[sources.SPRINGS.giving("formula")],
    each=axles_by_case,
)
def bump_travel(build: Build, case: LoadCase, axle: Axle) -> float:
    """Bump travel that is left in a load case after the swap."""
    return bump_travel_before(build, case, axle) - sink(build, axle)


# -- tyres ------------------------------------------------------------------------------------------------------------
def tyre_counts(build: Build, end: Axle) -> list[int]:
    """Number of tyres on each axle of an end, foremost first."""
    return [tyre_count(build, end, axle) for axle in places.axles_at(build, end) or [None]]


def tyre_count(build: Build, end: Axle, axle: Any = None) -> int:
    """Number of tyres on an axle: two, or four where they are twins; as stated for it, or for all axles of its end."""
    fitted = build.driveline.tyres
    own = None if axle is None else given(lambda: axle.tyre_count)
    if own is None:
        own = fitted.count_front if end == "front" else fitted.count_rear
    count = int(own)
    if count not in (2, 4):
        raise OutsideRange(f"an axle has two tyres, or four where they are twins, not {count}")
    return count


def load_index(build: Build, end: Axle, *, twins: bool) -> int:
    """Load index of the tyres in front or behind, as stated or from the designation on the sidewall."""
    fitted = tyres_at(build, end)
    stated = given(lambda: fitted.load_index_dual if twins else fitted.load_index_single)
    if stated is None:
        designation = given(lambda: fitted.designation)
        marked = tyres.read_designation(designation) if designation is not None else None
        if marked is not None:
            stated = marked.load_index_dual if twins else marked.load_index_single
    if stated is None:
        stated = fitted.load_index_dual if twins else fitted.load_index_single
    return int(stated)


def pressure_share(build: Build, axle: Axle) -> float:
    """Share of their load capacity that the tyres of an axle keep at the pressure stated."""
    fitted = build.driveline.tyres

    def pressure() -> float:
        return fitted.pressure_front if axle == "front" else fitted.pressure_rear

    if given(pressure) is None:
        return or_practice(pressure, FULL_PRESSURE)
    return tyres.share_at_pressure(pressure(), tyres_at(build, axle).reference_pressure)


def most_at_half(build: Build, axle: Axle) -> float:
    """What the tyres of an axle carry at half of their reference pressure, where the tables of loads end."""
    share = tyres.share_at_pressure(0.5, 1.0)
    return share * sum(
        count * tyres.load_capacity(load_index(build, axle, twins=count == 4)) for count in tyre_counts(build, axle)
    )


@quantity(
    "mass.tyre-capacity",
    "mass",
    "kg",
    formula="number of tyres · mass of the load index, times (p/p_ref)^0.8 where a lower pressure is stated",
    sources=[
        sources.TYRE_MARKINGS.giving("formula", "mass of each load index"),
        sources.TYRE_PRESSURE.giving("formula", "load over pressure, to the power 0.8"),
    ],
    each=axles,
)
def tyre_capacity(build: Build, axle: Axle) -> float:
    """What the tyres of an axle, or of a group of axles, carry together."""
    return sum(tyres_carry(build, axle, count) for count in tyre_counts(build, axle))


def tyres_carry(build: Build, end: Axle, count: int) -> float:
    """What the tyres of one axle carry: two, or four as twins."""
    capacity = tyres.load_capacity(load_index(build, end, twins=count == 4))
    return count * capacity * pressure_share(build, end)
