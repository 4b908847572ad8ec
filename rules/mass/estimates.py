"""Estimates of the mass system: height of the centre of gravity, mass of a gearbox, load on the driven wheels."""

from __future__ import annotations

from swaplint.api import Build, book, practice, quantity
from swaplint.engineering import statics
from swaplint.spec.systems.gearing import Axle

from .. import axle_loads, sources
from ..gearing import places
from ..gearing.chain import powered_axles

MOMENTS = practice("moments about the axle that stays down, as in any statics text")
GEARBOXES = book(
    "Gearboxes by the torque that they are rated for: manual 0.15 to 0.22 kg/(N·m), automatic 0.25 to 0.35",
    known="from memory",
)
WEIGHED = book("Spread of a driven share by scales of 10 kg and a load that is placed by eye", known="from memory")
MANUAL, AUTOMATIC = 0.185, 0.30
"""Mass for each newton metre of the rating, kg: the middles."""


@quantity(
    "mass.height-by-lifting",
    "length",
    "mm",
    formula="h = r + Δm·L/(m·tan θ), sin θ = lift/L; scales within 5 kg, angle within 0.3°, suspension blocked",
    symbols={
        "r": "vehicle.mass.lift_radius",
        "Δm": "vehicle.mass.lift_gain",
        "m": "vehicle.mass.lift_mass",
        "L": "vehicle.wheelbase",
    },
    sources=[MOMENTS.giving("formula")],
    stands_in_for="vehicle.mass.laden_height",
    tolerance=0.12,
)
def height_by_lifting(build: Build) -> float:
    """Estimate the height of the centre of gravity from a weighing with one axle lifted."""
    mass = build.vehicle.mass
    return statics.height_by_lifting(
        mass.lift_mass, mass.lift_gain, mass.lift, build.vehicle.wheelbase, mass.lift_radius
    )


@quantity(
    "mass.gearbox-by-rating",
    "mass",
    "kg",
    formula="m = 0.185 kg/(N·m) of the torque that it is rated for, of an automatic with its converter 0.30",
    symbols={"torque that it is rated for": "driveline.gearbox.input_torque_rating"},
    sources=[GEARBOXES.giving("formula", "0.185 kg/(N·m), of an automatic 0.30")],
    stands_in_for="driveline.gearbox.mass",
    tolerance=0.6,
)
def gearbox_by_rating(build: Build) -> float:
    """Estimate the mass of the gearbox from the torque that it is rated for."""
    gearbox = build.driveline.gearbox
    return gearbox.input_torque_rating * (AUTOMATIC if gearbox.kind == "automatic" else MANUAL)


@quantity(
    "mass.driven-share",
    "share",
    "%",
    formula="what stands on the driven axles over what stands on all, in the heaviest load case",
    sources=[
        sources.STATICS.giving("formula", "load of each axle"),
        WEIGHED.giving("formula", "that it is right within 5 % of the share"),
    ],
    stands_in_for="driveline.drivetrain.driven_mass_share",
    tolerance=0.05,
    example={
        "driveline.axles.front.driven": False,
        "driveline.axles.front.engaged": None,
        "driveline.shafts.front": {"fitted": False},
    },
)
def driven_share_by_load(build: Build) -> float:
    """Estimate the driven share of the laden mass from the weighed axles, the mass ledger and the load cases."""
    before = axle_loads.kerb(build) + axle_loads.change(build)
    loads = [before + axle_loads.load(build, case) for case in axle_loads.load_cases(build)]
    heaviest = max(loads, key=lambda each: each.front + each.rear)
    carried = {"front": heaviest.front, "rear": heaviest.rear}
    driven = sum(places.share_of(build, end, axle) * carried[end] for end, axle in _ends(build))
    return driven / (heaviest.front + heaviest.rear)


def _ends(build: Build) -> list[tuple[places.End, Axle]]:
    """The axles that the engine drives, each with the end of the vehicle that it carries."""
    return [(places.end_of(build, axle), axle) for axle in powered_axles(build)]
