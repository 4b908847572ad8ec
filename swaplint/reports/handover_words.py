"""The hand-over sheet in words, section by section: what text and Markdown lay out each in its own way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from swaplint.declare.listings import LISTS
from swaplint.declare.steps import MOMENTS
from swaplint.inspecting.results import Finding
from swaplint.making.handover import HandOver, Judged, Reading, Trial
from swaplint.reports.checklist_words import inspected, words_of
from swaplint.reports.finding_words import decides_words, first_sentence, owed_by_place, owed_laws, short_names
from swaplint.reports.head import gate_words
from swaplint.reports.naming import counted, listed, packs_words, part_words, signature_words
from swaplint.reports.tables import Table
from swaplint.reports.takeoff_words import doubts_words, few, list_table, problem_words, unknown_words
from swaplint.reports.values import stated_words
from swaplint.spec.job import STAGES
from swaplint.units.prose import told

IDENTITY = (
    ("vehicle", "vehicle.name"),
    ("engine package", "engine.model"),
    ("gearbox", "driveline.gearbox.model"),
    ("identification", "vehicle.identification"),
    ("engine number", "engine.number"),
    ("rules of", "build.jurisdiction"),
    ("category", "vehicle.category"),
    ("first registered", "vehicle.first_registered"),
)
"""What tells the vehicle from others, as far as it is stated."""

NO_APPROVAL = (
    "This sheet claims no approval. It tells what the spec states, what was measured and what the rules find in that; "
    "whether the vehicle may be used is for the authority and for the engineer who signs."
)
EARLY = (
    "The spec is not at the commission stage: what only a finished vehicle owes is not asked here. "
    "'--stage commission' asks for it."
)
SIGNATURES = (
    "Below stand what no spec can show, and the files that this sheet speaks of.",
    "Owner: ____________________  on: __________",
    "Engineer: ____________________  on: __________  report no.: __________",
)
MOST_OWED = 12
"""How many places to look at are named of what is still owed."""


@dataclass(frozen=True, slots=True)
class Section:
    """A section of the sheet."""

    title: str
    says: Sequence[str] = ()
    tables: Sequence[tuple[str, Table]] = ()
    """Each with the line above it, which may be empty."""
    points: Sequence[str] = field(default=())


def title_words(made: HandOver) -> tuple[str, list[str]]:
    """What the sheet is of, and what it is not."""
    inspection = made.inspection
    name = inspection.spec.stated("build.name")
    on = f", judged on {inspection.terms.on}" if inspection.terms.on else ""
    policy = f" and {inspection.terms.policy}" if inspection.terms.policy is not None else ""
    return (
        str(name.value) if name is not None else "Build without a name",
        [
            f"Hand-over sheet of {inspection.spec.label} at the stage {inspection.stage}{on}, with "
            f"{packs_words(made.packs)}{policy}. For the owner, and for the engineer who signs.",
            NO_APPROVAL,
            *([] if inspection.stage == STAGES[-1] else [EARLY]),
        ],
    )


def sections(made: HandOver) -> Iterator[Section]:
    """The sections of the sheet, in its order."""
    yield from _identity(made)
    if made.problems:
        points = [problem_words(problem) for problem in made.problems]
        yield Section("Missing here, for it broke or could not be read", points=points)
    yield _list(made, "use")
    yield _standing(made)
    yield _accepted(made)
    yield _list(made, "papers")
    yield _measured(made)
    for name in ("fluids", "fuses"):
        yield _list(made, name)
    yield _service(made)
    yield Section("Cautions", [] if made.cautions else ["None."], points=made.cautions)
    yield Section("Signatures", SIGNATURES)
    yield _blind(made)
    yield _files(made)


def _identity(made: HandOver) -> Iterator[Section]:
    stated = [(what, path) for what, path in IDENTITY if made.inspection.stated(path) is not None]
    if stated:
        rows = [[what, stated_words(made.inspection, path)] for what, path in stated]
        yield Section("Vehicle", tables=[("", Table(["", ""], rows))])


# -- what still stands -----------------------------------------------------------------------------------------------
def _standing(made: HandOver) -> Section:
    found = [finding for finding in made.standing if not finding.due]
    says = [gate_words(made.gate, made.inspection)]
    if not made.standing:
        says.append("Nothing fails, nothing is left to a person to decide and nothing is owed.")
    if found:
        says.append("Not signed for by anybody:")
    points = [f"{_weight(one).upper()} {_about(one)}: {_says(one)}" for one in found]
    owed = owed_by_place(made.inspection)
    points += [f"Still owed, from {where}: {few(short_names(paths))}." for where, paths in owed[:MOST_OWED]]
    if len(owed) > MOST_OWED:
        points.append(f"Still owed at {counted(len(owed) - MOST_OWED, 'more place')}: 'swaplint fill' asks for it.")
    laws = owed_laws(made.inspection)
    if laws:
        points.append(f"To be looked up in the law itself: {few(laws)}.")
    return Section("What still stands", says, [], points)


def _says(finding: Finding) -> str:
    """What was found; of what is left to a person, what decides it."""
    sentence = first_sentence(finding)
    decides = decides_words(finding) if finding.kind == "review" else sentence
    return sentence if decides == sentence else f"{sentence} {decides}"


def _about(finding: Finding) -> str:
    """The rule of a finding, its demand and the part."""
    demand = f", {finding.demand}" if finding.demand else ""
    return f"{finding.rule.id}{demand}" + (f" ({part_words(finding.part)})" if finding.part else "")


def _weight(finding: Finding) -> str:
    return (finding.level or "") if finding.kind == "fail" else "review"


def _accepted(made: HandOver) -> Section:
    points = []
    for finding in made.inspection.accepted:
        assert finding.suppression is not None
        signed = signature_words(finding.suppression, made.inspection.spec)
        points.append(f"{_about(finding)}: {first_sentence(finding)} Accepted {signed}")
    return Section("Accepted departures", [] if points else ["Nothing that fails was accepted by anybody."], [], points)


# -- what was measured -----------------------------------------------------------------------------------------------
def _measured(made: HandOver) -> Section:
    tables = [(_trial_words(trial), _trial_table(made, trial)) for trial in made.trials]
    if made.done:
        rows = [[done.step, "; ".join(value for _, value in done.about)] for done in made.done]
        tables.append(("Steps of the checklist that were done:", Table(["step", "when, by whom, what was seen"], rows)))
    points = []
    if made.not_measured:
        points.append(f"Not measured: {'; '.join(told(member.description) for member in made.not_measured)}.")
    return Section("Measured", [] if made.trials else ["Nothing was measured."], tables, points)


def _trial_words(trial: Trial) -> str:
    about = "; ".join(f"{name}: {value}" for name, value in trial.about)
    return f"{told(trial.what[:1].upper() + trial.what[1:])}. {about}".rstrip() + ("" if about else " No date.")


def _trial_table(made: HandOver, trial: Trial) -> Table:
    rows = [
        [
            f"{reading.part}: " * bool(reading.part)
            + told(reading.facts.description.removeprefix("whether "), reading.field),
            _read_words(made, reading),
            _judged_words(reading.judged),
        ]
        for reading in trial.readings
    ]
    return Table(["what", "found", "the rules"], rows)


def _read_words(made: HandOver, reading: Reading) -> str:
    """What was read, with its tolerance; that all of it was measured goes without saying."""
    if not reading.values:
        return "none"
    first = reading.values[0].value
    if isinstance(first, bool):
        return "yes" if first else "no"
    if made.inspection.stated(reading.field) is None:
        return ", ".join(one.written for one in reading.values)
    return stated_words(made.inspection, reading.field).removesuffix(" (measured)")


def _judged_words(judged: Sequence[Judged]) -> str:
    """What the rules make of it; which rules, where it is not as it should be."""
    if not judged or judged[0].kind == "pass":
        return "pass" if judged else ""
    word = {"fail": "fail", "review": "a person decides", "open": "open"}[judged[0].kind]
    return f"{word}: {listed([one.rule for one in judged])}"


# -- what it takes ---------------------------------------------------------------------------------------------------
def _list(made: HandOver, name: str) -> Section:
    rows, kind = made.lists.rows[name], LISTS[name]
    table = list_table(made.lists, name, without=(kind.ordered,))
    points = [f"! {table.rows[at][0]}: {doubts_words(row.doubts)}" for at, row in enumerate(rows) if row.doubts]
    lacking: dict[str, list[str]] = {}
    for at, row in enumerate(rows):
        if row.unknown:
            lacking.setdefault(unknown_words(row), []).append(table.rows[at][0])
    points += [f"? {few(called)}: {fields}" for fields, called in lacking.items()]
    unknown = dict.fromkeys(path for gap in made.lists.gaps[name] for path in gap.unknown)
    if unknown:
        points.append(f"? whether there are more: {few(list(unknown))}")
    return Section(kind.title, [] if rows else ["Nothing is stated."], [("", table)] if rows else [], points)


def _service(made: HandOver) -> Section:
    listed_rows = _list(made, "service")
    stated = inspected(made.later)
    rows = []
    for entry in made.later.entries:
        words = words_of(stated, entry)
        title = f"{words.title}, {words.part}" if words.part else words.title
        rows.append([MOMENTS[entry.step.moment].title, title, words.limit])
    steps = [("To be done again by whoever keeps the vehicle:", Table(["when", "what", "limit"], rows))] if rows else []
    return Section("Service", listed_rows.says, [*listed_rows.tables, *steps], listed_rows.points)


def _blind(made: HandOver) -> Section:
    says = (
        "What passed is sound as far as a spec can show it. These rules, of the level error, found nothing wrong, and "
        "say of themselves what they cannot tell:"
    )
    points = [f"{one.rule}: {told(one.says, one.rule)}" for one in made.blind]
    return Section("What no spec can show", [says] if points else ["No rule of the level error passed."], [], points)


def _files(made: HandOver) -> Section:
    terms = made.inspection.terms
    points = [f"{file.label}: {file.sha256}" for file in made.inspection.spec.files()]
    points += [f"{file}: {hash}" for file, hash in terms.files.items()]
    if terms.policy is not None:
        points.append(f"{terms.policy.file}: {terms.policy.sha256}")
    return Section(
        "Files that this sheet speaks of", ["Each with its SHA-256; another hash is another file."], [], points
    )
