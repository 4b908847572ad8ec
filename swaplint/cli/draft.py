"""`swaplint draft`: write a new build spec to fill in."""

from __future__ import annotations

import argparse
import os
import re
from collections.abc import Mapping

from swaplint.cli.output import refuse, say, tell, write_out
from swaplint.cli.program import add_pack_options, add_selection_options, add_units_option
from swaplint.cli.reading import load_one, rule_base, sheet_folders_of, show_units_of
from swaplint.cli.statuses import UNREADABLE, status_of
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem, code_place
from swaplint.inspecting.inspection import stage_of
from swaplint.inspecting.selection import Selection, selected, selection_of
from swaplint.reports.naming import counted, listed
from swaplint.spec.facts import nearest
from swaplint.spec.job import STAGES, Stage
from swaplint.spec.schema import sheet_kinds
from swaplint.writing.asked import asked_by
from swaplint.writing.draft import draft, sheet_draft, wanted_of
from swaplint.writing.more import known_of, with_more
from swaplint.writing.profile import Profile

_DESCRIPTION = """Write a new build spec to fill in: each field as a commented line with its unit, a typical value, what
it means and where it is found. At the idea stage it holds what the first decision takes, gearbox, axle ratio and tyres,
and later what the stage needs; for the systems or rules that you name it holds all that they read. The file is a valid
spec from the start; delete the # before a field to state it, or let 'swaplint fill' ask. What the call says of the
build is written, and what then does not apply, too: a part as not fitted. With --more FILE is a spec that exists, and
gets what it lacks for a later stage or another system, and nothing else in it changes.
"""
_EXAMPLES = """examples:
  swaplint draft my-swap.toml                           the first day: what the axle ratio hangs on
  swaplint draft my-swap.toml --system gearing --system mass
  swaplint draft my-swap.toml --rule gearing.crawl      the fields that one rule reads
  swaplint draft my-swap.toml --stage quote --fuel petrol
  swaplint draft my-swap.toml --fuel diesel --gearbox manual --driven rear --brakes vacuum --bus no
  swaplint draft my-swap.toml --whole                   every field that any rule reads: more than a thousand
  swaplint draft --more my-swap.toml --stage plan       add what a later stage needs to a spec that exists
  swaplint draft --sheet engine six.engine.toml         a data sheet of an engine
  swaplint draft -                                      write to standard output
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("file", metavar="FILE", help="the file to write, or - for standard output")
    parser.add_argument("--fuel", choices=("diesel", "petrol"), help="what the engine burns")
    parser.add_argument("--gearbox", choices=("manual", "automatic"), help="how the gearbox is shifted")
    parser.add_argument("--driven", choices=("front", "rear", "all"), help="which wheels are driven")
    parser.add_argument(
        "--brakes", choices=("vacuum", "hydraulic", "electric", "air", "none"), help="what helps the driver's foot"
    )
    parser.add_argument("--bus", choices=("yes", "no"), help="whether engine and vehicle have a data bus")
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--more", action="store_true", help="add what a spec that exists lacks")
    what.add_argument("--sheet", metavar="KIND", help="write a data sheet of this kind of part, instead of a spec")
    parser.add_argument("--replace", action="store_true", help="write over a file that is there already")
    parser.add_argument("--whole", action="store_true", help="every field that any rule reads, whatever the stage")
    parser.add_argument("--stage", choices=STAGES, help="how far the job is (default: idea; with --more its own)")
    add_selection_options(parser, "only the fields that this rule reads")
    add_pack_options(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    wrong = _misused(options)
    if wrong:
        return refuse("draft", wrong)
    to_file = options.file != "-"
    if options.replace and not to_file:
        return refuse("draft", "--replace is for a file: standard output holds nothing to write over")
    if to_file and os.path.lexists(options.file) and not (options.replace or options.more):
        return refuse("draft", f"{options.file} is there already; --replace writes over it")
    base = rule_base(options.pack)
    try:
        selection = selection_of(base, options.system, options.rule)
    except ValueError as error:
        return refuse("draft", error)
    say(base.problems)
    for system in selection.systems:
        if not any(rule.system == system for _, rule in base.rules):
            tell(f"swaplint draft: no loaded rule belongs to the system {system}.")
    stopped: dict[str, str] = {}
    if options.more:
        return _more(base, selection, options)
    if options.sheet is not None:
        if options.sheet not in (kinds := sheet_kinds(base.model)):
            near = nearest(options.sheet, set(kinds))
            hint = f"did you mean '{near}'?" if near else "'swaplint schema --list' lists them"
            return refuse("draft", f"there is no data sheet of the kind '{options.sheet}'; {hint}")
        text = sheet_draft(base.model, options.sheet, options.file)
    else:
        profile = Profile(*(getattr(options, name) or "" for name in Profile._fields))
        needed = not (selection or options.whole)
        stage: Stage = options.stage or "idea"
        text, _ = draft(selected(base, selection), stage=stage, profile=profile, only_needed=needed, stopped=stopped)
    failed = write_out(text, options.file if to_file else None)
    if failed is not None:
        say([failed])
        return UNREADABLE
    if to_file and options.sheet is None:
        tell(_done(text, options.file))
    elif to_file:
        tell(f"wrote {options.file}: a data sheet to fill in")
    return status_of([*base.problems, *_not_asked(base, stopped)])


def _not_asked(base: RuleBase, stopped: Mapping[str, str]) -> list[Problem]:
    """Say of rules that did not come to an end that the draft may lack what they read."""
    problems = []
    for pack, rule in base.rules:
        if rule.id in stopped:
            what = f"the rule {stopped[rule.id]}; fields that it reads may be missing"
            problems.append(Problem(what, "rule", pack.name, rule.id, *code_place(rule.function)))
    say(problems)
    return problems


def _misused(options: argparse.Namespace) -> str:
    said = [f"--{name}" for name in Profile._fields if getattr(options, name)]
    if options.more:
        if options.file == "-":
            return "--more adds to a spec that exists: name its file"
        wrong = [*said, *(f"--{name}" for name in ("replace", "whole") if getattr(options, name))]
        return f"--more takes what is known from the spec itself; {wrong[0]} does not go with it" if wrong else ""
    if options.sheet is not None:
        chosen = ("whole", "stage", "system", "rule")
        wrong = [*said, *(f"--{name}" for name in chosen if getattr(options, name))]
        return f"a data sheet has all fields of its part; {wrong[0]} does not go with --sheet" if wrong else ""
    return ""


def _more(base: RuleBase, selection: Selection, options: argparse.Namespace) -> int:
    """Add what a spec lacks, for a stage or for what is selected."""
    folders, problems = sheet_folders_of(options.sheets)
    spec, wrong = load_one(options.file, folders, base)
    problems += wrong
    if spec is None or problems:
        say(problems)
        return UNREADABLE
    show_units_of(spec)
    stage = options.stage or stage_of(spec)
    own = selected(base, selection)
    rules = [rule for _, rule in own.rules]
    stopped: dict[str, str] = {}
    asked = asked_by(own, rules, known_of(spec), spec, stopped=stopped)
    wanted = wanted_of(rules, asked, stage, only_needed=not selection)
    why = f"for {selection.words}:" if selection else f"for the {stage} stage:"
    made = with_more(spec, wanted, why)
    if made.added:
        failed = write_out(made.text, options.file, onto=options.file)
        if failed is not None:
            say([failed])
            return UNREADABLE
    more = f"{counted(made.added, 'field')} more to fill in" if made.added else "has all of it already"
    tell(f"{options.file}: {more}; next: swaplint fill {_quoted(options.file)}")
    if made.left_out:
        named = listed([*made.left_out[:4], *(["others"] if len(made.left_out) > 4 else [])])
        tell(
            f"No line can stand in {named}, which are not tables with headers: 'swaplint fill' asks for what they lack."
        )
    return status_of([*base.problems, *_not_asked(base, stopped)])


def _done(text: str, name: str) -> str:
    """What was written, and what comes next."""
    fields = [line for line in text.splitlines() if re.match(r"# [a-z_.0-9]+ = ", line)]
    marked = sum("  # [now] " in line for line in fields)
    first = f", {marked} of them first, which are marked [now]" if marked else ""
    return f"wrote {name}: {counted(len(fields), 'field')} to fill in{first}; next: swaplint fill {_quoted(name)}"


def _quoted(name: str) -> str:
    return f'"{name}"' if " " in name else name
