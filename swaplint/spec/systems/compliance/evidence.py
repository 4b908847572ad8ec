"""What shows that something was done: who did it, on which day, and the paper that says so."""

from swaplint.spec.fields import RECORD, Section, day, flag, text


class Evidence(Section):
    """Whether something that a place asks for was done, and what shows it."""

    done: bool = flag("whether it was done, or is at hand", typical=True, where=RECORD)
    by: str = text("who did it, or issued it", typical="A. Example, licensed engineer", where=RECORD)
    date: str = day("the day on which that was", typical="2026-05-01", where=RECORD)
    reference: str = text("number of the paper, or where it is kept", typical="report 12, job folder", where=RECORD)
