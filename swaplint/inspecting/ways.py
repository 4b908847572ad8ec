"""Ways to answer a question that nobody knows the answer to: what to measure for an estimate of the field."""

from __future__ import annotations

from typing import Any, NamedTuple

from swaplint.build.estimates import Estimate, about_a_part, estimates_for
from swaplint.build.reads import Reads
from swaplint.build.stated import value_at
from swaplint.build.view import View
from swaplint.host.watch import TookTooLong, time_limit
from swaplint.inspecting.running import RULE_SECONDS
from swaplint.spec.fields import Section
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.shape import pattern_at


class Way(NamedTuple):
    """A way to estimate a field."""

    estimate: Estimate
    measure: tuple[str, ...]
    """The fields that are still missing for it."""


def ways_to(spec: LoadedSpec, path: str) -> list[Way]:
    """How a field that the spec does not state can be estimated, the closest way first."""
    estimates = estimates_for(type(spec.build), path)
    view = View(spec.build, probing=True) if estimates else None
    ways: list[Way] = []
    for estimate in estimates:
        assert view is not None
        reads = _read(view, estimate, path.rpartition(".")[0])
        # What it can do without, for a practice stands in, is not asked for.
        missing = tuple(one for one in reads.unknown if one not in (path, *reads.optional)) if reads else ()
        if missing and all(missing != way.measure for way in ways):
            ways.append(Way(estimate, missing))
    return ways


def measured_for(model: type[Section], estimate: Estimate) -> list[str]:
    """The fields that an estimate cannot do without, on any build; `*` stands for a part's name, `[]` for an item."""
    above = estimate.stands_in_for.split(".")[:-1]
    view = View(model.model_validate(_with_one_part(above)), probing=True)
    reads = _read(view, estimate, ".".join(above).replace("*", ONE).replace("[]", "[1]"))
    needed = [path for path in reads.fields if path not in reads.optional] if reads is not None else []
    patterns = dict.fromkeys(pattern_at(model, path) for path in needed)
    return [pattern for pattern, member in patterns if member is not None and member.facts is not None]


ONE = "one"
"""What a part is called that is made up."""


def _with_one_part(names: list[str]) -> Any:
    """Data of a build with one part of each collection on the way to a field."""
    if not names:
        return {}
    name, rest = names[0], _with_one_part(names[1:])
    if name.endswith("[]"):
        return {name.removesuffix("[]"): [rest]}
    return {ONE if name == "*" else name: rest}


def _read(view: View, estimate: Estimate, holder: str) -> Reads | None:
    """What an estimate reads on a view, with typical values where none are stated; None where it is no use there."""
    reads = Reads()
    part: list[Any] = []
    try:
        if about_a_part(estimate.stands_in_for):
            part = [value_at(view.build, holder)]
        view.stack.append(reads)
        with time_limit(RULE_SECONDS):
            estimate(view.build, *part)
    except ValueError:
        pass  # typical values need not fit together: what it lacks is known all the same
    except (TookTooLong, Exception):
        return None
    finally:
        view.settle()
    return reads
