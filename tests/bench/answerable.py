"""How much a person with a tape measure, a meter and the engine package's data sheet can answer.

    python tests/bench/answerable.py

For the idea and the examples: the share of open questions all of whose missing fields such a person finds, first
without and then with estimates; and the same of all that is decided on the complete examples, by what each result rests
on. A part that nobody has described yet counts as found by a look, for that says at least whether it is there.
"""

from __future__ import annotations

import functools
from pathlib import Path

from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.ways import measured_for, ways_to
from swaplint.spec import fields
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.loading import load_spec
from swaplint.spec.shape import facts_at, pattern_at

SPECS = Path(__file__).parents[2] / "specs"
EXAMPLES = ("day-one-idea", "tarnholt-tender", "skerrivar-van", "ormsgill-hut-car")
ANSWERED = {
    fields.DATA_SHEET,
    fields.TITLE_PAGE,
    fields.PLATE,
    fields.MARKING,
    fields.TYRE,
    fields.LOOK,
    fields.TAPE,
    fields.CALLIPER,
    fields.PROTRACTOR,
    fields.METER,
    fields.TURNS_COUNTED,
    fields.CLAMPED,
    fields.SCALES,
    fields.OWNER,
    fields.DRAWING,
    fields.DECISION,
    fields.RECORD,
    fields.QUOTE,
    "a pull scale",
    "a stopwatch",
}
"""Where such a person finds what is asked: no maker's sheet but the package's, no workshop manual, no weighbridge."""


class Person:
    """Somebody with a tape measure, a meter and the engine package's data sheet."""

    def __init__(self, base: RuleBase, *, estimates: bool) -> None:
        self.base, self.estimates = base, estimates

    def finds(self, path: str) -> bool:
        """Whether the person finds a field, by itself or what an estimate of it takes."""
        return self._finds(pattern_at(self.base.model, path)[0])

    @functools.cache  # noqa: B019  (one for each run)
    def _finds(self, pattern: str) -> bool:
        facts = facts_at(self.base.model, pattern)
        if facts is None or facts.where in ANSWERED:
            return True
        ways = self.base.model.estimates.get(pattern, ()) if self.estimates else ()
        return any(all(self._finds(one) for one in measured_for(self.base.model, way)) for way in ways)

    def answers(self, spec: LoadedSpec, path: str) -> bool:
        """The same for a field of a spec, where an estimate may be no use or lack but a part of what it takes."""
        facts = facts_at(self.base.model, path)
        if facts is None or facts.where in ANSWERED:
            return True
        return self.estimates and any(all(map(self.finds, way.measure)) for way in ways_to(spec, path))


def main() -> None:
    """Print both shares of each spec."""
    base = load_rule_base()
    before, after = Person(base, estimates=False), Person(base, estimates=True)
    for name in EXAMPLES:
        spec = load_spec(str(SPECS / f"{name}.toml"), model=base.model)
        inspection, _ = inspect(base, spec)
        opened = [f.unknown for f in inspection.findings if f.kind == "open"]
        decided = [f.inputs for f in inspection.findings if f.kind in ("pass", "fail", "review")]
        print(name)
        for words, rows, shares in (
            (
                "open questions",
                opened,
                [sum(all(p.answers(spec, one) for one in row) for row in opened) for p in (before, after)],
            ),
            ("decided results", decided, [sum(all(map(p.finds, row)) for row in decided) for p in (before, after)]),
        ):
            counted = ", then ".join(f"{number} ({number / len(rows):.1%})" for number in shares) if rows else "none"
            print(f"  {len(rows)} {words}: {counted}")
        asked = {one for row in opened for one in row}
        print(
            "  still asked of others:", ", ".join(sorted(one for one in asked if not after.answers(spec, one))) or "-"
        )


if __name__ == "__main__":
    main()
