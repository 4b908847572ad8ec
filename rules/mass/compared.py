"""The finished vehicle beside the vehicle as it was: what the owner will notice and an examiner will ask."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    cautions,
    informs,
    is_fitted,
    needs_review,
    practice,
    quantity,
    rule,
    shown,
    use_practice,
)
from swaplint.engineering import brakes, curves
from swaplint.engineering.guards import positive

from .. import sources
from ..fuel.tank_quantities import driving_range
from ..gearing import quantities as gearing
from . import quantities as q
from .words import kg

MORE_POWER = Practice(
    "power to mass changed by at most a fifth",
    0.20,
    practice(
        "a swap that changes power to mass by over a fifth goes before an engineer; some places draw the line there"
    ),
)
MORE_SPEED = Practice(
    "top speed raised by at most a tenth", 0.10, practice("brakes and tyres were approved for the speed that it had")
)
OTHER_AXLE_LOAD = Practice(
    "empty load of an axle changed by at most a tenth",
    0.10,
    practice("springs, dampers and brake balance are made for the axle loads that the vehicle had"),
)
LESS_RANGE = Practice("range cut by at most a quarter", 0.25, practice("who drives it plans by the range that it had"))


@quantity(
    "mass.power-to-mass",
    "specific_power",
    "kW/t",
    formula="P_max/m_empty, P_max the highest T·ω of the full-load curve",
    symbols={"m_empty": "mass.empty"},
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
)
def power_to_mass(build: Build) -> float:
    """Highest power of the engine over the mass of the finished vehicle, empty."""
    return curves.product_maxima(gearing.torque_curve(build))[0][1] / positive("empty mass", q.empty(build))


@quantity(
    "mass.power-to-mass-before",
    "specific_power",
    "kW/t",
    formula="P_old/m_kerb",
    symbols={
        "P_old": "vehicle.original.power",
    },
    sources=[sources.VEHICLE_DYNAMICS.giving("formula")],
)
def power_to_mass_before(build: Build) -> float:
    """Highest power of the old engine over the mass that the vehicle had before the swap, empty."""
    return build.vehicle.original.power / positive("kerb mass", q.kerb(build).total)


@rule(
    "mass.as-it-was",
    level="note",
    due="commission",
    sources=[
        sources.VEHICLE_DYNAMICS.giving("formula", "highest speed on the level"),
        sources.BRAKE_DESIGN.giving("formula", "energy of a stop"),
    ],
    fallbacks=[MORE_POWER, MORE_SPEED, OTHER_AXLE_LOAD, LESS_RANGE],
    cautions=[cautions.LAW],
    about="vehicle.original",
    bad=[{"vehicle.original.power": "50 kW"}, {"vehicle.original.range": "900 km"}],
    good=[{"vehicle.original.power": "80 kW"}],
    bad_ends="review",
)
def as_it_was(build: Build) -> Verdict:
    """How does the finished vehicle compare with the vehicle as it was, and is any change large?

    Computes: power to mass, top speed, empty load of each axle, range, and the energy of a stop from top speed at the
    gross rating, before and after the swap.
    Limit: none: the numbers are information. A change beyond common practice goes to a person: a fifth of power to
    mass, a tenth of top speed or of an axle's load, a quarter less range. Brake energy: see chassis.brake-duty.
    Consequence: Brakes, tyres or papers no longer suit a vehicle that is faster, heavier or thirstier.
    Remedy: take the numbers to whoever examines the vehicle; a speed limiter, springs or brakes to suit the change.
    Cannot tell: what the place of registration allows; whether the figures of the old vehicle were ever true.
    """
    return all_of(
        power_to_mass=lambda: _power(build),
        top_speed=lambda: _speed(build),
        front_axle=lambda: _axle(build, "front"),
        rear_axle=lambda: _axle(build, "rear"),
        range=lambda: _range(build),
        brake_energy=lambda: _energy(build),
    )


def _told(
    build: Build, says: str, found: float, change: float, practice: Practice, *, both_ways: bool, on: str
) -> Verdict:
    """The numbers; for a person where the change, relative and positive for more, is beyond the practice."""
    size = abs(change) if both_ways else change
    if size > practice.value:
        use_practice(build, practice)
        return needs_review(f"{says} Have it looked at by whoever will examine the vehicle.", found=found, on=on)
    return informs(says, found=found, on=on)


def _by(change: float) -> str:
    return f"{shown(abs(change), 'share', '%', digits=2)} {'more' if change >= 0.0 else 'less'}"


def _power(build: Build) -> Verdict:
    now, before = power_to_mass(build), power_to_mass_before(build)
    change = now / positive("what it was before", before) - 1.0
    says = f"Power to mass is {shown(now, digits=3)}; it was {shown(before, digits=3)}: {_by(change)}."
    return _told(build, says, now, change, MORE_POWER, both_ways=True, on="vehicle.original.power")


def _reachable(build: Build) -> float:
    limiter, most = build.driveline.speed_limiter, gearing.top_speed(build)
    return min(most, limiter.speed) if is_fitted(limiter) else most


def _speed(build: Build) -> Verdict:
    now, before = _reachable(build), build.vehicle.original.top_speed
    change = now / positive("what it was before", before) - 1.0
    reach = shown(now, "speed", "km/h", digits=3)
    says = f"It can reach {reach} on the level; before it was {shown(before)}: {_by(change)}."
    return _told(build, says, now, change, MORE_SPEED, both_ways=False, on="vehicle.original.top_speed")


def _axle(build: Build, end: q.Axle) -> Verdict:
    now, before = q.empty_axle(build, end), q.kerb_on(build, end)
    change = now / positive("what it was before", before) - 1.0
    says = f"Empty the {end} axle carries {kg(now)}; before it was {kg(before)}: {_by(change)}."
    return _told(build, says, now, change, OTHER_AXLE_LOAD, both_ways=True, on=f"vehicle.mass.kerb_{end}")


def _range(build: Build) -> Verdict:
    now, before = driving_range(build), build.vehicle.original.range
    change = now / positive("what it was before", before) - 1.0
    says = f"A tank lasts {shown(now, digits=3)}; before it was {shown(before)}: {_by(change)}."
    return _told(build, says, now, -change, LESS_RANGE, both_ways=False, on="vehicle.original.range")


def _energy(build: Build) -> Verdict:
    old = build.vehicle.original
    change = brakes.energy_ratio(build.vehicle.mass.gvwr, _reachable(build), old.gvwr, old.top_speed) - 1.0
    says = f"A stop from top speed at the gross rating takes {_by(change)} energy than before."
    return informs(says, found=1.0 + change, on="vehicle.original.gvwr")
