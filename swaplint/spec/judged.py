"""The day on which what a spec says of offers and papers is judged: a fact that a call adds to the spec."""

from __future__ import annotations

from swaplint.spec.facts import Stated
from swaplint.spec.job import Job
from swaplint.spec.loaded import LoadedSpec


def judge_on(spec: LoadedSpec, on: str, *, named: bool = False) -> str:
    """State the day, year-month-day, in a spec that states none. Returns the day that holds.

    One that the call names goes before the spec's own.

    Rules read it as any field, so that they need no clock and the same call comes to the same results.
    """
    stated = spec.stated("build.judged_on")
    if stated is not None and not named:
        return str(stated.value)
    job = getattr(spec.build, "build", None) or Job.model_construct()
    day = Stated(on, written=on)
    spec.build = spec.build.model_copy(update={"build": job.model_copy(update={"judged_on": day})})
    return on
