"""`swaplint study`: several fields varied together."""

from __future__ import annotations

import argparse
import re

from swaplint.cli.output import problem_sentence, refuse, say, with_problems, write_out, write_sheet
from swaplint.cli.program import (
    ONE_SPEC,
    add_format_option,
    add_output_option,
    add_pack_options,
    add_selection_options,
    add_stage_option,
    add_units_option,
    from_one,
)
from swaplint.cli.progress import progress
from swaplint.cli.reading import load_the_spec, rule_base
from swaplint.cli.size import field_facts, how_to_name, question, split_values, unquoted
from swaplint.cli.statuses import UNREADABLE, status_of
from swaplint.host.packs import RuleBase
from swaplint.inspecting.inspection import broke_later
from swaplint.inspecting.selection import selected, selection_of
from swaplint.reports.judging import judging_of
from swaplint.solving.study import BadStudy, make_study, run
from swaplint.solving.what_if import NoPlace, read_value, series_value
from swaplint.spec.facts import Stated
from swaplint.spec.renamed import path_today

_DESCRIPTION = """Vary several fields together, judge every combination, and list the best first: the one with the
fewest fails, then the widest worst margin. Only what reads a varied field is run again.
"""
_EXAMPLES = """values of a field:
  A,B,C                  the values named; of a part's sheet the data sheets to compare, with all that they hold
  A..B:N                 N values evenly spaced from A to B
  series                 the standard sizes of the field

examples:
  swaplint study my-swap.toml \\
      --vary 'driveline.axles.*.ratio=4.1,4.56,4.88,5.29' \\
      --vary driveline.tyres.overall_diameter='950..1100 mm:4' \\
      --show gearing.cruise-rpm
  swaplint study my-swap.toml --vary plumbing.fuel.supply.bore=series --format csv
  swaplint study my-swap.toml \\
      --vary engine.sheet=sheets/six.engine.toml,sheets/four.engine.toml \\
      --show gearing.top-speed --show cooling.top-tank
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("spec", metavar="SPEC", help=ONE_SPEC)
    parser.add_argument(
        "--vary",
        action="append",
        required=True,
        metavar="FIELD=VALUES",
        help="a field and its values; may be given again",
    )
    parser.add_argument(
        "--show",
        action="append",
        default=[],
        metavar="ID",
        help="a quantity to show for each combination, of several parts all of them or 'ID PART'; or a rule, whose "
        "margin is shown; may be given again",
    )
    best = "list only the best N (unless told 40 as text, 400 on a page)"
    parser.add_argument("--top", type=from_one, metavar="N", help=best)
    parser.add_argument("--cores", type=from_one, metavar="N", help="how many cores to use (default: all)")
    add_stage_option(parser)
    add_selection_options(parser, "judge by this rule only")
    add_format_option(parser, "text", "json", "csv", "html")
    add_output_option(parser)
    add_pack_options(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    base = rule_base(options.pack)
    try:
        selection = selection_of(base, options.system, options.rule)
    except ValueError as error:
        return refuse("study", error)
    base = selected(base, selection)
    spec, problems = load_the_spec(options.spec, options.sheets, base)
    problems = [*base.problems, *problems]
    say(problems)
    if spec is None:
        return UNREADABLE
    what_if, inspection, broken = question(base, spec, options.stage)
    say(broken)
    try:
        vary = [read_variation(base, unquoted(text)) for text in options.vary]
        study = make_study(what_if, inspection, vary, options.show)
    except NoPlace as error:
        return refuse("study", f"{error}{how_to_name(base, spec, [path for path, _ in vary])}")
    except (BadStudy, ValueError) as error:
        return refuse("study", error)
    with progress("combinations", study.count) as tell:
        rows = run(study, cores=options.cores, pack_files=options.pack, progress=tell, selection=selection)
    later = broke_later(base, inspection, what_if.view.set_aside, {id for row in rows for id in row.broken})
    say(later)
    broken += later
    from swaplint.reports import study as report

    best = rows[: options.top]
    if options.format == "json":
        from swaplint.reports.json_report import dumps

        answer = report.study_json(spec.label, study, best, selection, [*problems, *broken])
        failed = write_out(dumps(answer), options.output)
    elif options.format == "csv":
        failed = write_out(report.study_csv(study, best, [*problems, *broken]), options.output)
    else:
        first = {f: value for v, value in zip(study.varied, rows[0].values, strict=True) for f in v.fields}
        case, changes = study.variants.case(first)
        binding = rows[0].fails if case is what_if else [rule.id for rule in study.rules]
        judging = judging_of(case, inspection, study.rules, changes, binding)
        if options.format == "html":
            from swaplint.reports.html.choices import study_page

            troubles = map(problem_sentence, [*problems, *broken])
            page = study_page(spec, study, rows, judging, options.top, selection, troubles)
            failed = write_out(page, options.output)
        else:
            failed = write_sheet(
                lambda width: with_problems(
                    report.study_sheet(spec, study, rows, judging, width, options.top, selection), [*problems, *broken]
                ),
                options.output,
            )
    if failed is not None:
        say([failed])
        return UNREADABLE
    return status_of([*problems, *broken])


def read_variation(base: RuleBase, text: str) -> tuple[str, list[Stated]]:
    """A field and its values from `FIELD=VALUES`. Raises `ValueError` with a sentence."""
    parts = re.fullmatch(r"((?:[^=\[]|\[[^\]]*\])+)=(.*\S.*)", text, re.DOTALL)
    if parts is None:
        raise ValueError(f"'{text}' is not FIELD=VALUES, like driveline.axles.*.ratio=4.1,4.56")
    pattern, values = path_today(base.model, parts[1]), parts[2]
    facts = field_facts(base, pattern)
    if values.strip() == "series":
        if not facts.series:
            raise ValueError(f"{pattern} has no standard series")
        return pattern, [series_value(entry, facts) for entry in facts.series]
    first, dots, rest = values.strip().partition("..")
    last, _, steps = rest.rpartition(":")
    if not (first and dots and last and re.fullmatch(r"[0-9]{1,9}", steps)):
        read = [read_value(piece, facts) for piece in split_values(values)]
        if not read:
            raise ValueError(f"{pattern}= names no value; one looks like {facts.example()}")
        return pattern, read
    number = int(steps)
    if not 2 <= number <= 10_000:
        raise ValueError(f"{pattern}: {number} steps; from 2 to 10000 make sense")
    unit = re.sub(r"^[\s\d.,/eE+-]+", "", last)
    first = first if re.search(r"[^\d.eE+\-\s]", first) else f"{first} {unit}".strip()
    low, high = read_value(first, facts), read_value(last, facts)
    if isinstance(low.value, bool | str) or isinstance(high.value, bool | str):
        raise ValueError(f"{pattern} takes words, which have no values between them")
    from swaplint.solving.what_if import stated_as

    step = (high.value - low.value) / (number - 1)
    return pattern, [stated_as(low.value + n * step, facts) for n in range(number)]
