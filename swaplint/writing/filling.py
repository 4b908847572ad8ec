"""A spec that is being filled: what is still asked, what an answer makes of the file, and which rules it decides."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.results import Ask, Finding, Inspection
from swaplint.solving.editing import EditedSpec
from swaplint.spec.editing import EditError
from swaplint.spec.editing.commented import answered
from swaplint.spec.job import Stage
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.loading import load, load_spec
from swaplint.spec.paths import path_text
from swaplint.spec.renamed import TodaysFile
from swaplint.spec.toml_source import ParsedFiles, SpecError, read_bytes
from swaplint.writing.answers import Changes, RefusedError

LARGEST_ANSWER = 4_000
"""How many characters an answer may have: a long curve has a tenth of that."""


class Decided(NamedTuple):
    """A rule that an answer decided."""

    rule: str
    kind: str
    """What its worst result is of those that were not decided before."""
    finding: Finding
    left: int
    """How many of its results are open still."""


class Filling:
    """One spec on disk, what the rules say of it, and the way to its next state."""

    def __init__(self, path: str, base: RuleBase, folders: Sequence[Path], stage: Stage | None) -> None:
        """Read and inspect the spec. Raises `SpecErrors`."""
        self.path, self._base, self._folders = path, base, folders
        self._edited = EditedSpec(base, stage)
        self._parsed = ParsedFiles()
        self.problems: list[Problem] = []
        self.read_again()

    def read_again(self) -> None:
        """Read and inspect the file as it now is. Raises `SpecErrors`."""
        self.spec = self._load()
        if isinstance(self.spec.file, TodaysFile) and self.spec.file.steps:
            what = "has names of an earlier version; 'swaplint upgrade' on it first puts it into today's"
            raise SpecErrors([SpecError(what, self.spec.label)])
        self.inspection, self.problems = self._edited.inspect(self.spec)

    def _load(self) -> LoadedSpec:
        base = self._base
        return load_spec(
            self.path, sheet_folders=self._folders, model=base.model, unread=base.unread, parsed=self._parsed
        )

    @property
    def text(self) -> str:
        """The file as it was read, with a byte-order mark where it has one."""
        return self.spec.file.raw.decode("utf-8")

    def edited(self, changes: Changes) -> tuple[str, str, str]:
        """The file that changes go into, its text with them and as it is. Raises `RefusedError`.

        What stands in a table beside the spec is changed there.
        """
        # A list stands in its cell as a whole.
        tabled = [keys[:-1] if isinstance(keys[-1], int) else keys for keys in changes]
        tabled = [keys for keys in tabled if self.spec.in_table(keys) is not None]
        if tabled:
            # Imported here: most specs have no tables.
            from swaplint.spec.table_editing import with_values

            try:
                if tabled != list(changes):
                    place = self.spec.place_at(tabled[0])
                    raise EditError(
                        f"{path_text(tabled[0])} stands in {place.file}, line {place.line}: change it there"
                    )
                file, text = with_values(self.spec, changes)
            except EditError as error:
                raise RefusedError(str(error)) from None
            return file.label, text, file.raw.decode("utf-8")
        return self.path, self.with_answers(changes), self.text

    def with_answers(self, changes: Changes) -> str:
        """The text of the file with changes. Raises `RefusedError` where the spec could then not be read."""
        try:
            text = answered(self.text, changes)
            self._check(text)
        except EditError as error:
            raise RefusedError(str(error)) from None
        except SpecErrors as errors:
            raise RefusedError(_first(errors)) from None
        return text

    def _check(self, text: str) -> None:
        """Read a text as the spec would be read from disk. Raises `SpecErrors`."""
        try:
            file = read_bytes(text.encode("utf-8"), self.spec.label)
        except SpecError as error:
            raise SpecErrors([error]) from None
        where = self.spec.read_from
        load(
            file,
            where.folder,
            sheet_folders=where.sheet_folders,
            model=self._base.model,
            unread=where.unread,
            parsed=self._parsed,
        )

    def asks(self, rules: Collection[str] | None = None) -> list[Ask]:
        """What is worth finding out next, in that order; or of some rules, what these wait for."""
        return [ask for ask in self.inspection.ask_next if rules is None or not set(ask.rules).isdisjoint(rules)]


def _first(errors: SpecErrors) -> str:
    first, *others = errors.errors
    more = f" (and {len(others)} more)" if others else ""
    return f"the spec could then not be read: {first.what}{more}"


_WORST = ("fail", "review", "pass", "informational", "notApplicable")


def decided(before: Inspection, after: Inspection) -> list[Decided]:
    """The rules that say more than before: results that were open, or not there, and are decided now."""
    opened = {finding.rule.id for finding in before.findings if finding.kind == "open"}
    was = {finding.key: finding.kind for finding in before.findings}
    out: list[Decided] = []
    for id, findings in _by_rule(after.findings).items():
        new = [f for f in findings if f.kind != "open" and was.get(f.key, "open") != f.kind]
        if not new or (id not in opened and all(was.get(f.key) is None for f in new)):
            continue
        worst = min(new, key=lambda f: _WORST.index(f.kind))
        out.append(Decided(id, worst.kind, worst, sum(f.kind == "open" for f in findings)))
    return sorted(out, key=lambda one: (_WORST.index(one.kind), one.rule))


def _by_rule(findings: Iterable[Finding]) -> dict[str, list[Finding]]:
    out: dict[str, list[Finding]] = {}
    for finding in findings:
        out.setdefault(finding.rule.id, []).append(finding)
    return out
