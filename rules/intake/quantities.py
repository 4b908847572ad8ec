"""Derived numbers of the intake: air flow, density, velocities, restriction, filter life, charge air, breather."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from swaplint.api import (
    Build,
    Practice,
    each_of,
    given,
    is_fitted,
    or_practice,
    part_named,
    practice,
    quantity,
    sheet,
    use_practice,
)
from swaplint.engineering import atmosphere, curves, gas_flow, intakes
from swaplint.spec.systems.intake import AirCleaner, ChargePipe, IntakeDevice, IntakeDuct

from .. import sources
from ..cooling import charge_quantities as cooling
from ..needed import needed
from ..places import Place, hottest_air, places, power_left
from ..streams import streams

TEST_AIR = atmosphere.air_density(atmosphere.SEA_LEVEL_PRESSURE, 293.15)
"""Air of 20 °C and 101.3 kPa, in which air cleaners are tested, kg/m³ (ISO 5011, from memory)."""

AIR = practice(
    "air at rated power 5.2 kg/h for each kW of a diesel, 4 kg/h for each kW of a petrol engine, within 12 %"
)
AIR_DIESEL = Practice("air of 5.2 kg/h for each kW of rated power (diesel)", 5.2 / 3.6e6, AIR, review=True)
AIR_PETROL = Practice("air of 4 kg/h for each kW of rated power (petrol)", 4.0 / 3.6e6, AIR, review=True)
UNDER_HOOD = Practice(
    "air from under the hood 30 K above the outside air",
    30.0,
    practice("air under the hood is 25 to 40 K warmer than outside"),
)
DUST = practice("dust of 0.0005 to 0.005 g/m³ on roads, 0.01 to 0.1 g/m³ off them, 1 g/m³ in a convoy on dirt")
DUST_ROAD = Practice("dust of 0.005 g/m³ (road)", 5e-6, DUST)
DUST_OFF_ROAD = Practice("dust of 0.1 g/m³ (off road)", 100e-6, DUST)
BLOW_BY = Practice(
    "blow-by of 1 % of the air that the engine breathes",
    0.01,
    practice("blow-by is 0.5 to 1 % of the air, and up to three times that of a worn engine"),
)
BREATHER_GAS = 80.0 + 273.15
"""Gas in the breather, K: common practice."""


def is_diesel(build: Build) -> bool:
    """Whether the engine burns diesel."""
    return build.engine.fuel_type == "diesel"


def cases(build: Build) -> list[str]:
    """The places that the air is judged at, by name: as stated, else sea level and the highest place."""
    return [place.demand for place in places(build)]


def place(build: Build, case: str) -> Place:
    """The place of a name."""
    return next(place for place in places(build) if place.demand == case)


def ducts(build: Build) -> list[IntakeDuct]:
    """The runs of duct that are fitted, in the order of the air."""
    stated = [duct for duct in each_of(build.plumbing.intake.ducts) if is_fitted(duct)]
    return needed(build, "plumbing.intake.ducts", stated)


def behind_filter(build: Build) -> list[IntakeDuct]:
    """The ducts between filter and engine; where none is listed that one is asked for, unless one is said not to be."""
    every = each_of(build.plumbing.intake.ducts)
    found = [duct for duct in ducts(build) if duct.place == "after-filter"]
    if not found and all(is_fitted(duct) for duct in every):
        return [part_named(build.plumbing.intake, "ducts", "behind_filter")]
    return found


def ahead_of_filter(build: Build) -> list[IntakeDuct]:
    """The ducts that lead to the filter; where none is listed, one from an opening in the roof is asked for.

    A filter may stand in the wing or behind the grille and draw through its own mouth.
    """
    every = each_of(build.plumbing.intake.ducts)
    found = [duct for duct in ducts(build) if duct.place != "after-filter"]
    from_roof = given(lambda: build.plumbing.intake.inlet.place) == "roof"
    if from_roof and not found and all(is_fitted(duct) for duct in every):
        return [part_named(build.plumbing.intake, "ducts", "inlet")]
    return found


def charge_pipes(build: Build) -> list[ChargePipe]:
    """The runs of charge-air pipe that are fitted: an engine with boost or a charge-air cooler has some."""
    stated = [pipe for pipe in each_of(build.plumbing.charge_air.pipes) if is_fitted(pipe)]
    return needed(build, "plumbing.charge_air.pipes", stated) if boosted(build) else stated


def boosted(build: Build) -> bool:
    """Whether the spec says that the engine is charged: in so many words, by a boost or by a charge-air cooler."""
    stated = (lambda: build.engine.charge_air.pressure_max, lambda: build.engine.charged or None)
    if any(given(read) is not None for read in stated):
        return True
    return given(lambda: is_fitted(build.plumbing.cooling.charge_cooler)) is True


# -- the air ----------------------------------------------------------------------------------------------------------
def altitude(build: Build, case: str) -> float:
    """Height of a place above the sea, m."""
    return place(build, case).altitude()


@quantity(
    "intake.air-flow",
    "mass_flow",
    "kg/s",
    formula="as the data sheet states it, else 5.2 (diesel) or 4 kg/h (petrol) for each kW at rated speed; at height "
    "times the share of power that the sheet leaves there",
    sources=[
        sheet("engine.air.mass_flow").giving("formula", "air at rated speed"),
        AIR_DIESEL.cited,
        AIR_PETROL.cited,
    ],
    each=cases,
)
def air_flow(build: Build, case: str) -> float:
    """Air that the engine breathes at full load."""
    return full_air_flow(build) * power_left(build, altitude(build, case))


def full_air_flow(build: Build) -> float:
    """Air, kg/s, that it breathes with all of its power."""
    stated = given(lambda: build.engine.air.mass_flow)
    if stated is None:
        share = or_practice(lambda: build.engine.air.mass_flow, AIR_DIESEL if is_diesel(build) else AIR_PETROL)
        speed = build.engine.speed.rated
        curve = [(float(p.speed), float(p.torque)) for p in build.engine.torque_curve]
        stated = share * speed * curves.interpolate(curve, speed, "r/min")
    return stated


@quantity(
    "intake.inlet-rise",
    "temperature_difference",
    "K",
    formula="as measured; else 30 K for an inlet under the hood and nothing for one outside",
    sources=[UNDER_HOOD.cited],
    instead={"plumbing.intake.inlet.temp_rise": "plumbing.intake.inlet.place"},
)
def inlet_rise(build: Build) -> float:
    """Rise of the air at the inlet over the outside air."""
    inlet = build.plumbing.intake.inlet
    stated = given(lambda: inlet.temp_rise)
    if stated is not None:
        return stated
    return use_practice(build, UNDER_HOOD) if inlet.place == "under-hood" else 0.0


@quantity(
    "intake.air-density",
    "density",
    "kg/m3",
    formula="ρ = p/(R·T), T = hottest air of the place + intake.inlet-rise, p of the standard atmosphere",
    sources=[sources.STANDARD_ATMOSPHERE.giving("formula")],
    each=cases,
)
def air_density(build: Build, case: str) -> float:
    """Density of the air in the intake."""
    pressure = atmosphere.standard_pressure(altitude(build, case))
    return atmosphere.air_density(pressure, air_temperature(build, case))


def air_temperature(build: Build, case: str) -> float:
    """Hottest air in the intake at a place, K."""
    return place(build, case).ambient() + inlet_rise(build)


@quantity(
    "intake.volume-flow",
    "volume_flow",
    "m3/h",
    formula="V̇ = ṁ/ρ",
    symbols={"ṁ": "intake.air-flow", "ρ": "intake.air-density"},
    sources=[sources.STANDARD_ATMOSPHERE.giving("formula", "density of the air")],
    each=cases,
)
def volume_flow(build: Build, case: str) -> float:
    """Volume of air that the engine breathes at full load."""
    return air_flow(build, case) / air_density(build, case)


# -- restriction ------------------------------------------------------------------------------------------------------
class Air(NamedTuple):
    """What the engine breathes: its mass flow in kg/s, and pressure, Pa, and temperature, K, of the air."""

    flow: float
    pressure: float
    temperature: float

    @property
    def density(self) -> float:
        """In kg/m³."""
        return atmosphere.air_density(self.pressure, self.temperature)


def air_at(build: Build, case: str) -> Air:
    """The air at a place, at full load."""
    pressure = atmosphere.standard_pressure(altitude(build, case))
    return Air(air_flow(build, case), pressure, air_temperature(build, case))


def sea_level_air(build: Build) -> Air:
    """The hottest air of all, were it at sea level, where the engine has all of its power."""
    return Air(full_air_flow(build), atmosphere.SEA_LEVEL_PRESSURE, hottest_air(build) + inlet_rise(build))


def _drop(air: Air, n: float, bore: float, length: float, bends: float) -> float:
    return gas_flow.drop_from_inlet(
        mass_flow=air.flow / n,
        bore=bore,
        length=length,
        temperature=air.temperature,
        inlet_pressure=air.pressure,
        loss_coefficient=bends,
    )


def _ducts_drop(air: Air, runs: list[IntakeDuct]) -> float:
    return sum(_drop(air, streams(duct), duct.bore, duct.length, duct.bends_k) for duct in runs)


def _device_loss(air: Air, device: IntakeDevice | AirCleaner, drop: float) -> float:
    return gas_flow.device_drop(
        drop,
        mass_flow_tested=device.test_flow * TEST_AIR,
        density_tested=TEST_AIR,
        mass_flow=air.flow / streams(device),
        density=air.density,
    )


@quantity(
    "intake.duct-drop",
    "pressure_difference",
    "kPa",
    formula="p1² − p2² = (ṁ/A)²·R·T·(f·L/D + ΣK + 2·ln(p1/p2)) for each duct, Colebrook-White; alike ducts side by "
    "side share ṁ",
    sources=[
        sources.GAS_PIPES.giving("formula", "pressure loss of gas in a pipe, with its acceleration"),
        sources.FITTINGS.giving("formula", "pressure loss of bends and fittings"),
    ],
    each=cases,
)
def duct_drop(build: Build, case: str) -> float:
    """Pressure that all ducts together take."""
    return _ducts_drop(air_at(build, case), ducts(build))


def _head(air: Air, n: float, bore: float) -> float:
    """Pressure that sets the air in motion: the depression at a wall holds one velocity head, ρ·v²/2."""
    return air.density * gas_flow.duct_velocity(air.flow / n, bore, air.density) ** 2 / 2.0


@quantity(
    "intake.devices-drop",
    "pressure_difference",
    "kPa",
    formula="hood, pre-cleaner and new filter: Δp = Δp_test·(ṁ/ṁ_test)²·ρ_test/ρ; alike ones side by side share ṁ",
    sources=[
        sheet("plumbing.intake.filter.drop_clean").giving("formula", "drop of the new filter in its test"),
        sources.AIR_CLEANERS.giving("formula", "drop at another flow and density"),
    ],
    each=cases,
)
def devices_drop(build: Build, case: str) -> float:
    """Pressure that hood, pre-cleaner and new filter take."""
    return _devices_drop(build, air_at(build, case))


def _devices_drop(build: Build, air: Air) -> float:
    intake = build.plumbing.intake
    extras = [device for device in (intake.hood, intake.precleaner) if is_fitted(device)]
    drop = sum(_device_loss(air, device, device.drop) for device in extras)
    return drop + _device_loss(air, intake.filter, intake.filter.drop_clean)


@quantity(
    "intake.restriction-clean",
    "pressure_difference",
    "kPa",
    formula="ducts + hood + pre-cleaner + new filter + ρ·v²/2 in the last duct",
    sources=[
        sources.GAS_PIPES.giving("formula", "losses of the ducts"),
        sources.AIR_CLEANERS.giving("formula", "restriction, the speed of the air included"),
    ],
    each=cases,
)
def restriction_clean(build: Build, case: str) -> float:
    """Depression at the turbocharger's or throttle's inlet with a new filter."""
    return clean_in(build, air_at(build, case))


def clean_in(build: Build, air: Air) -> float:
    """The same, Pa, in some air."""
    behind = behind_filter(build)
    last = behind[-1] if behind else ducts(build)[-1]
    every = ahead_of_filter(build) + behind
    return _devices_drop(build, air) + _ducts_drop(air, every) + _head(air, streams(last), last.bore)


@quantity(
    "intake.restriction-dirty",
    "pressure_difference",
    "kPa",
    formula="setting of the service indicator + ducts behind the filter",
    sources=[sources.GAS_PIPES.giving("formula", "losses of the ducts")],
    each=cases,
)
def restriction_dirty(build: Build, case: str) -> float:
    """Depression at the turbocharger's or throttle's inlet when the filter is due to be changed."""
    return dirty_in(build, air_at(build, case))


def dirty_in(build: Build, air: Air) -> float:
    """The same, Pa, in some air."""
    behind = behind_filter(build)
    return build.plumbing.intake.filter.change_at + _ducts_drop(air, behind)


@quantity(
    "intake.indicator-clean",
    "pressure_difference",
    "kPa",
    formula="hood + pre-cleaner + new filter + ducts ahead of the filter",
    sources=[
        sources.GAS_PIPES.giving("formula", "losses of the ducts"),
        sources.AIR_CLEANERS.giving("formula", "drop at another flow and density"),
    ],
    each=cases,
)
def indicator_clean(build: Build, case: str) -> float:
    """Depression at the service indicator, behind a new filter, at full load."""
    air, ahead = air_at(build, case), [duct for duct in ducts(build) if duct.place == "before-filter"]
    return _devices_drop(build, air) + _ducts_drop(air, ahead)


def restriction_by_bore(build: Build, airs: list[Air]) -> Callable[[float], float]:
    """The greatest restriction with a new filter, were all ducts of one bore [m]: to name one that does."""
    runs = [(duct.length, duct.bends_k, streams(duct)) for duct in ducts(build)]
    known = [(_devices_drop(build, air), air) for air in airs]

    def restriction(bore: float) -> float:
        return max(
            devices
            + sum(_drop(air, n, bore, length, bends) for length, bends, n in runs)
            + _head(air, runs[-1][2], bore)
            for devices, air in known
        )

    return restriction


# -- filter -----------------------------------------------------------------------------------------------------------
@quantity(
    "intake.filter-load",
    "share",
    "%",
    formula="V̇/(n·V̇_rated), of n alike filters",
    symbols={"V̇": "intake.volume-flow", "V̇_rated": "plumbing.intake.filter.rated_flow"},
    sources=[
        sources.AIR_CLEANERS.giving("formula", "air over the rated flow"),
        sheet("plumbing.intake.filter.rated_flow").giving("formula", "rated flow"),
    ],
    each=cases,
)
def filter_load(build: Build, case: str) -> float:
    """Air through the filter over what it is rated for."""
    element = build.plumbing.intake.filter
    return volume_flow(build, case) / (streams(element) * element.rated_flow)


def dust(build: Build) -> float:
    """Dust in the outside air, kg/m³."""
    off_road = given(lambda: build.build.duty.terrain) == "off-road"
    return or_practice(lambda: build.build.duty.dust, DUST_OFF_ROAD if off_road else DUST_ROAD)


@quantity(
    "intake.filter-life",
    "duration",
    "h",
    formula="t = capacity/(dust·V̇·(1 − efficiency of the pre-cleaner)), at full flow all the time",
    sources=[
        sources.AIR_CLEANERS.giving("formula", "dust that a filter takes up"),
        DUST_ROAD.cited,
        DUST_OFF_ROAD.cited,
    ],
)
def filter_life(build: Build) -> float:
    """Running time until the filter has taken up its dust, near sea level: height matters little beside the dust."""
    intake = build.plumbing.intake
    air = sea_level_air(build)
    kept = intake.precleaner.efficiency if is_fitted(intake.precleaner) else 0.0
    return intakes.filter_life(
        streams(intake.filter) * intake.filter.dust_capacity,
        dust(build),
        air.flow / air.density,
        kept,
    )


# -- velocities -------------------------------------------------------------------------------------------------------
@quantity(
    "intake.duct-velocity",
    "speed",
    "m/s",
    formula="v = ṁ/(ρ·A), the greatest of all places",
    sources=[sources.PIPE_FLOW.giving("formula")],
    each=ducts,
)
def duct_velocity(build: Build, duct: IntakeDuct) -> float:
    """Air speed in a duct on the suction side."""
    return max(
        gas_flow.duct_velocity(air_flow(build, case) / streams(duct), duct.bore, air_density(build, case))
        for case in cases(build)
    )


def charge_temperature(build: Build, pipe: ChargePipe) -> float:
    """Hottest air in a charge pipe at full load on the hottest day, K."""
    return _charge_air(build, pipe, hottest_air(build))


def _charge_air(build: Build, pipe: ChargePipe, ambient: float) -> float:
    hot = pipe.place == "before-cooler"
    return cooling.charge_inlet_in(build, ambient) if hot else cooling.charge_outlet_in(build, ambient)


@quantity(
    "intake.charge-velocity",
    "speed",
    "m/s",
    formula="v = ṁ/(ρ·A), ρ = (p + p_boost)/(R·T), the greatest of all places",
    sources=[sources.PIPE_FLOW.giving("formula")],
    each=charge_pipes,
)
def charge_velocity(build: Build, pipe: ChargePipe) -> float:
    """Air speed in a charge pipe."""
    boost, found = build.engine.charge_air.pressure_max, []
    for case in cases(build):
        pressure = atmosphere.standard_pressure(altitude(build, case)) + boost
        density = atmosphere.air_density(pressure, _charge_air(build, pipe, place(build, case).ambient()))
        found.append(gas_flow.duct_velocity(air_flow(build, case) / streams(pipe), pipe.bore, density))
    return max(found)


@quantity(
    "intake.blow-off-force",
    "force",
    "N",
    formula="F = p·π·D²/4",
    symbols={"p": "engine.charge_air.pressure_max", "D": "plumbing.charge_air.pipes.*.bore"},
    sources=[sources.STATICS.giving("formula")],
    each=charge_pipes,
)
def blow_off_force(build: Build, pipe: ChargePipe) -> float:
    """Force that pushes a hose off a charge pipe."""
    return intakes.blow_off_force(build.engine.charge_air.pressure_max, pipe.bore)


# -- air-mass sensor --------------------------------------------------------------------------------------------------
@quantity(
    "intake.meter-error",
    "share",
    "%",
    formula="(D/D_calibrated)² − 1",
    symbols={"D": "plumbing.intake.flow_sensor.bore", "D_calibrated": "engine.air.flow_sensor.bore"},
    sources=[
        practice("an air-mass sensor feels the velocity and is calibrated for the area of its housing").giving(
            "formula"
        )
    ],
)
def meter_error(build: Build) -> float:
    """Air that passes the sensor beyond what it reports, because of the bore of its housing."""
    return intakes.meter_error(build.plumbing.intake.flow_sensor.bore, build.engine.air.flow_sensor.bore)


# -- breather ---------------------------------------------------------------------------------------------------------
@quantity(
    "intake.blow-by",
    "volume_flow",
    "L/min",
    formula="as the data sheet states it, else 1 % of the air, at the place where that is most",
    sources=[sheet("engine.breather.flow").giving("formula", "blow-by, where it is stated"), BLOW_BY.cited],
)
def blow_by(build: Build) -> float:
    """Gas that the breather must let out at full load, of a run-in engine."""
    stated = given(lambda: build.engine.breather.flow)
    if stated is not None:
        return stated
    return or_practice(lambda: build.engine.breather.flow, BLOW_BY) * max(
        volume_flow(build, case) for case in cases(build)
    )


def breather_drop_at(build: Build, times: float, bore: float) -> float:
    """Pressure that a breather line of some bore [m] takes at a multiple of the blow-by, Pa."""
    line = build.plumbing.intake.breather
    return gas_flow.vent_pressure_drop(
        flow=times * blow_by(build),
        bore=bore,
        length=line.length,
        temperature=BREATHER_GAS,
        loss_coefficient=line.fittings_k,
    )


@quantity(
    "intake.breather-drop",
    "pressure_difference",
    "kPa",
    formula="Δp = (f·L/D + ΣK)·ρ·v²/2, gas of 80 °C",
    sources=[sources.PIPE_FLOW.giving("formula")],
)
def breather_drop(build: Build) -> float:
    """Pressure that the breather line takes."""
    return breather_drop_at(build, 1.0, build.plumbing.intake.breather.bore)
