"""The rule about the mass ledger itself, which every other mass rule rests on."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_most,
    given,
    holds,
    is_fitted,
    name_of,
    needs_review,
    or_practice,
    path_of,
    practice,
    rule,
    sheet,
    shown,
    stated_values,
    told,
    within,
)
from swaplint.spec.systems.mass import PARTS_OF_THE_SWAP, LedgerItem
from swaplint.spec.systems.power import Battery
from swaplint.spec.systems.supply import SupplyLine

from .. import sources
from ..fuel.quantities import DIESEL_DENSITY, PETROL_DENSITY
from ..ledger_masses import (
    counted_as,
    counted_by,
    item_mass,
    item_named,
    lines_that_bring,
    named_mass,
    parts_named,
    stated_mass,
)
from .engine_place import SAME_PLACE, drawn_and_listed, one_place
from .quantities import was_out

LEDGER = practice("a mass ledger lists everything over 10 kg and agrees with the sheets within 5 %").giving(
    "limit", "everything over 10 kg, within 5 %"
)
WEIGHED = practice("a kerb mass from a book is off by 5 % and more; a weighbridge is not").giving(
    "limit", "a weighed kerb mass"
)

LISTED_FROM = 10.0
"""kg. Lighter things are left to the sundries."""
AGREES = 0.05
FUEL_DENSITY = {"diesel": DIESEL_DENSITY, "petrol": PETROL_DENSITY}
_HOW = {"catalogue": "is from a catalogue", "calculated": "is calculated", "assumed": "is assumed"}


@rule(
    "mass.ledger-sense",
    level="warning",
    due="quote",
    sources=[
        LEDGER,
        WEIGHED,
        SAME_PLACE,
        sheet("engine.mass.wet"),
        sources.DIESEL_GRADES.giving("fallback", "diesel of 832 kg/m³"),
        sources.PETROL_GRADES.giving("fallback", "petrol of 745 kg/m³"),
    ],
    fallbacks=[DIESEL_DENSITY, PETROL_DENSITY],
    without={
        "supply[].mass": "The sums rest on the ledger alone, which has each heavy thing whether or not its line of the "
        "scope of supply states a mass.",
        "supply[].ledger": "A line under 10 kg need not say which item of the ledger counts it, and a heavier one is "
        "asked for it.",
        "vehicle.ledger.*.out_when_weighed": "The kerb mass is that of the vehicle with all its old parts in, so that "
        "only what the ledger marks was out.",
        "vehicle.ledger.*.mass_of": "An item that states its own mass need name no part; what it names is compared.",
        "vehicle.engine_unit.attached": "Only what is bolted to the engine is compared; the sums rest on the "
        "ledger alone.",
        "vehicle.engine_unit.attached.*.ledger": "A part that states its own mass need name no item of the ledger; one "
        "that it names is compared.",
    },
    instead={
        "vehicle.ledger.*.mass": "vehicle.ledger.*.mass_of",
        "vehicle.engine_unit.attached.*.mass": "vehicle.engine_unit.attached.*.ledger",
    },
    about="vehicle.ledger",
    bad=[
        {"vehicle.ledger.old_exhaust": None},
        {"vehicle.ledger.old_battery.mass": "0 kg"},
        {"engine.mass.wet": "260 kg"},
        {"supply[1].ledger": "no-such-item"},
        {"supply[1].ledger": None},
        {"supply[1].mass": "300 kg"},
        {"electrics.batteries.main.mass": "28 kg"},
        {"vehicle.ledger.mounts.out_when_weighed": True},
        {"vehicle.ledger.mounts.mass_of": ["engine"]},
        {"vehicle.engine_unit.attached.clutch.ledger": "sundries"},
        {"vehicle.engine_unit.attached.clutch.ledger": "no-such-item"},
    ],
    good=[
        {"vehicle.ledger.mounts.mass": "15 kg"},
        {"vehicle.ledger.engine.mass": None, "vehicle.ledger.engine.mass_of": ["engine"]},
        {
            "vehicle.ledger.old_battery.out_when_weighed": True,
            "vehicle.mass.kerb_front": {"value": "1005 kg", "basis": "measured"},
        },
    ],
)
def ledger_sense(build: Build) -> Verdict:
    """Does the mass ledger add up: nothing big missing or counted twice, and the start weighed?

    Computes: whether the ledger says of engine, radiator, exhaust, tank and battery what comes out and what goes in
    (an old part that stays stands there with 0 kg); whether every supplied line over 10 kg names the ledger item that
    counts it; whether those lines together are no heavier than the item; whether the engine stands there once, with
    the mass of its data sheet and where it is drawn; whether the new tank weighs no less than its fuel, since the kerb
    mass is that of a full tank, and the batteries no less than their sheets say; whether a second tank is counted, and
    nothing twice; whether a mass that stands in two places, in the ledger and with the parts that its item names, is
    the same; how the kerb mass is known; and whether only old parts are said to have been out when the vehicle was
    weighed.
    Limit: complete, 5 % between ledger and sheet, 150 mm between ledger and drawing: common practice. A kerb mass that
    is not measured is never more than a case for a person.
    Consequence: The finished vehicle weighs other than planned: axles, tyres and brakes may be overloaded.
    Remedy: list what is missing; go to a weighbridge, tank full and nobody in it, axle by axle, and state
    `basis = "measured"`.
    Cannot tell: whether the listed masses are true. Lines of the scope of supply that state no mass are not looked at.
    """
    tank = build.plumbing.fuel.second_tank
    second = {"second-tank": lambda: _second_tank_counted(build)} if given(lambda: is_fitted(tank)) is True else {}
    place = {"engine-place": lambda: one_place(build)} if drawn_and_listed(build) else {}
    return all_of(
        second,
        place,
        parts=lambda: _every_part_settled(build),
        lines_counted=lambda: _every_line_counted(build),
        lines_agree=lambda: _lines_agree(build),
        engine=lambda: _engine_agrees(build),
        tank=lambda: _at_least_what_is_in_it(build, "tank", _fuel_and_lines),
        batteries=lambda: _at_least_what_is_in_it(build, "battery", _batteries),
        kerb_mass=lambda: _kerb_weighed(build),
        one_mass=lambda: _stated_once(build),
        out_when_weighed=lambda: _only_old_parts_were_out(build),
        entered_once=lambda: _entered_once(build),
    )


def _every_part_settled(build: Build) -> Verdict:
    items = build.vehicle.ledger.values()
    faults = []
    for name in PARTS_OF_THE_SWAP:
        masses = [item_mass(build, item) for item in items if item.part == name]
        out, stays, new = any(m < 0 for m in masses), any(m == 0 for m in masses), any(m > 0 for m in masses)
        if not masses:
            faults.append(f"nothing says what becomes of the {name}")
        elif stays and (out or new):
            faults.append(f"the {name} is said to stay and to be changed as well")
        elif out and not new:
            faults.append(f"the {name} comes out and none goes in")
        elif new and not out:
            faults.append(f"a new {name} goes in and nothing says what becomes of the old one")
    if not faults:
        return holds(True, f"The ledger says what becomes of {', '.join(PARTS_OF_THE_SWAP)}.")
    return holds(False, f"In the mass ledger {'; '.join(faults)}.", on="vehicle.ledger")


def _lines(build: Build) -> Iterator[tuple[SupplyLine, float, str]]:
    """The lines that bring mass into the vehicle, with their mass and the ledger item that counts them, if any."""
    for line in lines_that_bring(build):
        mass = stated_mass(line)
        if mass is not None:
            yield line, mass, counted_by(line)


def _named(line: SupplyLine) -> str:
    return given(lambda: line.item) or "A line"


def _every_line_counted(build: Build) -> Verdict:
    items = build.vehicle.ledger
    for line, mass, name in _lines(build):
        if not name and mass > LISTED_FROM:
            return holds(
                False,
                f"{_named(line)} of {shown(mass)} is supplied and no item of the mass ledger counts it: add one, or "
                f"name the one that does with `ledger`.",
                on=path_of(line),
            )
        if name and name not in items:
            return holds(
                False, f"{_named(line)} is said to be counted by {name}, which the ledger lacks.", on=path_of(line)
            )
    return holds(True, told("Every supplied line over 10 kg that states its mass is counted by the ledger."))


def _lines_agree(build: Build) -> Verdict:
    items = build.vehicle.ledger
    supplied: dict[str, float] = {}
    for _, mass, name in _lines(build):
        supplied[name] = supplied.get(name, 0.0) + mass
    for name, mass in supplied.items():
        counted = item_mass(build, items[name]) if name in items else mass
        if mass > counted * (1 + AGREES):
            return at_most(
                mass,
                counted * (1 + AGREES),
                f"The lines of the scope of supply that {name} counts weigh {shown(mass, 'mass', 'kg')} together; the "
                f"ledger has {shown(counted, 'mass', 'kg')} for it.",
                on=mass_path(items[name]),
                unit=("mass", "kg"),
                scale=max(abs(counted), mass),
            )
    return holds(True, "No item of the ledger weighs less than the supplied lines that it counts.")


def _new(build: Build, part: str) -> list[LedgerItem]:
    """The items that bring a part of the swap into the vehicle."""
    return [item for item in build.vehicle.ledger.values() if item.part == part and item_mass(build, item) > 0]


def mass_path(item: LedgerItem) -> str:
    """The field by which the mass of an item is changed."""
    return f"{path_of(item)}.mass"


def _engine_agrees(build: Build) -> Verdict:
    wet = build.engine.mass.wet
    new = _new(build, "engine")
    if not new:
        return holds(True, "The engine is dealt with by the ledger.")
    counted = sum(item_mass(build, item) for item in new)
    return within(
        counted,
        wet * (1 - AGREES),
        wet * (1 + AGREES),
        f"The ledger has {shown(counted, 'mass', 'kg')} for the new engine; its data sheet says {shown(wet)} ready to "
        f"run. What goes with it, such as clutch and adapter, is an item of its own.",
        on=mass_path(new[0]),
        unit=("mass", "kg"),
    )


def _at_least_what_is_in_it(build: Build, part: str, contents: Callable[[Build], tuple[float, str]]) -> Verdict:
    """The ledger's new item of a part weighs no less than what other systems state of it."""
    new = _new(build, part)
    if not new:
        return holds(True, f"The ledger has no new {part} that could be counted too light.")
    mass, what = contents(build)
    counted = sum(item_mass(build, item) for item in new)
    return at_most(
        mass,
        counted * (1 + AGREES),
        f"The ledger has {shown(counted, 'mass', 'kg')} for the new {part}; {what} weigh {shown(mass, 'mass', 'kg')}.",
        on=mass_path(new[0]),
        unit=("mass", "kg"),
    )


def _fuel_and_lines(build: Build) -> tuple[float, str]:
    volume = build.plumbing.fuel.tank.capacity
    density = or_practice(lambda: build.plumbing.fuel.grade.density, FUEL_DENSITY[build.engine.fuel_type])
    counted_by = {name for name, item in build.vehicle.ledger.items() if item.part == "tank"}
    lines = sum(mass for _, mass, name in _lines(build) if name in counted_by)
    return volume * density + lines, f"{shown(volume)} of fuel, and what the scope of supply states of the tank,"


def _batteries(build: Build) -> tuple[float, str]:
    masses = [_mass_of(part) for part in build.electrics.batteries.values()]
    return sum(masses), "the batteries that the electrics list"


def _mass_of(battery: Battery) -> float:
    return battery.mass if is_fitted(battery) else 0.0


def _stated_once(build: Build) -> Verdict:
    """A mass that stands in two places is the same in both."""
    twice: list[tuple[float, float, str, str]] = []
    for item in build.vehicle.ledger.values():
        names, stated = parts_named(item), stated_mass(item)
        named = named_mass(build, item) if names and stated is not None else None
        if stated is not None and named is not None:
            twice.append((stated, named, f"the parts that {name_of(item)} names weigh", mass_path(item)))
    attached = given(lambda: build.vehicle.engine_unit.attached) or {}
    for part in attached.values():
        name, counted, stated = item_named(part), counted_as(build, part), stated_mass(part)
        if name and counted is None:
            says = f"{name_of(part)} is said to weigh what {name} does, which the mass ledger lacks."
            return holds(False, says, on=f"{path_of(part)}.ledger")
        if stated is not None and counted is not None:
            weighs = f"{name} of the mass ledger weighs"
            twice.append((stated, item_mass(build, counted), weighs, f"{path_of(part)}.mass"))
    if not twice:
        return holds(True, "No mass of the ledger is stated twice.")
    stated, named, words, on = max(twice, key=lambda one: abs(one[0] - one[1]))
    return within(
        stated,
        named - AGREES * abs(named),
        named + AGREES * abs(named),
        f"It is stated as {shown(stated, 'mass', 'kg')}, and {words} {shown(named, 'mass', 'kg')}: leave one out.",
        on=on,
        unit=("mass", "kg"),
    )


def _entered_once(build: Build) -> Verdict:
    """No two items are the same part with the same mass at the same place."""
    seen: dict[tuple[str, float, float, float | None], str] = {}
    for name, item in build.vehicle.ledger.items():
        key = (str(item.part), item_mass(build, item), float(item.x), given(lambda item=item: float(item.y)))  # type: ignore[misc]
        if key in seen and key[1] != 0.0:
            says = f"{seen[key]} and {name} of the mass ledger have the same mass at the same place: where one thing "
            return needs_review(f"{says}stands there twice, take one out.", on=mass_path(item))
        seen[key] = name
    return holds(True, "No item of the ledger stands there twice.")


def _second_tank_counted(build: Build) -> Verdict:
    """The new tanks of the ledger hold the fuel of the second one, too, unless it was there when weighed."""
    tank = build.plumbing.fuel.second_tank
    main, _ = _fuel_and_lines(build)
    density = or_practice(lambda: build.plumbing.fuel.grade.density, FUEL_DENSITY[build.engine.fuel_type])
    second = given(lambda: tank.capacity) or tank.reachable
    counted = sum(item_mass(build, item) for item in _new(build, "tank"))
    if main + second * density <= counted * (1 + AGREES):
        return holds(True, "The new tanks of the ledger weigh no less than the fuel of both.")
    says = f"The ledger has {shown(counted, 'mass', 'kg')} for new tanks; full, the second tank alone holds "
    says += f"{shown(second * density, 'mass', 'kg')} of fuel. Add it, unless the vehicle was weighed with it full."
    return needs_review(says, on=path_of(tank))


def _kerb_weighed(build: Build) -> Verdict:
    basis = {path: stated.basis for path, stated, _ in stated_values(build, "mass")}
    for axle in ("front", "rear"):
        path = f"vehicle.mass.kerb_{axle}"
        mass = build.vehicle.mass.kerb_front if axle == "front" else build.vehicle.mass.kerb_rear
        known = basis.get(path)
        if known != "measured":
            how = _HOW.get(known or "", "does not say how it is known")
            return needs_review(
                f"The kerb mass on the {axle} axle, {shown(mass)}, {how}: every mass rule rests on it. Weigh it, axle "
                f'by axle, tank full and nobody in it, and state basis = "measured".',
                on=path,
            )
    return holds(True, "The kerb mass is weighed.")


def _only_old_parts_were_out(build: Build) -> Verdict:
    out = [(name, item) for name, item in build.vehicle.ledger.items() if was_out(item)]
    for name, item in out:
        if item_mass(build, item) >= 0.0:
            return holds(
                False,
                f"{name} does not come out with the swap, so it was not out when the vehicle was weighed. Say so "
                f"of old parts only, with a negative mass.",
                on=mass_path(item),
            )
    if not out:
        return holds(True, "The vehicle was weighed with all its old parts in it.")
    return holds(
        True, f"Weighed without {', '.join(name for name, _ in out)}, which the sums count as part of it before."
    )
