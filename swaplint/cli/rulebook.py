"""`swaplint rulebook`: which rules there are, and one rule whole."""

from __future__ import annotations

import argparse

from swaplint.cli.output import refuse, say, write_out, write_sheet
from swaplint.cli.program import (
    add_format_option,
    add_output_option,
    add_pack_option,
    add_selection_options,
    add_units_option,
)
from swaplint.cli.reading import rule_base
from swaplint.cli.statuses import status_of
from swaplint.declare.rule import Rule
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.selection import selected, selection_of
from swaplint.kit.edits import sound_spec
from swaplint.reports.layout import safe
from swaplint.reports.rulebook_page import Page, by_system, page_of
from swaplint.spec.facts import nearest
from swaplint.spec.hints import did_you_mean
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.systems import SYSTEMS

_DESCRIPTION = """List the rules by system, those of one system, or explain one rule whole: what it asks and computes,
the limit and where that comes from, what it reads, what may be chosen, what to do, and what it cannot tell.
"""
_EXAMPLES = """examples:
  swaplint rulebook                          every rule, by system
  swaplint rulebook gearing                  the rules of one system
  swaplint rulebook gearing.cruise-rpm       one rule whole
  swaplint rulebook gearing.cruise-rpm --format markdown -o cruise-rpm.md
"""
MOST_MEANT = 3
"""How many rules a hint names."""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("what", nargs="?", metavar="ID", help="the id of a rule, or the name of a system")
    add_selection_options(parser, "list only this rule")
    add_format_option(parser, "text", "json", "markdown")
    add_output_option(parser)
    add_pack_option(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    base = rule_base(options.pack)
    problems = list(base.problems)
    what = options.what or ""
    if what and (options.system or options.rule):
        return refuse("rulebook", "name one rule or system, or choose from the list by --system and --rule, not both")
    try:
        selection = selection_of(base, [what] if what in SYSTEMS else options.system, options.rule)
    except ValueError as error:
        return refuse("rulebook", error)
    found = _find(base, what)
    if found is not None:
        page = page_of(base, *found, what, _specs(base, found[1], problems))
        problems += page.problems
        failed = _write_page(page, problems, options)
    elif not what or what in SYSTEMS:
        failed = _write_list(selected(base, selection), problems, options)
    else:
        failed = Problem(_no_such(base, what), "input")
    if failed is not None:
        problems.append(failed)
    say(problems)
    return status_of(problems)


def _find(base: RuleBase, id: str) -> tuple[LoadedPack, Rule] | None:
    return next(((pack, rule) for pack, rule in base.rules if rule.id == id or id in rule.aliases), None)


def _specs(base: RuleBase, rule: Rule, problems: list[Problem]) -> list[LoadedSpec]:
    """The sound spec, and that with each example's edits. An example that cannot be made is a fault of its pack."""
    specs = []
    for edits in ({}, *rule.bad, *rule.good):
        try:
            specs.append(sound_spec(base, edits))
        except (SpecErrors, ValueError, LookupError, TypeError) as error:
            what = f"the example {dict(edits)!r} is no build spec: {error}" if edits else f"the sound spec: {error}"
            problems.append(Problem(" ".join(what.split()), "rule", None, rule.id))
    return specs


def _no_such(base: RuleBase, what: str) -> str:
    shown = safe(what if len(what) <= 80 else what[:77] + "...")
    if any(quantity.id == what for _, quantity in base.quantities):
        users = f"'swaplint worksheet SPEC {what}' shows it"
        return f"there is no rule {shown!r}: it is a quantity; {users}"
    known = {id for _, rule in base.rules for id in (rule.id, *rule.aliases)} | {*SYSTEMS}
    short = sorted(id for id in known if what and what in id.partition(".")[2].split("-"))[:MOST_MEANT]
    near = nearest(what, known)
    hint = did_you_mean(short or ([near] if near else [])) or "; 'swaplint rulebook' lists them"
    return f"there is no rule or system {shown!r}{hint}"


def _write_page(page: Page, problems: list[Problem], options: argparse.Namespace) -> Problem | None:
    if options.format == "json":
        from swaplint.reports.json_report import dumps
        from swaplint.reports.rulebook_json import page_json

        return write_out(dumps(page_json(page, problems)), options.output)
    if options.format == "markdown":
        from swaplint.reports.rulebook_markdown import page_markdown

        return write_out(page_markdown(page), options.output)
    from swaplint.reports.rulebook_text import page_sheet

    return write_sheet(lambda width: page_sheet(page, width), options.output)


def _write_list(base: RuleBase, problems: list[Problem], options: argparse.Namespace) -> Problem | None:
    groups = by_system(base)
    if options.format == "json":
        from swaplint.reports.json_report import dumps
        from swaplint.reports.rulebook_json import list_json

        return write_out(dumps(list_json(groups, problems)), options.output)
    if options.format == "markdown":
        from swaplint.reports.rulebook_markdown import list_markdown

        return write_out(list_markdown(groups), options.output)
    from swaplint.reports.rulebook_text import list_sheet

    return write_sheet(lambda width: list_sheet(groups, width), options.output)
