"""What `--earlier` names: a report that was kept, or another build spec."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from swaplint.cli.output import problem_sentence
from swaplint.cli.reading import load_one
from swaplint.host.packs import RuleBase
from swaplint.spec.files_read import FILES_READ

if TYPE_CHECKING:
    from swaplint.gating.earlier import EarlierReport


def earlier_named(name: str | None, folders: Sequence[Path], base: RuleBase) -> tuple[EarlierReport | None, str]:
    """The report to compare with, or the name of the spec. Raises `ValueError` with a sentence."""
    if name is None:
        return None, ""
    # Imported here: most calls compare nothing.
    from swaplint.gating.earlier_report import NoReport, looks_like_json, read_report

    if name == "-":
        raise ValueError("--earlier takes a file, not standard input")
    if not name:
        raise ValueError("--earlier: the name of the file is empty")
    FILES_READ.note(name)
    try:
        if looks_like_json(name):
            return read_report(name), ""
    except NoReport as error:
        raise ValueError(f"--earlier {name}: {error}") from None
    spec, problems = load_one(name, folders, base)
    if spec is None:
        more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
        raise ValueError(f"--earlier: {problem_sentence(problems[0]).rstrip('.')}{more}")
    return None, name
