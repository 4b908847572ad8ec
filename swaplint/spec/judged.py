"""The day on which what a spec says of offers and papers is judged: a fact that a call adds to the spec."""

from __future__ import annotations

import datetime

from swaplint.spec.fields import Stated
from swaplint.spec.job import Job
from swaplint.spec.loaded import LoadedSpec


def judge_on(spec: LoadedSpec, on: datetime.date, *, named: bool = False) -> None:
    """State the day in a spec that states none; one that the call names goes before the spec's own.

    Rules read it as any field, so that they need no clock and the same call comes to the same results.
    """
    if not named and spec.stated("build.judged_on") is not None:
        return
    job = getattr(spec.build, "build", None) or Job.model_construct()
    day = Stated(on.isoformat(), written=on.isoformat())
    spec.build = spec.build.model_copy(update={"build": job.model_copy(update={"judged_on": day})})
