"""Fields of the engine's harness and the way that it takes through the vehicle."""

from swaplint.spec.fields import (
    CALLIPER,
    DATA_SHEET,
    DECISION,
    DRAWING,
    LOOK,
    TAPE,
    Part,
    Section,
    flag,
    measure,
    part,
    text,
    word,
)


class ConnectorSize(Section):
    """The outside of a connector, its lock lever as it stands when the harness is pulled through.

    A round one has a diameter, and neither width nor height.
    """

    diameter: float = measure(
        "diameter over the widest part of a round one", "length", "mm", typical=40, plausible=(4, 200), where=CALLIPER
    )
    width: float = measure("width", "length", "mm", typical=40, plausible=(4, 200), where=CALLIPER)
    height: float = measure("height", "length", "mm", typical=25, plausible=(4, 150), where=CALLIPER)


class HarnessLead(Part):
    """One branch of the engine's harness, from where it leaves the engine package to what it plugs into."""

    start: str = text("place that it starts at", typical="ecm", where=DATA_SHEET)
    end: str = text("place that it plugs in at", typical="pedal", where=DATA_SHEET)
    length: float = measure("length of the branch", "length", "m", typical=2.5, plausible=(0.1, 15), where=DATA_SHEET)
    diameter: float = measure(
        "diameter over its covering", "length", "mm", typical=12, plausible=(2, 60), where=CALLIPER
    )
    pre_terminated: bool = flag(
        "whether it comes with its connector on; false where the loose end is finished in the vehicle",
        typical=True,
        where=DATA_SHEET,
    )
    connector: ConnectorSize = part("the connector at its end")


class HarnessRoute(Part):
    """One stretch that a harness can take through the vehicle. Routes join places into ways."""

    start: str = text("place that it starts at", typical="ecm", where=DRAWING)
    end: str = text("place that it ends at", typical="bulkhead", where=DRAWING)
    length: float = measure("length along the real run", "length", "m", typical=1.2, plausible=(0.05, 15), where=TAPE)
    opening: str = text("name of the opening that it passes through", typical="bulkhead", where=DRAWING)
    bend_radius: float = measure(
        "tightest bend on it, inside", "length", "mm", typical=80, plausible=(5, 1000), where=TAPE
    )
    straight_end: float = measure(
        "shortest straight length behind a connector on it",
        "length",
        "mm",
        typical=40,
        plausible=(0, 500),
        where=TAPE,
        zero=True,
    )
    moves_with_engine: bool = flag(
        "whether one end moves with the engine and the other does not", typical=False, where=LOOK
    )


class Opening(Part):
    """A hole that a harness passes through, in a bulkhead or panel."""

    hole: float = measure("diameter of the hole", "length", "mm", typical=60, plausible=(5, 200), where=TAPE)
    grommet: str = word(
        "what lines it: nothing, a grommet that only fits over a loose end, or one that is split",
        "none",
        "plain",
        "split",
        typical="split",
        where=LOOK,
    )


class HarnessExtension(Part):
    """An extension made as a harness of its own, with matching connectors, that lengthens a lead."""

    lead: str = text("name of the lead that it lengthens", typical="pedal", where=DRAWING)
    length: float = measure("length that it adds", "length", "m", typical=1, plausible=(0.05, 10), where=DECISION)
