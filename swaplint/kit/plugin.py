"""A pytest plugin that derives the tests of every rule of a pack from the rule's own declaration.

Name the packs in the pytest configuration and run pytest; no test file is needed:

    [tool.pytest.ini_options]
    swaplint_packs = ["acme"]

`pytest --rules-of acme` runs them by themselves. A pack is named by its name, or by the Python file it stands in.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator

import pytest

from swaplint.declare.rule import Rule
from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.kit import derived
from swaplint.kit.estimates import check_estimate
from swaplint.kit.figures import check_figure_drawn
from swaplint.kit.listings import check_listing
from swaplint.kit.steps import check_step_of

Check = Callable[[], list[str]]


def pytest_addoption(parser: pytest.Parser) -> None:
    """Declare the option and the setting."""
    parser.addini("swaplint_packs", "rule packs whose derived tests to run", type="args", default=[])
    parser.addoption(
        "--rules-of",
        action="append",
        default=[],
        metavar="PACK",
        help="run the tests derived from the rules of this swaplint pack",
    )


def pytest_collection_modifyitems(session: pytest.Session, config: pytest.Config, items: list[pytest.Item]) -> None:
    """Add the derived tests to a whole run, or to one that asks for them."""
    asked = list(config.getoption("--rules-of"))
    whole_run = config.args_source is not pytest.Config.ArgsSource.ARGS
    if whole_run:
        asked += [pack for pack in config.getini("swaplint_packs") if pack not in asked]
    if asked:
        items.extend(derived_items(session, asked))


def derived_items(session: pytest.Session, packs: list[str]) -> Iterator[pytest.Item]:
    """The derived tests of packs, by name or file."""
    files = [name for name in packs if name.endswith(".py")]
    base = load_rule_base(files)
    names = set(packs) - set(files)
    if files:
        names |= {pack.name for pack in base.packs[-len(files) :]}
    for name in sorted(names):
        pack = next((p for p in base.packs if p.name == name), None)
        own_problems = [p.what for p in base.problems if p.pack == name]
        yield DerivedTest.of(session, f"{name}::loads", functools.partial(_loads, pack, own_problems, name))
        for rule in pack.rules if pack is not None else []:
            for title, check in _checks(base, rule):
                yield DerivedTest.of(session, f"{name}::{rule.id}::{title}", check)
        for quantity in pack.quantities if pack is not None else []:
            if any(quantity.silence.fields):
                check = functools.partial(derived.check_silence_of_quantity, base, quantity)
                yield DerivedTest.of(session, f"{name}::{quantity.id}::silence", check)
            if quantity.stands_in_for:
                check = functools.partial(check_estimate, base, quantity)
                yield DerivedTest.of(session, f"{name}::{quantity.id}::estimate", check)
        for one in pack.listings if pack is not None else []:
            check = functools.partial(check_listing, base, one)
            yield DerivedTest.of(session, f"{name}::{one.id}::listing", check)
        for step in pack.steps if pack is not None else []:
            check = functools.partial(check_step_of, base, step)
            yield DerivedTest.of(session, f"{name}::{step.id}::step", check)
        for figure in pack.figures if pack is not None else []:
            yield DerivedTest.of(
                session, f"{name}::{figure.id}::figure", functools.partial(check_figure_drawn, base, figure)
            )


def _loads(pack: object, problems: list[str], name: str) -> list[str]:
    return problems if pack is not None else [*problems, f"the pack {name} is not installed"]


def _checks(base: RuleBase, rule: Rule) -> Iterator[tuple[str, Check]]:
    yield "sound", functools.partial(derived.check_sound, base, rule)
    for number, edits in enumerate(rule.bad, 1):
        yield f"bad-{number}", functools.partial(derived.check_bad, base, rule, edits)
    for number, edits in enumerate(rule.good, 1):
        yield f"good-{number}", functools.partial(derived.check_good, base, rule, edits)
    yield "tied-sources", functools.partial(derived.check_tied_sources, base, rule)
    yield "missing-fields", functools.partial(derived.check_missing_fields, base, rule)
    yield "absurd-values", functools.partial(derived.check_absurd_values, base, rule)
    yield "alone", functools.partial(derived.check_alone, base, rule)
    yield "silence", functools.partial(derived.check_silence, base, rule)
    yield "emptied", functools.partial(derived.check_emptied, base, rule)


class DerivedTest(pytest.Item):
    """One check of one rule."""

    check: Check

    @classmethod
    def of(cls, session: pytest.Session, name: str, check: Check) -> DerivedTest:
        """A test item for a check."""
        item: DerivedTest = cls.from_parent(session, name=f"rules-of::{name}")
        item.check = check
        return item

    def runtest(self) -> None:
        """Fail with the sentences of the check."""
        faults = self.check()
        if faults:
            pytest.fail("\n".join(faults), pytrace=False)

    def reportinfo(self) -> tuple[str, int | None, str]:
        """How the item is named in a report."""
        return self.name, None, self.name
