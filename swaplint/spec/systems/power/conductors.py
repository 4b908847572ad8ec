"""Fields of cables and grounds."""

from swaplint.engineering.fuses import FUSE_LINK_RATINGS
from swaplint.spec.fields import (
    CLAMPED,
    COMPONENT_SHEET,
    DATA_SHEET,
    DECISION,
    DRAWING,
    LOOK,
    MARKING,
    METER,
    OWNER,
    TAPE,
    Part,
    count,
    flag,
    measure,
    text,
    word,
    words,
)

CONDUCTOR_SIZES_MM2 = (0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150)
"""Conductor sizes of IEC 60228 that vehicles use."""


def _size(description: str) -> float:
    size: float = measure(
        description,
        "conductor",
        "mm2",
        typical=10,
        plausible=(0.35, 240),
        where=DECISION,
        series=CONDUCTOR_SIZES_MM2,
    )
    return size


def _material() -> str:
    material: str = word(
        "what the conductor is made of; a cable sold by its size alone is copper",
        "copper",
        "copper-clad aluminium",
        typical="copper",
        where=MARKING,
    )
    return material


def _joints(typical: int) -> float:
    joints: float = count(
        "crimped, bolted joints along the cable, its ends included; two where not stated",
        typical=typical,
        plausible=(0, 12),
        where=DRAWING,
        zero=True,
    )
    return joints


def _gauge() -> str:
    gauge: str = word(
        "what a size with a gauge number goes by: AWG, the area of the number, as boat cable has it; SAE, vehicle "
        "cable, which has up to 11 % less copper under the same number",
        "AWG",
        "SAE",
        typical="SAE",
        where=MARKING,
    )
    return gauge


class Cable(Part):
    """One cable on the positive side, from node to node."""

    role: str = word(
        "what it is for; battery-link joins batteries in series, switched-feed is live while the key says so",
        "starter",
        "battery-link",
        "alternator",
        "intake-heater",
        "glow-plugs",
        "ecm-feed",
        "fuel-pump",
        "fan",
        "lamps",
        "cab-feed",
        "switched-feed",
        "other",
        typical="other",
        where=DRAWING,
    )
    start: str = text("node that it starts at, on the side of the source", typical="battery-positive", where=DRAWING)
    end: str = text("node that it ends at", typical="cab-fuses", where=DRAWING)
    through: str = text(
        "name of the opening of `electrics.openings` that it passes through, where it crosses a panel",
        typical="bulkhead",
        where=DRAWING,
    )
    size: float = _size("size of the conductor")
    material: str = _material()
    length: float = measure(
        "length along its route, one way", "length", "m", typical=3, plausible=(0.1, 25), where=TAPE
    )
    joints: float = _joints(2)
    gauge: str = _gauge()
    current: float = measure(
        "current that it carries continuously", "current", "A", typical=15, plausible=(0.05, 500), where=CLAMPED
    )
    returns_by: str = word(
        "how the current comes back: a conductor of its own, the frame, or the engine that the consumer is bolted to",
        "own-conductor",
        "frame",
        "engine",
        typical="own-conductor",
        where=DRAWING,
    )
    return_length: float = measure(
        "length of the return conductor: all the way back if it is one of its own, else the lead from the consumer to "
        "the frame or engine, 0 m if it is bolted on",
        "length",
        "m",
        typical=3,
        plausible=(0, 25),
        where=TAPE,
        zero=True,
    )
    return_size: float = _size("size of the return conductor, where it differs from `size`")
    drop_max: float = measure(
        "share of the nominal voltage that may be lost there and back, where the consumer's maker states one",
        "share",
        "%",
        typical=3,
        plausible=(0.5, 20),
        where=COMPONENT_SHEET,
        limit=True,
    )
    insulation_temp: float = measure(
        "highest conductor temperature that the insulation is rated for",
        "temperature",
        "degC",
        typical=105,
        plausible=(60, 260),
        where=MARKING,
        signed=True,
    )
    place: str = word(
        "hottest place that it runs through", "cab", "engine-space", "frame", typical="engine-space", where=DRAWING
    )
    place_temperature: float = measure(
        "highest temperature of the air in that place; where not stated that of a battery in the same engine space, "
        "else 50 °C in an engine space and 30 °C elsewhere",
        "temperature",
        "degC",
        typical=60,
        plausible=(10, 150),
        where=METER,
        signed=True,
    )
    bundled_with: float = count(
        "number of other loaded conductors in its bundle; 0 for none",
        typical=0,
        plausible=(0, 60),
        where=DRAWING,
        zero=True,
    )
    fused: bool = flag(
        "false where the cable has no fuse of its own; `fuse` says the same as true", typical=True, where=LOOK
    )
    fuse: float = measure(
        "rating of its fuse",
        "current",
        "A",
        typical=20,
        plausible=(1, 600),
        where=MARKING,
        series=FUSE_LINK_RATINGS,
    )
    fuse_resistance: float = measure(
        "resistance of its fuse with holder", "resistance", "mohm", typical=0.2, plausible=(0.02, 20), where=METER
    )
    fuse_distance: float = measure(
        "length of cable between the source and the fuse",
        "length",
        "mm",
        typical=150,
        plausible=(0, 3000),
        where=TAPE,
        zero=True,
    )
    sleeved: bool = flag(
        "whether a sleeve or conduit guards its unfused length against chafing", typical=True, where=LOOK
    )
    switched_by: list[str] = words(
        "nodes that close the relay in it, any one of them; a cable that states none has no relay",
        typical="key-run",
        where=DRAWING,
    )
    relay_rating: float = measure(
        "rating of the relay contact, or of the switch, that switches it",
        "current",
        "A",
        typical=100,
        plausible=(1, 500),
        where=MARKING,
    )
    relay_making: float = measure(
        "highest current that the contact may close on, where its maker states one",
        "current",
        "A",
        typical=150,
        plausible=(1, 2000),
        where=COMPONENT_SHEET,
        limit=True,
    )
    coil_current: float = measure(
        "current of that relay's coil", "current", "A", typical=0.15, plausible=(0.02, 10), where=COMPONENT_SHEET
    )
    coil_drop_out: float = measure(
        "voltage of that relay's coil below which it may let go",
        "voltage",
        "V",
        typical=3,
        plausible=(0.5, 20),
        where=COMPONENT_SHEET,
    )
    inrush: float = measure(
        "current that the consumer draws as it is switched on",
        "current",
        "A",
        typical=60,
        plausible=(0.1, 2000),
        where=COMPONENT_SHEET,
    )
    live_in_crank: bool = flag(
        "whether what hangs on it must stay live while the engine is cranked", typical=False, where=DATA_SHEET
    )
    branch_share: float = measure(
        "share of the current of the branches behind it that runs at one time; all of it where not stated",
        "share",
        "%",
        typical=100,
        plausible=(5, 100),
        where=OWNER,
    )
    diode: bool = flag(
        "whether a diode in it lets current through from its start to its end only; none where not stated",
        typical=False,
        where=LOOK,
    )


class Ground(Part):
    """One conductor on the return side, from node to node."""

    start: str = text("node that it comes from", typical="engine", where=DRAWING)
    end: str = text("node that it goes to", typical="battery-negative", where=DRAWING)
    size: float = _size("size of the conductor")
    material: str = _material()
    length: float = measure("length along its route", "length", "m", typical=0.5, plausible=(0.05, 15), where=TAPE)
    joints: float = _joints(2)
    gauge: str = _gauge()
