"""Fields of the fit system: room in the bay, gaps to what stands near the engine, tilt, and the travel of shafts.

Places on the vehicle are measured on level ground: x behind the front axle (ahead of it is negative), y to the left
of the centre line (to the right is negative), z above the ground. Places on the engine unit are measured from the
middle of the crank at the rear face of the block, as in `mounts`.
"""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    LOOK,
    PROTRACTOR,
    RECORD,
    TAPE,
    Part,
    Section,
    flag,
    measure,
    part,
    parts,
    text,
    word,
    words,
)


# -- what the engine's sheet says -----------------------------------------------------------------------------------
class EngineEnvelope(Section):
    """The box around the engine package with all that is on it, measured from the middle of the crank at its rear."""

    ahead: float = measure(
        "reach ahead of the rear face of the block, pulleys and a fan on the engine included",
        "length",
        "mm",
        typical=750,
        plausible=(150, 2000),
        where=DATA_SHEET,
    )
    behind: float = measure(
        "reach behind the rear face of the block, flywheel housing included",
        "length",
        "mm",
        typical=120,
        plausible=(0, 800),
        where=DATA_SHEET,
        zero=True,
    )
    left: float = measure(
        "reach to the left of the crank", "length", "mm", typical=350, plausible=(80, 900), where=DATA_SHEET
    )
    right: float = measure(
        "reach to the right of the crank", "length", "mm", typical=350, plausible=(80, 900), where=DATA_SHEET
    )
    above: float = measure("reach above the crank", "length", "mm", typical=480, plausible=(80, 1200), where=DATA_SHEET)
    below: float = measure(
        "reach below the crank: the sump that is ordered",
        "length",
        "mm",
        typical=260,
        plausible=(60, 800),
        where=DATA_SHEET,
    )
    exhaust_side: str = word(
        "side that the exhaust manifold and turbocharger are on", "left", "right", typical="right", where=DATA_SHEET
    )


class EngineTilt(Section):
    """How far the engine may lean and still find its oil. Angles from level, all given as positive numbers."""

    front_up_max: float = measure(
        "greatest tilt with the front up, for minutes", "angle", "deg", typical=30, plausible=(3, 60), where=DATA_SHEET
    )
    front_down_max: float = measure(
        "greatest tilt with the front down, for minutes",
        "angle",
        "deg",
        typical=30,
        plausible=(3, 60),
        where=DATA_SHEET,
    )
    side_max: float = measure(
        "greatest tilt to either side, for minutes", "angle", "deg", typical=25, plausible=(3, 60), where=DATA_SHEET
    )
    standing_max: float = measure(
        "greatest tilt fore and aft for any time: what the engine may be installed at",
        "angle",
        "deg",
        typical=15,
        plausible=(1, 45),
        where=DATA_SHEET,
    )
    standing_side_max: float = measure(
        "greatest tilt to either side for any time", "angle", "deg", typical=10, plausible=(1, 45), where=DATA_SHEET
    )
    any_way_max: float = measure(
        "greatest tilt in any direction, where the sheet gives one",
        "angle",
        "deg",
        typical=35,
        plausible=(3, 60),
        where=DATA_SHEET,
    )


class ServiceItem(Section):
    """Something on the engine that must be reached or taken out now and then."""

    withdraw: float = measure(
        "free length that it takes to draw it out, with its cap or tool",
        "length",
        "mm",
        typical=120,
        plausible=(0, 1000),
        where=DATA_SHEET,
        zero=True,
    )
    interval: str = word("how often it is needed", "daily", "service", "yearly", typical="service", where=DATA_SHEET)


# -- where the engine goes ------------------------------------------------------------------------------------------
class EnginePlace(Section):
    """Where the engine stands in the vehicle: the middle of the crank at the rear face of the block."""

    x: float = measure(
        "distance behind the front axle; negative ahead of it",
        "length",
        "mm",
        typical=350,
        plausible=(-1500, 6000),
        where=TAPE,
        signed=True,
    )
    y: float = measure(
        "distance to the left of the vehicle's centre line; negative to the right",
        "length",
        "mm",
        typical=0,
        plausible=(-600, 600),
        where=TAPE,
        signed=True,
    )
    z: float = measure("height above the ground", "length", "mm", typical=700, plausible=(200, 2000), where=TAPE)
    front_faces: str = word(
        "which way the engine's own front, its pulley end, faces in the vehicle; to the front if not stated",
        "front",
        "left",
        "right",
        "rear",
        typical="front",
        where=LOOK,
    )
    pitch: float = measure(
        "angle of the crank from level, positive with the engine's own front up, vehicle level; on the face "
        "of the crank pulley",
        "angle",
        "deg",
        typical=3,
        plausible=(-15, 25),
        where=PROTRACTOR,
        signed=True,
    )
    roll: float = measure(
        "angle that the engine leans from the way its sheet draws it, positive with its left side up, vehicle level; "
        "on the face of the rocker cover",
        "angle",
        "deg",
        typical=0,
        plausible=(-25, 25),
        where=PROTRACTOR,
        signed=True,
    )


class Reach(Section):
    """The room that the vehicle leaves for one of the engine's service items, under the same name."""

    room: float = measure(
        "free length in the direction that it is drawn out",
        "length",
        "mm",
        typical=250,
        plausible=(0, 2000),
        where=TAPE,
        zero=True,
    )
    reached: str = word("where it is reached from", "above", "below", "side", typical="above", where=LOOK)
    mounts_stay: bool = flag("whether it comes out with engine and mounts in place", typical=True, where=LOOK)


class Bay(Section):
    """The space for the engine: what it must stay clear of on each side."""

    front: float = measure(
        "x of what stands ahead of it: the rear of radiator, fan and shroud; negative ahead of the front axle",
        "length",
        "mm",
        typical=-480,
        plausible=(-2500, 6000),
        where=TAPE,
        signed=True,
    )
    rear: float = measure(
        "x of what stands behind it: bulkhead or floor",
        "length",
        "mm",
        typical=520,
        plausible=(-1500, 8000),
        where=TAPE,
        signed=True,
    )
    left: float = measure(
        "distance of frame rail or inner wing on the left from the centre line",
        "length",
        "mm",
        typical=430,
        plausible=(150, 1200),
        where=TAPE,
    )
    right: float = measure(
        "distance of frame rail or inner wing on the right from the centre line",
        "length",
        "mm",
        typical=430,
        plausible=(150, 1200),
        where=TAPE,
    )
    bottom: float = measure(
        "height above the ground of what stands below it: cross-member or axle at rest",
        "length",
        "mm",
        typical=380,
        plausible=(0, 1500),
        where=TAPE,
        zero=True,
    )
    top: float = measure(
        "height above the ground of the hood, inside", "length", "mm", typical=1230, plausible=(400, 3000), where=TAPE
    )
    reach: dict[str, Reach] = parts("the room for each of the engine's service items, under the item's own name")


CLEARANCES = (
    "fan-core",
    "fan-shroud",
    "hood",
    "axle",
    "propshaft",
    "steering",
    "brake-pipe",
    "pedal",
    "fuel-line",
    "wiring",
    "fixed",
)
"""What the engine unit comes near."""


class Clearance(Section):
    """A gap between the engine unit, or what is on it, and something that does not move with it."""

    kind: str = word(
        "what the engine unit comes near there; axle is also drag link and track rod, fixed any part of frame or body",
        *CLEARANCES,
        typical="fixed",
        where=LOOK,
    )
    gap: float = measure(
        "gap at rest, at ride height", "length", "mm", typical=40, plausible=(0, 500), where=TAPE, zero=True
    )
    gap_at_bump: float = measure(
        "the same with the suspension on its bump stop, the stop's rubber pressed flat: springs out, axle jacked up",
        "length",
        "mm",
        typical=40,
        plausible=(0, 500),
        where=TAPE,
        zero=True,
    )
    direction: str = word(
        "which movement of the engine closes the gap", "up-down", "sideways", "fore-aft", typical="sideways", where=LOOK
    )
    y: float = measure(
        "distance of the place on the engine unit to the left of the crank; negative to the right",
        "length",
        "mm",
        typical=250,
        plausible=(-900, 900),
        where=TAPE,
        signed=True,
    )
    z: float = measure(
        "height of the place on the engine unit above the middle of the crank; negative below it",
        "length",
        "mm",
        typical=100,
        plausible=(-700, 1200),
        where=TAPE,
        signed=True,
    )
    hot: bool = flag("whether it is the exhaust or the turbocharger that comes near", typical=False, where=LOOK)
    none_because: str = text(
        "where there is no such gap: why; the entry then has its kind and this alone",
        typical="the engine stands behind the rear axle",
        where=LOOK,
    )
    gap_min: float = measure(
        "gap that must be left while the engine moves, where the maker of the engine or of the part states one",
        "length",
        "mm",
        typical=20,
        plausible=(1, 200),
        where=DATA_SHEET,
    )
    note: str = text("a remark for people; no rule reads it", typical="alternator to left rail", where=RECORD)


class GroundClearance(Section):
    """Room under the vehicle."""

    before: float = measure(
        "lowest point of what the swap touches, above the ground, before it",
        "length",
        "mm",
        typical=220,
        plausible=(60, 700),
        where=TAPE,
    )
    after: float = measure(
        "lowest point of the new parts above the ground", "length", "mm", typical=215, plausible=(40, 700), where=TAPE
    )
    guarded: bool = flag("whether a skid plate covers the lowest new part", typical=False, where=LOOK)


# -- water ----------------------------------------------------------------------------------------------------------
class Breather(Part):
    """The breather of a gearbox or axle. One that is sealed, or breathes into another part, is not fitted."""

    height: float = measure(
        "height above the ground of the place where it, or its hose, opens to the air",
        "length",
        "mm",
        typical=900,
        plausible=(100, 3000),
        where=TAPE,
    )


class WetPart(Part):
    """An electrical part that water may reach: a connector, a control unit, a motor or generator, a fuse box."""

    height: float = measure(
        "height of its lowest point above the ground", "length", "mm", typical=700, plausible=(50, 3000), where=TAPE
    )
    ip_codes: list[str] = words(
        "its degrees of protection, plugged in or with its cover on, each an IP code; empty where it has none",
        typical="IP67",
        where=COMPONENT_SHEET,
    )


class Wading(Section):
    """What water must not reach when the vehicle wades, besides air inlet, tank vent and engine control unit."""

    gearbox_breather: Breather = part("the breather of the gearbox")
    transfer_breather: Breather = part("the breather of the transfer case")
    axle_breathers: dict[str, Breather] = parts("the breathers of the axles, each under its axle's name")
    crankcase_breather: Breather = part("the crankcase breather, where it opens to the outside air")
    electrical: dict[str, WetPart] = parts(
        "connectors, control units and machines that hang low, each under its name; empty where none does"
    )


# -- what other systems' parts have of it -----------------------------------------------------------------------------
class FanPlace(Part):
    """The fan as something that can touch."""

    diameter: float = measure(
        "diameter over the blades", "length", "mm", typical=450, plausible=(150, 1200), where=TAPE
    )
    shroud_on: str = word(
        "what the shroud is fixed to: radiator and frame, or the engine", "frame", "engine", typical="frame", where=LOOK
    )
    projection: float = measure(
        "share of the blades' depth that stands inside the shroud",
        "share",
        "%",
        typical=60,
        plausible=(0, 100),
        where=TAPE,
    )
    lowest_tip: float = measure(
        "height above the ground of the lowest point that its blades reach",
        "length",
        "mm",
        typical=550,
        plausible=(100, 2000),
        where=TAPE,
    )
    stopped_in_water: bool = flag(
        "whether it stands still in water: an electric one by a switch, a driven one by taking off its belt or by a "
        "coupling that lets go when cold",
        typical=True,
        where=LOOK,
    )


class ShaftSlip(Part):
    """A propshaft as something that changes its length."""

    slip_in: float = measure(
        "how far its slip joint can still be pushed in at ride height",
        "length",
        "mm",
        typical=40,
        plausible=(0, 250),
        where=TAPE,
        zero=True,
    )
    slip_out: float = measure(
        "how far it can be drawn out at ride height before it comes apart: the length of spline that is engaged",
        "length",
        "mm",
        typical=90,
        plausible=(0, 300),
        where=TAPE,
        zero=True,
    )
    spline_length: float = measure(
        "length of its spline that can be engaged at most",
        "length",
        "mm",
        typical=110,
        plausible=(20, 300),
        where=TAPE,
    )
    drop: float = measure(
        "how far its driven end lies below its driving end at ride height; negative above it",
        "length",
        "mm",
        typical=120,
        plausible=(-600, 800),
        where=TAPE,
        signed=True,
    )
    bump_rise: float = measure(
        "how far its driven end rises from ride height to the bump stop; 0 where it hangs on the frame",
        "length",
        "mm",
        typical=90,
        plausible=(0, 400),
        where=TAPE,
        zero=True,
    )
    droop_fall: float = measure(
        "how far its driven end falls from ride height with the axle hanging free; 0 where it hangs on the frame",
        "length",
        "mm",
        typical=110,
        plausible=(0, 500),
        where=TAPE,
        zero=True,
    )
    bump_shift: float = measure(
        "how far its driven end moves away from the driving end along the vehicle at bump; negative towards it",
        "length",
        "mm",
        typical=4,
        plausible=(-80, 80),
        where=TAPE,
        signed=True,
    )
    droop_shift: float = measure(
        "how far its driven end moves away from the driving end along the vehicle at droop; negative towards it",
        "length",
        "mm",
        typical=-6,
        plausible=(-120, 120),
        where=TAPE,
        signed=True,
    )
