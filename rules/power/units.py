"""The control units of a build: the engine's, that of an automatic gearbox, those that stay, those that are added."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, given, is_fitted, name_of, path_of

ENGINE_UNIT = "engine.ecm"
GEARBOX_UNIT = "driveline.gearbox.controller"
PREFIXES = {ENGINE_UNIT: "ecm", GEARBOX_UNIT: "gearbox"}
"""What the names of the nodes begin with where the feeds of a control unit enter it; else the unit's own name."""


def others(build: Build) -> list[Any]:
    """Every control unit that is stated, besides the engine's."""
    found: list[Any] = []
    if given(lambda: _gearbox_has_one(build)):
        found.append(build.driveline.gearbox.controller)
    for collection in (lambda: build.vehicle.modules, lambda: build.electrics.controllers):
        stated = given(lambda collection=collection: list(collection().values())) or []  # type: ignore[misc]
        found += [unit for unit in stated if is_fitted(unit)]
    return found


def _gearbox_has_one(build: Build) -> bool:
    gearbox = build.driveline.gearbox
    return gearbox.kind == "automatic" and is_fitted(gearbox.controller)


def nobody_says(build: Build) -> list[Any]:
    """The sections that do not say whether there are other control units: a rule asks about those as well."""
    found: list[Any] = []
    if given(lambda: _gearbox_has_one(build)) is None:
        found.append(build.driveline.gearbox)
    if given(lambda: build.vehicle.modules) is None:
        found.append(build.vehicle)
    if given(lambda: build.electrics.controllers) is None:
        found.append(build.electrics)
    return found


def ask_whether(build: Build, section: Any) -> None:
    """Read what a section leaves unsaid about control units, which ends the rule."""
    if path_of(section) == path_of(build.driveline.gearbox):
        _gearbox_has_one(build)
    elif path_of(section) == path_of(build.vehicle):
        len(build.vehicle.modules)
    else:
        len(build.electrics.controllers)


def is_kept(unit: Any) -> bool:
    """Whether a control unit keeps the wiring that the maker of the vehicle gave it."""
    return given(lambda: unit.wiring_kept) is True


def feeds_of(unit: Any) -> list[Any]:
    """The feeds that a control unit asks for."""
    return list(unit.feeds.values())


def unit_path(feed: Any) -> str:
    """The field path of the control unit that asks for a feed."""
    return path_of(feed).rsplit(".feeds.", 1)[0]


def pin_of(feed: Any) -> str:
    """The node where a feed enters its control unit."""
    unit = unit_path(feed)
    return f"{PREFIXES.get(unit, unit.rsplit('.', 1)[-1])}-{name_of(feed)}"


def unit_of(build: Build, feed: Any) -> Any:
    """The control unit that asks for a feed."""
    if unit_path(feed) == ENGINE_UNIT:
        return build.engine.ecm
    return next(unit for unit in others(build) if path_of(unit) == unit_path(feed))


def called(unit: Any) -> str:
    """What a control unit is called in a sentence."""
    path = path_of(unit)
    if path == ENGINE_UNIT:
        return "the engine's control unit"
    if path == GEARBOX_UNIT:
        return "the gearbox controller"
    return f"the control unit {name_of(unit)}"


def is_vital(unit: Any) -> bool:
    """Whether the vehicle does not run, stop or shift as it must without a control unit."""
    path = path_of(unit)
    if path in (ENGINE_UNIT, GEARBOX_UNIT):
        return True
    if path.startswith("vehicle.modules."):
        return bool(unit.blocks_start)
    return bool(unit.essential)
