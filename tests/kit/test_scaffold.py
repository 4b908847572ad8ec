"""What the scaffold writes: a pack that loads, whose rule passes its derived tests before anybody has touched it."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.kit import __main__ as scaffold
from swaplint.kit import derived


def test_a_new_pack_passes_its_derived_tests(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "argv", ["kit", "pack", "acme", "--folder", str(tmp_path)])
    assert scaffold.main() == 0
    base = load_rule_base([str(tmp_path / "acme-rules" / "acme_rules.py")])
    assert base.problems == []
    rule = base.find("gearing.acme-first-step")
    assert rule is not None
    assert derived.check_sound(base, rule) == []
    for edits in rule.bad:
        assert derived.check_bad(base, rule, edits) == []
    for edits in rule.good:
        assert derived.check_good(base, rule, edits) == []
    assert derived.check_missing_fields(base, rule) == []
    assert derived.check_absurd_values(base, rule) == []
    assert derived.check_alone(base, rule) == []


def test_a_rule_is_added_to_a_pack_once(tmp_path: Path) -> None:
    root = scaffold.new_pack("acme", tmp_path)
    file = root / "acme_rules.py"
    scaffold.add_rule(file, "fuel.cap-vent")
    base = load_rule_base([str(file)])
    assert base.problems == []
    assert base.find("fuel.cap-vent") is not None
    with pytest.raises(ValueError, match="has a rule"):
        scaffold.add_rule(file, "fuel.cap-vent")
    with pytest.raises(ValueError, match="is not a rule id"):
        scaffold.add_rule(file, "cap vent")


def test_a_rule_that_raises_is_told_with_its_line_by_what_authors_try_it_with() -> None:
    from swaplint.kit import trial
    from swaplint.kit.trial import rule_base

    base = rule_base()
    pack = next(pack for pack in base.packs if any(r.id == "fuel.suction-loss" for r in pack.rules))
    sound = next(r for r in pack.rules if r.id == "fuel.suction-loss")

    def broken(build: object) -> object:
        raise RuntimeError("oh")

    own = RuleBase([replace(pack, rules=[replace(sound, function=broken)])], [], base.model)
    line = broken.__code__.co_firstlineno + 1
    with pytest.raises(AssertionError, match=rf"RuntimeError: oh.*test_scaffold\.py, line {line}\)"):
        trial.trial("fuel.suction-loss", base=own)
