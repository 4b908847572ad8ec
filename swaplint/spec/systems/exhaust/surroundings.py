"""What is around the exhaust: heat, and the open end."""

from swaplint.spec.fields import AUTHORITY, LOOK, RECORD, TAPE, Part, Section, flag, measure, text, word, words

HEATED_KINDS = ("wiring", "brake-part", "rubber", "floor", "combustible", "gas-line", "steering")


class HeatGap(Part):
    """Something near the exhaust. Fuel lines and tank stand under `plumbing.fuel.routes`."""

    what: str = word("what it is", *HEATED_KINDS, typical="wiring", where=LOOK)
    clearance: str = text(
        "name of the gap under `vehicle.clearances` that it is, where the engine's movement closes it: then its gap "
        "follows from that one, less the movement",
        typical="starter_cable",
        where=RECORD,
    )
    gap: float = measure(
        "least gap to any exhaust part, with the engine at its stops; left out where `clearance` names it",
        "length",
        "mm",
        typical=150,
        plausible=(0, 2000),
        where=TAPE,
        zero=True,
    )
    shielded: bool = flag("whether a heat shield with air behind it stands between", typical=False, where=LOOK)
    near_turbocharger: bool = flag(
        "whether the nearest exhaust part is the turbocharger, the manifold or the pipe up to the first device",
        typical=False,
        where=LOOK,
    )


class ExhaustOutlet(Section):
    """The end of the exhaust."""

    place: str = word(
        "where it ends",
        "behind-cab",
        "above-roof",
        "beside-cab",
        "under-cab",
        "ahead-of-cab",
        typical="behind-cab",
        where=LOOK,
    )
    clear_of_body: bool = flag(
        "whether it ends beyond the edge of body and load, so that no gas gathers underneath", typical=True, where=LOOK
    )
    distance_to_opening: float = measure(
        "distance to the nearest window, door or vent that opens into a space for people",
        "length",
        "mm",
        typical=800,
        plausible=(0, 12000),
        where=TAPE,
        zero=True,
    )
    points_at: list[str] = words(
        "what the gas meets within a metre",
        "open-air",
        "tyre",
        "fuel-tank",
        "brake-part",
        "ground",
        "load",
        "standing-place",
        typical="open-air",
        where=LOOK,
    )
    spark_protection: str = word(
        "what holds sparks back: a spark arrester, a turbocharger or a filter that the forest authority accepts",
        "arrester",
        "accepted-turbocharger",
        "accepted-filter",
        "none",
        typical="accepted-filter",
        where=AUTHORITY,
    )
