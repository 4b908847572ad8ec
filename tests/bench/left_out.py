"""What a builder leaves out: no fail may become a pass by it, and somebody should notice each part that is missing.

    python tests/bench/left_out.py [--seed 1] [--each 9] [--rule ID]     facts, on each bad example of each rule
    python tests/bench/left_out.py --parts                               each part of the sound spec by itself

Facts: of each fail, the facts that it rests on are taken away, one at a time and several at once, drawn at random. The
spec with them is one of those that the spec without them may turn out to be, so that no demand that fails there may
pass, unless the rule says why it does without the fact or what stands in for it, names the practice or estimate that it
takes, or the fact is `fitted` of a part that is described all the same. What passes besides is printed, and the status
is 1, but for what `DECIDED` names.

Parts: each table of the sound spec is left out, and all rules are run. Those of which no rule takes notice are printed,
to be read: there are parts that a vehicle may have or not, and nobody can ask for these. A whole collection of parts
that is not mentioned is unknown and not empty: what fails then is printed with the rule, and the status is 1.
"""

from __future__ import annotations

import argparse
import random
import sys
import tomllib
from collections.abc import Iterator, Mapping
from fnmatch import fnmatch
from typing import Any

from swaplint.declare.rule import Rule
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding
from swaplint.kit.edits import sound_spec, sound_text
from swaplint.kit.trial import rule_base, trial

DECIDED = {
    ("commissioning.reading-dates", "measured.oil.date"): "a reading without a date is not one of a wrong date",
    ("cooling.fan-flow", "plumbing.cooling.air.idle.flow"): "the fan's curve gives what the air flow was said to be",
    ("supply.validity", "quote.ordered_on"): "an offer that is not ordered yet is judged on the day of the report",
    ("supply.validity", "quote.ready_on"): "and so is a certificate",
}
"""Rule and fact: why the rule passes without it though it fails with it."""
AT_ONCE = (2, 2, 3, 4, 6)


def excused(rule: Rule, fail: Finding) -> list[str]:
    """The fields that a rule, or a quantity that it rests on, says that it does without or takes another for."""
    used = {name.split(" ")[0] for name in fail.quantities}
    silences = [rule.silence, *(made.silence for _, made in rule_base().quantities if made.id in used)]
    return [field for silence in silences for field, _ in (*silence.without, *silence.instead)]


def draws(facts: list[str], each: int, chance: random.Random) -> list[list[str]]:
    """Facts to take away, one at a time and several at once."""
    alone = facts if len(facts) <= each else chance.sample(facts, each)
    several = [chance.sample(facts, min(count, len(facts))) for count in AT_ONCE for _ in range(each // 3)]
    return [
        list(drawn) for drawn in sorted({tuple(sorted(drawn)) for drawn in [*([fact] for fact in alone), *several]})
    ]


def without(edit: Mapping[str, Any], facts: list[str]) -> dict[str, Any]:
    """An edit of the sound spec that leaves some facts out too."""
    kept = {
        field: value
        for field, value in edit.items()
        if not any(field == fact or field.startswith(f"{fact}.") for fact in facts)
    }
    return kept | dict.fromkeys(facts)


def turned(rule: Rule, fail: Finding, edit: Mapping[str, Any], facts: list[str], excuses: list[str]) -> str:
    """What is wrong where a demand passes when some of its facts are taken away; empty where it does not."""
    if any(fact.endswith(".fitted") or (rule.id, fact) in DECIDED for fact in facts):
        return ""
    if any(fnmatch(fact, pattern) for fact in facts for pattern in excuses):
        return ""
    about = [found for found in trial(rule.id, without(edit, facts)) if found.part == fail.part]
    same = [found for found in about if found.demand == fail.demand]
    if any(found.kind == "pass" and not found.practices and not found.estimates for found in same):
        return f"{rule.id} {fail.demand} {fail.part}: fails, and passes without {', '.join(facts)}"
    if not same and {found.kind for found in about} == {"pass"}:
        return f"{rule.id} {fail.demand} {fail.part}: is not asked for without {', '.join(facts)}"
    return ""


def try_facts(only: str, seed: int, each: int) -> Iterator[str | None]:
    """For each set of facts taken away: what went wrong, or None."""
    chance = random.Random(seed)
    rules = sorted((rule for pack in rule_base().packs for rule in pack.rules), key=lambda rule: rule.id)
    for rule in rules:
        if only and rule.id != only:
            continue
        for edit in rule.bad:
            for fail in [found for found in trial(rule.id, edit) if found.kind == "fail"][:3]:
                # what stands in a list is left out by a shorter list, which says that there is no more
                facts = [field for field in fail.inputs if "[" not in field and field != "build.stage"]
                for drawn in draws(facts, each, chance) if facts else ():
                    yield turned(rule, fail, edit, drawn, excused(rule, fail)) or None


def tables(data: Mapping[str, Any], path: str = "") -> Iterator[str]:
    """The path of each table of a spec that stands in another."""
    for name, value in data.items():
        if isinstance(value, dict):
            here = f"{path}.{name}" if path else name
            if path:
                yield here
            yield from tables(value, here)


def is_collection(table: Mapping[str, Any]) -> bool:
    """Whether a table holds parts under names of their own, and nothing else."""
    return bool(table) and all(isinstance(value, dict) for value in table.values())


def table_at(data: Mapping[str, Any], path: str) -> Mapping[str, Any]:
    """The table at a path."""
    for name in path.split("."):
        data = data[name]
    return data


def left_out() -> Iterator[tuple[str, bool, str]]:
    """Each table of the sound spec left out: whether a rule takes notice, and of a collection which rule fails."""

    def found(edits: Mapping[str, Any]) -> dict[tuple[str, str, str], Finding]:
        findings = inspect(rule_base(), sound_spec(rule_base(), edits))[0].findings
        return {(finding.rule.id, finding.part, finding.demand): finding for finding in findings}

    data = tomllib.loads(sound_text())
    sound = {about: finding.kind for about, finding in found({}).items()}
    for path in tables(data):
        now = found({path: None})
        noticed = any(
            finding.kind in ("fail", "open", "review") and sound.get(about) != finding.kind
            for about, finding in now.items()
        )
        fails = [rule for (rule, _, _), finding in now.items() if finding.kind == "fail" and not finding.practices]
        yield path, noticed, fails[0] if fails and is_collection(table_at(data, path)) else ""


def main() -> int:
    """Try, print what passes or is not noticed."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument(
        "--each", type=int, default=9, help="so many facts of each fail, and about as many sets of them"
    )
    options.add_argument("--rule", default="", help="this rule alone")
    options.add_argument("--parts", action="store_true", help="parts of the sound spec instead of facts")
    asked = options.parse_args()
    if asked.parts:
        tried = list(left_out())
        quiet = [path for path, noticed, _ in tried if not noticed]
        failing = [f"{path}: fails by {rule}, and nobody says that there is none" for path, _, rule in tried if rule]
        print("\n".join((*quiet, *failing)))
        print(f"{len(tried)} tables left out; of {len(quiet)} no rule takes notice", file=sys.stderr)
        return 1 if failing else 0
    answers = list(try_facts(asked.rule, asked.seed, asked.each))
    wrong = dict.fromkeys(answer for answer in answers if answer)
    print("\n".join(wrong))
    print(f"{len(answers)} sets of facts taken away; {len(wrong)} times a fail became a pass", file=sys.stderr)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
