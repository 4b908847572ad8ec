"""Derived numbers of the fuel tank: what slopes, air and heat make of it."""

from __future__ import annotations

from swaplint.api import (
    Build,
    ImpossibleInput,
    Practice,
    given,
    is_fitted,
    once,
    or_practice,
    practice,
    quantity,
    sheet,
    shown,
    use_practice,
)
from swaplint.engineering import gas_flow, liquids, tanks
from swaplint.spec.systems.fuel.tank_place import PlacedTank

from .. import sources
from ..places import hottest_of_all
from ..slopes import WITHOUT, steepest_along
from .quantities import COLD, WARM, density, is_diesel

HEAT_CAPACITY = 2000.0
"""Specific heat capacity of diesel fuel and petrol, J/(kg K): 1.9 to 2.1 near 40 °C (Incropera, from memory)."""
RETURN_RISE = Practice(
    "return fuel 30 K hotter than the supply (25 to 40 K)",
    30.0,
    practice("heating of the return of a common rail"),
    between=(25.0, 40.0),
)
SUMMER_PETROL = Practice(
    "petrol with a vapour pressure of 60 kPa at 37.8 °C (45 to 70, by season and place)",
    60e3,
    sources.PETROL_SEASONS,
    between=(45e3, 70e3),
)
WARM_TANK = practice("fuel of at most 60 °C at the engine and in a plastic tank")
HOT_FUEL = Practice("fuel of at most 60 °C at the engine's inlet", 333.15, WARM_TANK)
AIR_STILL = Practice(
    "tank gives off 10 W/(m² K) to still air (8 to 12)",
    10.0,
    practice("heat given off by a tank, standing"),
    between=(8.0, 12.0),
)
AIR_MOVING = Practice(
    "tank gives off 25 W/(m² K) to moving air (20 to 30)",
    25.0,
    practice("heat given off by a tank, driving"),
    between=(20.0, 30.0),
)


MEASURED_OUTSIDE = 1.02
"""What a tank may be stated to hold over length · width · height: a tape measure's error."""


# -- the tank ---------------------------------------------------------------------------------------------------------
def tank_box(build: Build) -> tanks.BoxTank:
    """The tank as a box. Raises `ImpossibleInput` where it is stated to hold more than its size."""
    tank = build.plumbing.fuel.tank
    inside, holds = tank.length * tank.width * tank.height, given(lambda: tank.capacity)
    if holds is not None and holds > MEASURED_OUTSIDE * inside:
        size = " x ".join(shown(side, "length", "mm") for side in (tank.length, tank.width, tank.height))
        held = shown(inside, "volume", "L", digits=3)
        raise ImpossibleInput(f"the tank of {size} is stated to hold {shown(holds, 'volume', 'L')}; a box holds {held}")
    return tanks.BoxTank(tank.length, tank.width, tank.height)


@quantity(
    "fuel.unusable",
    "volume",
    "L",
    formula="V = pick-up height · length · width",
    symbols={
        "pick-up height": "plumbing.fuel.tank.pickup_height",
        "length": "plumbing.fuel.tank.length",
        "width": "plumbing.fuel.tank.width",
    },
    sources=[sources.TANK_GEOMETRY.giving("formula")],
)
def unusable(build: Build) -> float:
    """Fuel that the pick-up cannot reach on the level."""
    return tanks.unusable_volume(tank_box(build), build.plumbing.fuel.tank.pickup_height)


@quantity(
    "fuel.covering-volume",
    "volume",
    "L",
    formula="volume under a plane surface through the pick-up, the worst of all tilts up to the steepest, both ways, "
    "lengthwise (tilt, climb, start or descent) and sideways together; a box without baffles",
    sources=[sources.TANK_GEOMETRY.giving("formula")],
    without=WITHOUT,
)
def covering_volume(build: Build) -> float:
    """Fuel that must be aboard for the pick-up to stay covered on the steepest working slopes."""
    tank = build.plumbing.fuel.tank
    mouth = tanks.PickUp(tank.pickup_height, tank.pickup_x, tank.pickup_y)
    return tanks.worst_covering_volume(tank_box(build), mouth, steepest_along(build), build.build.design.tilt_side)


@once
def centred_covering_volume(build: Build) -> float:
    """The same with the pick-up in the middle of the tank."""
    tank = build.plumbing.fuel.tank
    return tanks.worst_covering_volume(
        tank_box(build), tanks.PickUp(tank.pickup_height), steepest_along(build), build.build.design.tilt_side
    )


@quantity(
    "fuel.covering-share",
    "share",
    "%",
    formula="fuel.covering-volume/tank capacity",
    symbols={"tank capacity": "plumbing.fuel.tank.capacity"},
    sources=[sources.TANK_GEOMETRY.giving("formula")],
)
def covering_share(build: Build) -> float:
    """Share of a full tank that must be aboard for the pick-up to stay covered on slopes."""
    return covering_volume(build) / build.plumbing.fuel.tank.capacity


def lost_to_filling(tank: PlacedTank) -> float:
    """What foam or a bladder takes of a tank's volume and keeps of its fuel, m³; 0 where the spec speaks of none."""
    if given(lambda: is_fitted(tank.filling)) is not True:
        return 0.0
    left = tank.capacity * (1.0 - tank.filling.displaced)
    return tank.capacity - left * (1.0 - tank.filling.held_back)


@quantity(
    "fuel.usable",
    "volume",
    "L",
    formula="tank capacity - what foam or a bladder takes and holds back - the greater of fuel.unusable and "
    "fuel.covering-volume, which holds the unusable fuel too; plus what a second tank gives",
    sources=[sources.TANK_GEOMETRY.giving("formula")],
)
def usable(build: Build) -> float:
    """Fuel that can be burnt before air may reach the pick-up on a slope."""
    tank = build.plumbing.fuel.tank
    main = tank.capacity - lost_to_filling(tank) - max(unusable(build), covering_volume(build))
    return max(0.0, main) + _second(build)


def _second(build: Build) -> float:
    """Fuel that a second tank gives, m³; 0 where the spec speaks of none."""
    tank = build.plumbing.fuel.second_tank
    if given(lambda: is_fitted(tank)) is not True:
        return 0.0
    holds = given(lambda: tank.capacity)
    if holds is not None and tank.reachable > holds:
        raise ImpossibleInput("more of the second tank can be reached than it holds")
    return max(0.0, tank.reachable - lost_to_filling(tank))


@quantity(
    "fuel.range",
    "length",
    "km",
    formula="usable fuel/consumption",
    symbols={"usable fuel": "fuel.usable", "consumption": "plumbing.fuel.consumption"},
    sources=[practice("range of a tank").giving("formula")],
)
def driving_range(build: Build) -> float:
    """Distance that the usable fuel lasts."""
    return usable(build) / build.plumbing.fuel.consumption


@quantity(
    "fuel.standing-time",
    "duration",
    "h",
    formula="usable fuel/burn",
    symbols={"usable fuel": "fuel.usable", "burn": "plumbing.fuel.stationary_burn"},
    sources=[practice("range of a tank").giving("formula")],
)
def standing_time(build: Build) -> float:
    """Time that the usable fuel lasts in standing work."""
    return usable(build) / build.plumbing.fuel.stationary_burn


@quantity(
    "fuel.vent-flow",
    "volume_flow",
    "L/min",
    formula="burn, or the filling rate where the filler has no breather of its own",
    sources=[practice("air that a tank breathes").giving("formula")],
)
def vent_flow(build: Build) -> float:
    """Air that the vent must let through."""
    tank, burn = build.plumbing.fuel.tank, build.engine.fuel.burn
    return max(burn, 0.0 if tank.filler_breather else tank.filling_rate)


@quantity(
    "fuel.vent-drop",
    "pressure_difference",
    "kPa",
    formula="Δp = (f·L/D + 1.5)·ρ·v²/2 of air at 15 °C + opening pressure of the vent's valve",
    sources=[sources.PIPE_FLOW.giving("formula")],
)
def vent_drop(build: Build) -> float:
    """Pressure between the tank and the open air."""
    vent = build.plumbing.fuel.vent
    return (
        gas_flow.vent_pressure_drop(flow=vent_flow(build), bore=vent.bore, length=vent.length) + vent.opening_pressure
    )


# -- heat -------------------------------------------------------------------------------------------------------------
@quantity(
    "fuel.return-heat",
    "power",
    "kW",
    formula="Q = ρ·return flow·c_p·rise, c_p = 2.0 kJ/(kg K), fuel at 40 °C",
    symbols={
        "ρ": "fuel.density",
        "return flow": "engine.fuel.return_flow",
        "rise": "engine.fuel.return_temp_rise",
    },
    sources=[
        sources.HEAT_TRANSFER.giving("formula", "heat of a flow, 2.0 kJ/(kg K)"),
        sheet("engine.fuel.return_temp_rise").giving("formula", "rise of the fuel in the engine"),
    ],
)
def return_heat(build: Build) -> float:
    """Heat that the return brings to the tank."""
    wants = build.engine.fuel
    rise = or_practice(lambda: wants.return_temp_rise, RETURN_RISE)
    return tanks.heating_power(wants.return_flow * density(build, WARM), HEAT_CAPACITY, rise)


@quantity(
    "fuel.tank-surface",
    "area",
    "m2",
    formula="A = 2·(length·width + length·height + width·height)",
    symbols={
        "length": "plumbing.fuel.tank.length",
        "width": "plumbing.fuel.tank.width",
        "height": "plumbing.fuel.tank.height",
    },
    sources=[sources.TANK_GEOMETRY.giving("formula")],
)
def tank_surface(build: Build) -> float:
    """Surface of the tank."""
    box = tank_box(build)
    return 2.0 * (box.length * box.width + box.length * box.height + box.width * box.height)


def tank_coefficient(build: Build) -> float:
    """Heat that the tank's surface gives off, W/(m² K): still air where the vehicle works standing."""
    return use_practice(build, AIR_STILL if _works_standing(build) else AIR_MOVING)


def _works_standing(build: Build) -> bool:
    return given(lambda: build.build.duty.stationary_power) is not None


def cooler_heat(build: Build) -> float:
    """Heat that the cooler in the return takes, W."""
    return build.plumbing.fuel.cooler.duty if is_fitted(build.plumbing.fuel.cooler) else 0.0


@quantity(
    "fuel.tank-temperature",
    "temperature",
    "degC",
    formula="T = hottest air + (Q - cooler)/(U·A) · (1 - (V_left/V_full)^(U·A/(c_p·ρ·burn))), fuel well mixed, from a "
    "full tank in that air to where the pick-up leaves it; without a known burn 1 for the second factor",
    sources=[sources.HEAT_TRANSFER.giving("formula")],
)
def tank_temperature(build: Build) -> float:
    """Temperature that the fuel in the tank comes to on the hottest day before the tank is empty."""
    heat = max(0.0, return_heat(build) - cooler_heat(build))
    rise = tanks.steady_temperature_rise(heat, tank_coefficient(build), tank_surface(build))
    return hottest_of_all(build) + rise * share_of_settled(build)


def share_of_settled(build: Build) -> float:
    """How much of the rise to the settled temperature a tank makes before it is empty; all of it if nobody knows when.

    Unknown, the burn is taken as one that lets the tank settle, which is the hottest that it can come to.
    """
    burnt = given(lambda: _burn(build))
    if burnt is None:
        return 1.0
    left = min(1.0, unusable(build) / build.plumbing.fuel.tank.capacity)
    given_off = tank_coefficient(build) * tank_surface(build)
    return tanks.share_of_settled_rise(left, given_off, burnt * density(build, WARM), HEAT_CAPACITY)


def _burn(build: Build) -> float:
    """Fuel burnt while the tank gets warm, m³/s."""
    if _works_standing(build):
        return build.plumbing.fuel.stationary_burn
    return build.plumbing.fuel.consumption * build.build.design.cruise_speed


@quantity(
    "fuel.vapour-pressure",
    "pressure",
    "kPa",
    formula="p of AP-42 chapter 7.1 at fuel.tank-temperature, without a return at the hottest air",
    sources=[
        sources.PETROL_VAPOUR.giving("formula", "vapour pressure over temperature"),
        sources.PETROL_SEASONS.giving("fallback", "60 kPa at 37.8 °C, summer"),
    ],
    each=lambda build: [] if is_diesel(build) else [()],
)
def vapour_pressure(build: Build) -> float:
    """Pressure below which the petrol boils on the hottest day."""
    grade = build.plumbing.fuel.grade
    return liquids.petrol_vapour_pressure(hot_petrol(build), or_practice(lambda: grade.vapour_pressure, SUMMER_PETROL))


def hot_petrol(build: Build) -> float:
    """Petrol, K, that leaves the tank on the hottest day."""
    if build.engine.fuel.return_flow == 0.0:
        return hottest_of_all(build)
    return tank_temperature(build)


def hottest_inlet(build: Build) -> float:
    """The hottest fuel, K, that the engine takes."""
    return or_practice(lambda: build.engine.fuel.inlet_temp_max, HOT_FUEL)


def hottest_return(build: Build) -> float:
    """The hottest fuel, K, that comes back from the engine: what it takes, and what it adds."""
    return hottest_inlet(build) + or_practice(lambda: build.engine.fuel.return_temp_rise, RETURN_RISE)


@quantity(
    "fuel.heater-power-needed",
    "power",
    "W",
    formula="P = ρ·Q·c_p·(CFPP - coldest air), at least 0, c_p = 2.0 kJ/(kg K)",
    symbols={
        "ρ": "fuel.density",
        "Q": "engine.fuel.supply_flow",
        "CFPP": "plumbing.fuel.grade.cfpp",
        "coldest air": "build.design.ambient_min",
    },
    sources=[sources.HEAT_TRANSFER.giving("formula", "heat of a flow, 2.0 kJ/(kg K)")],
)
def heater_power_needed(build: Build) -> float:
    """Heat that warms the whole supply flow from the coldest air to the point where the filter stays open."""
    step = max(0.0, build.plumbing.fuel.grade.cfpp - build.build.design.ambient_min)
    return tanks.heating_power(build.engine.fuel.supply_flow * density(build, COLD), HEAT_CAPACITY, step)
