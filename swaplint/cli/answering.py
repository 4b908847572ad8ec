"""A spec that is being filled from the command line: answers taken, written, and what they decide said."""

from __future__ import annotations

import io
import re
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from swaplint.cli.output import as_sentence, say, tell, write_out
from swaplint.cli.reading import load_error
from swaplint.cli.size import field_facts
from swaplint.cli.statuses import OK, UNREADABLE
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.host.signs import SIGNS
from swaplint.host.streams import input_stream, let_go, report_stream
from swaplint.inspecting.results import Ask
from swaplint.inspecting.selection import Selection
from swaplint.reports.layout import Sheet, cut, safe, width_of, write
from swaplint.reports.naming import counted
from swaplint.reports.questions import add_decided, add_question
from swaplint.solving.what_if import fields_like
from swaplint.spec.editing import REMOVED
from swaplint.spec.editing.values import written
from swaplint.spec.loaded import SpecErrors
from swaplint.spec.paths import path_key, path_text
from swaplint.spec.renamed import path_today
from swaplint.spec.table_text import Table
from swaplint.spec.toml_source import PathKey
from swaplint.writing.answers import Changes, RefusedError, changes_of, target_of
from swaplint.writing.filling import LARGEST_ANSWER, Filling, decided


class Given(NamedTuple):
    """An answer that was given, and where."""

    field: str
    text: str
    where: tuple[str, int, int] = ("", 0, 0)
    """The file, line and column of a table."""


class Session:
    """A spec that is being filled, and what is said of it."""

    def __init__(self, filling: Filling, base: RuleBase, selection: Selection) -> None:
        """With a selection only what its rules wait for is asked."""
        self.filling, self.base = filling, base
        self._rules = {rule.id for _, rule in base.rules if selection.takes(rule)} if selection else None

    def asks(self) -> list[Ask]:
        """What is worth finding out next, in that order."""
        return self.filling.asks(self._rules)

    # -- answers that are given all at once
    def answer_all(self, given: Sequence[Given], table: Table | None = None) -> int:
        """Put answers into the spec: all of them, or none where one is refused. Returns the exit status."""
        changes: dict[PathKey, object] = {}
        problems: list[Problem] = []
        for one in given:
            try:
                for path in self._paths(one.field):
                    made = changes_of(self.filling.spec, path, self._as_values_are(path, one.text, table))
                    if any(key in changes and changes[key] != made[key] for key in made):
                        raise RefusedError("is answered twice, and not alike")
                    changes.update(made)
            except ValueError as error:
                file, line, column = one.where
                what = _about(one.field, error)
                problems.append(Problem(what, "input", None, None, file or None, line or None, column or None))
        if not problems:
            try:
                return self.put(changes)
            except RefusedError as error:
                problems.append(Problem(str(error), "input", file=given[0].where[0] or None))
        say(problems)
        tell("Nothing was written.")
        return UNREADABLE

    def _paths(self, field: str) -> tuple[str, ...]:
        """The fields that a path or pattern names. Raises `ValueError`."""
        field = path_today(self.base.model, field)
        if "*" in field:
            field_facts(self.base, field)
            found = fields_like(field, self.filling.spec)
            if not found:
                raise RefusedError("the spec has no part that this names")
            return found
        if target_of(self.base.model, path_key(field)) is None:
            field_facts(self.base, field)  # says which is the nearest
            raise RefusedError("names no field")
        return (field,)

    def _as_values_are(self, path: str, text: str, table: Table | None) -> str:
        """A text out of a table with the decimal points that values have."""
        target = target_of(self.base.model, path_key(path))
        facts = None if target is None else target.member.facts
        if table is None or (facts is not None and facts.type not in ("measure", "number", "count")):
            return text
        with_tolerance = re.compile(r"(±|\+/-)")
        return "; ".join(
            ", ".join(
                "".join(table.number_text(piece.strip()) for piece in with_tolerance.split(cell))
                for cell in re.split(r",\s+", row.strip())
            )
            for row in text.split(";")
        )

    def put(self, changes: Changes) -> int:
        """Write changes into the spec, and say what they decide. Returns the exit status. Raises `RefusedError`."""
        failed = self._as_it_is_now()
        if failed:
            say(failed)
            return UNREADABLE
        filling = self.filling
        path, text, now = filling.edited(changes)
        before = filling.inspection
        if text == now:
            report_stream().write(f"{filling.spec.label} says so already; nothing was written.\n")
            return OK
        wrong = write_out(text, path, onto=path, goes_on=True)
        if wrong is not None:
            say([wrong])
            return UNREADABLE
        filling.read_again()
        sheet = _sheet()
        where = "" if path == filling.path else f" in {path}"
        sheet.wrapped(f"Written{where}: {_written(changes)}; {counted(len(self.asks()), 'question')} left.", indent=2)
        add_decided(sheet, decided(before, filling.inspection))
        write(sheet)
        return OK

    def _as_it_is_now(self) -> list[Problem]:
        """Read the files again where somebody else has changed one. Returns why one cannot be read."""
        filling = self.filling
        spec, path = filling.spec, filling.path
        written = {path: spec.file, **{label: spec.lower[label] for label in sorted(spec.tables)}}
        try:
            for path, file in written.items():
                if Path(path).read_bytes() != file.raw:
                    filling.read_again()
                    tell(f"{path} was changed in the meantime, and was read again.")
                    break
        except OSError as error:
            return [Problem(f"cannot be read: {error.strerror or error}", "input", file=path)]
        except SpecErrors as errors:
            return [load_error(error) for error in errors.errors]
        return []

    # -- answers that are asked for
    def ask(self) -> int:
        """Ask one question after the other until there are none, or nobody answers. Returns the exit status."""
        stream = input_stream()
        if isinstance(stream, io.TextIOWrapper) and not stream.isatty():
            stream.reconfigure(encoding="utf-8", errors="replace")
        before: list[Ask] = []
        done: set[str] = set()  # skipped; or answered, and wanted better known still
        again: Ask | None = None
        answers, refused = 0, False
        while True:
            left = [ask for ask in self.asks() if ask.field not in done]
            question = again or next(iter(left), None)
            if question is None:
                break
            if not refused:
                self._put_question(question, len(left))
            word = _heard()
            again, refused = None, False
            if word is None or word.lower() in _STOP:
                break
            if word.lower() == "back":
                again = before.pop() if before else question
                done.discard(again.field)
                continue
            if not word or word.lower() == "skip":
                done.add(question.field)
                before.append(question)
                continue
            status = self._take(question, word)
            if status == UNREADABLE:
                return status
            if status == _UNKNOWN_ANYWAY:
                done.add(question.field)
                before.append(question)
            elif status is None:
                again, refused = question, True
            else:
                answers += 1
                done.add(question.field)
                before.append(question)
        written = f"{counted(answers, 'answer')} written to {self.filling.spec.label}"
        report_stream().write(f"\n{written}; {counted(len(self.asks()), 'question')} left.\n")
        return OK

    def _put_question(self, question: Ask, left: int) -> None:
        sheet = _sheet()
        sheet.lines.append([])
        add_question(sheet, self.filling.inspection, question, left)
        write(sheet)

    def _take(self, question: Ask, word: str) -> int | None:
        """Take an answer; None where it is refused, and said so, to be asked again."""
        try:
            if len(word) >= LARGEST_ANSWER:
                raise RefusedError(f"is longer than {LARGEST_ANSWER} characters")
            changes = changes_of(self.filling.spec, question.field, word)
            return self.put(changes) if changes else _UNKNOWN_ANYWAY
        except ValueError as error:
            sheet = _sheet()
            sheet.wrapped(as_sentence(safe(_about(question.field, error))), indent=2, style="bold red")
            write(sheet)
            return None


_UNKNOWN_ANYWAY = -1
"""No exit status: the answer says that nobody knows what nobody states."""

MOST_WRITTEN = 3
"""How many of the fields that were written are named."""


def _written(changes: Changes) -> str:
    """What was written, as the file says it."""
    said = [
        f"{path_text(path)} {'taken out' if value is REMOVED else f'= {written(value)}'}"
        for path, value in changes.items()
    ]
    left = len(said) - MOST_WRITTEN
    return ", ".join(cut(one, 70) for one in said[:MOST_WRITTEN]) + (f" and {left} more" if left > 0 else "")


def _about(field: str, error: ValueError) -> str:
    """Why an answer is refused, with the field that it was for where the words do not begin with what was typed."""
    words = str(error)
    return f"{field} {words}" if re.match(r"(?:takes|is|has|holds|names) ", words) else f"{field}: {words}"


_STOP = ("stop", "quit", "q", "exit")


def _heard() -> str | None:
    """What is typed or piped in; None where nobody answers any more."""
    report_stream().write("> ")
    let_go(dialogue=True)
    SIGNS.waits()
    stream = input_stream()
    if stream is None:
        return None
    line = stream.readline(LARGEST_ANSWER + 1)
    rest = line
    while len(rest) > LARGEST_ANSWER and not rest.endswith("\n"):
        rest = stream.readline(LARGEST_ANSWER + 1)  # the rest of a line that is too long is no further answer
    if not stream.isatty():
        report_stream().write(f"{safe(line.strip())}\n")  # a terminal shows what is typed, and a pipe does not
    return line.strip() if line else None


def _sheet() -> Sheet:
    return Sheet.of_width(width_of(report_stream()) - 1)
