"""The rule about the oil of an automatic gearbox: a cooler, enough flow, lines that hold."""

from __future__ import annotations

from typing import Literal

from swaplint.api import (
    Build,
    Practice,
    Source,
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    book,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    limit_or_none,
    or_practice,
    practice,
    quantity,
    rule,
    sheet,
    shown,
)
from swaplint.engineering import pipes

from .. import sources

Level = Literal["error", "warning", "note"]

OIL = "plumbing.cooling.gearbox_oil"

OIL_VISCOSITY = 7.4e-6
"""Kinematic viscosity of hot gearbox oil, m²/s: 7.4 mm²/s at 100 °C for fluids of the ordinary design."""
OIL_DENSITY = 810.0
"""Density of gearbox oil at 100 °C, kg/m³: 850 to 870 at 15 °C, from memory."""
FLUIDS: Source = book(
    "SAE paper 2007-01-3974, viscosity of ordinary automatic transmission fluids at 100 °C", known="second-hand"
)
LINE_PRESSURE = Practice(
    "up to 2.1 MPa (300 psi) in the cooler lines of an electronically controlled gearbox",
    2.07e6,
    practice("pressure in the cooler lines of automatic gearboxes"),
)
HOT_OIL = Practice("oil of 150 °C behind a working converter", 423.15, practice("hottest oil of an automatic gearbox"))
OIL_DROP = Practice(
    "cooler and lines take at most 200 kPa in hot oil", 200e3, practice("loss in the cooler circuit of a gearbox")
)
MADE_FOR_OIL = practice("gearbox oil runs in hose made for it: fuel and coolant hose swell and soften in hot oil")


def needs_cooler(build: Build) -> bool:
    """Whether the gearbox has a converter, whose oil needs a cooler."""
    if build.driveline.gearbox.kind == "automatic":
        return True
    return given(lambda: is_fitted(build.driveline.converter)) is True


@quantity(
    "cooling.gearbox-oil-drop",
    "pressure_difference",
    "kPa",
    formula="Δp = cooler·(V̇/V̇_cooler)² + (f·L/D + ΣK)·ρ·v²/2, oil of 810 kg/m³ and 7.4 mm²/s at 100 °C",
    sources=[
        sources.PIPE_FLOW.giving("formula", "pressure loss of pipe flow"),
        FLUIDS.giving("formula", "7.4 mm²/s at 100 °C"),
    ],
    each=lambda build: [()] if needs_cooler(build) else [],
)
def oil_drop(build: Build) -> float:
    """Pressure that cooler and lines take from the oil of an automatic gearbox."""
    oil = build.plumbing.cooling.gearbox_oil
    lines = pipes.pressure_loss(
        flow=oil.flow,
        bore=oil.bore,
        length=oil.length,
        density=OIL_DENSITY,
        kinematic_viscosity=OIL_VISCOSITY,
        loss_coefficient=oil.fittings_k,
    )
    return oil.cooler_drop * (oil.flow / oil.cooler_flow) ** 2 + lines


_AUTOMATIC = {
    "driveline.gearbox.kind": "automatic",
    "driveline.gearbox.oil_heat": "4 kW",
    "driveline.gearbox.controller": {"fitted": False},
    "plumbing.cooling.coolers.gearbox": {"cools": "gearbox-oil", "place": "elsewhere", "heat": "6 kW"},
    "electrics.start.interlock": "neutral",
}


@rule(
    "cooling.gearbox-oil",
    level="error",
    due="quote",
    sources=[
        sheet(f"{OIL}.drop_max"),
        sheet(f"{OIL}.flow"),
        sources.PIPE_FLOW.giving("formula", "pressure loss in the lines"),
        FLUIDS.giving("formula", "viscosity of hot gearbox oil"),
        MADE_FOR_OIL.giving("limit", "hose made for gearbox oil"),
    ],
    cautions=[cautions.HOT],
    about=OIL,
    adjust=[f"{OIL}.bore"],
    fallbacks=[LINE_PRESSURE, HOT_OIL, OIL_DROP],
    bad=[
        {**_AUTOMATIC, f"{OIL}.cooler_flow": "14 L/min"},
        {**_AUTOMATIC, f"{OIL}.bore": "6 mm"},
        {**_AUTOMATIC, f"{OIL}.hose_for_oil": False},
        {**_AUTOMATIC, f"{OIL}.hose_pressure": "700 kPa"},
        {**_AUTOMATIC, f"{OIL}.hose_temperature": "120 degC"},
    ],
    good=[{**_AUTOMATIC, f"{OIL}.bore": "12 mm"}],
    instead={"driveline.converter.fitted": "driveline.gearbox.kind"},
)
def gearbox_oil(build: Build) -> Verdict:
    """Has the oil of an automatic gearbox a cooler, its flow, and lines that hold?

    Computes: the pressure that cooler and lines take at the flow of the gearbox, in hot oil; the cooler's loss goes
    with the square of the flow. How much heat the coolers take is judged by cooling.added-heat.
    Limit: a cooler there is; the gearbox's sheet: greatest loss, least bore, pressure and temperature of the oil. Where
    it states none 200 kPa, 2.1 MPa and 150 °C (common practice): then warnings. A cooler is rated at no more flow than
    it gets. Hose made for gearbox oil.
    Consequence: The oil overheats and the gearbox burns out, or a line bursts and hot oil catches fire.
    Remedy: a wider line, a cooler of lower loss, hose for hot gearbox oil with crimped ends.
    Cannot tell: cold oil, which passes a thick cooler only slowly, and a cooler clogged by an old gearbox's wear: never
    reuse one behind a burnt gearbox.
    """
    if not needs_cooler(build):
        return does_not_apply("The gearbox has no converter whose oil needs a cooler.")
    if not _coolers(build):
        says = "There is no cooler for the gearbox's oil: fit one in the coolant or in the air."
        return all_of(cooler=lambda: holds(False, says, on="plumbing.cooling.coolers"))
    return all_of(
        {
            "cooler": lambda: holds(True, "There is a cooler for the gearbox's oil.", on="plumbing.cooling.coolers"),
            "cooler-flow": lambda: _cooler_flow(build),
            "drop": lambda: _drop(build),
            "bore": lambda: _bore(build),
            "hose": lambda: _hose(build),
            "hose-pressure": lambda: _hose_pressure(build),
            "hose-temperature": lambda: _hose_temperature(build),
        }
    )


def _coolers(build: Build) -> bool:
    stated = build.plumbing.cooling.coolers
    return any(is_fitted(cooler) and cooler.cools == "gearbox-oil" for cooler in stated.values())


def _cooler_flow(build: Build) -> Verdict:
    oil, on = build.plumbing.cooling.gearbox_oil, f"{OIL}.cooler_flow"
    says = f"The gearbox sends {shown(oil.flow)} through its cooler, whose heat is stated at {shown(oil.cooler_flow)}."
    if oil.cooler_flow > oil.flow:
        says += " It cools less than its sheet says: take its heat at the gearbox's flow, or a larger one."
    return at_most(oil.cooler_flow, oil.flow, says, level="warning", on=on)


def _drop(build: Build) -> Verdict:
    oil, found, on = build.plumbing.cooling.gearbox_oil, oil_drop(build), f"{OIL}.bore"
    stated = given(lambda: oil.drop_max)
    most = or_practice(lambda: oil.drop_max, OIL_DROP)
    says = f"Cooler and lines take {shown(found, digits=3)} at {shown(oil.flow)} of hot oil."
    if found > most:
        says += " The oil finds its way past the cooler: fit wider lines or a cooler of lower loss."
    return at_most(found, most, says, level="warning" if stated is None else None, on=on)


def _bore(build: Build) -> Verdict:
    oil, on = build.plumbing.cooling.gearbox_oil, f"{OIL}.bore"
    least = limit_or_none(lambda: oil.bore_min)
    if least is None:
        return does_not_apply("The gearbox's maker asks for no least bore.")
    says = f"The lines have {shown(oil.bore)}; the gearbox asks for {shown(least)}."
    return at_least(oil.bore, least, says, on=on, advice=advice(on, least))


def _hose(build: Build) -> Verdict:
    oil = build.plumbing.cooling.gearbox_oil
    says = (
        "The hose is made for hot gearbox oil."
        if oil.hose_for_oil
        else "The hose is not made for hot gearbox oil and softens in it: fit one that is, with crimped ends."
    )
    return holds(oil.hose_for_oil, says, on=f"{OIL}.hose_for_oil")


def _hose_pressure(build: Build) -> Verdict:
    oil, on = build.plumbing.cooling.gearbox_oil, f"{OIL}.hose_pressure"
    stated = given(lambda: oil.pressure_max)
    most = or_practice(lambda: oil.pressure_max, LINE_PRESSURE)
    says = (
        f"The hose is rated for {shown(oil.hose_pressure)}; up to {shown(most, 'gauge_pressure', 'kPa')} stand in it."
    )
    level: Level | None = "warning" if stated is None else None
    return at_least(oil.hose_pressure, most, says, level=level, on=on, advice=advice(on, most))


def _hose_temperature(build: Build) -> Verdict:
    oil, on = build.plumbing.cooling.gearbox_oil, f"{OIL}.hose_temperature"
    stated = given(lambda: oil.temp_max)
    most = or_practice(lambda: oil.temp_max, HOT_OIL)
    says = (
        f"The hose is rated for {shown(oil.hose_temperature)}; the oil gets up to {shown(most, 'temperature', 'degC')}."
    )
    level: Level | None = "warning" if stated is None else None
    return at_least(oil.hose_temperature, most, says, level=level, scale=100.0, on=on, advice=advice(on, most))
