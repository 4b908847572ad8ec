"""`swaplint size`: which values of one field pass."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterable
from typing import Any

from swaplint.build.view import View
from swaplint.cli.output import problem_sentence, refuse, say, with_problems, write_out, write_sheet
from swaplint.cli.program import (
    ONE_SPEC,
    add_format_option,
    add_output_option,
    add_pack_options,
    add_selection_options,
    add_stage_option,
    add_units_option,
)
from swaplint.cli.progress import progress
from swaplint.cli.reading import load_the_spec, rule_base
from swaplint.cli.statuses import UNREADABLE, status_of
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.inspection import broke_later, inspect
from swaplint.inspecting.outcomes import Outcomes
from swaplint.inspecting.results import Inspection
from swaplint.inspecting.selection import selected, selection_of
from swaplint.reports.judging import Judging, judging_of
from swaplint.solving.sizing import Sizing, size
from swaplint.solving.what_if import NoPlace, WhatIf, facts_for, part_names, read_value
from swaplint.spec.facts import FieldFacts, Stated, nearest
from swaplint.spec.fields import Part
from swaplint.spec.hints import did_you_mean, fields_meant
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.renamed import path_today
from swaplint.spec.shape import every_field, members, pattern_at

_DESCRIPTION = """Find out which values of one field pass: the window from lowest to highest for a continuous field, the
table of sizes for one with a standard series; which rule binds at each end, and what a change would break.
A star stands for all alike parts: 'driveline.axles.*.ratio' changes every axle together, and
'electrics.cables.*[role=starter].size' every cable whose role is starter.
"""
_EXAMPLES = """examples:
  swaplint size my-swap.toml 'driveline.axles.*.ratio'
  swaplint size my-swap.toml plumbing.fuel.supply.bore
  swaplint size my-swap.toml 'driveline.axles.*.ratio' --among 4.1,4.56,4.88
  swaplint size my-swap.toml engine.sheet \\
      --among sheets/six.engine.toml,sheets/four.engine.toml
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("spec", metavar="SPEC", help=ONE_SPEC)
    parser.add_argument("field", metavar="FIELD", type=unquoted, help="the field to choose, by its path")
    parser.add_argument("--among", metavar="VALUES", help="your own choices, with commas between them")
    add_stage_option(parser)
    add_selection_options(parser, "judge by this rule only")
    add_format_option(parser, "text", "json", "html")
    add_output_option(parser)
    add_pack_options(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    base = rule_base(options.pack)
    try:
        selection = selection_of(base, options.system, options.rule)
    except ValueError as error:
        return refuse("size", error)
    base = selected(base, selection)
    spec, problems = load_the_spec(options.spec, options.sheets, base)
    problems = [*base.problems, *problems]
    say(problems)
    if spec is None:
        return UNREADABLE
    try:
        with progress("looking for what passes"):
            what_if, inspection, broken = question(base, spec, options.stage)
            options.field = path_today(base.model, options.field)
            facts = field_facts(base, options.field)
            among = None if options.among is None else _choices(options.among, facts)
            sizing = size(what_if, inspection, options.field, among)
            judging = [_judging(what_if, inspection, sizing, value) for value in _asked_at(sizing)]
    except NoPlace as error:
        return refuse("size", f"{error}{how_to_name(base, spec, [options.field])}")
    except ValueError as error:
        return refuse("size", error)
    unasked = {id for of in judging for id in of.broken} | {id for choice in sizing.choices for id in choice.broken}
    broken += broke_later(base, inspection, what_if.view.set_aside, unasked)
    say(broken)
    from swaplint.reports import sizing as report

    if options.format == "json":
        from swaplint.reports.json_report import dumps

        answer = report.sizing_json(spec.label, sizing, judging, selection, [*problems, *broken])
        failed = write_out(dumps(answer), options.output)
    elif options.format == "html":
        from swaplint.reports.html.choices import sizing_page

        troubles = map(problem_sentence, [*problems, *broken])
        failed = write_out(sizing_page(spec, sizing, judging[0], selection, troubles), options.output)
    else:
        failed = write_sheet(
            lambda width: with_problems(
                report.sizing_sheet(spec, sizing, judging[0], width, selection), [*problems, *broken]
            ),
            options.output,
        )
    if failed is not None:
        say([failed])
        return UNREADABLE
    return status_of([*problems, *broken])


def _choices(text: str, facts: FieldFacts) -> list[Stated]:
    values = [read_value(piece, facts) for piece in split_values(text)]
    if not values:
        raise ValueError(f"--among names no value; one looks like {facts.example()}")
    return values


def _asked_at(sizing: Sizing) -> list[Stated]:
    """The value that the answer speaks of, then every choice."""
    choices = [choice.value for choice in sizing.choices]
    known = [value for value in (sizing.best, sizing.now, *choices) if value is not None]
    return [known[0] if known else Stated(sum(sizing.facts.plausible_si() or (1.0, 1.0)) / 2), *choices]


def _judging(what_if: WhatIf, inspection: Inspection, sizing: Sizing, value: Stated) -> Judging:
    rules = [rule for _, rule in what_if.base.rules if rule.id in sizing.rules]
    binding = {id for id, _ in sizing.by_rule} | {id for choice in sizing.choices for id in choice.fails}
    case, changes = sizing.variants.case(dict.fromkeys(sizing.fields, value))
    if case is not what_if:
        binding.update(sizing.rules)
    return judging_of(case, inspection, rules, changes, binding)


def question(base: RuleBase, spec: LoadedSpec, stage: Any) -> tuple[WhatIf, Inspection, list[Problem]]:
    """An inspected spec, ready to be asked "what if"."""
    view = View(spec.build)
    outcomes: dict[str, Outcomes] = {}
    inspection, broken = inspect(base, spec, stage, view, outcomes)
    return WhatIf(base, spec, inspection.stage, view, outcomes), inspection, broken


def field_facts(base: RuleBase, path: str) -> FieldFacts:
    """The facts of a field named on the command line. Raises `ValueError` with the nearest known path."""
    facts = facts_for(base, path)
    if facts is None:
        every = dict(every_field(base.model))
        known = list(every)
        pattern, _ = pattern_at(base.model, path)
        own = [name for name in known if name.startswith((f"{path}.", f"{path}[].", f"{pattern}."))]
        if own:
            below = [name for name in own if name.split(".")[-1] not in members(Part)] or own
            chosen = {field for _, rule in base.rules for field in rule.adjust}
            like = next((name for name in below if name in chosen), below[0])
            if [path.count(mark) for mark in ".["] == [pattern.count(mark) for mark in ".["]:
                like = path + like[len(pattern) :]  # the path of one part among several
            raise ValueError(f"{path} is no field, but holds several: name one of them, like {like}")
        near = nearest(path, known)
        alike = near is not None and near.split(".")[-1][:3] == path.split(".")[-1][:3]
        meant = [near] if near and alike else fields_meant(base.model, path.split(".")[-1], path.rpartition(".")[0])
        hint = did_you_mean(name.replace("NAME", "*") for name in meant)
        raise ValueError(f"the build spec has no field {path}{hint}")
    return facts


def how_to_name(base: RuleBase, spec: LoadedSpec, paths: Iterable[str]) -> str:
    """How to give the spec the part that a path speaks of, as the rest of a sentence; empty where it has such parts."""
    from swaplint.writing.examples import example_name  # here: only a mistake needs it

    for path in (re.sub(r"\[[^\]]*=[^\]]*\]", "", path) for path in paths):
        holder, several, _ = pattern_at(base.model, path)[0].partition(".*")
        if not several or part_names(spec, holder):
            continue
        name = path.removeprefix(f"{holder}.").split(".", 1)[0]
        name = name if re.fullmatch(r"[\w-]+", name) else example_name(holder)
        return f"; give it one: a table [{holder}.{name}] with what is known of it"
    return ""


def unquoted(text: str) -> str:
    """A word of the call without the quotes around it, which some command lines leave to the program."""
    return text[1:-1] if len(text) > 1 and text[0] == text[-1] and text[0] in "'\"" else text


def split_values(text: str) -> list[str]:
    """Values with commas between them; a comma never parts thousands. Raises `ValueError` where one may be a point.

    >>> split_values("3.9, 4.1"), split_values("3.9,4.1")
    (['3.9', '4.1'], ['3.9', '4.1'])
    """
    tight = re.search(r"\d+,\d+", text)
    if tight is not None and re.search(r"\d[^,]*, ", text):
        written, point = tight.group(), tight.group().replace(",", ".")
        raise ValueError(f"{written} may be {point} or two values: write {point}, or a blank after every comma or none")
    return [piece.strip() for piece in text.split(",") if piece.strip()]
