"""Where the engine stands, how far it reaches and may lean, the bay around it and the gaps to what stands near."""

from swaplint.spec.fields import DATA_SHEET, LOOK, PROTRACTOR, RECORD, TAPE, Section, flag, measure, parts, text, word


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
        "greatest tilt with the front up, for minutes",
        "angle",
        "deg",
        typical=30,
        plausible=(3, 60),
        where=DATA_SHEET,
        limit=True,
    )
    front_down_max: float = measure(
        "greatest tilt with the front down, for minutes",
        "angle",
        "deg",
        typical=30,
        plausible=(3, 60),
        where=DATA_SHEET,
        limit=True,
    )
    side_max: float = measure(
        "greatest tilt to either side, for minutes",
        "angle",
        "deg",
        typical=25,
        plausible=(3, 60),
        where=DATA_SHEET,
        limit=True,
    )
    standing_max: float = measure(
        "greatest tilt fore and aft for any time: what the engine may be installed at",
        "angle",
        "deg",
        typical=15,
        plausible=(1, 45),
        where=DATA_SHEET,
        limit=True,
    )
    standing_side_max: float = measure(
        "greatest tilt to either side for any time",
        "angle",
        "deg",
        typical=10,
        plausible=(1, 45),
        where=DATA_SHEET,
        limit=True,
    )
    any_way_max: float = measure(
        "greatest tilt in any direction, where the sheet gives one",
        "angle",
        "deg",
        typical=35,
        plausible=(3, 60),
        where=DATA_SHEET,
        limit=True,
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
        limit=True,
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
