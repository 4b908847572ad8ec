"""The rule that compares every measured value with what was reckoned for it."""

from __future__ import annotations

from collections.abc import Callable

from swaplint.api import Build, Verdict, given, practice, rule, value_at

from . import air_and_heat, compared, electrics_reckoned, vehicle_reckoned

AGREES = practice("measured and reckoned differ by no more than instrument and assumptions may be off together")

Comparison = Callable[[Build], Verdict]

COMPARISONS: dict[str, tuple[tuple[str, ...], Comparison]] = {
    **electrics_reckoned.COMPARISONS,
    **air_and_heat.COMPARISONS,
    **vehicle_reckoned.COMPARISONS,
}
"""What is compared, by the name of the demand: the measured fields that it cannot do without, and how."""


def _is_measured(build: Build, fields: tuple[str, ...]) -> bool:
    return all(given(lambda path=path: value_at(build, path)) is not None for path in fields)  # type: ignore[misc]


def compared_values(build: Build) -> list[str]:
    """The names of what was measured and can be compared."""
    return [name for name, (fields, _) in COMPARISONS.items() if _is_measured(build, fields)]


ELSEWHERE = "A comparison is made where the value was measured; the rule of the trial asks for it."


@rule(
    "commissioning.prediction-gap",
    level="warning",
    due="commission",
    sources=[
        AGREES.giving("limit", "√(u_m² + Σ u_i²)"),
        compared.ERRORS_ADD.giving("formula", "how errors add up"),
        compared.SPREADS.giving("formula", "how far an assumption is usually off"),
    ],
    about="measured",
    each=compared_values,
    fallbacks=[compared.READING, compared.THERMOMETER, air_and_heat.NEW_FILTER],
    bad=[{"measured.cranking.feed_drop": "0.45 V"}],
    good=[{"measured.cranking.feed_drop": "0.36 V"}],
    without={path: ELSEWHERE for fields, _ in COMPARISONS.values() for path in fields},
)
def prediction_gap(build: Build, name: str) -> Verdict:
    """Does what was measured agree with what was reckoned, and where it does not, which assumption explains it?

    Computes: each prediction again at the measured conditions: current, temperatures, height, load, speed, fuel aboard.
    For each thing that it takes for granted the value that would explain the reading alone.
    Limit: measured and reckoned may differ by √(u_m² + Σ u_i²): what the instrument may be off, 3 % where nothing is
    stated, and what each assumption moves the prediction by its tolerance, or by what it is usually off.
    Consequence: The model or the build is wrong: a fault hides, or two errors cancel today and not tomorrow.
    Remedy: the measurement that the sentence names settles which assumption is wrong; then mend the part or the spec.
    Cannot tell: errors that all readings share, such as a gauge that reads high everywhere.
    """
    return COMPARISONS[name][1](build)
