"""What the trials of a finished vehicle have in common."""

from typing import Any

from swaplint.spec.fields import METER, RECORD, TRIAL, Section, day, flag, measure, text


class Trial(Section):
    """A trial of the finished vehicle, or a reading on it."""

    date: str = day("when it was made", typical="2026-05-31", where=RECORD)
    by: str = text("who made it", typical="invented fitter", where=RECORD)
    instrument: str = text("what it was read with", typical="multimeter no. 4, checked in January", where=RECORD)
    conditions: str = text("what else the values depend on", typical="half a tank, windows shut", where=RECORD)


def air_then(what: str = "of the air around") -> Any:
    """Temperature of the air at a trial."""
    return measure(
        f"temperature {what} then",
        "temperature",
        "degC",
        typical=18,
        plausible=(-40, 60),
        where=METER,
        signed=True,
    )


def place_height() -> Any:
    """Height of the place of a trial."""
    return measure(
        "height above the sea of the place of the trial",
        "length",
        "m",
        typical=150,
        plausible=(0, 5500),
        where=RECORD,
        zero=True,
        settled="measured",
    )


def turning(what: str, typical: float) -> Any:
    """Engine speed at a reading."""
    return measure(what, "rotation", "r/min", typical=typical, plausible=(100, 12000), where=METER)


def seen(what: str) -> Any:
    """What is looked at and was found good, or not."""
    return flag(f"whether {what}", typical=True, where=TRIAL)


def volts(what: str, typical: float, plausible: tuple[float, float]) -> Any:
    """Voltage between two places."""
    return measure(what, "voltage", "V", typical=typical, plausible=plausible, where=METER)
