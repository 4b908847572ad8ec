"""The steps of the work on the vehicle, in their order, and how long each takes."""

from typing import Any

from swaplint.spec.fields import DECISION, Section, measure

STEPS: dict[str, str] = {
    "strip": "the old engine comes out, the frame is cleaned and checked",
    "trial-fit": "engine and driveline are set in and every gap is measured",
    "fabricate": "mounts, exhaust, ducts, brackets and tank are made",
    "assemble": "all is fitted for good, wired, plumbed and filled",
    "first-start": "first crank, first start, leaks, charge and vacuum",
    "road-test": "loaded road test, cooling run, weighbridge",
    "hand-over": "inspection, papers, and the keys go back",
}
"""The steps in their order, each with what it is."""


def _takes(what: str, typical: float) -> Any:
    return measure(
        f"days from its start to the next step: {what}",
        "duration",
        "days",
        typical=typical,
        plausible=(0, 120),
        where=DECISION,
        zero=True,
    )


class WorkSteps(Section):
    """How long each step of the work takes, in days of the calendar, one after the other."""

    strip: float = _takes(STEPS["strip"], 3)
    trial_fit: float = _takes(STEPS["trial-fit"], 4)
    fabricate: float = _takes(STEPS["fabricate"], 10)
    assemble: float = _takes(STEPS["assemble"], 10)
    first_start: float = _takes(STEPS["first-start"], 2)
    road_test: float = _takes(STEPS["road-test"], 3)
    hand_over: float = _takes(STEPS["hand-over"], 2)
