"""The figures of a build: what each pack has to draw of it, and what that rests on.

Figures are asked one by one, each within a time limit; what one does wrong costs only its own drawing. Where a field is
not stated, it is said which; where a part is not fitted, there is no figure.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swaplint.build.nodes import NoLimit, NotFitted, Unknown
from swaplint.build.reads import Reads
from swaplint.build.view import View
from swaplint.declare.figures import DeclaredFigure, Form, is_empty, wrong_with_form
from swaplint.declare.practices import with_fallbacks
from swaplint.declare.quantities import Nonsense
from swaplint.declare.sources import Source
from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.host.packs import LoadedPack
from swaplint.host.problems import Problem, code_place, first_line, raised_place
from swaplint.host.signs import stops
from swaplint.host.strangers import STRANGERS
from swaplint.host.watch import BadManners, TookTooLong, code_of
from swaplint.inspecting.running import RULE_SECONDS
from swaplint.inspecting.selection import EVERYTHING, Selection
from swaplint.spec.facts import Stated
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.shape import facts_at
from swaplint.spec.systems import SYSTEMS
from swaplint.units.prose import told
from swaplint.units.showing import telling_of

MOST_LACKING = 24
"""How many missing fields of a figure are found out."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What a figure has to draw of a build, or why it has nothing."""

    figure: DeclaredFigure
    pack: str
    form: Form | None = None
    quantities: tuple[str, ...] = ()
    """The ids of the quantities that it shows."""
    sources: tuple[Source, ...] = ()
    """Of the figure, of those quantities and of the common practices that stand in, each once."""
    practices: tuple[str, ...] = ()
    estimates: tuple[str, ...] = ()
    """The fields that nobody states and that were estimated."""
    lacks: tuple[str, ...] = ()
    """The fields that are not stated."""
    why: str = ""
    """A sentence, where it is not for want of a field that there is nothing to draw."""


def drawn(
    packs: Sequence[LoadedPack], spec: LoadedSpec, selection: Selection = EVERYTHING
) -> tuple[list[Drawn], list[Problem]]:
    """What the packs have to draw of a spec, by system, and what broke; of a selection that of its systems alone."""
    asking = _Asking(packs, spec)
    systems = {id.partition(".")[0] for id in selection.rules} | set(selection.systems)
    for pack, figure in sorted(_declared(packs), key=lambda one: (_place(one[1].id), one[1].id)):
        if not selection or figure.id.partition(".")[0] in systems:
            asking.ask(pack, figure)
    return asking.drawn, asking.problems


def _declared(packs: Sequence[LoadedPack]) -> list[tuple[LoadedPack, DeclaredFigure]]:
    return [(pack, figure) for pack in packs for figure in pack.figures]


def _place(id: str) -> int:
    system = id.partition(".")[0]
    return SYSTEMS.index(system) if system in SYSTEMS else len(SYSTEMS)


class _Asking:
    """One pass over the figures."""

    def __init__(self, packs: Sequence[LoadedPack], spec: LoadedSpec) -> None:
        self.spec = spec
        self.view = View(spec.build)
        self.listed = {quantity.id: quantity for pack in packs for quantity in pack.quantities}
        self.drawn: list[Drawn] = []
        self.problems: list[Problem] = []

    def ask(self, pack: LoadedPack, figure: DeclaredFigure) -> None:
        """Ask one figure what it has to draw."""
        what = f"figure {figure.id}"
        aside = STRANGERS.why_aside(what)
        if aside is not None:
            self._broke(pack, figure, aside)
            return
        before = len(self.drawn)
        try:
            with code_of(what, RULE_SECONDS), telling_of(figure.id):
                self._ask(pack, figure)
        except TookTooLong as error:
            self._broke(pack, figure, f"ran longer than {RULE_SECONDS:g} s and was stopped", error)
        except BadManners as changed:
            del self.drawn[before:]
            self._broke(pack, figure, str(changed))
        finally:
            self.view.settle()

    def _ask(self, pack: LoadedPack, figure: DeclaredFigure) -> None:
        reads = Reads()
        self.view.stack.append(reads)
        try:
            form = figure(self.view.build)
            wrong = wrong_with_form(form)
            if wrong:
                self._broke(pack, figure, f"returned {wrong}")
            elif not is_empty(form):
                self._enter(pack, figure, form, reads)
        except Unknown:
            self.drawn.append(Drawn(figure, pack.name, lacks=tuple(self._lacking(figure))))
        except (NotFitted, NoLimit):
            pass  # the build has nothing of what is drawn
        except (OutsideRange, ImpossibleInput) as error:
            self.drawn.append(Drawn(figure, pack.name, why=f"{told(str(error))[:1].upper()}{told(str(error))[1:]}."))
        except TookTooLong:
            raise
        except Nonsense as error:
            self._broke(pack, figure, f"broke: {error}", error)
        except BaseException as error:
            if stops(error):
                raise
            self._broke(pack, figure, f"raised {first_line(error)}", error)
        finally:
            self.view.stack.pop()

    def _lacking(self, figure: DeclaredFigure) -> dict[str, None]:
        """The fields that a figure lacks: asked again and again, with what is typical for each that it asked for.

        Typical values need not fit together, and a missing part has none: then what is known by then must do.
        """
        lacks: dict[str, None] = {}
        view = self.view
        while len(lacks) < MOST_LACKING:
            asked = view
            asked.stack.append(Reads())
            try:
                figure(asked.build)
                break
            except Unknown as missing:
                facts = facts_at(type(self.spec.build), missing.path)
                if missing.path in lacks:
                    break
                lacks[missing.path] = None
                if facts is None:
                    break
                view = asked.changed({missing.path: Stated(facts.typical_value())})
            except TookTooLong:
                raise
            except BaseException as error:
                if stops(error):
                    raise
                break
            finally:
                asked.stack.pop()
        return lacks

    def _enter(self, pack: LoadedPack, figure: DeclaredFigure, form: Form, reads: Reads) -> None:
        ids = dict.fromkeys(id for key in reads.uses if (id := key.split(" ", 1)[0]) in self.listed)
        sources = [*figure.sources, *(source for id in ids for source in self.listed[id].sources)]
        self.drawn.append(
            Drawn(
                figure,
                pack.name,
                form,
                tuple(ids),
                with_fallbacks(sources, reads.practices.values()),
                tuple(practice.name for practice in reads.practices.values()),
                tuple(reads.estimates),
            )
        )

    def _broke(self, pack: LoadedPack, figure: DeclaredFigure, what: str, error: BaseException | None = None) -> None:
        place = code_place(figure.function) if error is None else raised_place(error.__traceback__, figure.function)
        says = f"the figure {figure.id} {what}; the page of {self.spec.label} is without it"
        self.problems.append(Problem(says, "rule", pack.name, None, *place))
