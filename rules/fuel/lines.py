"""Rules about the flow of fuel: what the lines take, what a pump gives, where the return ends."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    holds,
    is_fitted,
    or_practice,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import pipes

from .. import sources
from . import quantities as q

SUPPLY_BORE = "plumbing.fuel.supply.bore"
RETURN_BORE = "plumbing.fuel.return_line.bore"
ENDS_IN = "plumbing.fuel.return_line.ends_in"
PUMP, OLD_PUMP = "plumbing.fuel.pump", "plumbing.fuel.old_pump"

FUEL_BORES = [bore for bore in pipes.HOSE_BORES if bore <= 0.025]

FEED_PUMPS = practice("feed pumps: 20 to 35 kPa for carburettors, 300 to 400 port, 400 to 600 direct petrol injection")
RETURN_END = practice("a return ends in the tank, 300 mm from the pick-up or behind a baffle, without foaming")
LEAK_OFF = Practice(
    "return pressure of at most 20 kPa (diesel leak-off)", 20e3, practice("return pressure of diesel injectors")
)
RETURN_CLEAR = 0.300
"""Distance between return and pick-up in a tank without baffle, m: common practice."""


def _kpa(pressure: float) -> str:
    return shown(pressure, "pressure_difference", "kPa", digits=3)


def _bore_hint(smallest: float | None, otherwise: str) -> str:
    if smallest is None:
        return f"No hose bore up to 25 mm would pass: {otherwise}."
    return f"The smallest hose bore that passes is {smallest * 1e3:.0f} mm."


def _smallest(bores: list[float | None]) -> float | None:
    """The smallest bore that passes in every case; None where in one of them none does."""
    return None if None in bores else max(bore for bore in bores if bore is not None)


def _bores_by_case(bores: list[float | None]) -> str:
    """The smallest hose bore that passes warm, and cold, as words; empty where they are the same."""
    warm, cold = ("none" if bore is None else f"{bore * 1e3:.0f} mm" for bore in bores)
    return "" if warm == cold else f" Warm fuel takes {warm}, cold fuel {cold}."


@rule(
    "fuel.suction-loss",
    level="error",
    due="quote",
    sources=[sheet("engine.fuel.max_inlet_restriction"), sources.PIPE_FLOW, sources.DIESEL_GRADES],
    cautions=[cautions.FUEL_FIRE],
    adjust=[SUPPLY_BORE],
    fallbacks=[q.DIESEL_VISCOSITY, q.PETROL_VISCOSITY, q.DIESEL_DENSITY, q.PETROL_DENSITY],
    bad=[{SUPPLY_BORE: "5 mm"}, {"engine.fuel.max_inlet_restriction": "5 kPa"}],
    good=[{SUPPLY_BORE: "12 mm"}],
)
def suction_loss(build: Build) -> Verdict:
    """Can the engine's pump draw its flow through pick-up, line and filter, also in the cold?

    Computes: Δp = (f·L/D + ΣK)·ρ·v²/2 + ρ·g·lift + filters due to be changed, at 40 °C and at the coldest fuel; the
    greater one counts. A filter that does not state its drop in the cold is taken to lose in proportion to the
    viscosity.
    Limit: the greatest inlet depression in the engine's data sheet. There is no fallback: engines differ too much.
    Consequence: The engine starves under load and in the cold, and its injection pump wears out early.
    Remedy: a wider or shorter line, a larger or heated filter, less lift, or a pump near the tank where the engine
    maker allows one. The sentence names the smallest hose bore that passes warm and cold.
    Cannot tell: air leaks on the suction side, kinked hose, wax: below the cloud point the fuel is thicker than the
    viscosity line says. In slow cold flow fittings lose more than their coefficients say, which is little here.
    """
    if build.engine.fuel.feed == "pressure":
        return does_not_apply("The engine is fed under pressure and sucks nothing: see fuel.supply-pump.")
    if not q.sucks(build):
        return does_not_apply("A pump feeds the engine's own, so that nothing is sucked: see fuel.supply-pump.")
    limit, found = build.engine.fuel.max_inlet_restriction, q.suction_pressure_loss(build)
    warm, cold = q.supply_loss(build, q.WARM), q.supply_loss(build, q.COLD)
    case = q.COLD if cold >= warm else q.WARM
    stays = q.supply_lift(build, case) + q.filter_drop(build, case)
    bores = [pipes.smallest_bore_in_series(q.loss_by_bore(build, c), limit, FUEL_BORES) for c in (q.WARM, q.COLD)]
    says = (
        f"{_kpa(warm)} at {shown(q.fuel_temperature(build, q.WARM))} and {_kpa(cold)} at "
        f"{shown(q.fuel_temperature(build, q.COLD))}: {case} fuel decides. Of that, friction takes "
        f"{_kpa(q.supply_friction(build, case))}, fittings {_kpa(q.supply_fittings(build, case))}, lift "
        f"{_kpa(q.supply_lift(build, case))}, filters {_kpa(q.filter_drop(build, case))}. "
        + _bore_hint(_smallest(bores), f"lift and filters alone take {_kpa(stays)}")
        + _bores_by_case(bores)
    )
    return at_most(found, limit, says)


@rule(
    "fuel.supply-pump",
    level="error",
    due="quote",
    sources=[sheet("engine.fuel.inlet_pressure_min"), sheet("engine.fuel.feed_pump"), FEED_PUMPS],
    cautions=[cautions.FUEL_FIRE],
    about=PUMP,
    fallbacks=[
        q.MARGIN_DIESEL,
        q.MARGIN_PETROL,
        q.DIESEL_VISCOSITY,
        q.PETROL_VISCOSITY,
        q.DIESEL_DENSITY,
        q.PETROL_DENSITY,
    ],
    bad=[{OLD_PUMP: {"kind": "mechanical", "pressure": "30 kPa"}}],
    good=[{"engine.fuel.feed_pump": "forbidden"}],
)
def supply_pump(build: Build) -> Verdict:
    """Do the pumps between tank and engine suit the engine, in number, flow and pressure?

    Computes: the flow that the pump gives at low voltage (11.5 V in a 12 V system) and at the pressure that the
    engine needs plus what the supply line takes; the pressure that reaches the engine; the pressure without flow.
    Limit: the engine's data sheet: whether a pump is required, allowed or forbidden, and the feed pressures. Flow: the
    sheet's margin, else 1.2 times the supply flow (diesel) or 1.3 times the burn (petrol). No pump of the old engine
    may stay in the line: shut off it throttles the suction, running it presses where the engine must not be pressed.
    The pump must stop when the engine stops.
    Consequence: The engine starves, its seals and injection are overpressed, or fuel is pumped on after a crash.
    Remedy: take the old pump out and close the line without it; order the pump by the flow and pressure in the
    sentence, with a regulator.
    Cannot tell: noise, and priming after the tank was run dry.
    """
    fuel = build.plumbing.fuel
    return all_of(
        lambda: holds(
            not is_fitted(fuel.old_pump),
            "A pump of the old engine still stands in the supply line. Take it out and join the line without it: "
            "standing it throttles the flow, running it gives the wrong pressure."
            if is_fitted(fuel.old_pump)
            else "No pump of the old engine is left in the line.",
            on=OLD_PUMP,
        ),
        lambda: _pump_wanted(build),
        lambda: _pump_delivers(build),
    )


def _has_pump(build: Build) -> bool:
    return is_fitted(build.plumbing.fuel.pump)


def _pump_wanted(build: Build) -> Verdict:
    wants, fitted = build.engine.fuel, _has_pump(build)
    if fitted:
        forbidden = wants.feed_pump == "forbidden"
        return holds(
            not forbidden,
            "The engine maker forbids a pump ahead of the engine's own: take it out."
            if forbidden
            else "The engine maker takes a pump ahead of the engine's own.",
            on=PUMP,
        )
    needed = wants.feed == "pressure" or wants.feed_pump == "required"
    return holds(
        not needed,
        "The engine must be fed by a pump and the build has none: fit one for "
        f"{shown(q.feed_flow_needed(build), digits=3)}."
        if needed
        else "The engine sucks its fuel itself and needs no pump ahead of it.",
        on=PUMP,
    )


def _pump_delivers(build: Build) -> Verdict:
    if not _has_pump(build):
        return does_not_apply("There is no pump ahead of the engine's own.")
    return all_of(
        lambda: _pressure_delivered(build),
        lambda: _flow_delivered(build),
        lambda: _pressure_without_flow(build),
        lambda: _stops(build),
    )


def _order(build: Build) -> str:
    return f"{shown(q.feed_flow_needed(build), digits=3)} at {shown(q.feed_pressure_needed(build), digits=3)}"


def _flow_delivered(build: Build) -> Verdict:
    if build.plumbing.fuel.pump.pressure < q.feed_pressure_needed(build):
        return does_not_apply("The pump does not reach the pressure at which its flow counts.")
    flow = q.pump_flow(build)
    when = "The pump" if build.plumbing.fuel.pump.kind == "mechanical" else "At low voltage the pump"
    says = f"{when} gives {shown(flow, digits=3)}; what is needed at the pump is {_order(build)}."
    return at_least(flow, q.feed_flow_needed(build), says, on=f"{PUMP}.curve")


def _pressure_delivered(build: Build) -> Verdict:
    wants, pressure = build.engine.fuel, q.feed_pressure(build)
    if pressure > 0.0:
        says = f"{shown(pressure, digits=3)} reach the engine at full flow, "
    else:
        says = f"The pump's {shown(build.plumbing.fuel.pump.pressure)} do not reach the engine at full flow, "
    says += f"which wants {shown(wants.inlet_pressure_min)}; what is needed at the pump is {_order(build)}."
    return at_least(pressure, wants.inlet_pressure_min, says, on=f"{PUMP}.pressure", scale=wants.inlet_pressure_max)


def _pressure_without_flow(build: Build) -> Verdict:
    highest, pressure = build.engine.fuel.inlet_pressure_max, build.plumbing.fuel.pump.pressure
    says = f"Without flow the pump holds {shown(pressure)}; the engine takes {shown(highest)} at most."
    if pressure > highest:
        says += " Fit a regulator, or another pump."
    return at_most(pressure, highest, says, on=f"{PUMP}.pressure")


def _stops(build: Build) -> Verdict:
    pump = build.plumbing.fuel.pump
    stops = pump.kind == "mechanical" or pump.stops_with_engine
    says = (
        "The pump stops with the engine."
        if stops
        else "The pump goes on when the engine stops: switch it by the engine's control unit and an impact switch."
    )
    return holds(stops, says, on=f"{PUMP}.stops_with_engine")


@rule(
    "fuel.return-pressure",
    level="error",
    due="quote",
    sources=[sheet("engine.fuel.max_return_pressure"), sources.PIPE_FLOW, RETURN_END],
    cautions=[cautions.FUEL_FIRE],
    adjust=[RETURN_BORE],
    fallbacks=[LEAK_OFF, q.DIESEL_VISCOSITY, q.PETROL_VISCOSITY, q.DIESEL_DENSITY, q.PETROL_DENSITY],
    bad=[
        {RETURN_BORE: "5 mm"},
        {ENDS_IN: "supply-tee"},
        {"plumbing.fuel.return_line.to_pickup": "100 mm", "plumbing.fuel.tank.baffled": False},
    ],
    good=[
        {RETURN_BORE: "10 mm"},
        {"plumbing.fuel.return_line.to_pickup": "100 mm", "plumbing.fuel.tank.baffled": True},
    ],
)
def return_pressure(build: Build) -> Verdict:
    """Is the return line free enough, and does it end in the right place?

    Computes: wall friction, fittings, lift, check valve and cooler at the return flow, at 40 °C and at the coldest
    fuel; the greater one counts.
    Limit: the greatest return pressure in the engine's data sheet; where a diesel's sheet has none, 20 kPa. The line
    must end in the tank itself, never in the supply line, where hot fuel with air in it goes round in a circle, or in
    the filler. In the tank it ends 300 mm from the pick-up or behind a baffle, and under the surface or on a wall.
    Consequence: Hot fuel and air reach the engine, or seals of pump and injectors are pressed out and leak fuel.
    Remedy: the smallest hose bore that passes, in the sentence; a port of its own in the tank.
    Cannot tell: whether the line is kinked, and how the fuel runs in a real tank.
    """
    wants, line = build.engine.fuel, build.plumbing.fuel.return_line
    if wants.return_flow == 0.0:
        return does_not_apply("The engine sends no fuel back.")
    if not is_fitted(line):
        return holds(
            False,
            f"The engine sends {shown(wants.return_flow)} back and the build has no return line: run one to the tank.",
            on="plumbing.fuel.return_line",
        )
    if line.ends_in != "tank":
        return _return_end(build)  # it has to be run anew, whatever its bore
    return all_of(lambda: _return_end(build), lambda: _return_place(build), lambda: _return_flow(build))


def _return_flow(build: Build) -> Verdict:
    wants, line = build.engine.fuel, build.plumbing.fuel.return_line
    if q.is_diesel(build):
        limit = or_practice(lambda: wants.max_return_pressure, LEAK_OFF)
    else:
        limit = wants.max_return_pressure
    warm, cold = q.return_pressure(build, q.WARM), q.return_pressure(build, q.COLD)
    found, case = (cold, q.COLD) if cold >= warm else (warm, q.WARM)
    bores = [pipes.smallest_bore_in_series(q.return_by_bore(build, c), limit, FUEL_BORES) for c in (q.WARM, q.COLD)]
    says = (
        f"{_kpa(warm)} at {shown(q.fuel_temperature(build, q.WARM))} and {_kpa(cold)} at "
        f"{shown(q.fuel_temperature(build, q.COLD))}: {case} fuel decides. Of that, "
        f"{_kpa(q.return_friction(build, case))} is friction in {shown(line.length)} of line. "
        + _bore_hint(_smallest(bores), "lift, check valve and cooler take too much by themselves")
    )
    return at_most(found, limit, says, on=RETURN_BORE, unit=("pressure_difference", "kPa"))


def _return_end(build: Build) -> Verdict:
    end = build.plumbing.fuel.return_line.ends_in
    says = {
        "tank": "The return ends in the tank.",
        "supply-tee": "The return is teed into the supply line: hot fuel and air go round in a circle to the engine's "
        "pump. Run it back to the tank.",
        "filler-neck": "The return ends in the filler neck, where it foams and can spill: give it a port in the tank.",
    }
    return holds(end == "tank", says[end], on=ENDS_IN)


def _return_place(build: Build) -> Verdict:
    line, tank = build.plumbing.fuel.return_line, build.plumbing.fuel.tank
    falls = line.outlet == "free-fall"
    outlet = holds(
        not falls,
        "The return falls free into the tank and foams: lead it under the surface or on to a wall."
        if falls
        else "The return enters the tank without foaming.",
        level="warning",
        on="plumbing.fuel.return_line.outlet",
    )
    if tank.baffled:
        return outlet
    apart = at_least(
        line.to_pickup,
        RETURN_CLEAR,
        f"The return ends {shown(line.to_pickup)} from the pick-up with no baffle between: hot fuel and bubbles go "
        "straight back to it below 300 mm.",
        level="warning",
        on="plumbing.fuel.return_line.to_pickup",
    )
    return all_of(apart, outlet, default="warning")
