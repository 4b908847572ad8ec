"""Where a tank sits, what holds it, what fills it, and a second tank."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DECISION,
    DRAWING,
    LOOK,
    MANUAL,
    SCALES,
    TAPE,
    Part,
    flag,
    measure,
    part,
    word,
)


class TankFilling(Part):
    """Foam or a bladder in a tank, as safety tanks have it."""

    kind: str = word(
        "what is in the tank", "foam", "bladder", "bladder-with-foam", typical="bladder-with-foam", where=LOOK
    )
    displaced: float = measure(
        "share of the tank's volume that it takes: some 3 % for foam",
        "share",
        "%",
        typical=3,
        plausible=(0, 20),
        where=COMPONENT_SHEET,
        zero=True,
    )
    held_back: float = measure(
        "share of the fuel that stays in the foam and does not drain to the pick-up; 0 without foam",
        "share",
        "%",
        typical=2,
        plausible=(0, 10),
        where=COMPONENT_SHEET,
        zero=True,
    )
    suits_fuel: bool = flag(
        "whether its maker allows this fuel in it, and its years are not over", typical=True, where=COMPONENT_SHEET
    )


class PlacedTank(Part):
    """What every tank has: its size, its place in the vehicle, and what holds it there."""

    capacity: float = measure(
        "fuel in the full tank, before foam or a bladder takes its share",
        "volume",
        "L",
        typical=80,
        plausible=(5, 1000),
        where=MANUAL,
    )
    empty_mass: float = measure(
        "mass of the empty tank with what is bolted to it", "mass", "kg", typical=12, plausible=(1, 250), where=SCALES
    )
    behind_rear_axle: bool = flag("whether any of the tank is behind the rear axle", typical=False, where=LOOK)
    to_rear: float = measure(
        "least distance lengthwise from the tank to the vehicle's rear end",
        "length",
        "mm",
        typical=600,
        plausible=(0, 8000),
        where=TAPE,
        zero=True,
    )
    parted: str = word(
        "what parts it from the space for people: it hangs outside the body, a closed wall that fuel cannot run "
        "through stands between, or nothing does",
        "outside-body",
        "closed-wall",
        "nothing",
        typical="outside-body",
        where=LOOK,
    )
    filler: str = word(
        "where its filler opens",
        "outside",
        "cab",
        "luggage-space",
        "engine-space",
        typical="outside",
        where=LOOK,
    )
    holds_lengthwise: float = measure(
        "force along the vehicle at which its straps, brackets or bolts let go, all together",
        "force",
        "kN",
        typical=25,
        plausible=(0.5, 500),
        where=DRAWING,
    )
    holds_across: float = measure(
        "force across the vehicle at which they let go, all together",
        "force",
        "kN",
        typical=12,
        plausible=(0.5, 500),
        where=DRAWING,
    )
    filling: TankFilling = part("foam or a bladder in the tank")


class SecondTank(PlacedTank):
    """A second fuel tank."""

    joined: str = word(
        "how its fuel gets to the engine: a valve takes it from one tank or the other, a pump moves it into the main "
        "tank, or a line joins both below",
        "valve",
        "transfer-pump",
        "balance-line",
        typical="valve",
        where=DECISION,
    )
    reachable: float = measure(
        "fuel that can be drawn from it when it is full", "volume", "L", typical=50, plausible=(3, 1000), where=TAPE
    )
    return_follows: bool = flag(
        "whether the valve that changes the supply over changes the return over too", typical=True, where=LOOK
    )
    stops_when_full: bool = flag(
        "whether the pump that moves its fuel stops by itself before the main tank runs over", typical=True, where=LOOK
    )
    line_shuts: bool = flag("whether a valve at each tank can shut the line that joins them", typical=True, where=LOOK)
    line_guarded: bool = flag(
        "whether that line is guarded along its whole way below the tanks", typical=True, where=LOOK
    )
    own_vent: bool = flag(
        "whether it breathes through a vent of its own that closes when rolled over", typical=True, where=LOOK
    )
