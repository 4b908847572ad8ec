"""What several parts share: where their numbers are found, the consumer that they are, the speeds they stand."""

from typing import Any

from swaplint.spec.fields import COMPONENT_SHEET, RECORD, Part, measure, text


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
