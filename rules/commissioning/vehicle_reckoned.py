"""What was reckoned for the vehicle as a whole, at the conditions in which it was measured."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import Build, OutsideRange, Verdict, given, is_fitted, name_of, or_practice, path_of, shown
from swaplint.engineering import atmosphere
from swaplint.engineering import vacuum as formulas
from swaplint.engineering.statics import PointMass

from ..axle_loads import on_axles
from ..chassis import vacuum_quantities as vacuum
from ..fuel import quantities as fuel
from ..gearing import quantities as gearing
from ..ledger_masses import item_mass
from ..mass import quantities as mass
from .compared import Assumption, compare, of_field
from .trials import ROAD, VACUUM, WEIGHED

UNLISTED = 15.0
"""How much a ledger usually lacks or has too much of on an axle, kg: common practice, brackets, wiring, fluids."""
ITEMS = 5
"""How many entries of the ledger are looked at one by one: the heaviest."""
MASS_SHARE, KERB_SHARE, VOLUME_SHARE, PUMP_SHARE = 0.05, 0.01, 0.1, 0.15
SLIP = 0.05
"""What a torque converter that is not locked slips at a steady speed, as a share: common practice."""
RADIUS_SHARE, DRIVE_SHARE = 0.02, 0.01
"""How far masses, the kerb mass, volumes, pumps, rolling radii and the drive of a speedometer are usually off."""


def _kg(value: float) -> str:
    return shown(value, "mass", "kg", digits=3)


def _mm(value: float) -> str:
    return shown(value, "length", "mm", digits=3)


# -- weighbridge ------------------------------------------------------------------------------------------------------
def missing_fuel(build: Build) -> tuple[float, float]:
    """What was missing of a full tank when the vehicle was weighed, on front and rear, kg."""
    share = build.measured.weighing.fuel_share
    if share >= 1.0:
        return 0.0, 0.0
    fallback = fuel.DIESEL_DENSITY if fuel.is_diesel(build) else fuel.PETROL_DENSITY
    density = or_practice(lambda: build.plumbing.fuel.grade.density, fallback)
    missing = (1.0 - share) * build.plumbing.fuel.tank.capacity * density
    places = [item.x for item in build.vehicle.ledger.values() if item.part == "tank" and item_mass(build, item) >= 0.0]
    if not places:
        raise OutsideRange("the ledger does not say where the tank stands: weigh the vehicle with a full one")
    loads = on_axles(build, [PointMass(missing, places[0])])
    return loads.front, loads.rear


def _axle(build: Build, axle: str) -> Verdict:
    trial = build.measured.weighing

    def predicted(other: Build, end: str = axle) -> float:
        front, rear = missing_fuel(other)
        return mass.empty_axle(other, end) - (front if end == "front" else rear)  # type: ignore[arg-type]

    reckoned = predicted(build)
    heaviest = sorted(build.vehicle.ledger.values(), key=lambda item: -abs(item_mass(build, item)))[:ITEMS]
    assumptions = [
        Assumption(
            lambda extra: _unlisted(build, extra, axle, predicted),
            lambda extra: reckoned + extra,
            0.0,
            UNLISTED,
            (-2000.0, 2000.0),
            "the heaviest entries of the ledger that are only assumed, on a scale",
        ),
        *(
            of_field(
                build,
                f"{path_of(item)}.mass",
                predicted,
                lambda x, item=item: f"{name_of(item)} of {_kg(x)} in the ledger",  # type: ignore[misc]
                MASS_SHARE,
                f"{name_of(item)} on a scale",
            )
            for item in heaviest
        ),
        of_field(
            build,
            f"vehicle.mass.kerb_{axle}",
            predicted,
            lambda x: f"{_kg(x)} on that axle before the swap",
            KERB_SHARE,
            "how the vehicle was weighed before: with which fuel, load and people",
        ),
    ]
    when = f" for the empty vehicle with {shown(trial.fuel_share)} of its fuel"
    return compare(build, f"{WEIGHED}.{axle}", reckoned, assumptions, what=f"Load of the {axle} axle", when=when)


def _unlisted(build: Build, extra: float, axle: str, predicted: Callable[..., float]) -> str:
    """What the ledger lacks, and where it stands by what both axles show."""
    trial = build.measured.weighing
    other = given(lambda: trial.rear if axle == "front" else trial.front)
    what = f"{_kg(abs(extra))} {'more' if extra > 0.0 else 'less'} than the ledger has"
    if other is None:
        return what
    beyond = other - predicted(build, "rear" if axle == "front" else "front")
    total, on_rear = extra + beyond, beyond if axle == "front" else extra
    if abs(total) < UNLISTED:
        return f"{what} on that axle, as where something stands further along than it is listed"
    where = on_rear / total * build.vehicle.wheelbase
    return f"{what} on that axle: in all {_kg(abs(total))}, as if {_mm(where)} behind the front axle"


def front_axle(build: Build) -> Verdict:
    """Reading of the front axle."""
    return _axle(build, "front")


def rear_axle(build: Build) -> Verdict:
    """Reading of the rear axle."""
    return _axle(build, "rear")


# -- vacuum -----------------------------------------------------------------------------------------------------------
def vacuum_level(build: Build) -> Verdict:
    """Depression at idle."""
    altitude = build.measured.vacuum.altitude

    def predicted(other: Build) -> float:
        return formulas.available_depression(atmosphere.standard_pressure(altitude), vacuum.source_pressure(other))

    pump = f"{path_of(vacuum.pump(build))}.end_pressure" if build.plumbing.vacuum.supply == "pump" else ""
    settle = "the depression at the pump itself, its hose closed: what is lost beyond it is a leak or the hose"
    source = (
        of_field(
            build,
            pump,
            predicted,
            lambda x: f"a pump, or a leak in its hose, that leaves {shown(x, 'pressure', 'kPa', digits=2)} absolute",
            PUMP_SHARE,
            settle,
        )
        if pump
        else of_field(
            build,
            "engine.vacuum.depression_idle",
            predicted,
            lambda x: f"a manifold with {shown(x, 'pressure_difference', 'kPa', digits=2)} at idle",
            0.05,
            "the depression at the manifold, the hose closed",
        )
    )
    reckoned = predicted(build)
    when = f", {shown(altitude)} up"
    return compare(build, f"{VACUUM}.idle", reckoned, [source], what="Depression at idle", when=when)


def vacuum_recovery(build: Build) -> Verdict:
    """Time until the brake warning goes out."""
    altitude = build.measured.vacuum.altitude

    def predicted(other: Build) -> float:
        air = atmosphere.standard_pressure(altitude)
        return formulas.pump_down_time(
            vacuum.vacuum_volume(other),
            vacuum.pump(other).free_flow,
            air,
            air - other.vehicle.brakes.vacuum_warning,
            vacuum.source_pressure(other),
        )

    assumptions = [
        of_field(
            build,
            f"{path_of(vacuum.pump(build))}.free_flow",
            predicted,
            lambda x: f"a pump that draws {shown(x, 'volume_flow', 'L/min', digits=2)}, or a leak",
            PUMP_SHARE,
            "what is lost with the engine stopped: a tight system leaves the pump",
        ),
        of_field(
            build,
            "plumbing.vacuum.reservoir.volume",
            predicted,
            lambda x: f"a reservoir of {shown(x, 'volume', 'L', digits=2)}",
            VOLUME_SHARE,
            "the volume of the reservoir, with water",
        ),
        of_field(
            build,
            "vehicle.brakes.booster.volume",
            predicted,
            lambda x: f"a booster of {shown(x, 'volume', 'L', digits=2)}",
            VOLUME_SHARE,
            "the size of the booster's shell",
        ),
        of_field(
            build,
            "vehicle.brakes.vacuum_warning",
            predicted,
            lambda x: f"a warning that goes out at {shown(x, 'pressure_difference', 'kPa', digits=2)}",
            VOLUME_SHARE,
            "the depression at which the warning goes out",
        ),
    ]
    reckoned = predicted(build)
    when = f", {shown(altitude)} up"
    what = "Time until the brake warning goes out"
    return compare(build, f"{VACUUM}.recovery_time", reckoned, assumptions, what=what, when=when)


# -- road speed -------------------------------------------------------------------------------------------------------
def _tyre_field(build: Build) -> str:
    tyres = "driveline.tyres"
    measured = given(lambda: build.driveline.tyres.rolling_circumference)
    return f"{tyres}.overall_diameter" if measured is None else f"{tyres}.rolling_circumference"


def _tyres(build: Build, predicted: Callable[[Build], float]) -> Assumption | None:
    """That the tyres roll as far as they are stated to; the engine's speed at a true road speed tells."""
    trial = build.measured.road
    turning, path = given(lambda: trial.engine_speed), _tyre_field(build)

    def fact() -> float | None:
        if turning is None:
            return None
        stated = gearing.rolling_radius(build)
        rolls = trial.true_speed * gearing.top_ratio(build) / turning
        return float(_stated(build, path)) * rolls / stated

    return of_field(
        build,
        path,
        predicted,
        lambda x: f"tyres of {_mm(x)} {'circumference' if path.endswith('circumference') else 'diameter'}",
        RADIUS_SHARE,
        f"the engine speed at that road speed in top gear, into {ROAD}.engine_speed",
        fact=fact(),
    )


def _stated(build: Build, path: str) -> float:
    tyres = build.driveline.tyres
    return tyres.rolling_circumference if path.endswith("circumference") else tyres.overall_diameter


def speedometer(build: Build) -> Verdict:
    """What the speedometer shows."""
    trial = build.measured.road
    true = trial.true_speed

    def predicted(other: Build) -> float:
        return true * gearing.speedometer_ratio(other)

    reckoned = predicted(build)
    assumptions = [
        _tyres(build, predicted),
        Assumption(
            lambda x: (
                f"a drive of the speedometer that is {100.0 * abs(x - 1.0):.2g} % {'fast' if x > 1.0 else 'slow'}: its "
                "gear, adapter or sender"
            ),
            lambda x: reckoned * x,
            1.0,
            DRIVE_SHARE,
            (0.3, 3.0),
            "the turns of the speedometer's drive for one turn of the wheels",
        ),
    ]
    return compare(
        build, f"{ROAD}.indicated_speed", reckoned, assumptions, what="Speed shown", when=f" at a true {shown(true)}"
    )


def _slip(build: Build, reckoned: float) -> Assumption | None:
    """That a torque converter, where there is one, is locked or slips little at a steady speed."""
    if given(lambda: is_fitted(build.driveline.converter)) is not True:
        return None
    return Assumption(
        lambda x: f"a torque converter that slips by {shown(x, 'share', '%', digits=2)}",
        lambda x: reckoned * (1.0 + x),
        0.0,
        SLIP,
        (0.0, 0.5),
        "the speed of the gearbox's input, or the same run with the converter locked",
    )


def engine_speed(build: Build) -> Verdict:
    """Engine speed at a true road speed in top gear."""
    trial = build.measured.road
    true = trial.true_speed

    def predicted(other: Build) -> float:
        return true / gearing.rolling_radius(other) * gearing.top_ratio(other)

    path = _tyre_field(build)
    reckoned = predicted(build)
    ratio = gearing.top_ratio(build)
    assumptions = [
        of_field(
            build,
            path,
            predicted,
            lambda x: f"tyres of {_mm(x)} {'circumference' if path.endswith('circumference') else 'diameter'}",
            RADIUS_SHARE,
            "the distance rolled in ten turns of the wheel, laden",
        ),
        Assumption(
            lambda x: f"an overall ratio of {x:.3g}, as with another axle ratio or gear",
            lambda x: reckoned * x / ratio,
            ratio,
            0.002 * ratio,
            (0.2 * ratio, 5.0 * ratio),
            "the turns of the engine for one turn of the wheels, by hand",
        ),
        _slip(build, reckoned),
    ]
    return compare(
        build, f"{ROAD}.engine_speed", reckoned, assumptions, what="Engine speed", when=f" at a true {shown(true)}"
    )
