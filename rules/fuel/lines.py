"""Rules about the flow of fuel: what the lines take, what a pump gives, where the return ends."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    needs_review,
    or_practice,
    practice,
    rule,
    sheet,
    shown,
    told,
)
from swaplint.engineering import atmosphere, curves, pipes

from .. import sources
from ..gearing.quantities import torque_curve
from ..places import highest_of_all
from . import quantities as q
from . import tank_quantities as t

SUPPLY_BORE = "plumbing.fuel.supply.bore"
RETURN = "plumbing.fuel.return_line"
RETURN_BORE, ENDS_IN = f"{RETURN}.bore", f"{RETURN}.ends_in"
PUMP, OLD_PUMP = "plumbing.fuel.pump", "plumbing.fuel.old_pump"

FUEL_BORES = [bore for bore in pipes.HOSE_BORES if bore <= 0.025]

LOW_VOLTAGE = practice("an electric fuel pump is judged at the voltage of a bad day, and its flow goes with that")
FEED_PUMPS = practice("a feed pump stops with the engine, and no pump of the old engine stays in the line")
RETURN_END = practice("a return ends in the tank, 300 mm from the pick-up or behind a baffle, without foaming")
WARM_POINT = sources.DIESEL_GRADES.giving(
    "formula", "warm fuel of 40 °C, at which viscosity is stated", known="second-hand"
)
LEAK_OFF = Practice(
    "return pressure of at most 20 kPa (diesel leak-off)", 20e3, practice("return pressure of diesel injectors")
)
LEAST_USED, MOST_USED = 180.0 / 3.6e9, 500.0 / 3.6e9
"""Specific fuel consumption, kg/J, outside which the sheet is doubted: 180 and 500 g/kWh, common practice."""
RETURN_CLEAR = 0.300
"""Distance between return and pick-up in a tank without baffle, m: common practice."""


def _kpa(pressure: float) -> str:
    return shown(pressure, "pressure_difference", "kPa", digits=3)


def _smallest_bore(losses: Iterable[Callable[[float], float]], limit: float) -> float | None:
    """The smallest bore [m] at which each of these losses stays within the limit; None where no bore would do."""
    bores = [pipes.smallest_bore_in_series(loss, limit, FUEL_BORES) for loss in losses]
    return None if None in bores else max(bore for bore in bores if bore is not None)


@rule(
    "fuel.suction-loss",
    level="error",
    due="quote",
    sources=[
        sheet("engine.fuel.max_inlet_restriction"),
        sources.PIPE_FLOW.giving("formula", "pressure loss of pipe flow, and of lift"),
        sources.POROUS_FLOW.giving("formula", "cold drop of a filter, which goes with the viscosity"),
        WARM_POINT,
        sources.PETROL_VAPOUR.giving("limit", "pressure at which petrol boils"),
        sources.STANDARD_ATMOSPHERE.giving("formula", "air pressure at the highest place"),
    ],
    cautions=[cautions.FUEL_FIRE],
    adjust=[SUPPLY_BORE],
    fallbacks=[
        q.DIESEL_VISCOSITY,
        q.PETROL_VISCOSITY,
        q.DIESEL_DENSITY,
        q.PETROL_DENSITY,
        t.SUMMER_PETROL,
        t.RETURN_RISE,
        t.AIR_STILL,
        t.AIR_MOVING,
    ],
    without={
        "plumbing.fuel.filters.*.drop_cold": "The warm drop times the ratio of the viscosities stands in, which is "
        "what a filter takes as long as no wax blocks it; fuel.cold-flow judges wax."
    },
    bad=[
        {SUPPLY_BORE: "5 mm", "engine.prescribed.fuel_supply_bore_min": "none"},
        {"engine.fuel.max_inlet_restriction": "5 kPa"},
    ],
    good=[{SUPPLY_BORE: "12 mm"}],
)
def suction_loss(build: Build) -> Verdict:
    """Can the engine's pump draw its flow through pick-up, line and filter, also in the cold?

    Computes: the pressure that wall friction and fittings take, (f·L/D + ΣK)·ρ·v²/2, plus the lift, ρ·g·h, plus filters
    due to be changed, at 40 °C and at the coldest fuel; the greater one counts. A filter that does not state its drop
    in the cold is taken to lose in proportion to the viscosity. Petrol is looked at hot and high too: as warm as the
    tank gets on the hottest day, at the highest place, because a tank keeps the heat of the valley while the road
    climbs. A mechanical pump, or an electric one beside the engine, sucks it through the line, too.
    Limit: the greatest inlet depression in the engine's data sheet. There is no fallback: engines differ too much.
    For petrol also the depression at which it boils, the air's pressure less its vapour pressure.
    Consequence: The engine starves under load and in the cold, and its injection pump wears out early.
    Remedy: a wider or shorter line, a larger or heated filter, less lift, or a pump near the tank where the engine
    maker allows one.
    Cannot tell: heat that the line takes up beside the engine, air leaks on the suction side, kinked hose, wax: below
    the cloud point the fuel is thicker than the viscosity line says. In slow cold flow fittings lose more than their
    coefficients say, which is little here.
    """
    fed = build.engine.fuel.feed == "pressure"
    if (fed or not q.sucks(build)) and not q.is_diesel(build) and q.pump_sucks(build):
        return _stays_liquid(build, q.loss_ahead_of_pump(build), "the pump", q.loss_ahead_by_bore(build))
    if fed:
        return does_not_apply("The engine is fed under pressure and sucks nothing: see fuel.supply-pump.")
    if not q.sucks(build):
        return does_not_apply("A pump feeds the engine's own, so that nothing is sucked: see fuel.supply-pump.")
    if not q.is_diesel(build):
        liquid = _stays_liquid(build, q.supply_loss(build, q.WARM), "the engine's pump", q.loss_by_bore(build, q.WARM))
        if liquid.kind == "fail":
            return liquid
    limit, found = build.engine.fuel.max_inlet_restriction, q.suction_pressure_loss(build)
    warm, cold = q.supply_loss(build, q.WARM), q.supply_loss(build, q.COLD)
    case = q.COLD if cold >= warm else q.WARM
    says = (
        f"{_kpa(warm)} at {shown(q.fuel_temperature(build, q.WARM))} and {_kpa(cold)} at "
        f"{shown(q.fuel_temperature(build, q.COLD))}: {case} fuel decides. Of that, friction takes "
        f"{_kpa(q.supply_friction(build, case))}, fittings {_kpa(q.supply_fittings(build, case))}, lift "
        f"{_kpa(q.supply_lift(build, case))}, filters {_kpa(q.filter_drop(build, case))}."
    )
    if found <= limit:
        return at_most(found, limit, says)
    bore = _smallest_bore((q.loss_by_bore(build, c) for c in (q.WARM, q.COLD)), limit)
    if bore is None:
        stays = q.supply_lift(build, case) + q.filter_drop(build, case)
        says += f" No hose bore up to {told('25 mm')} would pass: lift and filters alone take {_kpa(stays)}."
    return at_most(found, limit, says, advice=advice(SUPPLY_BORE, bore))


def _stays_liquid(build: Build, warm: float, pump: str, loss: Callable[[float], float]) -> Verdict:
    """Whether hot petrol reaches a pump that sucks it as a liquid; `loss` is what the line takes by its bore."""
    altitude = highest_of_all(build)
    air, vapour = atmosphere.standard_pressure(altitude), t.vapour_pressure(build)
    says = (
        f"Petrol of {shown(t.hot_petrol(build))} boils below {shown(vapour, 'pressure', 'kPa', digits=3)}. At "
        f"{shown(altitude, 'length', 'm')} the air has {shown(air, 'pressure', 'kPa', digits=3)}, and the line takes "
        f"{_kpa(warm)} of it"
    )
    if warm > air - vapour:
        says += (
            f": vapour reaches {pump} and the engine stops. Put a pump in or beside the tank, or lay the line wider "
            "and lower"
        )
    bore = _smallest_bore([loss], air - vapour) if air > vapour and warm > air - vapour else None
    unit = ("pressure_difference", "kPa")
    return at_most(warm, air - vapour, f"{says}.", scale=air, unit=unit, advice=advice(SUPPLY_BORE, bore))


@rule(
    "fuel.supply-pump",
    level="error",
    due="quote",
    sources=[
        sheet("engine.fuel.inlet_pressure_min"),
        sheet("engine.fuel.inlet_pressure_max"),
        sheet("engine.fuel.feed_pump"),
        sources.PIPE_FLOW.giving("formula", "pressure that the supply line takes"),
        LOW_VOLTAGE.giving("formula", "flow at 11.5 V in a 12 V system"),
        FEED_PUMPS.giving("limit", "no old pump in the line; a pump that stops with the engine"),
    ],
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
    without={
        "engine.torque_curve": "What is burnt is held against the engine's power, which gearing.gradeability asks."
    },
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
    The pump must stop when the engine stops. Fuel burnt that does not go with the engine's power, 180 to 500 g/kWh at
    820 kg/m³ of diesel and 740 of petrol, goes before a person.
    Consequence: The engine starves, its seals and injection are overpressed, or fuel is pumped on after a crash.
    Remedy: take the old pump out and close the line without it; order the pump by the flow and pressure in the
    sentence, with a regulator.
    Cannot tell: noise, and priming after the tank was run dry.
    """
    demands: dict[str, Callable[[], Verdict]] = {
        "old-pump": lambda: _old_pump(build),
        "feed-pump": lambda: _pump_wanted(build),
    }
    if given(lambda: _has_pump(build)):
        demands |= {
            "pressure": lambda: _pressure_delivered(build),
            "flow": lambda: _flow_delivered(build),
            "pressure-without-flow": lambda: _pressure_without_flow(build),
            "stops-with-engine": lambda: _stops(build),
        }
    if given(lambda: not LEAST_USED < _specific(build) < MOST_USED):
        demands["burn"] = lambda: _burns_for_its_power(build)
    return all_of(demands)


def _specific(build: Build) -> float:
    """Fuel that the engine is said to burn for its work at its highest power, kg/J."""
    power = curves.product_maxima(torque_curve(build))[0][1]
    return float(build.engine.fuel.burn * (820.0 if q.is_diesel(build) else 740.0) / power)


def _burns_for_its_power(build: Build) -> Verdict:
    figures = (_specific(build), LEAST_USED, MOST_USED)
    used, least, most = (shown(figure, "specific_fuel_consumption", "g/kWh", digits=3) for figure in figures)
    says = f"To burn {shown(build.engine.fuel.burn)} for the highest power of its torque curve is {used}; engines take "
    says += f"{least} to {most}. Look at the sheet again: the flow of a pump is chosen by it."
    return needs_review(says, on="engine.fuel.burn", found=build.engine.fuel.burn)


def _old_pump(build: Build) -> Verdict:
    stays = is_fitted(build.plumbing.fuel.old_pump)
    says = (
        "A pump of the old engine still stands in the supply line. Take it out and join the line without it: standing "
        "it throttles the flow, running it gives the wrong pressure."
        if stays
        else "No pump of the old engine is left in the line."
    )
    return holds(not stays, says, on=OLD_PUMP)


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
        f"{q.shown_amply(q.feed_flow_needed(build), 'volume_flow', 'L/h')}."
        if needed
        else "The engine sucks its fuel itself and needs no pump ahead of it.",
        on=PUMP,
        advice=advice(f"{PUMP}.pressure", q.feed_pressure_needed(build)) if needed else None,
    )


def _order(build: Build) -> str:
    pressure = q.shown_amply(q.feed_pressure_needed(build), "gauge_pressure", "kPa")
    return f"{q.shown_amply(q.feed_flow_needed(build), 'volume_flow', 'L/h')} at {pressure}"


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
    on, higher = f"{PUMP}.pressure", advice(f"{PUMP}.pressure", q.feed_pressure_needed(build))
    return at_least(pressure, wants.inlet_pressure_min, says, on=on, scale=wants.inlet_pressure_max, advice=higher)


def _pressure_without_flow(build: Build) -> Verdict:
    highest, pressure = build.engine.fuel.inlet_pressure_max, build.plumbing.fuel.pump.pressure
    says = f"Without flow the pump holds {shown(pressure)}; the engine takes {shown(highest)} at most."
    if pressure > highest:
        says += " Fit a regulator, or another pump."
    on = f"{PUMP}.pressure"
    return at_most(pressure, highest, says, on=on, advice=advice(on, highest))


def _stops(build: Build) -> Verdict:
    pump = build.plumbing.fuel.pump
    stops = pump.kind == "mechanical" or pump.stops_with_engine
    if stops and pump.kind != "mechanical" and _closed_by_the_key_alone(build):
        says = "The pump is said to stop with the engine, and the key alone closes its relay: after a crash it goes on "
        says += "while the key is on. Let the engine's control unit close it, or state the switch that opens it."
        return needs_review(says, on=f"{PUMP}.stops_with_engine")
    says = (
        "The pump stops with the engine."
        if stops
        else "The pump goes on when the engine stops: switch it by the engine's control unit and an impact switch."
    )
    return holds(stops, says, on=f"{PUMP}.stops_with_engine")


def _closed_by_the_key_alone(build: Build) -> bool:
    """Whether the drawing has a cable for the pump whose relay hangs on terminals of the key switch alone."""
    cables = given(lambda: list(build.electrics.cables.values())) or []
    pumps = [cable for cable in cables if given(lambda cable=cable: cable.role) == "fuel-pump"]  # type: ignore[misc]
    closing = [given(lambda cable=cable: list(cable.switched_by)) or [] for cable in pumps]  # type: ignore[misc]
    coils = [coil for of_one in closing for coil in of_one]
    return bool(coils) and all(coil.startswith("key-") for coil in coils)


@rule(
    "fuel.return-pressure",
    level="error",
    due="quote",
    sources=[
        sheet("engine.fuel.max_return_pressure"),
        sources.PIPE_FLOW.giving("formula", "pressure loss of pipe flow, and of lift"),
        WARM_POINT,
        RETURN_END.giving("limit", "an end in the tank, 300 mm from the pick-up, without foaming"),
    ],
    cautions=[cautions.FUEL_FIRE],
    adjust=[RETURN_BORE],
    fallbacks=[LEAK_OFF, q.DIESEL_VISCOSITY, q.PETROL_VISCOSITY, q.DIESEL_DENSITY, q.PETROL_DENSITY],
    bad=[
        {RETURN_BORE: "5 mm", "engine.prescribed.fuel_return_bore_min": "none"},
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
    the filler. In the tank it ends 300 mm from the pick-up or behind a baffle, and under the surface or on a wall. A
    diesel that is said to send none back goes before a person, and so does one that draws far more than it burns and
    sends back.
    Consequence: Hot fuel and air reach the engine, or seals of pump and injectors are pressed out and leak fuel.
    Remedy: a wider line; a port of its own in the tank.
    Cannot tell: whether the line is kinked, and how the fuel runs in a real tank.
    """
    wants, line = build.engine.fuel, build.plumbing.fuel.return_line
    if wants.return_flow == 0.0 and q.is_diesel(build):
        says = "No fuel is said to come back, and a diesel's pump and injectors leak some off: look up how much, and "
        return needs_review(f"{says}lead it to the tank.", on="engine.fuel.return_flow")
    if wants.return_flow == 0.0:
        if given(lambda: is_fitted(line)):
            says = (
                "The engine sends no fuel back, and a return line is stated. Look at the engine's sheet; a line from a"
            )
            return all_of(line=needs_review(f"{says} regulator at filter or tank takes what that lets by.", on=RETURN))
        return does_not_apply("The engine sends no fuel back.")
    demands: dict[str, Callable[[], Verdict]] = {"line": lambda: _return_line(build)}
    if given(lambda: _goes_nowhere(build) > 0.0):
        demands["accounted-for"] = lambda: _accounted_for(build)
    if given(lambda: is_fitted(line)):
        demands["end"] = lambda: _return_end(build)
        if given(lambda: line.ends_in) in (None, "tank"):  # else it has to be run anew, whatever its bore
            demands |= {"outlet": lambda: _return_outlet(build), "pressure": lambda: _return_flow(build)}
            if given(lambda: build.plumbing.fuel.tank.baffled) is not True:
                demands["distance"] = lambda: _return_distance(build)
    return all_of(demands)


def _goes_nowhere(build: Build) -> float:
    """What an engine is said to draw and neither to burn nor to send back, less half as much again for a wide sheet."""
    wants = build.engine.fuel
    return float(0.5 * (wants.supply_flow - wants.burn) - wants.return_flow)


def _accounted_for(build: Build) -> Verdict:
    wants = build.engine.fuel
    says = f"The engine is said to draw {shown(wants.supply_flow)}, to burn {shown(wants.burn)} and to send "
    says += f"{shown(wants.return_flow)} back: the rest must go somewhere. Look at the sheet again: its units, and at "
    return needs_review(f"{says}which speed each holds.", on="engine.fuel.return_flow", found=wants.return_flow)


def _return_line(build: Build) -> Verdict:
    fitted = is_fitted(build.plumbing.fuel.return_line)
    back = shown(build.engine.fuel.return_flow)
    says = (
        f"A line takes the {back} that the engine sends back."
        if fitted
        else f"The engine sends {back} back and the build has no return line: run one to the tank."
    )
    return holds(fitted, says, on=RETURN)


def _return_flow(build: Build) -> Verdict:
    wants, line = build.engine.fuel, build.plumbing.fuel.return_line
    if q.is_diesel(build):
        limit = or_practice(lambda: wants.max_return_pressure, LEAK_OFF)
    else:
        limit = wants.max_return_pressure
    warm, cold = q.return_pressure(build, q.WARM), q.return_pressure(build, q.COLD)
    found, case = (cold, q.COLD) if cold >= warm else (warm, q.WARM)
    says = (
        f"{_kpa(warm)} at {shown(q.fuel_temperature(build, q.WARM))} and {_kpa(cold)} at "
        f"{shown(q.fuel_temperature(build, q.COLD))}: {case} fuel decides. Of that, "
        f"{_kpa(q.return_friction(build, case))} is friction in {shown(line.length)} of line."
    )
    bore = None
    if found > limit:
        bore = _smallest_bore((q.return_by_bore(build, c) for c in (q.WARM, q.COLD)), limit)
        if bore is None:
            says += f" No hose bore up to {told('25 mm')} would pass: lift, check valve and cooler take too much by "
            says += "themselves."
    unit = ("pressure_difference", "kPa")
    return at_most(found, limit, says, on=RETURN_BORE, unit=unit, advice=advice(RETURN_BORE, bore))


def _return_end(build: Build) -> Verdict:
    end = build.plumbing.fuel.return_line.ends_in
    says = {
        "tank": "The return ends in the tank.",
        "supply-tee": "The return is teed into the supply line: hot fuel and air go round in a circle to the engine's "
        "pump. Run it back to the tank.",
        "filler-neck": "The return ends in the filler neck, where it foams and can spill: give it a port in the tank.",
    }
    return holds(end == "tank", says[end], on=ENDS_IN)


def _return_outlet(build: Build) -> Verdict:
    falls = build.plumbing.fuel.return_line.outlet == "free-fall"
    says = (
        "The return falls free into the tank and foams: lead it under the surface or on to a wall."
        if falls
        else "The return enters the tank without foaming."
    )
    return holds(not falls, says, level="warning", on=f"{RETURN}.outlet")


def _return_distance(build: Build) -> Verdict:
    line = build.plumbing.fuel.return_line
    if build.plumbing.fuel.tank.baffled:
        return does_not_apply("A baffle parts the return from the pick-up.")
    says = (
        f"The return ends {shown(line.to_pickup)} from the pick-up with no baffle between: hot fuel and bubbles go "
        f"straight back to it below {shown(RETURN_CLEAR, 'length', 'mm')}."
    )
    return at_least(line.to_pickup, RETURN_CLEAR, says, level="warning", on=f"{RETURN}.to_pickup")
