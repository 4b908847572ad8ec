"""Rules about cab heater and air conditioning."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import (
    Build,
    Verdict,
    advice,
    all_of,
    at_least,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    practice,
    rule,
    sheet,
    shown,
    within,
)

from .. import sources
from . import cab_quantities as q

HEATER, AIR = "plumbing.cooling.heater", "plumbing.air_conditioning"

AS_BEFORE = practice("a heater that gives nine tenths of what it gave before keeps the screen clear").giving(
    "limit", "nine tenths of the heat before the swap"
)
SHARE_OF_BEFORE = 0.9
FLOW = practice(
    "a compressor that sweeps 0.8 to 1.2 times what it swept before keeps its evaporator and condenser"
).giving("limit", "0.8 to 1.2 times the flow before the swap")
FLOW_LOW, FLOW_HIGH = 0.8, 1.2
SWITCHES = practice("a switch against too high a pressure; an idle that the compressor does not stall").giving(
    "limit", "a high-pressure switch and a held idle"
)
CERTIFIED = practice(
    "a certified person handles refrigerant: the law in most places, whose texts were not read"
).giving("limit", "a certified person")
BALANCE = practice("energy balance of a refrigerant circuit").giving("formula", "cooling power and compressor power")


@rule(
    "chassis.heater-circuit",
    level="warning",
    due="build",
    sources=[
        AS_BEFORE,
        sources.HEAT_TRANSFER.giving("formula", "heat that the heater core moves"),
        sheet("engine.heat.idle.coolant").giving("formula", "heat of the idling engine"),
    ],
    cautions=[cautions.HOT],
    adjust=[f"{HEATER}.aux_power"],
    about=f"{HEATER}.aux_power",
    fallbacks=[q.COOLANT_TEMPERATURE, q.IDLE_HEAT],
    bad=[{f"{HEATER}.output_before": "7 kW"}, {"engine.heat.idle.coolant": "3.2 kW"}],
    good=[{f"{HEATER}.aux_power": "2 kW"}],
)
def heater_circuit(build: Build) -> Verdict:
    """Does the cab stay warm and the screen clear at idle on the coldest day?

    Computes: what the heater core can move into outside air of the coldest day, and what the idling engine and an
    auxiliary heater give to the coolant; the smaller of the two reaches the cab.
    Limit: nine tenths of what the heater gave before the swap, or the cab needs: a clear screen is a matter of safety.
    Where the engine's idle heat is not stated, 0.8 kW per litre of swept volume (common practice), which never passes
    by itself.
    Consequence: The screen fogs or freezes over at idle on a cold day, and the driver cannot see out.
    Remedy: an auxiliary heater; more air or coolant where the core is the smaller. Whether a heater valve may shut the
    circuit is judged by cooling.thermostat-circuit.
    Cannot tell: how the air spreads over the screen.
    """
    if not is_fitted(build.plumbing.cooling.heater):
        says = "There is no cab heater: nothing clears the screen. Fit one, or show another way to clear it."
        return holds(False, says, on=HEATER)
    found, core, idle = q.cab_heat(build), q.core_heat(build), q.idle_heat(build)
    needed = SHARE_OF_BEFORE * build.plumbing.cooling.heater.output_before
    says = (
        f"At idle the core can move {shown(core, digits=3)} and the engine gives {shown(idle, digits=3)}, so that "
        f"{shown(found, digits=3)} reach the cab; {shown(needed, 'power', 'kW', digits=3)} are needed."
    )
    if core < needed:
        says += " The core is the smaller: more air, more coolant or a larger core."
        return at_least(found, needed, says, on=f"{HEATER}.effectiveness")
    field = f"{HEATER}.aux_power"
    if found < needed:
        says += " An auxiliary heater makes up for it."
    return at_least(found, needed, says, on=field, advice=advice(field, needed - idle) if found < needed else None)


@rule(
    "chassis.air-conditioning",
    level="warning",
    due="quote",
    sources=[
        sheet(f"{AIR}.condenser_heat"),
        sheet(f"{AIR}.compressor.refrigerants"),
        FLOW,
        SWITCHES,
        CERTIFIED,
        BALANCE,
    ],
    cautions=[cautions.REFRIGERANT, cautions.ROTATING],
    adjust=[f"{AIR}.compressor.ratio", f"{AIR}.condenser_heat"],
    bad=[
        {f"{AIR}.compressor.displacement": "240 cm3/rev"},
        {f"{AIR}.certified_person": False},
        {f"{AIR}.refrigerant": "R12"},
        {f"{AIR}.condenser_heat": "5 kW"},
    ],
    good=[{f"{AIR}.condenser_heat": "10 kW"}],
)
def air_conditioning(build: Build) -> Verdict:
    """Do compressor, condenser and controls match, and who may touch the refrigerant?

    Computes: what the compressor sweeps at cruise over what it swept before, and the heat that the condenser gives
    off: cooling power and compressor power together.
    Limit: common practice: 0.8 to 1.2 times the old flow, where there was a compressor (`original.fitted = false` says
    that there was none); the condenser's data sheet; a compressor made for the
    refrigerant; a high-pressure switch and a held idle. A certified person for the refrigerant: the law in most
    places, an error.
    Consequence: It cools badly, stalls the idling engine, bursts a line or lets out refrigerant that injures.
    Remedy: another ratio of the compressor, which keeps the old capacity; a larger condenser.
    Cannot tell: the charge, leaks, and the oil that the system holds.
    """
    system = build.plumbing.air_conditioning
    if not is_fitted(system):
        return does_not_apply("The vehicle has no air conditioning.")
    if given(lambda: is_fitted(system.compressor)) is False:
        says = "The air conditioning has no compressor: fit one, or state the whole as not fitted."
        return all_of(compressor=holds(False, says, on=f"{AIR}.compressor"))
    flow: dict[str, Callable[[], Verdict]] = {}
    if given(lambda: is_fitted(system.original)) is not False:
        flow["flow"] = lambda: _flow(build)
    return all_of(
        flow,
        person=lambda: _person(build),
        refrigerant=lambda: _refrigerant(build),
        switch=lambda: _switch(build),
        idle=lambda: _idle(build),
        condenser=lambda: _condenser(build),
    )


def _flow(build: Build) -> Verdict:
    found, ratio = q.refrigerant_flow_ratio(build), build.plumbing.air_conditioning.compressor.ratio
    says = (
        f"At cruise the compressor sweeps {shown(found, digits=3)} times what it swept before; {FLOW_LOW} to "
        f"{FLOW_HIGH} suit evaporator and condenser."
    )
    field = f"{AIR}.compressor.ratio"
    same = advice(field, ratio / found) if found else None
    return within(found, FLOW_LOW, FLOW_HIGH, says, on=field, advice=same)


def _condenser(build: Build) -> Verdict:
    found, needed = build.plumbing.air_conditioning.condenser_heat, q.condenser_heat(build)
    says = f"The condenser gives off {shown(found)}; cooling and compressor power make {shown(needed, digits=3)}."
    field = f"{AIR}.condenser_heat"
    return at_least(found, needed, says, on=field, advice=advice(field, needed))


def _refrigerant(build: Build) -> Verdict:
    system = build.plumbing.air_conditioning
    made_for = [str(name) for name in system.compressor.refrigerants]
    good = system.refrigerant in made_for
    says = f"The compressor and its oil are made for {_gas(system.refrigerant)}."
    if not good:
        listed = " and ".join(map(_gas, made_for)) or "none that is stated"
        says = f"The compressor and its oil are made for {listed}, not for {_gas(system.refrigerant)}: fit one that is."
    return holds(good, says, on=f"{AIR}.refrigerant")


def _gas(name: object) -> str:
    """A refrigerant in a sentence."""
    return "a refrigerant of another kind" if name == "other" else str(name)


def _switch(build: Build) -> Verdict:
    good = build.plumbing.air_conditioning.high_pressure_switch
    says = (
        "A high-pressure switch stops the compressor."
        if good
        else "Nothing stops the compressor when the condenser gets no air, and a line bursts: fit a high-pressure "
        "switch."
    )
    return holds(good, says, on=f"{AIR}.high_pressure_switch")


def _idle(build: Build) -> Verdict:
    good = build.plumbing.air_conditioning.idle_raised
    says = "The idle is held against the compressor." if good else "The compressor pulls the idle down: have it held."
    return holds(good, says, on=f"{AIR}.idle_raised")


def _person(build: Build) -> Verdict:
    good = build.plumbing.air_conditioning.certified_person
    says = (
        "A certified person handles the refrigerant."
        if good
        else "Only a certified person with recovery equipment may open the circuit: find one before it is loosened."
    )
    return holds(good, says, level="error", on=f"{AIR}.certified_person")
