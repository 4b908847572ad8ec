"""Where two pieces meet that were not made for each other: both ends, as they are."""

from swaplint.spec.fields import CALLIPER, DRAWING, RECORD, Section, part, text, word

FORMS: dict[str, str] = {
    "metric-thread": "metric thread, fine or coarse",
    "unified-thread": "inch thread of 60 degrees: UNC, UNF, the flared fittings of tubes",
    "taper-pipe-thread": "tapered inch pipe thread of 60 degrees, which seals on the thread",
    "parallel-pipe-thread": "inch pipe thread of 55 degrees, straight or tapered",
    "hose": "hose, or the nozzle that a hose is pushed on",
    "pipe": "plain pipe, joined by a clamp or a sleeve",
    "flange": "flange, named by its bolt circle",
    "quick-connector": "connector that snaps in",
    "plug": "electrical connector, named by its family and number of ways",
    "spline": "splined shaft or hub, named by number and diameter",
}
"""The forms that an end may have, each with what it means."""
LOOK_ALIKE = ("metric-thread", "unified-thread", "taper-pipe-thread", "parallel-pipe-thread")
"""Threads that are taken for one another by eye."""
CARRIES = ("driveline", "fuel", "brakes", "steering", "coolant", "oil", "air", "exhaust", "wiring")


class JointEnd(Section):
    """One side of a joint, as it is."""

    form: str = word("how it joins", *FORMS, typical="metric-thread", where=CALLIPER)
    size: str = text("its size as the trade writes it", typical="M16x1.5", where=CALLIPER)
    side: str = word(
        "outer goes around the other: a nut, a hose, a hub; inner goes in: a bolt, a nozzle, a shaft; alike where "
        "there is no such difference, as with flanges",
        "outer",
        "inner",
        "alike",
        typical="outer",
        where=CALLIPER,
    )


class Joint(Section):
    """Two pieces that meet."""

    carries: str = word("what the joint is of", *CARRIES, typical="fuel", where=DRAWING)
    one: JointEnd = part("one end")
    other: JointEnd = part("the other end")
    known_by: str = word(
        "how both ends are known: the makers' drawings, a gauge and calliper, or by eye",
        "drawing",
        "gauge",
        "eye",
        typical="gauge",
        where=CALLIPER,
    )
    note: str = text("a remark for people; no rule reads it", typical="at the tank", where=RECORD)
