"""Bolts of a joint: how strong they are, how tight, and what they are screwed into."""

from typing import Any

from swaplint.spec.fields import DRAWING, LOOK, MARKING, TAPE, Section, measure, word

BOLT_CLASSES = ("4.6", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9")


def bolt_class() -> Any:
    """The property class of a joint's bolts."""
    return word("property class on their heads", *BOLT_CLASSES, typical="8.8", where=MARKING)


def tightening_torque() -> Any:
    """The torque that a joint's bolts are tightened to."""
    return measure(
        "torque that each of them is tightened to", "torque", "N m", typical=45, plausible=(3, 900), where=DRAWING
    )


def screwed_in() -> Any:
    """How far a joint's bolts are screwed in."""
    return measure(
        "length of thread of those bolts that is screwed in", "length", "mm", typical=18, plausible=(3, 80), where=TAPE
    )


def threads_in() -> Any:
    """What a joint's bolts are screwed into."""
    return word(
        "what they are screwed into: a nut of their class, or threads cut in the part",
        "nut",
        "steel",
        "cast-iron",
        "aluminium",
        typical="nut",
        where=LOOK,
    )


class JointBolts(Section):
    """The bolts of a joint without an adapter: gearbox straight to flywheel housing."""

    diameter: float = measure(
        "thread diameter of the bolts", "length", "mm", typical=10, plausible=(4, 24), where=DRAWING
    )
    property_class: str = bolt_class()
    torque: float = tightening_torque()
    threads_in: str = threads_in()
    engagement: float = screwed_in()
