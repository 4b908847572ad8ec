"""The command line asked as a builder asks it, about the examples or about edited copies of them."""

import functools
import io
import json
import shutil
from collections.abc import Mapping
from contextlib import redirect_stdout
from pathlib import Path
from typing import Any

from swaplint.cli import main

SPECS = Path("specs")
TENDER = str(SPECS / "tarnholt-tender.toml")
VAN = str(SPECS / "skerrivar-van.toml")

G = 9.80665
"""Standard gravity, m/s² (ISO 80000-3)."""


def edited(folder: Path, spec: str, edits: Mapping[str, str]) -> str:
    """A copy of an example with its data sheets, in which each text is replaced by another. Returns its path."""
    text = Path(spec).read_text(encoding="utf-8")
    for old, new in edits.items():
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in {spec}"
        text = text.replace(old, new)
    shutil.copytree(SPECS / "sheets", folder / "sheets", dirs_exist_ok=True)
    copy = folder / Path(spec).name
    copy.write_text(text, encoding="utf-8")
    return str(copy)


@functools.cache
def _asked(arguments: tuple[str, ...]) -> str:
    out = io.StringIO()
    with redirect_stdout(out):
        status = main([*arguments, "--format", "json"])
    assert status in (0, 1), status  # 1: the gate is shut, as it is for both examples
    return out.getvalue()


def ask(*arguments: str) -> Any:
    """What the tool prints as JSON. Each question is asked once; a copy of a spec is to have its own folder."""
    return json.loads(_asked(arguments))


def results(spec: str, rule: str) -> list[dict[str, Any]]:
    """What `inspect` says of one rule."""
    found = [r for r in ask("inspect", spec)["specs"][0]["results"] if r["rule"] == rule]
    assert found, f"{rule} says nothing"
    return found


def one(spec: str, rule: str, demand: str | None = None) -> dict[str, Any]:
    """The only result of a rule, or the one of one of its demands."""
    found = [result for result in results(spec, rule) if demand is None or result["demand"] == demand]
    assert len(found) == 1, [result["demand"] for result in found]
    return found[0]


def remedy(result: Mapping[str, Any], field: str) -> dict[str, Any]:
    """The remedy of a result that changes one field."""
    found = [r for r in result["remedies"] if r["field"] == field]
    assert len(found) == 1, [r["field"] for r in result["remedies"]]
    return dict(found[0])


def windows(sizing: Mapping[str, Any]) -> dict[str, list[tuple[float, float]]]:
    """Where each rule passes by itself, by the rule's id."""
    return {
        entry["rule"]: [(window["low"], window["high"]) for window in entry["windows"]] for entry in sizing["by_rule"]
    }


def window_of(sizing: Mapping[str, Any], rule: str) -> tuple[float, float]:
    """Where one rule passes by itself, where that is one stretch."""
    found = windows(sizing)[rule]
    assert len(found) == 1
    return found[0]


def quantity(spec: str, id: str) -> list[dict[str, Any]]:
    """A quantity on the worksheet, one entry per part."""
    return [q for q in ask("worksheet", spec)["quantities"] if q["id"] == id]
