"""Derived numbers of the driveline: fits and depths, the clutch and the converter."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from swaplint.api import Build, OutsideRange, Practice, given, is_fitted, or_practice, practice, quantity, sheet, shown
from swaplint.engineering import clutch as clutches
from swaplint.engineering import converter as converters
from swaplint.engineering import curves, housings, press_fits, road_load

from .. import sources
from ..gearing import chain
from ..gearing import hills_quantities as hills
from ..gearing import quantities as gearing

MEASURED = practice("arithmetic on measured depths and diameters")
RUNOUTS = practice("runouts that add up in the worst case")
RATINGS = practice("one stated torque over another")
FACINGS = practice("coefficient of friction, hot: 0.25 for organic and 0.35 for sintered facings")
ORGANIC = Practice(
    "coefficient of friction of organic facings, hot, 0.25 (0.21 to 0.29)", 0.25, FACINGS, between=(0.21, 0.29)
)
SINTERED = Practice(
    "coefficient of friction of sintered facings, hot, 0.35 (0.3 to 0.4)", 0.35, FACINGS, between=(0.3, 0.4)
)

BUSH = practice("a pilot bush is of sintered bronze, in steel three times its diameter")
SINTERED_BRONZE = Practice("pilot bush of sintered bronze", press_fits.SINTERED_BRONZE_MODULUS, BUSH)
BUSH_MODULI = {
    "sintered-bronze": press_fits.SINTERED_BRONZE_MODULUS,
    "bronze": press_fits.BRONZE_MODULUS,
    "steel": press_fits.STEEL_MODULUS,
}
CRANK_IN_DIAMETERS = 3.0
"""How large the crank is round the pilot bore, in diameters of the bush: a bush closes the most in a large one."""


# -- depths and fits --------------------------------------------------------------------------------------------------
def adapter_thickness(build: Build) -> float:
    """Thickness of all between flywheel housing and gearbox; none where the gearbox bolts straight to the housing."""
    own = build.driveline.adapter.thickness if is_fitted(build.driveline.adapter) else 0.0
    return own + chain.thickness_on(build, chain.HOUSING_SIDE)


def flywheel_depth(build: Build) -> float:
    """How far the friction face, or the flex-plate's converter face, lies ahead of the housing face, spacers fitted."""
    return build.engine.flywheel.depth - chain.thickness_on(build, chain.CRANK_SIDE)


def friction_face(build: Build) -> float:
    """Distance from the front of the gear case to the flywheel's friction face."""
    return housings.stack_gap(
        build.driveline.gearbox.bellhousing_depth, adapter_thickness(build), flywheel_depth(build)
    )


@quantity(
    "driveline.nose-reach",
    "length",
    "mm",
    formula="e = L_input − bell depth − adapters − depth of the pilot's open end ahead of the housing face",
    symbols={
        "L_input": "driveline.gearbox.input_shaft_length",
        "bell depth": "driveline.gearbox.bellhousing_depth",
        "depth of the pilot's open end ahead of the housing face": "engine.crank.pilot_depth",
    },
    sources=[MEASURED.giving("formula")],
)
def nose_reach(build: Build) -> float:
    """How far the tip of the input shaft stands inside the open end of the pilot bush."""
    gearbox = build.driveline.gearbox
    return housings.stack_gap(
        gearbox.input_shaft_length,
        -gearbox.bellhousing_depth,
        -adapter_thickness(build),
        -build.engine.crank.pilot_depth,
    )


@quantity(
    "driveline.pilot-engagement",
    "length",
    "mm",
    formula="the least of e and the length of the nose and the length of the bush",
    symbols={
        "e": "driveline.nose-reach",
        "the length of the nose": "driveline.gearbox.nose_length",
        "the length of the bush": "driveline.pilot.length",
    },
    sources=[MEASURED.giving("formula")],
)
def pilot_engagement(build: Build) -> float:
    """Length of the input shaft's nose that stands in the pilot bush."""
    return min(nose_reach(build), build.driveline.gearbox.nose_length, build.driveline.pilot.length)


@quantity(
    "driveline.nose-room",
    "length",
    "mm",
    formula="the lesser of hole depth − e and nose length − e: tip to bottom and shoulder to bush",
    symbols={
        "hole depth": "engine.crank.pilot_hole_depth",
        "nose length": "driveline.gearbox.nose_length",
        "e": "driveline.nose-reach",
    },
    sources=[MEASURED.giving("formula")],
)
def nose_room(build: Build) -> float:
    """What is left before the input shaft's tip or its shoulder strikes."""
    reach = nose_reach(build)
    nose = build.driveline.gearbox.nose_length
    return min(housings.stack_gap(build.engine.crank.pilot_hole_depth, -reach), housings.stack_gap(nose, -reach))


@quantity(
    "driveline.hub-on-spline",
    "length",
    "mm",
    formula="the lesser of hub's rear end − start of the spline and end of the spline − (hub's front end + wear "
    "travel), all from the front of the gear case",
    sources=[MEASURED.giving("formula")],
)
def hub_on_spline(build: Build) -> float:
    """Full spline left beyond the disc's hub at either end, over its wear travel; negative where it leaves it."""
    disc, gearbox = build.driveline.clutch, build.driveline.gearbox
    face = friction_face(build)
    if disc.hub_rear <= disc.hub_front:
        raise OutsideRange("the disc's hub ends where it begins: hub_rear must lie behind hub_front")
    rear = housings.stack_gap(face, -disc.hub_rear, -gearbox.spline_start)
    front = housings.stack_gap(gearbox.spline_end, -face, disc.hub_front, -disc.wear_travel)
    return min(rear, front)


@quantity(
    "driveline.converter-gap",
    "length",
    "mm",
    formula="gap = seating depth behind the bell's edge + adapters + depth of the flex-plate ahead of the housing face "
    "− crank spacers − spacers ahead of the converter",
    sources=[MEASURED.giving("formula")],
)
def converter_gap(build: Build) -> float:
    """How far the seated converter must be pulled forward to meet the flex-plate."""
    return housings.stack_gap(
        build.driveline.converter.seating_depth,
        adapter_thickness(build),
        flywheel_depth(build),
        -chain.thickness_on(build, chain.CONVERTER_SIDE),
    )


@quantity(
    "driveline.pilot-press",
    "length",
    "mm",
    formula="outside diameter of the bush − bore",
    symbols={"outside diameter of the bush": "driveline.pilot.outer", "bore": "engine.crank.pilot_bore"},
    sources=[MEASURED.giving("formula")],
)
def pilot_press(build: Build) -> float:
    """Interference of the pilot bush in its bore."""
    return build.driveline.pilot.outer - build.engine.crank.pilot_bore


@quantity(
    "driveline.pilot-clearance",
    "length",
    "mm",
    formula="inside diameter − what pressing in closes it by − diameter of the nose; a bearing's is as its sheet says",
    sources=[
        MEASURED.giving("formula", "inside diameter less the nose"),
        sources.MACHINE_DESIGN.giving("formula", "how much pressing in closes a bush"),
    ],
)
def pilot_clearance(build: Build) -> float:
    """Running clearance of the input shaft's nose in the pilot bush, pressed in."""
    return build.driveline.pilot.inner - pilot_closing(build) - build.driveline.gearbox.nose_diameter


def pilot_closing(build: Build) -> float:
    """How much the bore of a pilot bush closes when it is pressed in, on the diameter; nothing for a bearing."""
    pilot = build.driveline.pilot
    if pilot.kind != "bush":
        return 0.0
    return closing(build, max(pilot_press(build), 0.0), pilot.inner, pilot.outer)


def bush_modulus(build: Build) -> float:
    """Young's modulus of the pilot bush; of sintered bronze where none is fitted yet."""
    pilot = build.driveline.pilot
    if chain.left_out(pilot):
        return press_fits.SINTERED_BRONZE_MODULUS
    return or_practice(lambda: BUSH_MODULI[pilot.material], SINTERED_BRONZE)


def closing(build: Build, interference: float, inner: float, outer: float) -> float:
    """How much a bush of two diameters closes in the crank with an interference."""
    crank = CRANK_IN_DIAMETERS * outer
    return press_fits.bore_closing(interference, inner, outer, crank, bush_modulus(build))


@quantity(
    "driveline.spigot-clearance",
    "length",
    "mm",
    formula="bore − diameter of the converter's spigot",
    symbols={
        "bore": "engine.crank.pilot_bore",
        "diameter of the converter's spigot": "driveline.converter.spigot_diameter",
    },
    sources=[MEASURED.giving("formula")],
)
def spigot_clearance(build: Build) -> float:
    """Clearance of the converter's spigot in the crank."""
    return build.engine.crank.pilot_bore - build.driveline.converter.spigot_diameter


def _between(build: Build) -> list[Any]:
    """Adapter and rings between flywheel housing and gearbox."""
    adapter = build.driveline.adapter
    return [*([adapter] if is_fitted(adapter) else []), *chain.pieces_on(build, chain.HOUSING_SIDE)]


@quantity(
    "driveline.bore-runout",
    "length",
    "mm",
    formula="as measured at the gearbox's seat, else the sum of housing, adapter and rings: the worst case",
    sources=[RUNOUTS.giving("formula")],
)
def bore_runout(build: Build) -> float:
    """Runout of the bore that centres the gearbox, total indicator reading."""
    measured = given(lambda: build.driveline.alignment.bore_runout)
    if measured is not None:
        return measured
    own = build.engine.flywheel_housing.runout_bore
    return own + sum(float(piece.runout_bore) for piece in _between(build))


@quantity(
    "driveline.face-runout",
    "length",
    "mm",
    formula="as measured at the gearbox's seat, else the sum of housing, adapter and rings: the worst case",
    sources=[RUNOUTS.giving("formula")],
)
def face_runout(build: Build) -> float:
    """Runout of the face that the gearbox bolts to, total indicator reading."""
    measured = given(lambda: build.driveline.alignment.face_runout)
    if measured is not None:
        return measured
    own = build.engine.flywheel_housing.runout_face
    return own + sum(float(piece.runout_face) for piece in _between(build))


# -- clutch -----------------------------------------------------------------------------------------------------------
@quantity(
    "driveline.peak-torque",
    "torque",
    "N m",
    formula="the highest torque of the full-load curve",
    sources=[sheet("engine.torque_curve").giving("formula", "full-load curve")],
)
def peak_torque(build: Build) -> float:
    """The engine's highest torque."""
    return curves.maximum(gearing.torque_curve(build))[1]


def friction(build: Build) -> float:
    """Coefficient of friction of the facings."""
    disc = build.driveline.clutch
    stated = given(lambda: disc.friction_coefficient)
    if stated is not None:
        return stated
    fallback = SINTERED if given(lambda: disc.facing) == "sintered" else ORGANIC
    return or_practice(lambda: disc.friction_coefficient, fallback)


def friction_radius(build: Build) -> float:
    """Radius at which the friction acts, bedded in."""
    disc = build.driveline.clutch
    return clutches.effective_radius_uniform_wear(disc.friction_outer / 2, disc.friction_inner / 2)


@quantity(
    "driveline.clutch-capacity",
    "torque",
    "N m",
    formula="T = μ·F·N·(D_o + D_i)/4, for uniform wear; as its maker states it where that is known",
    symbols={
        "μ": "driveline.clutch.friction_coefficient",
        "F": "driveline.clutch.clamp_load",
        "N": "driveline.clutch.faces",
        "D_o": "driveline.clutch.friction_outer",
        "D_i": "driveline.clutch.friction_inner",
    },
    sources=[sources.MACHINE_DESIGN.giving("formula")],
)
def clutch_capacity(build: Build) -> float:
    """Torque at which the clutch slips."""
    disc = build.driveline.clutch
    stated = given(lambda: disc.torque_capacity)
    if stated is not None:
        return stated
    return clutches.torque_capacity(friction(build), disc.clamp_load, int(disc.faces), friction_radius(build))


@quantity(
    "driveline.clutch-factor",
    formula="capacity/highest engine torque",
    symbols={
        "capacity": "driveline.clutch-capacity",
        "highest engine torque": "driveline.peak-torque",
    },
    sources=[RATINGS.giving("formula")],
)
def clutch_factor(build: Build) -> float:
    """How many times the engine's highest torque the clutch carries."""
    return clutches.safety_factor(clutch_capacity(build), peak_torque(build))


@dataclass(frozen=True, slots=True)
class Start:
    """A start that the vehicle must make: how it is called, the mass moved, the slope, and the overall ratio for it."""

    name: str
    mass: float
    grade: float
    ratio: float


def starts(build: Build) -> list[Start]:
    """The starts that gearing.startability demands, with the level one, as far as the vehicle moves off so.

    A driver takes high range where it moves off in that, and the lowest where it does not.
    """
    laden = build.vehicle.mass.gvwr
    wanted = [("on the level", laden, 0.0)]
    slope = hills.start_wanted(build)
    wanted.append((f"laden on {shown(slope, 'grade', '%')}", laden, slope))
    if hills.may_tow(build):
        trailer = hills.HILL_START
        wanted.append((f"with trailer on {shown(trailer, 'grade', '%')}", build.vehicle.mass.gcwr, trailer))
    high, low = gearing.overall_ratio(build, gearing.gear_ratios(build)[0]), gearing.lowest_ratio(build)
    found = []
    for name, mass, grade in wanted:
        in_reach = (ratio for ratio in (high, low) if hills.starts_on(build, ratio, mass) >= grade)
        ratio = next(in_reach, None)
        if ratio is not None:
            found.append(Start(name, mass, grade, ratio))
    return found


def heat_of(build: Build, start: Start) -> float:
    """Heat that a start puts into the clutch, from the torque that the engine has at the highest place."""
    radius, efficiency = gearing.rolling_radius(build), build.driveline.drivetrain.efficiency
    ground = gearing.ground_coefficient(build)
    holds_back = road_load.grade_force(start.mass, start.grade)
    holds_back += road_load.rolling_resistance(start.mass, ground, start.grade)
    inertia = clutches.reflected_inertia(start.mass, radius, start.ratio)
    load = holds_back * radius / (start.ratio * efficiency)
    torque = hills.torque_when_moving_off(build)
    return clutches.launch_slip_energy(inertia, build.engine.torque.launch_speed, torque, load)


def hardest_start(build: Build) -> Start:
    """The start that puts the most heat into the clutch."""
    found = starts(build)
    if not found:
        raise OutsideRange("the vehicle does not even move off on the level: see gearing.startability")
    return max(found, key=lambda start: heat_of(build, start))


@quantity(
    "driveline.launch-energy",
    "energy",
    "kJ",
    formula="E = ½·J·ω²·T/(T − T_load), J = m·r²/i², T_load = m·g·(sin θ + C_r·cos θ)·r/(i·η), at the engine speed for "
    "moving off: the most of the starts that gearing.startability demands and the level one, each in high range where "
    "it succeeds there",
    sources=[sources.MACHINE_DESIGN.giving("formula", "heat of a clutch that slips")],
)
def launch_energy(build: Build) -> float:
    """Heat that the hardest start that the vehicle must make puts into the clutch."""
    return heat_of(build, hardest_start(build))


def facing_area(build: Build) -> float:
    """Area of all friction faces of the clutch together."""
    disc = build.driveline.clutch
    return float(disc.faces) * math.pi / 4.0 * (disc.friction_outer**2 - disc.friction_inner**2)


@quantity(
    "driveline.damper-factor",
    formula="stop torque of the disc's damper, or of the dual-mass flywheel, over the highest engine torque",
    sources=[RATINGS.giving("formula")],
)
def damper_factor(build: Build) -> float:
    """How many times the engine's highest torque the torsional damper takes before it strikes its stops."""
    flywheel = build.engine.flywheel
    dual = flywheel.kind == "dual-mass"
    stop = flywheel.damper_stop_torque if dual else build.driveline.clutch.damper_stop_torque
    return stop / peak_torque(build)


# -- converter --------------------------------------------------------------------------------------------------------
@quantity(
    "driveline.stall-speed",
    "rotation",
    "r/min",
    formula="the speed at which the full-load torque equals (n/K)², K = rated stall speed/√(rated stall torque)",
    sources=[sources.VEHICLE_DYNAMICS.giving("formula", "capacity factor of a converter")],
)
def stall_speed(build: Build) -> float:
    """Engine speed at full load with the vehicle held on the brake."""
    converter = build.driveline.converter
    factor = converters.capacity_factor(converter.rated_stall_speed, converter.rated_stall_torque)
    return converters.stall_speed(gearing.torque_curve(build), factor)


def multiplication(build: Build) -> float:
    """How many times a stalled converter multiplies the engine's torque; 1 behind a clutch."""
    if chain.has_converter(build):
        return build.driveline.converter.stall_ratio
    return 1.0


def in_degrees(angle: float) -> str:
    """An angle in degrees, for a sentence."""
    return f"{math.degrees(angle):.1f}°"
