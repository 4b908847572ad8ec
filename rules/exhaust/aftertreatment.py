"""Rules of the aftertreatment: places of devices, sensors, burning the filter clean."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

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
    each_of,
    given,
    holds,
    is_fitted,
    limit_or_none,
    name_of,
    needs_review,
    or_practice,
    part_named,
    path_of,
    practice,
    rule,
    sheet,
    shown,
)
from swaplint.spec.systems.exhaust import CertifiedSensor, PressureLine, SensorPlace

from ..vegetation import over_vegetation
from . import quantities as q

DEVICES = "plumbing.exhaust.devices"
SENSORS = "plumbing.exhaust.sensors"
CONTROLS = "plumbing.exhaust.regeneration"

FILTER, OXIDATION = "particulate-filter", "oxidation-catalyst"
UNNAMED = (
    "The build has the particulate filter '{}', and the engine's sheet names none: nothing says where it may sit, and "
    "no control unit burns it clean before it blocks. Take the sheet of the engine with it, or ask the engine maker."
)

HELD = practice("catalyst and filter are held by themselves, not by the pipes on either side")

ANGLE = Practice(
    "sensors at least 10° above the horizontal, tip down",
    0.17453292519943295,
    practice("exhaust sensors sit between 10 and 170°, so that water runs off their tips"),
)
SLACK = 0.050
SENSOR_PRACTICE = practice(
    "sensor leads are not cut or joined and keep 50 mm of slack; pressure lines rise all the way"
)

RUN = Practice(
    "a run of 20 min at load for burning the filter clean",
    20 * 60.0,
    practice("a particulate filter is burnt clean in 15 to 20 min at load, every 400 to 800 km or 10 to 25 h"),
)
SWITCHES = practice("a driver who must burn the filter clean standing has a switch for it, one against it, and a lamp")


# -- devices ----------------------------------------------------------------------------------------------------------
def certified(build: Build) -> list[Any]:
    """For each device that the engine's sheet names, the one in the build, or the sheet's where there is none.

    A particulate filter of the build that the sheet does not name stands by itself: somebody must burn it clean.
    """
    fitted, named = build.plumbing.exhaust.devices, build.engine.aftertreatment.devices
    return [*(fitted.get(name, wanted) for name, wanted in named.items()), *filters_unnamed(build)]


def filters_unnamed(build: Build) -> list[Any]:
    """The particulate filters of the build where the engine's sheet names none."""
    named = build.engine.aftertreatment.devices
    if any(given(lambda wanted=wanted: wanted.kind) in (None, FILTER) for wanted in named.values()):  # type: ignore[misc]
        return []
    beside = [device for name, device in build.plumbing.exhaust.devices.items() if name not in named]
    return [d for d in beside if is_fitted(d) and given(lambda d=d: d.kind) == FILTER]  # type: ignore[misc]


@rule(
    "exhaust.device-position",
    level="error",
    due="quote",
    sources=[
        sheet("engine.aftertreatment.devices.*.distance_min").giving("limit", demands=["distance-min"]),
        sheet("engine.aftertreatment.devices.*.distance_max").giving("limit", demands=["distance-max"]),
        sheet("engine.aftertreatment.devices.*.inlet_temp_min").giving("limit", demands=["inlet-temperature"]),
        sheet("engine.aftertreatment.devices.*.insulation_required").giving("limit", demands=["insulation"]),
        sheet("engine.aftertreatment.devices.*.kind").giving("limit", "what it is certified with", demands=["present"]),
        q.COOLING.giving("formula", "60 K lost for each metre of bare pipe, 20 K for each metre of insulated pipe"),
        HELD.giving("limit", "held by themselves, the way that the engine maker shows", demands=["held", "as-shown"]),
    ],
    cautions=[cautions.HOT, cautions.LAW],
    adjust=[f"{DEVICES}.*.distance_from_turbo"],
    about=DEVICES,
    each=certified,
    bad=[
        {f"{DEVICES}.catalyst.distance_from_turbo": "1200 mm"},
        {f"{DEVICES}.catalyst.distance_from_turbo": "100 mm"},
        {"engine.aftertreatment.devices.catalyst.inlet_temp_min": "540 degC"},
        {f"{DEVICES}.filter.held_by": "pipes"},
        {f"{DEVICES}.filter.as_shown": False},
    ],
    good=[{f"{DEVICES}.catalyst.distance_from_turbo": "400 mm"}],
)
def device_position(build: Build, device: Any) -> Verdict:
    """Do catalyst and filter sit where the engine's certificate and the heat need them, held by themselves?

    Computes: the length of pipe from the turbocharger to the device; the gas at its inlet at rated power, which has
    lost 60 K/m in bare and 20 K/m in insulated pipe, the unfavourable ends of what is usual (common practice).
    Limit: distances, least temperature and insulation of the engine's data sheet, which says where it has none. A
    device that the sheet names and the build lacks, or one elsewhere, is an error: the certificate holds for its place.
    A particulate filter that the sheet does not name, or one ahead of the oxidation catalyst, goes before a person.
    It is held by itself and sits the way that the engine maker shows: warnings.
    Consequence: The gas is not cleaned as certified and road use may be unlawful, or a pipe cracks and leaks.
    Remedy: the nearest place that is allowed; insulation of the pipe ahead.
    Cannot tell: what the device really converts. Whether another place can be certified is for the engine maker and the
    authority to say.
    """
    name = name_of(device)
    if name not in build.engine.aftertreatment.devices:
        return all_of(present=lambda: needs_review(UNNAMED.format(name), on=path_of(device)))
    demands: dict[str, Callable[[], Verdict]] = {"present": lambda: _present(build, device)}
    if path_of(device).startswith("engine.") or given(lambda: is_fitted(device)) is False:
        return all_of(demands)
    wanted = build.engine.aftertreatment.devices[name]
    demands["distance-min"] = lambda: _distance_min(device, wanted)
    demands["distance-max"] = lambda: _distance_max(device, wanted)
    demands["inlet-temperature"] = lambda: _temperature(build, device, wanted)
    demands["insulation"] = lambda: _insulation(device, wanted)
    if given(lambda: bool(_behind_filter(build, device))):
        demands["order"] = lambda: _order(build, device)
    return all_of(demands, held=lambda: _held(device), as_shown=lambda: _as_shown(device))


def _present(build: Build, device: Any) -> Verdict:
    there, name = path_of(device).startswith("plumbing.") and is_fitted(device), name_of(device)
    wanted = build.engine.aftertreatment.devices[name]
    if there and device.kind != wanted.kind:
        says = (
            f"The engine is certified with the {_words(build, name)} '{name}', and in the build that is a "
            f"{str(device.kind).replace('-', ' ')}: without the right one the certificate is void and road use may be "
            "an offence."
        )
        return holds(False, says, on=f"{path_of(device)}.kind")
    says = (
        f"The {_words(build, name)} that the engine is certified with is there."
        if there
        else f"The engine is certified with the {_words(build, name)} '{name}', and the build has none of that name: "
        "without it the certificate is void and road use may be an offence."
    )
    return holds(there, says, on=DEVICES)


def _behind_filter(build: Build, device: Any) -> list[Any]:
    """The particulate filters ahead of an oxidation catalyst, which makes the heat and gas that burn them clean."""
    if device.kind != OXIDATION:
        return []
    listed = [other for other in build.plumbing.exhaust.devices.values() if is_fitted(other) and other.kind == FILTER]
    return [other for other in listed if other.distance_from_turbo < device.distance_from_turbo]


def _order(build: Build, device: Any) -> Verdict:
    ahead = _behind_filter(build, device)[0]
    says = (
        f"The oxidation catalyst sits {shown(device.distance_from_turbo)} behind the turbocharger and the particulate "
        f"filter {shown(ahead.distance_from_turbo)}: the catalyst makes what burns the filter clean, and belongs ahead "
        "of it. Put one of the two right."
    )
    return needs_review(says, on=f"{path_of(device)}.distance_from_turbo")


def _insulation(device: Any, wanted: Any) -> Verdict:
    if given(lambda: device.pipe_insulated) is not True and not wanted.insulation_required:
        return does_not_apply("The engine maker asks for no insulation ahead of the device.")
    insulated: bool = device.pipe_insulated
    says = (
        "The pipe ahead of the device is insulated."
        if insulated
        else "The engine maker asks for insulation on the pipe ahead of the device: fit it."
    )
    return holds(insulated, says, on=f"{path_of(device)}.pipe_insulated")


def _held(device: Any) -> Verdict:
    by_pipes = device.held_by == "pipes"
    says = (
        "Only the pipes hold this device, and they crack under its weight: give it brackets of its own."
        if by_pipes
        else "The device is held by itself."
    )
    return holds(not by_pipes, says, level="warning", on=f"{path_of(device)}.held_by")


def _as_shown(device: Any) -> Verdict:
    shown_so: bool = device.as_shown
    says = (
        "The device sits as the engine maker shows."
        if shown_so
        else "The device must sit the way round and the way up that the engine maker shows: turn it."
    )
    return holds(shown_so, says, level="warning", on=f"{path_of(device)}.as_shown")


def _words(build: Build, name: str) -> str:
    kind = given(lambda: build.engine.aftertreatment.devices[name].kind)
    return "device" if kind is None else kind.replace("-", " ")


def _span(device: Any, wanted: Any) -> str:
    least, most = given(lambda: wanted.distance_min), given(lambda: wanted.distance_max)
    ends = [shown(end) for end in (least, most) if end is not None]
    span = " to ".join(ends) if len(ends) == 2 else f"up to {ends[0]}" if least is None else f"{ends[0]} or more"
    return f"{shown(device.distance_from_turbo)} of pipe from the outlet; the engine is certified with {span}"


def _distance_min(device: Any, wanted: Any) -> Verdict:
    least = limit_or_none(lambda: wanted.distance_min)
    if least is None:
        return does_not_apply("The engine's maker states no least distance: the device may sit at the outlet itself.")
    found, on = device.distance_from_turbo, f"{path_of(device)}.distance_from_turbo"
    says = _span(device, wanted) + (". Elsewhere the certificate does not hold." if found < least else ".")
    return at_least(found, least, says, on=on, advice=advice(on, least))


def _distance_max(device: Any, wanted: Any) -> Verdict:
    most = limit_or_none(lambda: wanted.distance_max)
    if most is None:
        return does_not_apply("The engine's maker states no greatest distance.")
    found, on = device.distance_from_turbo, f"{path_of(device)}.distance_from_turbo"
    says = _span(device, wanted) + (". Elsewhere the certificate does not hold." if found > most else ".")
    return at_most(found, most, says, on=on, advice=advice(on, most))


def _temperature(build: Build, device: Any, wanted: Any) -> Verdict:
    least = limit_or_none(lambda: wanted.inlet_temp_min)
    if least is None:
        return does_not_apply("The engine's maker states no least temperature: his greatest distance sees to it.")
    found = q.inlet_temperature(build, device)
    how = "insulated" if device.pipe_insulated else "bare"
    says = f"Behind {shown(device.distance_from_turbo)} of {how} pipe the gas still has {shown(found, digits=3)}."
    if found < least and how == "bare":
        says += " Insulate the pipe, or bring the device nearer."
    insulate = None if device.pipe_insulated else advice(f"{path_of(device)}.pipe_insulated", True)
    on = f"{path_of(device)}.distance_from_turbo"
    return at_least(found, least, says, on=on, scale=100.0, advice=insulate)


# -- sensors ----------------------------------------------------------------------------------------------------------
def sensed(build: Build) -> list[CertifiedSensor | PressureLine]:
    """The sensors of the engine's sheet, and the pressure lines of the build."""
    listed = each_of(build.plumbing.exhaust.pressure_lines)
    lines = [line for line in listed if is_fitted(line) or q.filters(build)]
    if not listed:  # soot is told by the pressure over the filter: its lines are asked for
        lines = [part_named(build.plumbing.exhaust, "pressure_lines", name_of(device)) for device in q.filters(build)]
    return [*each_of(build.engine.aftertreatment.sensors), *lines]


@rule(
    "exhaust.sensor-lines",
    level="error",
    due="build",
    sources=[
        sheet("engine.aftertreatment.sensors.*.lead_length"),
        sheet("engine.aftertreatment.sensors.*.angle_min"),
        SENSOR_PRACTICE.giving("limit", "50 mm of slack; pressure lines that rise all the way"),
    ],
    cautions=[cautions.HOT],
    adjust=[f"{SENSORS}.*.route"],
    about=SENSORS,
    fallbacks=[ANGLE],
    each=sensed,
    bad=[
        {f"{SENSORS}.inlet_temperature.route": "880 mm"},
        {f"{SENSORS}.inlet_temperature.angle": "0 deg"},
        {"plumbing.exhaust.pressure_lines.filter.rises": False},
    ],
    good=[{f"{SENSORS}.inlet_temperature.route": "500 mm"}],
)
def sensor_lines(build: Build, item: Any) -> Verdict:
    """Do the sensors of the exhaust reach their modules, sit at the right angle, and drain?

    Computes: the way of each lead against its length, less 50 mm of slack.
    Limit: the lead of the engine's data sheet, which must not be cut or joined: an error. At least the angle of the
    sheet above the horizontal, 10° without one, and pressure lines that rise all the way to their sensor (common
    practice): warnings. Water in a sensor or line ends in fault codes and less power. A particulate filter without its
    pressure line is a warning, too.
    Consequence: A sensor cannot be plugged in, or drowns: the engine sets fault codes and cuts its power.
    Remedy: a bung within the reach of the lead, or another place for the module.
    Cannot tell: drops of water that strike a hot sensor in a cold start.
    """
    if path_of(item).startswith("plumbing."):
        return all_of(drains=lambda: _rises(item))
    places, name = build.plumbing.exhaust.sensors, name_of(item)
    demands: dict[str, Callable[[], Verdict]] = {"place": lambda: _sensor_place(build, name)}
    place = places.get(name)
    if place is not None:
        demands |= {"reach": lambda: _reach(item, place), "angle": lambda: _angle(item, place)}
    return all_of(demands)


def _rises(line: PressureLine) -> Verdict:
    if not is_fitted(line):
        says = "The engine tells by the pressure over its particulate filter how full that is, and no line leads there:"
        return holds(False, f"{says} fit the line and its sensor.", level="warning", on=f"{path_of(line)}.fitted")
    rises = line.rises
    says = (
        "The line rises all the way." if rises else "Water gathers in this line: let it rise all the way to its sensor."
    )
    return holds(rises, says, level="warning", on=f"{path_of(line)}.rises")


def _sensor_place(build: Build, name: str) -> Verdict:
    there = name in build.plumbing.exhaust.sensors
    says = (
        "The build has a place for it."
        if there
        else f"The engine has the sensor '{name}', and the build has no place for it."
    )
    return holds(there, says, on=SENSORS)


def _reach(wanted: CertifiedSensor, place: SensorPlace) -> Verdict:
    most = wanted.lead_length - SLACK
    says = (
        f"The lead has {shown(wanted.lead_length)} and its way is {shown(place.route)}; with "
        f"{shown(SLACK, 'length', 'mm')} of slack it reaches {shown(most, 'length', 'mm')}."
    )
    if place.route > most:
        says += " It must not be cut or joined: move the bung or the module."
    return at_most(place.route, most, says, on=f"{path_of(place)}.route")


def _angle(wanted: CertifiedSensor, place: SensorPlace) -> Verdict:
    least = or_practice(lambda: wanted.angle_min, ANGLE)
    says = f"The sensor sits {shown(place.angle)} above the horizontal; water runs off its tip from "
    says += f"{shown(least, 'angle', 'deg')} on."
    if place.angle < least:
        says += " Water stands on it: weld the bung in further up."
    return at_least(place.angle, least, says, level="warning", on=f"{path_of(place)}.angle", scale=ANGLE.value)


# -- burning the filter clean -----------------------------------------------------------------------------------------
@rule(
    "exhaust.regeneration",
    level="warning",
    due="plan",
    sources=[
        sheet("engine.regeneration.run_time"),
        sheet("engine.regeneration.idle_share_max"),
        SWITCHES.giving("limit", "a lamp, a switch for it and a switch against it"),
    ],
    cautions=[cautions.HOT, cautions.EXHAUST_GAS],
    about=CONTROLS,
    fallbacks=[RUN],
    bad=[
        {"build.duty.loaded_run": "10 min", "engine.regeneration.parked": False},
        {f"{CONTROLS}.parked_switch": False},
        {f"{CONTROLS}.inhibit_switch": False},
        {"electrics.lamps.filter": None},
    ],
    good=[{"build.duty.loaded_run": "10 min"}],
)
def regeneration(build: Build) -> Verdict:
    """Does the vehicle's duty let the particulate filter burn clean, and is the driver given what it takes?

    Computes: the longest run at load that comes in ten running hours against the time that burning clean takes while
    driving; the share of idling where the engine's sheet states a limit.
    Limit: the engine's data sheet, else 20 min at load (common practice). A shorter run is an error unless the engine
    can do it standing or its maker has agreed to the duty in writing. Standing it takes a switch and a lamp, and a
    switch against it where the sheet asks for one, or where it works over grass or in halls: warnings.
    Consequence: The soot filter blocks and stops the vehicle, or burns clean where its heat starts a fire.
    Remedy: switches and lamp; or, for short trips, an engine without a particulate filter.
    Cannot tell: how much soot there is. Never burn a filter clean over grass or brush, or indoors: the gas that leaves
    is at 550 to 650 °C.
    """
    unnamed = given(lambda: filters_unnamed(build))
    if unnamed:
        return needs_review(UNNAMED.format(name_of(unnamed[0])), on=path_of(unnamed[0]))
    if not q.filters(build):
        return does_not_apply("The engine's sheet names no particulate filter.")
    needs = build.engine.regeneration
    demands: dict[str, Callable[[], Verdict]] = {"run": lambda: _run(build), "lamp": lambda: _lamp(build)}
    if given(lambda: needs.idle_share_max) is not None:
        demands["idling"] = lambda: _idling(build)
    if given(lambda: needs.parked) is not False:
        demands["parked-switch"] = lambda: _parked_switch(build)
    demands["inhibit-switch"] = lambda: _inhibit(build)
    return all_of(demands)


def _parked_switch(build: Build) -> Verdict:
    if not build.engine.regeneration.parked:
        return does_not_apply("The engine cannot burn its filter clean while standing.")
    there = build.plumbing.exhaust.regeneration.parked_switch
    says = (
        "A switch starts the burning clean while standing."
        if there
        else "The engine can burn its filter clean while standing, and no switch starts it: fit one."
    )
    return holds(there, says, on=f"{CONTROLS}.parked_switch")


def _lamp(build: Build) -> Verdict:
    lamps = [lamp for lamp in each_of(build.electrics.lamps) if is_fitted(lamp)]
    there = any(lamp.function == "particulate-filter" for lamp in lamps)
    says = (
        "A lamp tells of a full filter." if there else "No lamp tells of a full filter: fit one (particulate-filter)."
    )
    return holds(there, says, on="electrics.lamps")


def _run(build: Build) -> Verdict:
    run, needed = build.build.duty.loaded_run, or_practice(lambda: build.engine.regeneration.run_time, RUN)
    says = (
        f"The longest run at load that comes in ten hours is {shown(run)}; burning clean while driving takes "
        f"{shown(needed, 'duration', 'min')}."
    )
    if run < needed:
        if build.engine.regeneration.parked:
            return holds(True, f"{says} It is done standing instead.")
        if given(lambda: build.plumbing.exhaust.regeneration.duty_agreed):
            return holds(True, f"{says} The engine maker has agreed to this duty.")
        says += " The filter will block and stop the vehicle: take an engine that can do it standing, or has none."
    return at_least(run, needed, says, level="error", on="build.duty.loaded_run")


def _idling(build: Build) -> Verdict:
    share, most = build.build.duty.idle_share, build.engine.regeneration.idle_share_max
    says = f"It idles for {shown(share)} of its running time; the engine copes with {shown(most)}."
    return at_most(share, most, says, on="build.duty.idle_share")


def _against(build: Build) -> list[str]:
    """What asks for a switch that forbids burning clean."""
    duty = build.build.duty
    reasons = (
        ("the engine maker asks for it", given(lambda: build.engine.regeneration.inhibit_switch_required)),
        ("it works over grass or brush", given(lambda: over_vegetation(build))),
        ("it runs in halls", given(lambda: duty.indoor)),
    )
    return [text for text, asked in reasons if asked]


def _inhibit(build: Build) -> Verdict:
    why = _against(build)
    if not why and given(lambda: build.plumbing.exhaust.regeneration.inhibit_switch) is not True:
        needed = (build.engine.regeneration.inhibit_switch_required, over_vegetation(build), build.build.duty.indoor)
        assert not any(needed)
        return does_not_apply("Nothing asks for a switch against burning the filter clean.")
    there = build.plumbing.exhaust.regeneration.inhibit_switch
    hot = given(lambda: build.engine.regeneration.outlet_temp)
    gas = f" The gas leaves at {shown(hot)}." if hot is not None else ""
    says = (
        "A switch forbids burning clean where that would be dangerous."
        if there
        else f"A switch against burning the filter clean is missing: {', and '.join(why)}.{gas}"
    )
    return holds(there, says, on=f"{CONTROLS}.inhibit_switch")
