"""`swaplint fill`: answer what a spec leaves open, into the file."""

from __future__ import annotations

import argparse
import os
import re
from collections.abc import Sequence

from swaplint.cli.answering import Given, Session
from swaplint.cli.output import refuse, say, tell, write_out
from swaplint.cli.program import add_pack_options, add_selection_options, add_stage_option, add_units_option
from swaplint.cli.reading import load_error, read_stdin, rule_base, sheet_folders_of, show_units_of, the_spec_named
from swaplint.cli.size import unquoted
from swaplint.cli.statuses import OK, UNREADABLE, status_of
from swaplint.host.streams import report_stream
from swaplint.inspecting.selection import selection_of
from swaplint.reports.naming import counted
from swaplint.reports.questions import ANSWER, COLUMNS, FIELD, question_rows
from swaplint.spec.files_read import FILES_READ
from swaplint.spec.loaded import SpecErrors
from swaplint.spec.table_text import Table, decimal_mark, read_table, table_text
from swaplint.spec.toml_source import MAX_BYTES, SpecError
from swaplint.writing.answers import RefusedError
from swaplint.writing.filling import Filling

_DESCRIPTION = """Answer what a build spec leaves open. Each answer is put into the file at once, and nothing else in it
changes: no comment, no order, no other value. A line of a draft that is commented out for the field takes the answer.

Without further words it asks, what most rules wait for first, and says what each answer decides. An answer is a value
with its unit, 735 mm; one that is not certain 735 mm ± 2 %, measured; several values 5.1; 2.8; 1.6; the points of a
curve 700 r/min, 180 Nm; 1500 r/min, 240 Nm; not fitted where the vehicle has no such part, none where it has none of
several; unknown where nobody knows, also of what a base or data sheet states otherwise. 'skip' leaves a question for
later, 'back' asks the last one again, 'stop' ends. A value that no real vehicle has is asked for again; with ! behind
it, it is meant.
"""
_EXAMPLES = """examples:
  swaplint fill my-swap.toml                            ask, on the terminal
  swaplint fill my-swap.toml driveline.gearbox.kind=manual 'vehicle.mass.gvwr=3500 kg'
  swaplint fill my-swap.toml --questions walk.csv       the questions as a table, to take along or to fill in
  swaplint fill my-swap.toml --from walk.csv            the answers back out of it
  swaplint fill my-swap.toml --remedy gearing.cruise-rpm     what mends a rule, as the report names it first
"""


def configure(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description, parser.epilog = _DESCRIPTION, _EXAMPLES
    parser.add_argument("spec", metavar="SPEC", help="a build spec, or a folder with one in it")
    parser.add_argument("answers", metavar="FIELD=VALUE", nargs="*", help="an answer, instead of being asked")
    way = parser.add_mutually_exclusive_group()
    way.add_argument("--questions", metavar="FILE", help="write the questions as a table (CSV); - for standard output")
    way.add_argument("--from", metavar="FILE", dest="table", help="take the answers from such a table")
    way.add_argument("--remedy", metavar="RULE", help="write the first remedy of a rule that fails")
    parser.add_argument("--part", metavar="PART", default="", help="with --remedy: of this part, where several fail")
    parser.add_argument("--demand", metavar="NAME", default="", help="with --remedy: of this demand of the rule")
    parser.add_argument("--replace", action="store_true", help="with --questions: write over a file that is there")
    add_stage_option(parser)
    add_selection_options(parser, "ask only what this rule waits for")
    add_pack_options(parser)
    add_units_option(parser)


def execute(options: argparse.Namespace) -> int:
    """Run the command."""
    wrong = _misused(options)
    if wrong:
        return refuse("fill", wrong)
    base = rule_base(options.pack)
    try:
        selection = selection_of(base, options.system, options.rule)
    except ValueError as error:
        return refuse("fill", error)
    path, problems = the_spec_named(options.spec, base)
    folders, no_folders = sheet_folders_of(options.sheets)
    problems = [*base.problems, *problems, *no_folders]
    if path is None:
        say(problems)
        return UNREADABLE
    try:
        filling = Filling(path, base, folders, options.stage)
    except SpecErrors as errors:
        say([*problems, *(load_error(error) for error in errors.errors)])
        return UNREADABLE
    show_units_of(filling.spec)
    say(problems)
    session = Session(filling, base, selection)
    if options.questions is not None:
        status = _questions(session, options.questions, replace=options.replace)
    elif options.remedy is not None:
        status = _remedy(session, options)
    elif options.table is not None:
        status = _from_table(session, options.table)
    elif options.answers:
        status = _from_call(session, options.answers)
    else:
        status = session.ask()
    say(filling.problems)
    return status or status_of([*problems, *filling.problems])


def _misused(options: argparse.Namespace) -> str:
    if options.spec == "-":
        return "answers go into the file of the spec: name it"
    way = next((way for way in ("questions", "table", "remedy") if getattr(options, way) is not None), None)
    if options.answers and way:
        return f"--{'from' if way == 'table' else way} and answers in the call do not go together"
    if (options.part or options.demand) and way != "remedy":
        return "--part and --demand say which of several remedies is meant: they go with --remedy"
    if options.replace and way != "questions":
        return "--replace goes with --questions: the spec itself is always written in place"
    return ""


# -- answers in the call, and out of a table ---------------------------------------------------------------------------
_ANSWER = re.compile(r"((?:[^=\[]|\[[^\]]*\])+)=(.*)", re.DOTALL)


def _from_call(session: Session, words: Sequence[str]) -> int:
    given = []
    for word in words:
        found = _ANSWER.fullmatch(unquoted(word))
        if found is None:
            return refuse("fill", f"'{word}' is no answer; one looks like 'vehicle.mass.gvwr=3500 kg'")
        given.append(Given(found[1].strip(), found[2]))
    return session.answer_all(given)


def _from_table(session: Session, name: str) -> int:
    try:
        table = read_table(_bytes_of(name), name)
        given = _answers_in(table)
        # The other columns are as this program wrote them, whatever the spreadsheet's decimal mark is.
        column = _column(table, ANSWER)
        table = table._replace(decimal=decimal_mark(row[column] for row in table.rows if column < len(row)))
    except SpecError as error:
        say([load_error(error)])
        return UNREADABLE
    if table.encoding == "cp1252":
        tell(f"{name} was read as Windows-1252 text.")
    if not given:
        report_stream().write(f"{name} holds no answer: its column '{ANSWER}' is empty.\n")
        return OK
    return session.answer_all(given, table)


def _bytes_of(name: str) -> bytes:
    try:
        if name == "-":
            return read_stdin()
        if os.path.isdir(name):
            raise SpecError("is a folder; name a table with answers", name)
        if os.path.exists(name) and not os.path.isfile(name):
            raise SpecError("is not a regular file; a table with answers is a plain file", name)
        FILES_READ.note(name)
        with open(name, "rb") as stream:
            return stream.read(MAX_BYTES + 1)
    except (OSError, ValueError) as error:
        what = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise SpecError(f"cannot be read: {what}", name) from None


def _answers_in(table: Table) -> list[Given]:
    """The answers of a table, each with its place. Raises `SpecError`."""
    field, answer = _column(table, FIELD), _column(table, ANSWER)
    seen: dict[str, int] = {}
    out = []
    for row in table.rows:
        cell = row[answer] if answer < len(row) else None
        if cell is None or not cell.text.strip() or cell.text.strip().lower() == "skip":
            continue
        path = row[field].text.strip()
        if path in seen:
            raise table.error(f"answers {path} again; line {seen[path]} has an answer to it", cell)
        seen[path] = cell.line
        out.append(Given(path, cell.text.strip(), (table.label, cell.line, cell.column)))
    return out


def _column(table: Table, wanted: str) -> int:
    """Where a column stands that the table must have. Raises `SpecError`."""
    names = [cell.text.strip().lower() for cell in table.header]
    if names.count(wanted) != 1:
        what = "has more than one column" if wanted in names else "has no column"
        raise table.error(f"{what} '{wanted}'; its columns are {', '.join(names)}"[:300], table.header[0])
    return names.index(wanted)


# -- the questions as a table ------------------------------------------------------------------------------------------
def _questions(session: Session, name: str, *, replace: bool) -> int:
    inspection = session.filling.inspection
    rows = question_rows(inspection, session.asks())
    if name == "-":
        failed = write_out(table_text(COLUMNS, rows), None)
    else:
        if os.path.lexists(name) and not replace and FILES_READ.same_as(name) is None:
            return refuse("fill", f"{name} is there already; --replace writes over it")
        failed = write_out("\ufeff" + table_text(COLUMNS, rows), name)
    if failed is not None:
        say([failed])
        return UNREADABLE
    if name != "-":
        spec = session.filling.spec.label
        tell(f"wrote {name}: {counted(len(rows), 'question')}; fill in the last column, then: "
             f"swaplint fill {_quoted(spec)} --from {_quoted(name)}")  # fmt: skip
    return OK


def _quoted(name: str) -> str:
    return f'"{name}"' if " " in name else name


# -- a remedy ----------------------------------------------------------------------------------------------------------
def _remedy(session: Session, options: argparse.Namespace) -> int:
    # Imported here: no other way of answering needs it.
    from swaplint.writing.mending import NoRemedyError, remedy_of

    try:
        remedy = remedy_of(session.base, session.filling, options.remedy, options.part, options.demand)
    except NoRemedyError as error:
        return refuse("fill", error)
    for words in remedy.says:
        tell(words)
    try:
        return session.put(remedy.changes)
    except RefusedError as error:
        return refuse("fill", error)
