"""The exit statuses: what they mean, which each command can end with, and which of them problems ask for."""

from __future__ import annotations

from collections.abc import Iterable

from swaplint.host.problems import Problem

OK, SHUT, UNREADABLE, BROKEN = 0, 1, 2, 3
"""The gate is open; it is shut; a spec or the call could not be read; a rule or plugin broke."""

_SPEC = "a spec or the call could not be read, or a file could not be written"
_CALL = "the call or what it names could not be read, or a file could not be written"
_RULE = "a rule or plugin broke (its results are missing, everything else is reported)"
_PACK = "a rule pack could not be loaded (what it adds is missing, everything else is written)"

STATUSES: dict[str, dict[int, str]] = {
    "inspect": {OK: "the gate is open", SHUT: "the gate is shut", UNREADABLE: _SPEC, BROKEN: _RULE},
    "worksheet": {
        OK: "the sheet was written",
        UNREADABLE: _SPEC,
        BROKEN: "a quantity or plugin broke (its numbers are missing, everything else is on the sheet)",
    },
    "size": {OK: "the answer was written, whatever it is", UNREADABLE: _SPEC, BROKEN: _RULE},
    "study": {OK: "the table was written, whatever it says", UNREADABLE: _SPEC, BROKEN: _RULE},
    "takeoff": {
        OK: "the take-off was written",
        UNREADABLE: _SPEC,
        BROKEN: "a rule, listing or plugin broke (what it says or lists is missing, everything else is written)",
    },
    "handover": {
        OK: "the sheet was written, whatever it says",
        UNREADABLE: _SPEC,
        BROKEN: "a rule, listing, step or plugin broke (what it says is missing, everything else is written)",
    },
    "rulebook": {
        OK: "the rulebook was written",
        UNREADABLE: "there is no such rule or system, or a file could not be written",
        BROKEN: "a rule or plugin broke (its page may be incomplete)",
    },
    "schema": {OK: "the schema was written", UNREADABLE: _CALL, BROKEN: _PACK},
    "draft": {OK: "the spec was written", UNREADABLE: _CALL, BROKEN: _PACK},
    "fill": {
        OK: "the answers that were given stand in the spec, or the questions were written",
        UNREADABLE: "the spec, the call, a table or an answer could not be read; nothing was written",
        BROKEN: "a rule or plugin broke (the answers stand in the spec; what it says of them is missing)",
    },
    "checklist": {
        OK: "the list was written",
        UNREADABLE: _SPEC,
        BROKEN: "a step or plugin broke (it is missing, everything else is on the list)",
    },
    "upgrade": {OK: "the spec has today's names", UNREADABLE: _SPEC, BROKEN: _PACK},
}
"""The statuses that each command can end with."""


def statuses_of(command: str) -> str:
    """The exit statuses of a command, for its help."""
    return "exit status:\n" + "".join(f"  {status}  {means}\n" for status, means in STATUSES[command].items())


def status_of(problems: Iterable[Problem]) -> int:
    """The exit status that problems ask for: whatever could not be read goes before what broke.

    What shuts the gate is no business of this.
    """
    abouts = {problem.about for problem in problems} - {"gate"}
    return UNREADABLE if "input" in abouts else BROKEN if abouts else OK
