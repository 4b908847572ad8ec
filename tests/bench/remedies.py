"""Every remedy that is printed, put into the file as it is printed: the result must not fail any more.

    python tests/bench/remedies.py [--every 7] [--from 0] [--rule ID]

For the examples in specs/ and for the sound spec with each bad example of each rule, each remedy's value is put into
the text by the editor that leaves every other byte as it is: once as it stands in the file, once as the report prints
it. What goes with it is taken out. The spec is read and inspected again, tolerances carried. What the remedy is for
must not fail then, and it must newly break exactly the rules that it names. `--every N` looks at each N-th case only.
What does not hold is printed.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomli_w

from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.inspecting.results import Finding, Remedy
from swaplint.kit.edits import edited_data
from swaplint.reports.values import number_words
from swaplint.solving.what_if import facts_for
from swaplint.solving.whole import inspect_whole
from swaplint.spec.editing import REMOVED, edited
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.loading import load_text
from swaplint.spec.paths import path_key

SPECS = Path(__file__).parent.parent.parent / "specs"
LEVELS = ("note", "warning", "error")
Key = tuple[str, str, str]


@dataclass(frozen=True)
class Case:
    """A spec that something may fail on."""

    name: str
    text: str
    folder: Path


def cases(base: RuleBase, rules: Sequence[str] = ()) -> Iterator[Case]:
    """The examples, then the sound spec with each bad example; of some rules only where they are named."""
    if not rules:
        for path in sorted(SPECS.glob("*.toml")):
            yield Case(path.name, path.read_text(encoding="utf-8"), SPECS)
    own: dict[str, Any] = {path: value for pack in base.packs for path, value in pack.sound.items()}
    for _, rule in base.rules:
        if rules and rule.id not in rules:
            continue
        for number, edits in enumerate(rule.bad, 1):
            yield Case(f"{rule.id} bad-{number}", tomli_w.dumps(edited_data({**own, **edits})), SPECS)


def faults_of(base: RuleBase, case: Case) -> tuple[int, list[str]]:
    """How many remedies a case has, and what does not hold of them."""
    spec = loaded(base, case.text, case.folder)
    inspection, problems = inspect_whole(base, spec)
    faults = [f"{case.name}: {problem.what}" for problem in problems]
    before, number = _fails(inspection.findings), 0
    for finding in inspection.findings:
        for remedy in finding.remedies:
            number += 1
            for words in dict.fromkeys((_in_file(remedy), printed(remedy))):
                why = _wrong(base, case, spec, finding, remedy, words, before)
                faults += [f"{case.name}: {' '.join(finding.key)}: {remedy.field} = {words}: {each}" for each in why]
    return number, faults


def _wrong(
    base: RuleBase, case: Case, spec: LoadedSpec, finding: Finding, remedy: Remedy, words: str, before: dict[Key, int]
) -> list[str]:
    try:
        text = text_with(base, spec, case.text, remedy, words)
        after, problems = inspect_whole(base, loaded(base, text, case.folder), remedies="none")
    except (SpecErrors, ValueError) as error:
        return [f"cannot be put into the file: {error}"]
    wrong = [problem.what for problem in problems]
    now = _fails(after.findings)
    if finding.kind == "fail" and finding.key in now:
        says = next(f.message for f in after.findings if f.key == finding.key and f.kind == "fail")
        wrong.append(f"fails still: {says}")
    newly = {key[0] for key, level in now.items() if level > before.get(key, -1)}
    if newly != set(remedy.breaks):
        wrong.append(f"breaks {sorted(newly)}, and {sorted(remedy.breaks)} are named")
    return wrong


def text_with(base: RuleBase, spec: LoadedSpec, text: str, remedy: Remedy, words: str) -> str:
    """The text of a spec with a remedy put into it in these words, and without what goes with it."""
    changes = {path_key(field): _value(base, spec, field, words) for field in remedy.fields or (remedy.field,)}
    fitted = {path_key(field): _value(base, spec, field, words) for field, words in remedy.fits}
    return edited(text, {**fitted, **changes, **dict.fromkeys(map(path_key, remedy.drops), REMOVED)})


def _value(base: RuleBase, spec: LoadedSpec, field: str, words: str) -> object:
    """The words of a report as the file would hold them, with the tolerance that the field has there."""
    facts, now = facts_for(base, field), spec.stated(field)
    assert facts is not None
    value: object = words
    if facts.type in ("number", "count"):
        value = float(words) if facts.type == "number" else int(float(words))
    elif facts.type == "flag":
        value = words == "true"
    if now is None or not now.tol or isinstance(now.value, bool | str):
        return value
    # A tolerance that the file gives in per cent grows with the value, and one in the field's unit stays.
    grown = max(now.tol, now.tol * abs(float(facts.read(value).value) / float(now.value)))
    return {"value": value, "tol": f"{grown!r} {_si_unit(base, field)}".strip() if facts.kind else grown}


def _si_unit(base: RuleBase, field: str) -> str:
    facts = facts_for(base, field)
    assert facts is not None
    assert facts.kind is not None
    return facts.kind.si


def _in_file(remedy: Remedy) -> str:
    return remedy.written


def printed(remedy: Remedy) -> str:
    """The value of a remedy as a report prints it."""
    after = remedy.after
    return number_words(after, remedy.quantity, remedy.unit) if isinstance(after, float) else after


def loaded(base: RuleBase, text: str, folder: Path) -> LoadedSpec:
    """The text of a spec, read as a file of the folder."""
    return load_text(text, label="case.toml", folder=folder, model=base.model)


def _fails(findings: Sequence[Finding]) -> dict[Key, int]:
    """The fails, but for those of what was measured on the vehicle as it stood: a mended one is measured anew."""
    fails = [f for f in findings if f.kind == "fail" and not f.rule.as_built]
    return {f.key: LEVELS.index(f.level) for f in fails if f.level is not None}


def main() -> int:
    """Run the cases asked for."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--every", type=int, default=1, help="look at each so-many-th case only")
    parser.add_argument("--from", type=int, default=0, dest="first", help="the first case to look at")
    parser.add_argument("--rule", action="append", default=[], help="only the bad examples of this rule")
    options = parser.parse_args()
    base = load_rule_base()
    started, remedies, all_faults = time.perf_counter(), 0, 0
    chosen = list(cases(base, options.rule))[options.first :: options.every]
    for case in chosen:
        number, faults = faults_of(base, case)
        remedies, all_faults = remedies + number, all_faults + len(faults)
        for fault in faults:
            print(fault, flush=True)
    took = time.perf_counter() - started
    print(f"{len(chosen)} cases, {remedies} remedies, {all_faults} faults, {took:.0f} s")
    return 1 if all_faults else 0


if __name__ == "__main__":
    sys.exit(main())
