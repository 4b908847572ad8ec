"""Running one rule on a view, on every part and for every demand, within a time limit."""

from __future__ import annotations

import functools
import itertools
from collections.abc import Callable, Collection, Iterator, Mapping
from typing import Any

from swaplint.build.nodes import Node, NoLimit, NotFitted, Unknown, in_view
from swaplint.build.reading import argument_key
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.quantities import Nonsense, subject_text
from swaplint.declare.rule import Rule
from swaplint.declare.verdicts import Verdict, does_not_apply, wrong_with
from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.host.problems import code_place, first_line, raised_place
from swaplint.host.signs import stops
from swaplint.host.strangers import STRANGERS
from swaplint.host.watch import BadManners, TookTooLong, code_of
from swaplint.inspecting.outcomes import Outcome, Outcomes, matching, together
from swaplint.inspecting.worth import is_error
from swaplint.units.prose import told
from swaplint.units.showing import telling_of

RULE_SECONDS = 3.0
"""Longest time that one rule may take, wide enough for a busy machine: the built-in ones take a few milliseconds."""


MOST_PARTS = 100_000
"""How many parts a rule may list: a build has hundreds."""
MOST_TOGETHER = 4
"""How many fallbacks are tried with all their ends together."""

Known = Mapping[tuple[str, str], Outcome]
"""What a rule led to before, by part and demand, in which nothing that a view changes was read."""
_NONE_KNOWN: Known = {}
_NOTHING = Reads()
_UNKNOWN = object()
"""Stands for the answer to a question for which a field is not stated."""


class RuleBroke(Exception):
    """A rule did something that no spec can be blamed for."""

    def __init__(self, what: str, file: str | None, line: int | None) -> None:
        """A sentence and the place in the rule."""
        super().__init__(what)
        self.what, self.file, self.line = what, file, line


def run_rule(
    rule: Rule,
    view: View,
    *,
    only: Collection[str] | None = None,
    demand: str = "",
    over_practice: bool = True,
    known: Known | None = None,
    seconds: float = RULE_SECONDS,
) -> Outcomes:
    """Run a rule on a view, on every part or on some. Raises `RuleBroke` where it raises, hangs or returns nonsense.

    With `demand` the rule's other demands are not asked, nor are those of which `known` holds the answer. Without
    `over_practice` an error is not asked whether a fallback within what is found in practice decides it, which matters
    to nobody who only looks for what passes; a pass always is.
    """
    aside = view.set_aside.get(rule.id) or STRANGERS.why_aside(f"rule {rule.id}")
    if aside is not None:
        view.set_aside[rule.id] = aside
        raise RuleBroke(f"the rule {aside}", *code_place(rule.function))
    try:
        with code_of(f"rule {rule.id}", seconds), telling_of(rule.id):
            return _run_told(rule, view, only, demand, over_practice, known or {})
    except TookTooLong:
        view.set_aside[rule.id] = f"ran longer than {seconds:g} s and was stopped"
        raise RuleBroke(f"the rule {view.set_aside[rule.id]}", *code_place(rule.function)) from None
    except BadManners as changed:
        raise RuleBroke(f"the rule {changed}", *code_place(rule.function)) from None
    finally:
        view.settle()


def _run_told(
    rule: Rule, view: View, only: Collection[str] | None, demand: str, over_practice: bool, known: Known
) -> Outcomes:
    """Run a rule, and put what it raises into words: those are its code, too, and have the same time."""
    try:
        outcomes = Outcomes(_run(rule, view, only, demand, known))
        new = [outcome for outcome in outcomes if not _is_known(outcome, known)]
        _turn_within_practice(rule, view, new, errors=over_practice)
        return outcomes
    except (TookTooLong, RuleBroke):
        raise
    except Nonsense as error:
        raise RuleBroke(str(error), *code_place(error.function)) from None
    except BaseException as error:
        if stops(error):
            raise
        place = raised_place(error.__traceback__, rule.function)
        raise RuleBroke(f"the rule raised {first_line(error)}", *place) from None


def untouched(before: Outcomes, view: View) -> Known:
    """Of what a rule led to, what a view's changes do not touch."""
    return {(one.part, one.demand): one for one in before if not view.touches(one.reads)}


def run_again(rule: Rule, view: View, before: Outcomes, also: Known = _NONE_KNOWN) -> Outcomes:
    """Run a rule on what a view's changes touch, part and demand; the rest keeps what it led to. Raises `RuleBroke`.

    A rule sees nothing of a build but what it reads: where it read nothing that is changed, it would read and say the
    same again. What listed the parts counts among what is read for each, so where one is kept there are no others now.
    `also` holds answers to demands that are known otherwise.
    """
    if not before or not before.told_apart:
        return run_rule(rule, view)
    if not view.touches(before.reads):
        return before
    kept = untouched(before, view)
    touched = {outcome.part for outcome in before if (outcome.part, outcome.demand) not in kept}
    known = {**also, **kept} if also else kept
    if touched.issuperset(outcome.part for outcome in before):
        return run_rule(rule, view, known=known)
    again: dict[str, list[Outcome]] = {}
    for outcome in run_rule(rule, view, only=touched, known=known):
        again.setdefault(outcome.part, []).append(outcome)
    # A rule that lists other parts each time it is asked keeps no promise, and is taken at its last word.
    out = Outcomes()
    for outcome in before:
        out += [outcome] if outcome.part not in touched else again.pop(outcome.part, ())
    return out


def _run(
    rule: Rule, view: View, only: Collection[str] | None, demand: str, known: Known = _NONE_KNOWN
) -> list[Outcome]:
    if rule.each is None:
        return _judge(rule, view, (), demand, known)
    parts, reads = _parts(rule, view)
    if not isinstance(parts, _Parts):
        return [Outcome("", "", None if parts is _UNKNOWN else parts, reads)]
    if not parts:
        return [Outcome("", "", does_not_apply("The build has no such part."), reads)]
    outcomes = []
    for _, part in parts if only is None else parts.named(only):
        for outcome in _judge(rule, view, tuple(in_view(one, view) for one in part), demand, known):
            if _is_known(outcome, known):
                outcomes.append(outcome)
                continue
            outcome.reads.begin_with(reads)
            if reads.listed:
                outcome.reads.listed = {**reads.listed, **outcome.reads.listed}
            outcome.reads.all_stated |= reads.all_stated
            outcomes.append(outcome)
    return outcomes


class _Parts(list[tuple[str, tuple[Any, ...]]]):
    """The parts that a rule is about, by name."""

    @functools.cached_property
    def _by_name(self) -> dict[str, list[int]]:
        found: dict[str, list[int]] = {}
        for number, (name, _) in enumerate(self):
            found.setdefault(name, []).append(number)
        return found

    def named(self, names: Collection[str]) -> list[tuple[str, tuple[Any, ...]]]:
        """Those of some names, in order: a what-if asks about one of many parts, over and over."""
        return [self[number] for number in sorted(n for name in names for n in self._by_name.get(name, ()))]


def _parts(rule: Rule, view: View) -> tuple[Any, Reads]:
    """The parts that a rule is about, by name, and what was read to list them.

    A view in which nothing of that is changed has the same parts: they are not listed again, and stand there as the
    other view sees them. Instead of a list, what the question for the parts led to.
    """
    key, unchanged = (_parts, rule.each), view.unchanged
    before = unchanged.kept.get(key) if unchanged is not None else None
    if before is not None and view.like(before[1]):
        view.kept[key] = before  # for a view that changes this one
        return before  # type: ignore[no-any-return]
    reads = Reads()
    parts = _asked(lambda: list(itertools.islice(rule.each(view.build), MOST_PARTS + 1)), view, reads)  # type: ignore[misc]
    if isinstance(parts, list) and len(parts) > MOST_PARTS:
        raise Nonsense(f"the rule lists more than {MOST_PARTS} parts", rule.function)
    if not isinstance(parts, list):
        return parts, reads
    tuples = (part if isinstance(part, tuple) else (part,) for part in parts)
    named = _Parts((_part_name(part), part) for part in tuples)
    if (
        unchanged is None
        and named
        and all(isinstance(one, Node | str | int | float) for _, part in named for one in part)
    ):
        # Anything else may hold parts as this view sees them, which nobody else could see in their place.
        view.kept[key] = named, reads
    return named, reads


def _turn_within_practice(rule: Rule, view: View, outcomes: list[Outcome], *, errors: bool) -> None:
    """Note of each pass and error the fallbacks within what is found in practice of which it turns into the other.

    Each is tried at both ends by itself, then all together. Without `errors` only passes are looked at. Where a view
    goes on with typical values there are no verdicts.
    """
    for outcome in outcomes if not view.probing else ():
        verdict = outcome.verdict
        practices = [practice for practice in outcome.reads.practices.values() if practice.between is not None]
        if not practices or verdict is None:
            continue
        if not (verdict.kind == "pass" or (errors and is_error(rule, verdict))):
            continue
        ends = [practice.between or () for practice in practices]
        alone = [{practice.name: end} for practice, both in zip(practices, ends, strict=True) for end in both]
        names = [practice.name for practice in practices]
        turning = dict.fromkeys(name for case in alone for name in case if _turns_with(rule, view, outcome, case))
        if not turning and 1 < len(practices) <= MOST_TOGETHER:
            cases = (dict(zip(names, corner, strict=True)) for corner in itertools.product(*ends))
            turning = dict.fromkeys(names if any(_turns_with(rule, view, outcome, case) for case in cases) else ())
        outcome.turned_by = tuple(turning)


def _turns_with(rule: Rule, view: View, outcome: Outcome, stand_ins: dict[str, float]) -> bool:
    """Whether a pass is an error where practices stand in with other values, or an error none.

    What that reads counts as read.
    """
    other = view.with_stand_ins(stand_ins)
    found = matching(_run(rule, other, {outcome.part}, outcome.demand), outcome.part, outcome.demand)
    if found is None or found.verdict is None:
        return False
    outcome.reads.add(found.reads)
    if outcome.verdict is not None and outcome.verdict.kind == "pass":
        return is_error(rule, found.verdict)
    return found.verdict.kind in ("pass", "fail") and not is_error(rule, found.verdict)


_Answers = dict[tuple[int, ...], tuple[Any, Reads]]
"""What a rule said of one part, and of each of its demands by where it stands, with what was read for it."""


def _is_known(outcome: Outcome, known: Known) -> bool:
    return known.get((outcome.part, outcome.demand)) is outcome


def _judge(rule: Rule, view: View, part: tuple[Any, ...], wanted: str, known: Known) -> list[Outcome]:
    kept = _kept_answers(rule, view, part)
    answers: _Answers = {} if kept is None else kept
    verdict, reads = _answer(answers, (), lambda: rule.function(view.build, *part), view)
    reads.few_own, reads.shared_own, reads.uses = {}, (), {}  # these are for worksheets alone
    if kept is not None and getattr(verdict, "kind", "") != "several":
        reads = together((reads,))  # an outcome's record is its own
    return list(_demands(rule, view, Outcome(_part_name(part), "", verdict, reads), wanted, answers, (), known))


def _kept_answers(rule: Rule, view: View, part: tuple[Any, ...]) -> _Answers | None:
    """What a rule said of a part before in a view with changes, where one demand is asked after another; else None."""
    if view.unchanged is None:
        return None
    try:
        key = (_kept_answers, rule.id, rule.function, *map(argument_key, part))
        return view.kept.setdefault(key, {})  # type: ignore[no-any-return]
    except TypeError:  # a part that cannot be told from others
        return None


def _answer(answers: _Answers, where: tuple[int, ...], question: Callable[[], Any], view: View) -> tuple[Any, Reads]:
    known = answers.get(where)
    if known is None:
        reads = Reads()
        known = answers[where] = _asked(question, view, reads), reads
    return known


def _demands(
    rule: Rule,
    view: View,
    whole: Outcome,
    wanted: str,
    answers: _Answers,
    where: tuple[int, ...],
    known: Known,
) -> Iterator[Outcome]:
    """The outcome of a verdict, or of each demand that it makes."""
    verdict: Any = whole.verdict
    if verdict is _UNKNOWN:
        whole.verdict = None
        yield whole
        return
    wrong = wrong_with(verdict)
    if wrong:
        raise Nonsense(f"the rule returned {wrong}", rule.function)
    if verdict.kind != "several":
        yield whole
        return
    for number, (inner, demand) in enumerate(verdict.demands):
        name = f"{whole.demand}.{inner}" if whole.demand else inner
        if wanted and name != wanted and not wanted.startswith(f"{name}."):
            continue
        if (whole.part, name) in known:
            yield known[whole.part, name]
            continue
        here = (*where, number)
        judged, own = _answer(answers, here, demand, view) if callable(demand) else (demand, _NOTHING)
        outcome = Outcome(whole.part, name, judged, together((whole.reads, own)))
        yield from _demands(rule, view, outcome, wanted, answers, here, known)


def _asked(question: Callable[[], Any], view: View, reads: Reads) -> Any:
    """What a question to the build leads to, with what it reads; `_UNKNOWN` where a field is not stated."""
    view.stack.append(reads)
    try:
        return question()
    except Unknown:
        return _UNKNOWN
    except NotFitted as missing:
        return does_not_apply(f"{missing.path} is not fitted.")
    except NoLimit as none:
        return Verdict("review", no_limit_words(none.path))
    except (OutsideRange, ImpossibleInput) as error:
        return Verdict("review", _beyond(error))
    finally:
        view.stack.pop()


def no_limit_words(path: str) -> str:
    """What is to be done where a limit is asked for that its maker does not state."""
    return f"Its maker states no limit here ({path}): a person must decide, or ask the maker."


def _part_name(part: tuple[Any, ...]) -> str:
    return " ".join(subject_text(p) for p in part)


def _beyond(error: ValueError) -> str:
    if isinstance(error, OutsideRange):
        return f"The formula does not hold here: {told(str(error))}."
    return f"The stated values do not fit together: {told(str(error))}."
