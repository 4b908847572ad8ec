"""What several parts share: where their numbers are found, the consumer that they are, the speeds they stand."""

from typing import Any

from swaplint.spec.fields import COMPONENT_SHEET, LOOK, RECORD, Part, measure, text, word


def consumer(what: str, typical: str) -> Any:
    """A field that names the electrical consumer that a part is."""
    return text(f"name under which the electrics list {what} as a consumer", typical=typical, where=RECORD)


class DrivenAccessory(Part):
    """What the engine drives through a belt or a gear: the speeds that it stands."""

    speed_max: float = measure(
        "highest continuous speed of its shaft",
        "rotation",
        "r/min",
        typical=15000,
        plausible=(1000, 25000),
        where=COMPONENT_SHEET,
        limit=True,
    )
    speed_min: float = measure(
        "lowest speed of its shaft at which it does its work",
        "rotation",
        "r/min",
        typical=1800,
        plausible=(200, 5000),
        where=COMPONENT_SHEET,
        limit=True,
    )


class GearedOrBelted(DrivenAccessory):
    """What has a ratio of its own, whether a belt or gears turn it."""

    driven_by: str = word(
        "what turns it: a belt of the crankshaft, or gears in the engine; asked where no stated belt has its pulley",
        "belt",
        "gears",
        typical="belt",
        where=LOOK,
    )
