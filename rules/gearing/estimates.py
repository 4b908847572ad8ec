"""Estimates of the gearing system: what body, tape and sidewall tell of resistance, losses and tyres."""

from __future__ import annotations

from collections.abc import Mapping

from swaplint.api import Build, OutsideRange, book, is_fitted, quantity, regulation
from swaplint.engineering import road_load, tyres
from swaplint.spec.systems.gearing import Aero

from .. import sources
from . import places
from .chain import powered_axles
from .quantities import construction, tyre_diameter

AREA_STUDY = regulation(
    "US EPA, report on the reference frontal area of vehicles, November 1977, abstract", known="second-hand"
).giving("formula", "0.80 of height times width, cars of the 1970s, four in five within 0.09 m²")
DRAG_LIST = book("A list of drag coefficients and area factors by type of vehicle", known="second-hand")
DRAG_TABLE = book("A civil engineer's handbook, vehicle technology, drag by type of vehicle", known="second-hand")
REMEMBERED = book("Tables of drag and frontal area of upright bodies", known="from memory")
ROLLING_TABLE = book("An engineering table of rolling resistance, with the formula of a car tyre", known="second-hand")
DRIVELINE_DEFAULT = book("Default parameters of a national laboratory's vehicle simulation", known="second-hand")
PARTS_LOSS = book("Losses of transfer cases and universal joints", known="from memory")
OLD_SIZES = book("Tyre tables, full-profile sizes", known="from memory")

_CARS = ("saloon", "old-saloon", "sports")
_TABLED: Mapping[str, float] = {"saloon": 0.31, "sports": 0.34, "light-van": 0.425, "bus": 0.60}
"""Middles of 0.22-0.4, 0.28-0.4, 0.35-0.5 and 0.4-0.8."""
_LISTED: Mapping[str, float] = {"old-saloon": 0.39, "truck": 0.9}
"""Means of 0.34-0.50 and 0.6-1.0."""
_REMEMBERED: Mapping[str, float] = {"off-road": 0.525, "off-road-open": 0.65, "pick-up": 0.45}
"""Middles of 0.45-0.60, 0.55-0.75 and 0.40-0.50."""


def _of_body(build: Build, known: Mapping[str, float]) -> float:
    body = str(build.vehicle.aero.body)
    if body not in known:
        raise OutsideRange(f"nothing is known here of the shape {body}")
    return known[body]


def _box(aero: Aero) -> float:
    return float(aero.height * aero.width)


# -- air -------------------------------------------------------------------------------------------------------------
@quantity(
    "gearing.frontal-area-of-car",
    "area",
    "m2",
    formula="A = 0.80 · height · width",
    symbols={"height": "vehicle.aero.height", "width": "vehicle.aero.width"},
    sources=[AREA_STUDY],
    stands_in_for="vehicle.aero.frontal_area",
    tolerance=0.1,
    example={"vehicle.aero.body": "saloon"},
)
def frontal_area_of_car(build: Build) -> float:
    """Estimate the frontal area of a car from its height and width."""
    return _of_body(build, dict.fromkeys(_CARS, 0.80)) * _box(build.vehicle.aero)


@quantity(
    "gearing.frontal-area-of-truck",
    "area",
    "m2",
    formula="A = height · width",
    symbols={"height": "vehicle.aero.height", "width": "vehicle.aero.width"},
    sources=[DRAG_LIST.giving("formula", "1.00 of height times width for trucks")],
    stands_in_for="vehicle.aero.frontal_area",
    tolerance=0.16,
    example={"vehicle.aero.body": "truck"},
)
def frontal_area_of_truck(build: Build) -> float:
    """Estimate the frontal area of a truck from its height and width."""
    return _of_body(build, {"truck": 1.0}) * _box(build.vehicle.aero)


@quantity(
    "gearing.frontal-area-off-road",
    "area",
    "m2",
    formula="A = 0.865 · height · width, 0.83 to 0.90 of a boxy body with a gap under its floor",
    symbols={"height": "vehicle.aero.height", "width": "vehicle.aero.width"},
    sources=[REMEMBERED.giving("formula", "0.83 to 0.90 of height times width")],
    stands_in_for="vehicle.aero.frontal_area",
    tolerance=0.12,
    example={"vehicle.aero.body": "off-road"},
)
def frontal_area_off_road(build: Build) -> float:
    """Estimate the frontal area of an off-road body from its height and width."""
    return _of_body(build, {"off-road": 0.865, "off-road-open": 0.865}) * _box(build.vehicle.aero)


@quantity(
    "gearing.drag-by-body",
    formula="C_d of saloons 0.31, sports cars 0.34, light vans 0.425, buses 0.60: the middle of each range",
    sources=[DRAG_TABLE.giving("formula", "saloon 0.22-0.4, sports 0.28-0.4, light van 0.35-0.5, bus 0.4-0.8")],
    stands_in_for="vehicle.aero.drag_coefficient",
    tolerance=0.4,
    example={"vehicle.aero.body": "light-van"},
)
def drag_by_body(build: Build) -> float:
    """Estimate the drag coefficient by the shape of the body."""
    return _of_body(build, _TABLED)


@quantity(
    "gearing.drag-by-old-body",
    formula="C_d of saloons of the 1960s 0.39, trucks 0.9",
    sources=[DRAG_LIST.giving("formula", "saloons of the 1960s 0.34-0.50, trucks 0.6-1.0")],
    stands_in_for="vehicle.aero.drag_coefficient",
    tolerance=0.4,
    example={"vehicle.aero.body": "truck"},
)
def drag_by_old_body(build: Build) -> float:
    """Estimate the drag coefficient of an old saloon or a truck."""
    return _of_body(build, _LISTED)


@quantity(
    "gearing.drag-off-road",
    formula="C_d of upright off-road wagons 0.525, open ones 0.65, pick-ups 0.45: the middle of each range",
    sources=[REMEMBERED.giving("formula", "off-road wagon 0.45-0.60, open 0.55-0.75, pick-up 0.40-0.50")],
    stands_in_for="vehicle.aero.drag_coefficient",
    tolerance=0.4,
    example={"vehicle.aero.body": "off-road"},
)
def drag_off_road(build: Build) -> float:
    """Estimate the drag coefficient of an upright body or a pick-up."""
    return _of_body(build, _REMEMBERED)


# -- ground ----------------------------------------------------------------------------------------------------------
AT_SPEED = 80.0 / 3.6
"""Road speed, m/s, at which the tyres of a car are taken."""


@quantity(
    "gearing.rolling-by-pressure",
    formula="C_r = 0.005 + (0.01 + 0.0095·(v/100 km/h)²)/p at 80 km/h, p in bar, the mean of front and rear",
    sources=[ROLLING_TABLE.giving("formula", "car tyres on a hard road, by pressure and speed")],
    stands_in_for="vehicle.rolling_resistance.road",
    tolerance=0.4,
    example={"vehicle.aero.body": "saloon"},
)
def rolling_by_pressure(build: Build) -> float:
    """Estimate the rolling resistance of car tyres from their pressure."""
    if build.vehicle.aero.body in ("truck", "bus"):
        raise OutsideRange("the formula is one of car tyres")
    kept = build.driveline.tyres
    return road_load.car_tyre_coefficient(0.5 * (kept.pressure_front + kept.pressure_rear), AT_SPEED)


@quantity(
    "gearing.rolling-of-truck",
    formula="C_r = 0.008, of truck tyres on asphalt 0.006 to 0.010",
    sources=[ROLLING_TABLE.giving("formula", "truck tyres on asphalt 0.006 to 0.010")],
    stands_in_for="vehicle.rolling_resistance.road",
    tolerance=0.5,
    example={"vehicle.aero.body": "truck"},
)
def rolling_of_truck(build: Build) -> float:
    """Estimate the rolling resistance of truck tyres on a good road."""
    return _of_body(build, {"truck": 0.008, "bus": 0.008})


# -- losses ----------------------------------------------------------------------------------------------------------
@quantity(
    "gearing.light-driveline-efficiency",
    "share",
    "%",
    formula="η = 0.92 for gearbox and final drive, times 0.97 for a transfer case and 0.99² for joints",
    sources=[
        DRIVELINE_DEFAULT.giving("formula", "gearbox with final drive 0.92 (light vehicles)"),
        PARTS_LOSS.giving("formula", "transfer case 0.96 to 0.98, joints at less than 5° 0.99 each"),
    ],
    stands_in_for="driveline.drivetrain.efficiency",
    tolerance=0.08,
    example={"vehicle.aero.body": "off-road"},
)
def light_driveline_efficiency(build: Build) -> float:
    """Estimate the efficiency of a light vehicle's driveline from its parts."""
    if build.vehicle.aero.body in ("truck", "bus"):
        raise OutsideRange("the value is one of light vehicles")
    return 0.92 * 0.99**2 * (0.97 if is_fitted(build.driveline.transfer) else 1.0)


INCH = 0.0254
WIDEST_FULL_PROFILE = 8.0 * INCH


# -- tyres -----------------------------------------------------------------------------------------------------------
@quantity(
    "gearing.diameter-of-unmarked-profile",
    "length",
    "mm",
    formula="D = rim + 2 · 0.80 · width, of a radial size without an aspect ratio",
    sources=[
        book("A tyre page on sizes without an aspect ratio: 80 %", known="second-hand").giving(
            "formula", "80 % of the width"
        )
    ],
    stands_in_for="driveline.tyres.overall_diameter",
    tolerance=0.03,
    example={"driveline.tyres.designation": "195R14C"},
)
def diameter_of_unmarked_profile(build: Build) -> float:
    """Estimate the diameter of a tyre whose metric size has no aspect ratio."""
    size = tyres.read_designation(build.driveline.tyres.designation)
    if size.overall_diameter is not None or size.in_inches:
        raise OutsideRange("only a metric size without an aspect ratio is 80 % high")
    return size.rim_diameter + 2.0 * 0.80 * size.section_width


@quantity(
    "gearing.driven-share-of-all-axles",
    "share",
    "%",
    formula="all of it where the engine can drive every axle",
    sources=[sources.STATICS.giving("formula")],
    stands_in_for="driveline.drivetrain.driven_mass_share",
    tolerance=0.001,
)
def driven_share_of_all_axles(build: Build) -> float:
    """Estimate the driven share of the laden mass from which axles the engine drives."""
    if len(powered_axles(build)) < len(places.fitted_axles(build)):
        raise OutsideRange("an axle that nothing drives carries a part of it")
    return 1.0


@quantity(
    "gearing.diameter-of-full-profile",
    "length",
    "mm",
    formula="D = rim + 2.0 · width, of a full-profile size in inches, 1.95 to 2.05",
    sources=[OLD_SIZES.giving("formula", "rim and 1.95 to 2.05 times the width")],
    stands_in_for="driveline.tyres.overall_diameter",
    tolerance=0.04,
    example={"driveline.tyres.designation": "7.50R16"},
)
def diameter_of_full_profile(build: Build) -> float:
    """Estimate the diameter of a tyre whose size is in inches, width by rim."""
    size = tyres.read_designation(build.driveline.tyres.designation)
    rim = size.rim_diameter / INCH
    if size.overall_diameter is not None or not size.in_inches or abs(rim - round(rim)) > 1e-6:
        raise OutsideRange("only a size in inches without an aspect ratio, on a whole rim, is of full profile")
    if size.section_width > WIDEST_FULL_PROFILE:
        raise OutsideRange("wider tyres of trucks are higher than that")
    return size.rim_diameter + 2.0 * size.section_width


@quantity(
    "gearing.circumference-of-cross-ply",
    "length",
    "mm",
    formula="U = 3.01 · D, of a cross-ply tyre at 60 km/h, 2.99 to 3.03",
    symbols={"D": "gearing.tyre-diameter"},
    sources=[sources.TYRE_ROLLING.giving("formula", "2.99 to 3.03 diameters, cross-ply")],
    stands_in_for="driveline.tyres.rolling_circumference",
    tolerance=0.05,
    example={"driveline.tyres.construction": "diagonal"},
)
def circumference_of_cross_ply(build: Build) -> float:
    """Estimate how far a cross-ply tyre rolls in one turn from its diameter."""
    if construction(build) != "diagonal":
        raise OutsideRange("the factor is one of cross-ply tyres")
    return 3.01 * tyre_diameter(build)
