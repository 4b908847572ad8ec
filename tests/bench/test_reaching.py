"""Other code and other constants in a module that is imported already, and which of its blocks are come to."""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import mutations
import pytest
from mutations import Mutant, Source
from reaching import Living, Reached, block_of, marked, named_by

from swaplint.declare.practices import Practice

TEXT = """
from swaplint.declare.practices import Practice
from swaplint.declare.sources import practice

LIMIT = 2.0
TWICE = 2.0 * LIMIT
USUAL = Practice("3 m taken", 3.0, practice("from nowhere"))
KEPT = [USUAL]

def judge(x: float) -> str:
    if x > LIMIT:
        return "much"
    return "little"

def other() -> float:
    return TWICE + sum(one.value for one in KEPT)

def early(x: float = LIMIT) -> float:
    return x
"""


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.setattr(mutations, "ROOT", tmp_path)
    path = tmp_path / "changed_one.py"
    path.write_text(TEXT)
    yield path
    sys.modules.pop("changed_one", None)


def imported(path: Path) -> ModuleType:
    spec = importlib.util.spec_from_file_location("changed_one", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["changed_one"] = module
    spec.loader.exec_module(module)
    return module


def changed(source: Source, old: str, new: str) -> Mutant:
    start = source.bytes.index(old.encode())
    line = source.bytes[:start].count(b"\n") + 1
    return Mutant(source.name, line, start, start + len(old), new.encode())


def test_a_function_that_somebody_holds_gets_the_code_of_a_change(file: Path) -> None:
    module, source = imported(file), Source(file)
    held = module.judge
    living = Living({str(file)})
    living.give(str(file), compile(changed(source, "x > LIMIT", "x < LIMIT").apply(source.bytes), str(file), "exec"))
    assert (held(1.0), held(3.0)) == ("much", "little")


def test_code_of_a_file_that_nobody_imported_is_not_lost_in_silence(file: Path) -> None:
    with pytest.raises(KeyError):
        Living({str(file)}).give(str(file), compile(TEXT, str(file), "exec"))


def test_only_the_blocks_that_are_come_to_are_noted(file: Path) -> None:
    module, source = imported(file), Source(file)
    Living({str(file)}).give(str(file), marked(source, str(file)))
    reached = Reached()
    for_much = block_of(source, changed(source, '"much"', '"some"'))
    for_little = block_of(source, changed(source, '"little"', '"some"'))
    assert for_much != for_little
    assert module.judge(1.0) == "little"
    blocks = reached.taken()
    assert for_little in blocks
    assert for_much not in blocks
    assert module.judge(3.0) == "much"
    assert for_much in reached.taken()


def test_a_constant_is_changed_with_what_is_made_of_it(file: Path) -> None:
    module, source = imported(file), Source(file)
    mutant = changed(source, "3.0", "3.3")
    named = named_by([source], mutant)
    assert named is not None
    assert named.names == {"USUAL", "KEPT"}
    held: Practice = module.USUAL
    living = Living({str(file)})
    code = compile(mutant.apply(source.bytes), str(file), "exec")
    assert living.put(str(file), code, named) == {"3 m taken"}
    assert (held.value, module.other()) == (3.3, pytest.approx(7.3))


def test_a_constant_that_a_default_holds_is_to_be_imported_anew(file: Path) -> None:
    imported(file)
    source = Source(file)
    mutant = changed(source, "LIMIT = 2.0", "LIMIT = 2.2")
    named = named_by([source], mutant)
    assert named is not None
    assert named.names == {"LIMIT", "TWICE"}
    with pytest.raises(ValueError, match="asked for at the import"):
        Living({str(file)}).put(str(file), compile(mutant.apply(source.bytes), str(file), "exec"), named)
