"""The rule about the scope of supply."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from swaplint.api import (
    Build,
    Verdict,
    does_not_apply,
    given,
    holds,
    needs_review,
    path_of,
    practice,
    rule,
    stated_values,
)
from swaplint.spec.systems.supply import SupplyLine

from .functions import TABLE, Function, always

ONCE = practice("every function is supplied once, by somebody named")

_CONTAINS = "engine.contains"
_BY = {
    "kit": "by the kit",
    "shop": "by the shop",
    "owner": "by the owner",
    "existing": "already there",
    "not-required": "not required",
}


# -- what covers what -------------------------------------------------------------------------------------------------
@dataclass(frozen=True, slots=True)
class Coverage:
    """A function, and what says that it is supplied."""

    function: Function
    lines: tuple[SupplyLine, ...]
    """The lines of the scope of supply that name it."""
    in_package: bool
    """Whether the engine package contains it."""

    def __str__(self) -> str:
        """How results name it."""
        return self.function.name


def coverages(build: Build) -> Iterator[Coverage | SupplyLine]:
    """Every function with what covers it, then each line that does not say what it covers.

    Which line names what is looked up without resting on it: the finding about a function rests only on the lines that
    name it. Ends at the first unknown where there is no scope of supply, where no line of it says what it covers, or
    where the engine's sheet does not say what the package contains: one question then, not one for each function.
    """
    lines = build.supply
    contained = _contained(build) or set(build.engine.contains)
    named_by = _named_by(build)
    if not named_by:
        _all_say_what(lines)
    # A scope of supply that names nothing is told what every build needs, not yet what hangs on the rest of the spec.
    for function in TABLE if named_by else [function for function in TABLE if function.needed is always]:
        naming = tuple(lines[index] for index in named_by.get(function.name, ()))
        yield Coverage(function, naming, function.name in contained)
    saying = {index for indexes in named_by.values() for index in indexes}
    yield from (line for index, line in enumerate(lines) if index not in saying)


def _contained(build: Build) -> set[str]:
    return {str(stated.value) for path, stated, _ in stated_values(build, "") if path.startswith(f"{_CONTAINS}[")}


def _named_by(build: Build) -> dict[str, list[int]]:
    """The functions that are named, each with the places in the list of the lines that name it."""
    out: dict[str, list[int]] = {}
    for path, stated, _ in stated_values(build, "supply"):
        line, _, field = path.partition(".")
        if field.startswith("functions["):
            out.setdefault(str(stated.value), []).append(int(line.removeprefix("supply[").removesuffix("]")) - 1)
    return {name: sorted(set(places)) for name, places in out.items()}


def _all_say_what(lines: Iterable[SupplyLine]) -> list[list[str]]:
    """What each line covers. Ends at the first line that does not say."""
    return [line.functions for line in lines]


# -- the rule ---------------------------------------------------------------------------------------------------------
@rule(
    "supply.function-coverage",
    level="error",
    due="quote",
    sources=[ONCE.giving("limit", "exactly one supplier")],
    about="supply",
    each=coverages,
    bad=[
        {"supply[3].functions": ["exhaust-pipes", "exhaust-flex", "silencer", "reductant-tank"]},
        {"supply[5].functions": ["battery", "battery-tray", "starter"]},
        {"supply[6].condition": None},
        {"supply[4].functions": []},
    ],
    good=[
        {"supply[5].by": "existing", "supply[5].condition": "two years old, tested"},
        {"supply[5].by": "owner"},
    ],
)
def function_coverage(build: Build, part: Coverage | SupplyLine) -> Verdict:
    """Is each function that the build needs supplied once, and by whom?

    Computes: for every function of the trade's list (engine, adapter, clutch, mounts, radiator, fuel lines, cables, key
    switch, gauges, fluids, inspection and so on) how many lines of the scope of supply name it in `functions`, and
    whether the engine package's sheet names it in `engine.contains`. What nobody names counts as missing where the
    build needs it; whether it does is read from the rest of the spec, such as a clutch from a manual gearbox.
    Limit: exactly one. What is there already needs a word on its condition, what is said to be not required a reason.
    Consequence: A part is missing, worn or bought twice when it is to be fitted: the job stands.
    Remedy: ask for what is missing and name it in the `functions` of a line, with who supplies it; take away what is
    supplied twice. A line that covers nothing of the list says `functions = ["other"]`.
    Cannot tell: whether a part is any good, fits, or comes with all its pieces; that is for the rules about it.
    """
    if not isinstance(part, Coverage):
        return _silent_line(part)
    count = sum(part.function.name in line.functions for line in part.lines) + part.in_package
    if count == 0:
        return _nobody(build, part.function)
    if count > 1 and not part.function.pieces:
        return _twice(build, part)
    if part.in_package:
        named = part.function.name in build.engine.contains
        return holds(named, f"In the engine package: {part.function.what}.", on=_CONTAINS)
    line = part.lines[0]
    by = line.by
    if by == "existing":
        return _stays(line, part.function)
    if by == "not-required":
        return _not_required(build, line, part.function)
    return holds(True, f"Supplied {_BY[by]}: {part.function.what}. It comes with {_item(line)}.", on=path_of(line))


def _item(line: SupplyLine) -> str:
    return f"'{given(lambda: line.item) or path_of(line)}'"


def _silent_line(line: SupplyLine) -> Verdict:
    """A line whose words were not found: this ends with what is unknown where there are none."""
    covers = bool(line.functions)
    return holds(
        covers,
        f'{_item(line)} names nothing that it covers. Where the list of functions has no word for it, write ["other"].',
        level="warning",
        on=f"{path_of(line)}.functions",
    )


def _nobody(build: Build, function: Function) -> Verdict:
    if not function.needed(build):
        return does_not_apply(f"This build does without: {function.what}.")
    lacks = function.name not in build.engine.contains
    what = function.what[0].upper() + function.what[1:]
    says = (
        f"{what}: not in the engine package, and no supplier is named; {function.source}. "
        f'Name it in the line that covers it, functions = ["{function}"].'
    )
    if function.described:
        says += f" What it must satisfy stands at {function.described}."
    return holds(not lacks, says, level="error" if function.essential else "warning")


def _twice(build: Build, part: Coverage) -> Verdict:
    suppliers = [f"{_item(line)} ({_BY[line.by]})" for line in part.lines]
    if part.in_package and part.function.name in build.engine.contains:
        suppliers.insert(0, "the engine package")
    times = {2: "twice", 3: "three times"}.get(len(suppliers), "several times")
    says = (
        f"Named {times}: {part.function.what}. It comes with {' and with '.join(suppliers)}. Either it is paid for "
        f"{times}, or each leaves it to the other: settle who supplies it, and name it there only."
    )
    return holds(False, says, level="warning", on=path_of(part.lines[-1]))


def _stays(line: SupplyLine, function: Function) -> Verdict:
    condition = given(lambda: line.condition)
    if condition:
        return holds(True, f"Already there: {function.what}. Its condition: {condition}.", on=path_of(line))
    return holds(
        False,
        f"Already there: {function.what}. Nothing says what shape it is in: look at it and state the line's condition, "
        "because what turns out to be worn is bought late.",
        level="note",
        on=path_of(line),
    )


def _not_required(build: Build, line: SupplyLine, function: Function) -> Verdict:
    needed, reason = given(lambda: function.needed(build)), given(lambda: line.reason)
    said = f"Said to be not required: {function.what}."
    missed = bool(needed) and function.essential
    if not reason:
        return holds(
            False,
            f"{said} Nothing says why: state the line's reason.",
            level="error" if missed else "note",
            on=path_of(line),
        )
    if missed:
        return needs_review(
            f"{said} As the spec stands the build needs it; the reason given: {reason}.", on=path_of(line)
        )
    return holds(True, f"{said} The reason given: {reason}.", on=path_of(line))
