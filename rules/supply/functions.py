"""The functions of a build: when it needs each, how much hangs on it, who usually supplies it.

What each of them is stands with the words of the scope of supply, in the build spec's model. When a build needs one is
read from the rest of the spec: a manual gearbox needs a clutch, a vacuum booster behind an engine that makes no vacuum
needs a pump. A need that hangs on a field which the spec does not state is unknown.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from swaplint.api import Build, given, is_fitted
from swaplint.spec.systems.supply import FUNCTIONS

from ..gearing import chain

KIT = "usually it comes with the kit"
SHOP = "usually the shop makes or buys it"
OWNER = "usually the owner arranges it"
STAYS = "usually the vehicle has it already and it stays"

Need = Callable[[Build], bool]


@dataclass(frozen=True, slots=True)
class Function:
    """Something that somebody has to supply, at most once, where the build needs it."""

    name: str
    essential: bool
    """Whether the vehicle cannot run, or is not safe, without it."""
    source: str
    """Who usually supplies it, as the end of a sentence."""
    described: str
    """The field path of what it must satisfy; empty where no rule looks at it."""
    needed: Need
    """Whether the build needs it. Raises `Unknown` where the spec does not say."""
    pieces: bool = False
    """Whether it is many small things, which several people may well bring."""

    @property
    def what(self) -> str:
        """What it is, in plain words."""
        return FUNCTIONS[self.name]

    def __str__(self) -> str:
        """The word for it in the spec."""
        return self.name


# -- when a build needs it --------------------------------------------------------------------------------------------
def always(build: Build) -> bool:
    """Every build needs it."""
    return True


def _with_control_unit(build: Build) -> bool:
    return is_fitted(build.engine.ecm)


def _with_clutch(build: Build) -> bool:
    return build.driveline.gearbox.kind == "manual"


def _with_pilot(build: Build) -> bool:
    return _with_clutch(build) and is_fitted(build.driveline.pilot)


def _with_converter(build: Build) -> bool:
    return build.driveline.gearbox.kind == "automatic"


def _with_shafts(build: Build) -> bool:
    return any(is_fitted(shaft) for shaft in build.driveline.shafts.values())


def _with_final_drive_in_gearbox(build: Build) -> bool:
    """A gearbox with the final drive in its housing turns the wheels by half-shafts alone."""
    axles = [axle for axle in build.driveline.axles.values() if is_fitted(axle)]
    return any(axle.driven for axle in axles if given(lambda axle=axle: axle.integral) is True)  # type: ignore[misc]


def _with_another_axle_ratio(build: Build) -> bool:
    """The axles differ from those that the speedometer was made for; where nobody states those, they are kept."""
    before = given(lambda: build.driveline.speedometer.calibrated_axle_ratio)
    axles = [axle for axle in build.driveline.axles.values() if is_fitted(axle)]
    return before is not None and any(axle.ratio != before for axle in axles if chain.driven_on_the_road(axle))


def _with_speedometer_off(build: Build) -> bool:
    return build.driveline.speedometer.correction != 1


def _with_another_fuel(build: Build) -> bool:
    return build.engine.fuel_type != build.vehicle.original.fuel_type


def _with_feed_pump(build: Build) -> bool:
    asked = given(lambda: build.engine.fuel.feed_pump)
    return asked == "required" or (asked != "forbidden" and is_fitted(build.plumbing.fuel.pump))


def _with_charge_air(build: Build) -> bool:
    return is_fitted(build.plumbing.cooling.charge_cooler)


def _with_oil_coolers(build: Build) -> bool:
    return any(cooler.cools != "fuel" for cooler in build.plumbing.cooling.coolers.values() if is_fitted(cooler))


def _with_aftertreatment(build: Build) -> bool:
    return any(device.kind != "silencer" for device in build.engine.aftertreatment.devices.values())


def _with_reductant(build: Build) -> bool:
    return any(device.kind == "selective-catalyst" for device in build.engine.aftertreatment.devices.values())


def _with_assisted_brakes(build: Build) -> bool:
    return build.vehicle.brakes.assist in ("vacuum", "hydraulic", "electric")


def _with_vacuum_brakes(build: Build) -> bool:
    return build.vehicle.brakes.assist == "vacuum"


def _with_vacuum_pump(build: Build) -> bool:
    """No pump where the engine package has one. Manifold vacuum may do, or may need a pump besides: the spec says."""
    if not _with_vacuum_brakes(build) or build.engine.vacuum.source == "pump":
        return False
    if build.engine.vacuum.source == "none":
        return True
    led_to = given(lambda: build.plumbing.vacuum.supply)
    return is_fitted(build.plumbing.vacuum.pump) if led_to is None else led_to == "pump"


def _with_vacuum_reservoir(build: Build) -> bool:
    return _with_vacuum_brakes(build) and is_fitted(build.plumbing.vacuum.reservoir)


def _with_hydraulic_steering(build: Build) -> bool:
    return build.vehicle.steering.assist == "hydraulic"


def _with_other_voltages(build: Build) -> bool:
    return any(is_fitted(part) for part in (given(lambda: build.electrics.converters) or {}).values())


def _with_required_lamps(build: Build) -> bool:
    return bool(build.engine.warnings_required)


# -- the table --------------------------------------------------------------------------------------------------------
def _essential(name: str, source: str, described: str = "", needed: Need = always) -> Function:
    return Function(name, True, source, described, needed)


def _wanted(name: str, source: str, described: str = "", needed: Need = always, *, pieces: bool = False) -> Function:
    return Function(name, False, source, described, needed, pieces)


TABLE: tuple[Function, ...] = (
    # the engine package
    _essential("engine", KIT, "engine"),
    _essential("flywheel", KIT, "engine.flywheel"),
    _essential("flywheel-housing", KIT, "engine.flywheel_housing"),
    _essential("starter", KIT, "engine.starter"),
    _essential("alternator", KIT, "engine.alternator"),
    _essential("belts", KIT, "plumbing.belts"),
    _essential("control-unit", KIT, "engine.ecm", _with_control_unit),
    _essential("calibration", KIT, "engine.calibration", _with_control_unit),
    _essential("engine-harness", KIT, "engine.harness", _with_control_unit),
    _essential("vehicle-harness", SHOP, "electrics.routes", _with_control_unit),
    # the driveline
    _essential("adapter", KIT, "driveline.adapter", lambda build: is_fitted(build.driveline.adapter)),
    _essential("pilot-bush", KIT, "driveline.pilot", _with_pilot),
    _essential("clutch", KIT, "driveline.clutch", _with_clutch),
    _essential("clutch-release", SHOP, "driveline.clutch", _with_clutch),
    _essential("converter", KIT, "driveline.converter", _with_converter),
    _essential("gearbox", STAYS, "driveline.gearbox"),
    _essential("gear-lever", SHOP),
    _essential("transfer-case", STAYS, "driveline.transfer", lambda build: is_fitted(build.driveline.transfer)),
    _essential("propshafts", SHOP, "driveline.shafts", _with_shafts),
    _essential("half-shafts", SHOP, "driveline.axles.*.half_shafts", _with_final_drive_in_gearbox),
    _essential("axle-gears", SHOP, "driveline.axles", _with_another_axle_ratio),
    _wanted("speedometer-drive", SHOP, "driveline.speedometer", _with_speedometer_off),
    # what holds it
    _essential("mounts", KIT, "vehicle.mounts"),
    _essential("brackets", SHOP, "vehicle.mounts"),
    # fuel
    _essential("fuel-tank", SHOP, "plumbing.fuel.tank"),
    _essential("fuel-sender", SHOP, "plumbing.fuel.tank"),
    _wanted("fuel-filler", SHOP, "plumbing.fuel.conversion", _with_another_fuel),
    _essential("tank-vent", SHOP, "plumbing.fuel.vent"),
    _essential("fuel-lines", SHOP, "plumbing.fuel.supply"),
    _essential("fuel-filter", SHOP, "plumbing.fuel.filters"),
    _essential("feed-pump", SHOP, "plumbing.fuel.pump", _with_feed_pump),
    _wanted("vapour-canister", SHOP, "plumbing.fuel.canister", lambda build: is_fitted(build.plumbing.fuel.canister)),
    _wanted("fuel-cooler", SHOP, "plumbing.fuel.cooler", lambda build: is_fitted(build.plumbing.fuel.cooler)),
    # cooling
    _essential("radiator", SHOP, "plumbing.cooling.radiator"),
    _essential("cooling-fan", SHOP, "plumbing.cooling.fan"),
    _wanted("fan-shroud", SHOP, "plumbing.cooling.fan"),
    _essential("expansion-tank", SHOP, "plumbing.cooling.expansion_tank"),
    _essential("coolant-hoses", SHOP, "plumbing.cooling.hoses"),
    _wanted("heater-hoses", SHOP, "plumbing.cooling.heater", lambda build: is_fitted(build.plumbing.cooling.heater)),
    _essential("charge-air-cooler", SHOP, "plumbing.cooling.charge_cooler", _with_charge_air),
    _essential("charge-air-pipes", SHOP, "plumbing.charge_air", _with_charge_air),
    _wanted("oil-coolers", SHOP, "plumbing.cooling.coolers", _with_oil_coolers),
    # air and exhaust
    _essential("air-cleaner", SHOP, "plumbing.intake.filter"),
    _essential("intake-ducts", SHOP, "plumbing.intake.ducts"),
    _wanted(
        "pre-cleaner", SHOP, "plumbing.intake.precleaner", lambda build: is_fitted(build.plumbing.intake.precleaner)
    ),
    _essential("air-flow-sensor", KIT, "engine.air.flow_sensor", lambda build: is_fitted(build.engine.air.flow_sensor)),
    _wanted("crankcase-breather", KIT, "plumbing.intake.breather"),
    _essential("exhaust-pipes", SHOP, "plumbing.exhaust.pipes"),
    _essential("exhaust-flex", SHOP, "plumbing.exhaust.flex", lambda build: is_fitted(build.plumbing.exhaust.flex)),
    _essential("aftertreatment", KIT, "engine.aftertreatment", _with_aftertreatment),
    _essential("reductant-tank", SHOP, "plumbing.reductant", _with_reductant),
    _wanted("silencer", SHOP, "plumbing.exhaust.devices"),
    _essential("heat-shields", SHOP, "plumbing.exhaust.heat_gaps"),
    # brakes, steering, cab
    _essential("brake-booster", STAYS, "vehicle.brakes.booster", _with_assisted_brakes),
    _essential("vacuum-pump", SHOP, "plumbing.vacuum.pump", _with_vacuum_pump),
    _essential("vacuum-reservoir", SHOP, "plumbing.vacuum.reservoir", _with_vacuum_reservoir),
    _essential("vacuum-hose", SHOP, "plumbing.vacuum.check_valve", _with_vacuum_brakes),
    _essential("steering-pump", SHOP, "vehicle.steering.pump", _with_hydraulic_steering),
    _essential("steering-hoses", SHOP, "vehicle.steering.hose_rating", _with_hydraulic_steering),
    _wanted(
        "air-conditioning",
        SHOP,
        "plumbing.air_conditioning",
        lambda build: is_fitted(build.plumbing.air_conditioning),
    ),
    # electrics
    _essential("battery", OWNER, "electrics.batteries"),
    _essential("battery-tray", SHOP, "electrics.batteries"),
    _essential("starter-cable", SHOP, "electrics.cables"),
    _essential("alternator-cable", SHOP, "electrics.cables"),
    _essential("main-fuse", SHOP, "electrics.cables"),
    _essential("fuse-box", SHOP, "electrics.cables"),
    _essential("ground-straps", SHOP, "electrics.grounds"),
    _wanted("isolator", SHOP, "electrics.isolator", lambda build: is_fitted(build.electrics.isolator)),
    _wanted("intake-heater-cable", SHOP, "electrics.cables", lambda build: is_fitted(build.engine.intake_heater)),
    _wanted("voltage-converters", SHOP, "electrics.converters", _with_other_voltages),
    # what the driver works and sees
    _essential("key-switch", STAYS, "electrics.key_switch"),
    _wanted("start-interlock", SHOP, "electrics.start.interlock"),
    _essential("pedal", KIT, "electrics.pedal", lambda build: is_fitted(build.engine.pedal)),
    _wanted("gauges", SHOP, "electrics.tach"),
    _essential("warning-lamps", SHOP, "electrics.lamps", _with_required_lamps),
    _wanted("data-bus", SHOP, "electrics.network", lambda build: is_fitted(build.electrics.network)),
    _wanted("diagnostic-connector", SHOP, "electrics.diagnostic", _with_control_unit),
    # what is poured in, used up, or done
    _wanted("engine-oil", SHOP),
    _wanted("coolant", SHOP, "plumbing.cooling.coolant"),
    _wanted("other-fluids", SHOP, pieces=True),
    _wanted("consumables", SHOP, pieces=True),
    _wanted("engineering-report", OWNER),
    _wanted("inspection", OWNER),
    _wanted("commissioning", SHOP),
)
"""Every function that a build may need, in the order of the job."""
