"""`swaplint upgrade`: put a build spec into today's names."""

from __future__ import annotations

import argparse
import itertools
from collections.abc import Iterator, Sequence
from pathlib import Path

from swaplint.cli.output import MOST_ERRORS_SHOWN, refuse, say, tell, write_out
from swaplint.cli.program import ONE_SPEC, add_pack_options
from swaplint.cli.reading import load_error, read_stdin, rule_base, sheet_folders_of, the_spec_named
from swaplint.cli.statuses import UNREADABLE, status_of
from swaplint.host.packs import RuleBase
from swaplint.spec.editing import EditError, edited, remove, rename, rename_keys
from swaplint.spec.editing.values import same
from swaplint.spec.fields import Section
from swaplint.spec.files_read import FILES_READ
from swaplint.spec.formats import format_of, format_unknown
from swaplint.spec.layers import At
from swaplint.spec.model import FORMAT
from swaplint.spec.nearby import Nearby, NotThere
from swaplint.spec.renamed import STDIN_LABEL, Step, TodaysFile, names_before, stray_words, todays
from swaplint.spec.sheets import Filling
from swaplint.spec.tables import collection_at, tables_named
from swaplint.spec.toml_source import ParsedFiles, PathKey, SpecError, TomlFile, read_bytes
from swaplint.writing.todays_words import SECTION, Told, in_todays_words, table_in_todays_names

_DESCRIPTION = """Put a build spec that was written for an earlier version into today's names of fields and parts.
Values, comments, order and every other byte stay as they are. The spec itself is written, whole or not at all, unless
-o names another file; one from standard input goes to standard output. A spec with old names can be inspected as it
is: upgrade it when it suits you.
"""
_EXAMPLES = """examples:
  swaplint upgrade my-swap.toml
  swaplint upgrade my-swap.toml -o my-swap.new.toml
  swaplint upgrade my-swap.toml --sheets-too            and the data sheets and tables that it names
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("spec", metavar="SPEC", help=ONE_SPEC)
    parser.add_argument(
        "--sheets-too", action="store_true", help="write the data sheets and tables that the spec names, too"
    )
    parser.add_argument("-o", "--output", metavar="FILE", help="write to this file instead of the spec itself")
    add_pack_options(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    if options.sheets_too and options.output is not None:
        return refuse("upgrade", "--sheets-too writes the data sheets themselves, and -o leaves the files as they are")
    base = rule_base(options.pack)
    path, problems = the_spec_named(options.spec, base)
    folders, wrong = sheet_folders_of(options.sheets)
    problems = [*base.problems, *problems, *wrong]
    if path is None:
        say(problems)
        return UNREADABLE
    try:
        written = _written(path, folders, base, sheets_too=options.sheets_too)
    except _Unreadable as unreadable:
        say([*problems, *unreadable.problems])
        return UNREADABLE
    output = options.output if options.output is not None else None if path == "-" else path
    for number, (file, text, target, words) in enumerate(written):
        changed = text != _whole(file)
        goes_to = target if number else output
        if changed or goes_to != target:
            failed = write_out(text, goes_to, onto=target)
            if failed is not None:
                say([*problems, failed])
                return UNREADABLE
        if changed or not number:
            _tell_what_was_done(file, words, changed=changed)
        for line, old, new in file.told_of_strays() if isinstance(file, TodaysFile) else ():
            tell(f"{file.label}, line {line}: {stray_words(old, new)}.")
    say(problems)
    return status_of(problems)


class _Unreadable(Exception):
    def __init__(self, errors: list[SpecError]) -> None:
        super().__init__()
        self.problems = [load_error(error) for error in errors]


_Written = tuple[TomlFile, str, str, list[Told]]
"""A file as it was read, its new text, where it is from, and the names that stand in it as words."""


def _written(path: str, folders: list[Path], base: RuleBase, *, sheets_too: bool) -> list[_Written]:
    """The spec with its new text, and the data sheets with theirs. Nothing is written yet."""
    try:
        file = read_bytes(read_stdin(), STDIN_LABEL) if path == "-" else ParsedFiles().read(Path(path), path)
    except SpecError as error:
        raise _Unreadable([error]) from None
    file = todays(file, base.model)
    _note_named(file.data, Path.cwd() if path == "-" else Path(path).parent)
    try:
        text, words = in_todays_words(_upgraded(file, base.model, ()), file, base)
    except EditError as error:
        raise _Unreadable([SpecError(str(error), file.label)]) from None
    out = [(file, text, path, words)]
    if sheets_too:
        folder = Path.cwd() if path == "-" else Path(path).parent
        nearby = Nearby(file.label, folder, folders, ParsedFiles(), base.model.sheet_folders)
        filling = Filling(nearby)
        filling.table(base.model, file.data, At((), file, (), folder, ()), {})
        if filling.errors:
            raise _Unreadable(filling.errors)
        for label in sorted(filling.used):
            if nearby.of_pack(filling.paths[label]):
                continue
            sheet = filling.used[label]
            model, part = filling.filled[label]
            out.append((sheet, _upgraded(sheet, model, part), str(filling.paths[label]), []))
        out += _tables(file, folder, nearby, base)
    return out


def _tables(file: TomlFile, folder: Path, nearby: Nearby, base: RuleBase) -> Iterator[_Written]:
    """The tables that the spec names, each once."""
    seen: set[Path] = set()
    for keys, name in tables_named(file.data.get(SECTION)):
        place = file.place_of((SECTION, *keys))
        try:
            _, member = collection_at(base.model, ".".join(map(str, keys)))
            found = nearby.find(str(name), folder, "table")
            raw = nearby.read_raw(found)
            if found in seen or member.model is None:
                continue
            seen.add(found)
            text, words = table_in_todays_names(raw, nearby.label(found), member.model)
        except NotThere as error:
            raise _Unreadable([SpecError(str(error), file.label, place.line, place.column)]) from None
        except SpecError as error:
            raise _Unreadable([error]) from None
        if words:
            yield TomlFile(nearby.label(found), text, {}, raw), text, str(found), words


def _note_named(node: object, folder: Path) -> None:
    """Note the files that a spec names, whether or not they are read."""
    for key, value in node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ():
        if key in ("sheet", "base") and isinstance(value, str):
            FILES_READ.note(folder / value)
        elif key == "tables" and isinstance(value, dict):
            FILES_READ.note_all(str(folder / name) for name in value.values() if isinstance(name, str))
        else:
            _note_named(value, folder)


def _upgraded(file: TomlFile, model: type[Section], part: PathKey) -> str:
    """The text of a file with today's names, and of a spec with today's format."""
    text = _whole(file)
    if isinstance(file, TodaysFile) and file.errors:
        raise _Unreadable(file.errors)
    unknown = format_unknown(file) if not part else None
    old_format = not part and _is_older(format_of(file))
    if unknown is not None and not old_format:
        raise _Unreadable([unknown])
    if isinstance(file, TodaysFile):
        try:
            text = _with_steps(text, file.steps)
        except EditError as error:
            raise _Unreadable([SpecError(str(error), file.label)]) from None
        again = todays(read_bytes(text.encode(), file.label), model, part)
        now = again.as_read.data if isinstance(again, TodaysFile) else again.data
        if (isinstance(again, TodaysFile) and again.steps) or not (file.strays or same(now, file.data)):
            raise _Unreadable([SpecError("cannot be put into today's names without changing a value", file.label)])
    return edited(text, {("build", "format"): FORMAT}) if old_format else text


def _with_steps(text: str, steps: Sequence[Step]) -> str:
    """The text with all changes of names made; those within a table that follow each other all at once."""
    for in_place, group in itertools.groupby(
        steps, lambda step: step.new is not None and step.new[:-1] == step.old[:-1]
    ):
        if in_place:
            text = rename_keys(text, names_before(list(group)))
            continue
        for step in group:
            text = remove(text, step.old) if step.new is None else rename(text, step.old, step.new)
    return text


def _is_older(number: object) -> bool:
    return isinstance(number, int) and not isinstance(number, bool) and 1 <= number < FORMAT


def _whole(file: TomlFile) -> str:
    """The text of a file with its byte-order mark, if it has one."""
    return file.raw.decode("utf-8")


def _tell_what_was_done(file: TomlFile, words: list[Told], *, changed: bool) -> None:
    """Say what was renamed."""
    named = [*(file.told(every=True) if isinstance(file, TodaysFile) else []), *words]
    told = [(line, f"{old} is called {new} now") for line, old, new in named]
    for line, what in told[:MOST_ERRORS_SHOWN]:
        tell(f"{file.label}, line {line}: {what}.")
    if len(told) > MOST_ERRORS_SHOWN:
        tell(f"{file.label}: {len(told) - MOST_ERRORS_SHOWN} more old names.")
    if changed and not told:
        tell(f"{file.label}: build.format is {FORMAT} now.")
    if not changed:
        tell(f"{file.label}: nothing to rename.")
