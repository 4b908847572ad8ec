"""Fields of made brackets and cross-members: what carries the engine between its mounts and the frame."""

from swaplint.spec.fields import DECISION, DRAWING, MARKING, TAPE, Part, count, flag, measure, word


class SteelSection(Part):
    """A piece of steel that is bent: plates on edge, or a rectangular hollow section."""

    shape: str = word(
        "what its section is: plates that stand on edge, or a box", "plates", "box", typical="plates", where=DRAWING
    )
    depth: float = measure(
        "depth of the section, up and down, where it is bent most",
        "length",
        "mm",
        typical=80,
        plausible=(10, 400),
        where=TAPE,
    )
    width: float = measure(
        "width of a box over its two upright walls", "length", "mm", typical=50, plausible=(10, 300), where=TAPE
    )
    wall: float = measure(
        "thickness of each plate, or of the walls of a box",
        "length",
        "mm",
        typical=6,
        plausible=(1.5, 40),
        where=TAPE,
    )
    plates: float = count("plates that stand side by side", typical=2, plausible=(1, 6), where=DRAWING)
    steel: str = word(
        "class of its steel after EN 10025-2, as its paper shows; other where it has none",
        "S235",
        "S275",
        "S355",
        "other",
        typical="S235",
        where=MARKING,
    )
    yield_strength: float = measure(
        "yield strength of a steel of another class, from its certificate",
        "stress",
        "MPa",
        typical=235,
        plausible=(100, 1200),
        where=MARKING,
    )


class Bracket(SteelSection):
    """The bracket between a mount and what it is fixed to; not fitted where the maker's own is used as it is."""

    arm: float = measure(
        "distance of the middle of the rubber from the root of the bracket, where it is bent most",
        "length",
        "mm",
        typical=80,
        plausible=(0, 600),
        where=TAPE,
        zero=True,
    )
    welded: bool = flag(
        "whether its arm is welded at the root, not bent or cut from one piece", typical=True, where=DRAWING
    )
    weld_throat: float = measure(
        "throat of the fillet welds at its root, on both sides of each plate; 0.7 of the leg",
        "length",
        "mm",
        typical=4,
        plausible=(1.5, 20),
        where=DECISION,
    )


class CrossMember(SteelSection):
    """A made cross-member that carries mounts between the two rails of the frame."""

    span: float = measure(
        "distance between the middles of its joints with the two rails",
        "length",
        "mm",
        typical=750,
        plausible=(200, 1500),
        where=TAPE,
    )
    middle: float = measure(
        "distance of its middle to the left of the crank; negative to the right",
        "length",
        "mm",
        typical=0,
        plausible=(-400, 400),
        where=TAPE,
        signed=True,
        zero=True,
    )
