"""What was reckoned for fuel, air, gas and coolant, at the conditions in which they were measured."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from swaplint.api import Build, Practice, Verdict, at, given, name_of, path_of, practice, shown, use_practice
from swaplint.engineering import atmosphere, pipes
from swaplint.spec.systems.cooling import HeatPoint

from ..cooling import charge_quantities as charge
from ..cooling import heat_quantities as heat
from ..cooling.pump import flow_field
from ..exhaust import quantities as exhaust
from ..fuel import quantities as fuel
from ..intake import quantities as intake
from ..places import power_left
from .compared import Assumption, compare, of_field
from .trials import FUEL, LOAD, RUN

DEGREES, KELVIN = ("temperature", "degC"), ("temperature_difference", "K")

NEW_FILTER = Practice(
    "new fuel filters take 30 % of what they take when due",
    0.3,
    practice("a new fuel filter takes 20 to 50 % of what it takes when it is due to be changed"),
)
FILTER_SPREAD = 0.5
BORE_SHARE, FITTINGS_SHARE, FLOW_SHARE, LIFT_SHARE, DROP_SHARE, HEAT_SHARE, AIR_SHARE = (
    0.03, 0.3, 0.05, 0.1, 0.1, 0.05, 0.15,
)  # fmt: skip
"""How far bores, fittings, flows, lifts, drops of new devices, heats and cooling air are usually off."""
MOST_ALIKE = 4
"""Of ducts, pipes and filters in a row the first so many are asked whether they would explain a reading."""
RECIRCULATED = 3.0
"""How much warmer than outside the air at a core usually is, K, at speed and well sealed: common practice."""


def _kpa(value: float) -> str:
    return shown(value, "pressure_difference", "kPa", digits=2)


def _mm(value: float) -> str:
    return shown(value, "length", "mm", digits=2)


# -- fuel -------------------------------------------------------------------------------------------------------------
def lines_loss(build: Build, temperature: float) -> float:
    """What the supply line takes without its filters, in fuel of a temperature, Pa."""
    line = build.plumbing.fuel.supply
    return pipes.pressure_loss(
        flow=build.engine.fuel.supply_flow,
        bore=line.bore,
        length=line.length,
        density=fuel.density_at(build, temperature),
        kinematic_viscosity=fuel.viscosity_at(build, temperature),
        loss_coefficient=line.fittings_k,
        lift=line.lift,
    )


def filters_due(build: Build, temperature: float) -> float:
    """What the filters ahead of the inlet will take when they are due, in fuel of a temperature, Pa."""
    warm, there = (
        fuel.density_at(build, at_one) * fuel.viscosity_at(build, at_one) for at_one in (fuel.WARM_FUEL, temperature)
    )
    return pipes.porous_drop(fuel.filter_drop(build, fuel.WARM), warm, there)


def fuel_inlet(build: Build) -> Verdict:
    """Depression at the fuel inlet."""
    trial = build.measured.fuel
    temperature = trial.temperature
    due = filters_due(build, temperature)
    new = use_practice(build, NEW_FILTER) * due if due else 0.0

    def predicted(other: Build) -> float:
        return lines_loss(other, temperature) + new

    reckoned, line = predicted(build), "plumbing.fuel.supply"
    filters = Assumption(
        lambda x: f"filters that take {_kpa(x)}",
        lambda x: lines_loss(build, temperature) + x,
        new,
        FILTER_SPREAD * due,
        (0.0, 100e3),
        f"what the filters take, into {FUEL}.filter_drop",
        fact=given(lambda: trial.filter_drop),
    )
    assumptions = [
        filters if due else None,
        of_field(
            build,
            f"{line}.bore",
            predicted,
            lambda x: f"a supply line of {_mm(x)} bore, as at a kink or a narrow coupling,",
            BORE_SHARE,
            "the depression along the line, joint by joint",
        ),
        of_field(
            build,
            f"{line}.fittings_k",
            predicted,
            lambda x: f"fittings of ΣK {x:.2g}",
            FITTINGS_SHARE,
            "the depression on both sides of each coupling",
        ),
        of_field(
            build,
            f"{line}.lift",
            predicted,
            lambda x: f"a lift of {_mm(x)}",
            LIFT_SHARE,
            "the lift with a tape measure",
        ),
        of_field(
            build,
            "engine.fuel.supply_flow",
            predicted,
            lambda x: f"a flow of {shown(x, 'volume_flow', 'L/h', digits=2)}",
            FLOW_SHARE,
            "the flow in the return line with a can and a watch, and what is burnt",
        ),
    ]
    when = f" for new filters and fuel of {shown(temperature)}"
    return compare(
        build, f"{FUEL}.inlet_depression", reckoned, assumptions, what="Depression at the fuel inlet", when=when
    )


# -- air and gas ------------------------------------------------------------------------------------------------------
def flow_share(build: Build) -> float:
    """Share of the rated flow of air and gas that the trial reached: that of the power at the same height."""
    trial = build.measured.full_load
    return trial.torque_share * trial.speed / build.engine.speed.rated


def _trial_words(build: Build) -> str:
    trial = build.measured.full_load
    share = shown(flow_share(build), "share", "%", digits=3)
    return f" for {share} of the rated flow in air of {shown(trial.air)}, {shown(trial.altitude)} up"


def _intake_air(build: Build) -> intake.Air:
    trial = build.measured.full_load
    flow = intake.full_air_flow(build) * power_left(build, trial.altitude) * flow_share(build)
    pressure = atmosphere.standard_pressure(trial.altitude)
    return intake.Air(flow, pressure, trial.air + intake.inlet_rise(build))


def _duct(build: Build, path: str, predicted: Callable[[Build], float]) -> Assumption | None:
    return of_field(
        build,
        f"{path}.bore",
        predicted,
        lambda x: f"{path} of {_mm(x)} bore, as of a duct that is sucked flat,",
        BORE_SHARE,
        f"the depression ahead of {path} and behind it",
    )


def intake_restriction(build: Build) -> Verdict:
    """Depression ahead of the turbocharger."""
    trial = build.measured.full_load

    def predicted(other: Build) -> float:
        return intake.clean_in(other, _intake_air(other))

    reckoned = predicted(build)
    cleaner = "plumbing.intake.filter"
    measured_drop = given(lambda: trial.filter_drop)
    stated_drop = build.plumbing.intake.filter.drop_clean
    there = predicted(build) - predicted(at(build, {f"{cleaner}.drop_clean": 0.5 * stated_drop}))
    assumptions = [
        of_field(
            build,
            f"{cleaner}.drop_clean",
            predicted,
            lambda x: f"an air cleaner that takes {_kpa(x)} in its test",
            DROP_SHARE,
            f"what the air cleaner takes, into {LOAD}.filter_drop",
            fact=measured_drop * stated_drop / (2.0 * there) if measured_drop is not None and there else None,
        ),
        *(_duct(build, path_of(duct), predicted) for duct in intake.ducts(build)[:MOST_ALIKE]),
        of_field(
            build,
            "engine.air.mass_flow",
            predicted,
            lambda x: f"{shown(x, 'mass_flow', 'kg/s', digits=2)} of air at rated power",
            FLOW_SHARE,
            "boost and smoke: too much air leaks out behind the turbocharger",
        ),
    ]
    return compare(
        build,
        f"{LOAD}.intake_restriction",
        reckoned,
        assumptions,
        what="Depression ahead of the turbocharger",
        when=f"{_trial_words(build)}, the filter new",
    )


def _soot(build: Build) -> list[Any]:
    return [device for device in exhaust.devices(build) if device.kind == "particulate-filter"]


def back_pressure(build: Build) -> Verdict:
    """Pressure behind the turbocharger."""
    trial = build.measured.full_load

    def predicted(other: Build) -> float:
        flow = other.engine.exhaust.mass_flow * power_left(other, trial.altitude) * flow_share(other)
        gas = exhaust.Gas(flow, other.engine.exhaust.temp, atmosphere.standard_pressure(trial.altitude))
        return exhaust.back_pressure_of(other, gas)

    clean: dict[str, float | bool | str | None] = {}
    assumptions: list[Assumption | None] = []
    for device in _soot(build):
        drop = given(lambda device=device: device.drop)  # type: ignore[misc]
        if drop is not None:
            clean[f"{path_of(device)}.drop_loaded"] = float(drop)
    new = at(build, clean) if clean else build
    for device in _soot(build)[:MOST_ALIKE]:
        name = name_of(device)
        path, loaded = f"{path_of(device)}.drop_loaded", float(device.drop_loaded)
        expected = float(clean.get(path) or loaded)
        assumptions.append(
            Assumption(
                lambda x, name=name: f"soot in {name}, which then takes {_kpa(x)} in its test",  # type: ignore[misc]
                lambda x, path=path: predicted(at(new, {path: x})),  # type: ignore[misc]
                expected,
                max(0.5 * abs(loaded - expected), DROP_SHARE * expected),
                (0.1 * expected, 2.0 * loaded),
                f"the pressure difference across {name}, before and after it was burnt clean",
            )
        )
    for pipe in exhaust.pipes(build)[:MOST_ALIKE]:
        path = path_of(pipe)
        assumptions += [
            of_field(
                new,
                f"{path}.tube_outer",
                predicted,
                lambda x, path=path: f"{path} of {_mm(x)} tube, as at a dent or a crushed bend,",  # type: ignore[misc]
                0.02,
                f"the pressure ahead of {path} and behind it",
            ),
            of_field(
                new,
                f"{path}.bends_k",
                predicted,
                lambda x, path=path: f"bends of {path} with ΣK {x:.2g}",  # type: ignore[misc]
                FITTINGS_SHARE,
                f"the pressure ahead of {path} and behind it",
            ),
        ]
    assumptions.append(
        of_field(
            new,
            "engine.exhaust.mass_flow",
            predicted,
            lambda x: f"{shown(x, 'mass_flow', 'kg/s', digits=2)} of gas at rated power",
            FLOW_SHARE,
            "the depression in the intake, which tells the flow of air",
        )
    )
    reckoned = predicted(new)
    return compare(
        build, f"{LOAD}.back_pressure", reckoned, assumptions, what="Back pressure", when=_trial_words(build)
    )


def manifold_air(build: Build) -> Verdict:
    """Temperature of the air in the manifold."""
    trial = build.measured.full_load

    def predicted(other: Build) -> float:
        return charge.charge_outlet_in(other, trial.air)

    reckoned = predicted(build)
    core = given(lambda: build.measured.cooling.core_air - build.measured.cooling.air)
    warm = Assumption(
        lambda x: f"air that comes to the cooler {shown(x, *KELVIN, digits=2)} warmer than outside",
        lambda x: charge.charge_outlet_in(build, trial.air + x),
        0.0,
        RECIRCULATED,
        (0.0, 60.0),
        f"the air ahead of the cooler, as for {RUN}.core_air",
        fact=core if core is not None and core > RECIRCULATED else None,
    )
    assumptions = [
        None if charge.water_cooled(build) else warm,
        of_field(
            build,
            "plumbing.cooling.charge_cooler.effectiveness",
            predicted,
            lambda x: f"a charge-air cooler of {shown(x, 'share', '%', digits=2)} effectiveness",
            0.05,
            "the charge air ahead of the cooler and behind it",
        ),
        of_field(
            build,
            "engine.charge_air.compressor_outlet",
            predicted,
            lambda x: f"charge air that leaves the compressor at {shown(x, *DEGREES, digits=3)}",
            0.02,
            "the charge air behind the compressor",
        ),
    ]
    return compare(
        build,
        f"{LOAD}.manifold_air",
        reckoned,
        assumptions,
        what="Air in the manifold",
        when=f" in air of {shown(trial.air)}",
        step=KELVIN,
    )


# -- coolant ----------------------------------------------------------------------------------------------------------
def point_of(build: Build) -> HeatPoint:
    """The operating point of the cooling run."""
    point: HeatPoint = getattr(build.engine.heat, build.measured.cooling.point)
    return point


def reckoned_rise(build: Build) -> float:
    """Rise of the hottest coolant over the air at the core that is reckoned for the run, K: heat goes with power."""
    trial = build.measured.cooling
    return trial.power_share * heat.rise_at(build, point_of(build), trial.altitude)


def top_tank(build: Build) -> Verdict:
    """Coolant where it leaves the engine, in the cooling run."""
    trial = build.measured.cooling
    outside, point = trial.air, name_of(point_of(build))
    core = given(lambda: trial.core_air)

    def predicted(other: Build) -> float:
        return outside + reckoned_rise(other)

    reckoned = predicted(build)
    assumptions = [
        Assumption(
            lambda x: f"air that comes to the core {shown(x, *KELVIN, digits=2)} warmer than outside, back from behind",
            lambda x: reckoned + x,
            0.0,
            RECIRCULATED,
            (0.0, 60.0),
            f"the air ahead of the core at its centre and corners, into {RUN}.core_air",
            fact=core - outside if core is not None else None,
        ),
        of_field(
            build,
            f"{RUN}.power_share",
            predicted,
            lambda x: f"{shown(x, 'share', '%', digits=2)} of the load",
            FLOW_SHARE,
            "the power that was held, on the rolling road",
        ),
        of_field(
            build,
            f"plumbing.cooling.air.{point}.flow",
            predicted,
            lambda x: f"{shown(x, 'mass_flow', 'kg/s', digits=2)} of air through the core",
            AIR_SHARE,
            f"the air ahead of the core, into {RUN}.core_air, then the air speed over its face",
        ),
        of_field(
            build,
            flow_field(build),
            predicted,
            lambda x: f"{shown(x, 'volume_flow', 'L/min', digits=2)} of coolant at rated speed",
            FLOW_SHARE,
            f"coolant behind the radiator, into {RUN}.radiator_outlet: little flow cools further",
        ),
        of_field(
            build,
            f"engine.heat.{point}.coolant",
            predicted,
            lambda x: f"{shown(x, 'power', 'kW', digits=2)} of heat to the coolant",
            HEAT_SHARE,
            f"coolant behind the radiator, into {RUN}.radiator_outlet, which with the flow gives the heat",
        ),
    ]
    when = f" for {shown(trial.power_share, 'share', '%', digits=3)} of the load in air of {shown(outside)}"
    return compare(
        build,
        f"{RUN}.top_tank",
        reckoned,
        assumptions,
        what="Coolant where it leaves the engine",
        when=when,
        step=KELVIN,
    )
