"""What stands on the axles, before the swap, after it and in each load case: for every pack that asks for loads."""

from __future__ import annotations

from collections.abc import Iterable

from swaplint.api import Build, given, is_fitted, once
from swaplint.engineering import statics
from swaplint.engineering.statics import AxleLoads, PointMass
from swaplint.spec.systems.mass import LedgerItem, LoadCase

from .gearing import places
from .ledger_masses import item_mass


def load_cases(build: Build) -> list[LoadCase]:
    """The ways in which the vehicle is loaded."""
    return list(build.vehicle.load_cases.values())


def on_axles(build: Build, masses: Iterable[PointMass]) -> AxleLoads:
    """What masses put on front and rear, their places counted from the foremost axle."""
    start = places.middle_of(build, "front")
    moved = [PointMass(item.mass, item.x - start, item.y) for item in masses] if start else masses
    return statics.axle_loads(moved, places.load_base(build))


def was_out(item: LedgerItem) -> bool:
    """Whether the vehicle was weighed without an old part. Unless the ledger says so it was weighed whole."""
    return given(lambda: item.out_when_weighed) is True


@once
def kerb_on(build: Build, end: places.End) -> float:
    """What the front or rear carried before the swap, kg: as weighed, and what was out already when it was."""
    vehicle = build.vehicle.mass
    weighed = vehicle.kerb_front if end == "front" else vehicle.kerb_rear
    items = given(lambda: build.vehicle.ledger) or {}
    missing = [PointMass(-item_mass(build, item), item.x) for item in items.values() if was_out(item)]
    return weighed + at_end(on_axles(build, missing), end) if missing else weighed


def kerb(build: Build) -> AxleLoads:
    """The vehicle before the swap on both its axles."""
    return AxleLoads(kerb_on(build, "front"), kerb_on(build, "rear"))


def at_end(loads: AxleLoads, end: places.End) -> float:
    """The load of the front or of the rear, kg."""
    return loads.front if end == "front" else loads.rear


@once
def change(build: Build) -> AxleLoads:
    """What the swap adds to each axle."""
    return on_axles(build, [PointMass(item_mass(build, item), item.x) for item in build.vehicle.ledger.values()])


def nose_load(build: Build, case: LoadCase) -> float:
    """What a trailer rests on the towbar. Where that is nothing, nobody asks for the towbar."""
    if given(lambda: case.nose_load) == 0.0:
        return 0.0
    return case.nose_load if is_fitted(build.vehicle.towbar) else 0.0


def nose(build: Build, case: LoadCase) -> PointMass:
    """The nose load where it acts."""
    mass = nose_load(build, case)
    if mass == 0.0:
        return PointMass(0.0, 0.0)
    return PointMass(mass, _rearmost(build) + build.vehicle.towbar.overhang)


def _rearmost(build: Build) -> float:
    group = places.axles_at(build, "rear")
    return build.vehicle.wheelbase if len(group) < 2 else float(group[-1].x)


@once
def load(build: Build, case: LoadCase) -> AxleLoads:
    """What the load adds to each axle."""
    masses = [PointMass(item.mass, item.x) for item in case.items.values()]
    return on_axles(build, [*masses, nose(build, case)])


def heaviest(build: Build, end: places.End) -> float:
    """The most that the front or rear carries in any load case, kg."""
    empty = kerb_on(build, end) + at_end(change(build), end)
    return max(empty + at_end(load(build, case), end) for case in load_cases(build))
