"""One spec of a call: read, inspected and, where that can be done by itself, put into words; alone or side by side."""

from __future__ import annotations

import functools
import gc
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from swaplint.cli.reading import load_one, rule_base
from swaplint.gating.gate import Gate, GateLevel, gate_of
from swaplint.gating.terms import CallTerms, judge
from swaplint.host.overseer import CANNOT_TELL, MOST_OF_A_PACK
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.host.signs import SIGNS
from swaplint.host.strangers import ALL, STRANGERS
from swaplint.inspecting.baseline import Baseline
from swaplint.inspecting.prices import without_prices, worksheet_without_prices
from swaplint.inspecting.results import Inspection
from swaplint.inspecting.selection import Selection
from swaplint.inspecting.side_by_side import Again, Lost, in_order
from swaplint.inspecting.travelling import packed, unpacked
from swaplint.reports.values import units_for
from swaplint.solving.remedies import Wanted
from swaplint.solving.whole import inspect_whole
from swaplint.spec.files_read import FILES_READ
from swaplint.spec.job import Stage
from swaplint.spec.judged import judge_on
from swaplint.spec.renamed import notices
from swaplint.units.showing import SHOWING, System, showing_in

if TYPE_CHECKING:
    from swaplint.gating.earlier import EarlierReport, EarlierSpec
    from swaplint.reports.html.sheet import SpecSheet
    from swaplint.reports.json_text import Rendered


@dataclass(frozen=True)
class Call:
    """What holds for every spec of a call."""

    base: RuleBase | None
    """The rule packs; None where another process must load them itself."""
    packs: tuple[str, ...]
    folders: tuple[Path, ...]
    stage: Stage | None
    gate: GateLevel
    remedies: Wanted
    format: str
    whole: bool
    without_prices: bool
    """Whether what anything costs is left out of the report."""
    stdin: bytes | None
    selection: Selection
    terms: CallTerms
    earlier: EarlierReport | None = None
    """The report of an earlier inspection to compare with."""
    earlier_spec: str = ""
    """The other spec to compare with."""
    earlier_seen: dict[tuple[Stage, str], EarlierSpec] = field(default_factory=dict, compare=False)
    """What that came to, by the stage and the day that it was judged at."""
    units: System | None = field(default_factory=lambda: SHOWING.system)
    """The units that the call asks for; None where it leaves that to each spec."""

    def __reduce__(self) -> tuple[Any, ...]:
        """For another process, which has packs of its own."""
        alone = replace(self, base=None)
        return Call, tuple(getattr(alone, name) for name in Call.__dataclass_fields__)


@dataclass(slots=True)
class Done:
    """What came of one spec."""

    problems: list[Problem] = field(default_factory=list)
    gate_open: bool = True
    line: str = ""
    """The spec's line of a stream."""
    shown: Rendered | dict[str, Any] | None = None
    """The spec's part of a JSON report."""
    page: SpecSheet | None = None
    """The spec's part of a page."""
    inspection: Inspection | None = None
    """For formats that are made of all specs together."""
    told: list[str] = field(default_factory=list)
    """What is said on standard error and is no problem: names that are others now."""
    files: list[str] = field(default_factory=list)
    """The files that were read, for a call whose other specs another process reads."""
    seconds: dict[str, float] = field(default_factory=dict)


def specs_inspected(call: Call, paths: Sequence[str], cores: int | None = None) -> Iterator[Done]:
    """What came of each spec, in the order given; no spec knows of the others."""
    assert call.base is not None
    if len(paths) < 2 or (cores == 1 and not SIGNS.watched):
        for path in paths:
            yield inspect_one(call, path, alone=len(paths) == 1)
            if len(paths) > 1:
                gc.collect()  # views and their nodes hold each other: memory is not to grow with the specs
        return
    asked = [Asked(path) for path in paths]
    for done in in_order(functools.partial(_job, call), asked, cores, lost=lost, apart=SIGNS.watched):
        yield unpacked(done, call.base) if isinstance(done, bytes) else done


def inspect_one(call: Call, path: str, *, alone: bool = False) -> Done:
    """Read and inspect one spec, its sentences in the units that the call asks for, else those that it asks for.

    `alone`: it is the only one of the call, and what is written of it need not be ready.
    """
    assert call.base is not None
    spec, problems = load_one(path, call.folders, call.base, call.stdin)
    if spec is None:
        return Done(problems)
    terms = replace(call.terms, on=judge_on(spec, call.terms.on, named=call.terms.on_stated))
    with showing_in(units_for(spec)):
        inspection, broken = inspect_whole(
            call.base, spec, call.stage, remedies=call.remedies, selection=call.selection
        )
        broken = [*broken, *judge(inspection, call.base, terms)]
    if call.earlier is not None or call.earlier_spec:
        inspection.baseline = _baseline(call, inspection)
    gate = gate_of(inspection, call.gate)
    if call.without_prices:
        without_prices(inspection)
    told = notices(spec.files())
    done = Done([*problems, *broken], gate.open, told=told, seconds=inspection.seconds)
    if call.format in ("json", "jsonl"):
        # Imported here: the other formats do without it.
        from swaplint.reports.json_report import in_report, line, spec_json

        whole = call.whole or call.format == "json"
        shown = spec_json(inspection, call.gate, whole=whole, as_written=alone and call.format == "json")
        if call.format == "jsonl":
            done.line = line(shown)
        else:
            done.shown = shown if alone else in_report(shown)
    elif call.format == "html":
        with showing_in(units_for(spec)):
            done.page = _page(call, inspection, gate, done)
    else:
        done.inspection = inspection
    return done


def _page(call: Call, inspection: Inspection, gate: Gate, done: Done) -> SpecSheet:
    """The spec's part of a page, with the numbers that its results rest on; what broke on the way is noted."""
    # Imported here: the other formats do without it.
    from swaplint.inspecting.worksheet import Worksheet, worksheet
    from swaplint.reports.html.figures import figures, not_drawn
    from swaplint.reports.html.sheet import spec_sheet

    assert call.base is not None
    known = {quantity.id for _, quantity in call.base.quantities}
    used = {name.split(" ", 1)[0] for finding in inspection.findings for name in finding.quantities} & known
    if inspection.selection and not used:
        numbers = Worksheet(inspection.spec, call.base.packs)
    else:
        numbers = worksheet(call.base, inspection.spec, ids=sorted(used) if inspection.selection else ())
    done.problems += numbers.problems
    if call.without_prices:
        worksheet_without_prices(numbers)
    drawings = figures(inspection, call.base.packs, done.problems)
    why_not = not_drawn()
    if why_not:
        done.told.append(why_not)
    return spec_sheet(inspection, numbers, drawings, call.base.packs, gate)


def _baseline(call: Call, inspection: Inspection) -> Baseline | None:
    """How a spec stands to the earlier inspection that the call names."""
    # Imported here: most calls compare nothing.
    from swaplint.gating.comparison import compare_with_report, compare_with_spec
    from swaplint.gating.earlier import earlier_of

    assert call.base is not None
    if call.earlier is not None:
        return compare_with_report(call.base, inspection, call.earlier)
    stage, stated = inspection.stage, inspection.spec.stated("build.judged_on")
    day = str(stated.value) if stated is not None else ""
    seen = call.earlier_seen
    if (stage, day) not in seen:
        spec, _ = load_one(call.earlier_spec, call.folders, call.base)
        if spec is None:  # it was read when the call began: somebody has changed it since
            return None
        terms = replace(call.terms, on=judge_on(spec, day, named=True)) if day else call.terms
        with showing_in(units_for(inspection.spec)):
            earlier, _ = inspect_whole(call.base, spec, stage, remedies="none", selection=call.selection)
        judge(earlier, call.base, terms)  # so that the same weighs the same; what is wrong with it is not asked
        seen[stage, day] = earlier_of(earlier)
    return compare_with_spec(call.base, inspection, seen[stage, day])


class Asked(NamedTuple):
    """A spec to inspect, and the rules of strangers that are not run over it, each with what it did."""

    path: str
    aside: tuple[tuple[str, str], ...] = ()


def lost(asked: Asked, came: Lost) -> Done | bytes | Again[Asked]:
    """What to do about a spec whose process ended before it was inspected: again, without the rule that ran then.

    Where several did that, or nobody knows which, again without the rules of any pack that is not built in.
    """
    aside = dict(asked.aside)
    if came.running is not None and came.running.what not in aside and len(aside) < MOST_OF_A_PACK:
        return Again(Asked(asked.path, (*asked.aside, (came.running.what, came.why))))
    if STRANGERS.origin and ALL not in aside:
        return Again(Asked(asked.path, ((ALL, CANNOT_TELL),)))
    what = f"the process that inspected it {came.why}; its results are missing"
    return Done([Problem(what, "pack", file=asked.path)], gate_open=False)


# -- in another process ------------------------------------------------------------------------------------------
def _job(call: Call) -> Callable[[Asked], Done | bytes]:
    call = call if call.base is not None else replace(call, base=rule_base(list(call.packs)))
    SHOWING.system = call.units  # of this process, or the same as before
    return functools.partial(_packed, call)


def _packed(call: Call, asked: Asked) -> bytes:
    FILES_READ.forget()  # what other specs read is told with them
    with STRANGERS.without(asked.aside):
        done = inspect_one(call, asked.path)
    done.files = FILES_READ.names()
    made = packed(done)
    gc.collect()
    return made
