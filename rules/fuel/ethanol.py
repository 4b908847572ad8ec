"""The rule about petrol with much ethanol."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_most,
    book,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.spec.systems.fuel.lines import FuelLine

from . import quantities as q

GRADE = "plumbing.fuel.grade"

E10 = Practice(
    "petrol engines take at most 10 % of ethanol (E10)", q.ORDINARY_ETHANOL, practice("petrol without a word of E85")
)
HANDBOOK = book("US Department of Energy, Handbook for Handling, Storing, and Dispensing E85", known="second-hand")
ATTACKED = practice("much ethanol eats zinc, brass, copper, lead coats and bare aluminium")

_EATEN_TANK = ("galvanised-steel", "terne-steel", "aluminium")
_EATEN_LINE = ("galvanised-steel", "copper", "brass", "aluminium", "polyamide")

PETROL = {
    "engine.fuel_type": "petrol",
    "engine.fuel.injection": "port-petrol",
    "engine.fuel.return_flow": "0 L/h",
    "plumbing.fuel.supply.hose_class": "ISO 19013-2",
    "plumbing.fuel.return_line": {"fitted": False},
    "plumbing.fuel.vent.path": "canister",
    "plumbing.fuel.canister": {"purged": True},
}
_E85 = {
    **PETROL,
    f"{GRADE}.ethanol": "85 %",
    f"{GRADE}.parts_for_ethanol": True,
    "engine.fuel.ethanol_max": "85 %",
    "plumbing.fuel.tank.material": "stainless-steel",
}


@rule(
    "fuel.ethanol",
    level="error",
    due="quote",
    sources=[
        sheet("engine.fuel.ethanol_max"),
        HANDBOOK.giving("limit", "plastics and rubbers that degrade in E85"),
        ATTACKED.giving("limit", "metals that much ethanol eats"),
        q.ETHANOL_HEAT.giving("formula", "volume of petrol with ethanol for the same heat"),
    ],
    cautions=[cautions.FUEL_FIRE],
    about=GRADE,
    fallbacks=[E10],
    bad=[
        {**_E85, "engine.fuel.ethanol_max": "10 %"},
        {**_E85, f"{GRADE}.parts_for_ethanol": False},
        {**_E85, "plumbing.fuel.tank.material": "aluminium"},
    ],
    good=[_E85, {**PETROL, f"{GRADE}.ethanol": "10 %"}],
)
def ethanol(build: Build) -> Verdict:
    """Do engine and fuel system take the share of ethanol in the petrol?

    Computes: how much more fuel by volume carries the same heat; fuel.supply-pump asks the pump for it.
    Limit: the share that the engine's data sheet allows; without it 10 % (common practice), then a warning. Beyond 10 %
    pump, seals, hoses and sender are made for it, an error; no zinc, brass, copper, lead coat, bare aluminium or
    polyamide in tank and lines: warnings.
    Consequence: The engine runs lean and hot, or seals and pump dissolve: fuel leaks, or the engine stops.
    Remedy: petrol of a lower share, or an engine, calibration and fuel parts that are made for E85.
    Cannot tell: water that ethanol takes up while the vehicle stands, and the share that is really in the tank.
    """
    if q.is_diesel(build):
        return does_not_apply("The engine burns diesel.")
    share = build.plumbing.fuel.grade.ethanol
    demands: dict[str, Callable[[], Verdict]] = {"engine": lambda: _engine(build)}
    if share > q.ORDINARY_ETHANOL:
        demands |= {
            "parts": lambda: _parts(build),
            "tank": lambda: _tank(build),
            "supply-line": partial(_line, build.plumbing.fuel.supply),
        }
        if given(lambda: is_fitted(build.plumbing.fuel.return_line)) is not False:
            demands["return-line"] = lambda: _return(build)
    return all_of(demands)


def _engine(build: Build) -> Verdict:
    share, stated = build.plumbing.fuel.grade.ethanol, given(lambda: build.engine.fuel.ethanol_max)
    most = or_practice(lambda: build.engine.fuel.ethanol_max, E10)
    says = f"The petrol holds up to {shown(share)} of ethanol and the engine takes {shown(most, 'share', '%')}."
    if share > q.ORDINARY_ETHANOL:
        more = shown(q.ethanol_factor(build) - 1.0, "share", "%", digits=2)
        says += f" For the same heat it burns {more} more than of petrol without."
    says += " Fill with petrol of a lower share." if share > most else ""
    return at_most(share, most, says, level="warning" if stated is None else None, on=f"{GRADE}.ethanol")


def _parts(build: Build) -> Verdict:
    made = build.plumbing.fuel.grade.parts_for_ethanol
    says = (
        "Pump, seals, hoses and sender are made for the ethanol."
        if made
        else "Pump, seals, hoses or sender are not made for so much ethanol and dissolve: fit ones that are."
    )
    return holds(made, says, on=f"{GRADE}.parts_for_ethanol")


def _tank(build: Build) -> Verdict:
    return _material(str(build.plumbing.fuel.tank.material), _EATEN_TANK, "tank", "plumbing.fuel.tank.material")


def _return(build: Build) -> Verdict:
    line = build.plumbing.fuel.return_line
    return _line(line) if is_fitted(line) else does_not_apply("There is no return line.")


def _line(line: FuelLine) -> Verdict:
    return _material(str(line.material), _EATEN_LINE, "line", f"{path_of(line)}.material")


def _material(material: str, eaten: tuple[str, ...], what: str, on: str) -> Verdict:
    bad = material in eaten
    says = (
        f"Much ethanol eats {material.replace('-', ' ')}: use stainless steel for this {what}, or a coat made for it."
        if bad
        else f"The {what} withstands much ethanol."
    )
    return holds(not bad, says, level="warning", on=on)
