"""Running a command that loads strangers' packs in a process of its own, and watching over that from outside.

The process does the whole command; this one keeps the handle of standard output, looks at the clock and at the
process's memory, and writes what it is given once that is whole. Where the process ends, hangs or grows without its
last word, it is stopped with all that it started, and the command is begun again without the rule, quantity or pack
that ran. So one run of a pack that breaks everything costs its own results and is reported as any other broken rule.
"""

from __future__ import annotations

import atexit
import contextlib
import errno
import json
import os
import queue
import signal
import sys
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from swaplint.host import streams
from swaplint.host.manners import MODULES
from swaplint.host.signs import ENDS, LETS_GO, SIGNS, WRITES, Running, Watched
from swaplint.host.strangers import ALL, STRANGERS

CANNOT_TELL = "is left out: the run was cut short while no code of a pack ran, and which did that cannot be told"
"""What is said of every pack that is not built in, as the end of a sentence, where any of them may have done it."""
TICK = 0.05
"""How often the process is looked at, in seconds."""
MOST_RUNS = 6
"""After so many runs that did not end as they should, every pack that is not built in is left out."""
MOST_OF_A_PACK = 2
"""How many rules and quantities of one pack are set aside by themselves; one more, and the pack is left out."""
LAST_SECONDS = 2.0
"""How long a process may take to end after its last word."""
WAITING = 64
"""How many signs may wait to be looked at."""
BROKEN = 3
UNWRITABLE = 2

Work = Callable[[Sequence[str]], int]


def oversee(work: Work, arguments: Sequence[str]) -> int:
    """Run a command on its arguments in a process of its own. Returns its exit status."""
    aside: dict[str, str] = {}
    origins: list[str] = []
    relay = _Relay()
    while True:
        process: _Process = _Copy(work, arguments, aside) if _can_copy() else _Fresh(arguments, aside)
        try:
            ended = _followed(process, relay)
        finally:
            process.stop()
        if ended.status is not None:
            return relay.finish(ended.status)
        if ALL in aside:
            sys.stderr.write(f"swaplint: the run was cut short, its results are missing: the work {ended.why}.\n")
            return relay.finish(BROKEN)
        _set_aside(aside, origins, ended)
        relay.again()


class _Ended(NamedTuple):
    """How a run ended."""

    status: int | None
    """Its exit status, where it gave its last word."""
    why: str = ""
    """Else what it did, as the end of a sentence."""
    running: Running | None = None
    """And the stranger's code that ran."""


def _set_aside(aside: dict[str, str], origins: list[str], ended: _Ended) -> None:
    """Set aside what ran when a run was cut short; where that cannot be told, every pack that is not built in."""
    running = ended.running
    if running is None:
        aside[ALL] = CANNOT_TELL
    elif len(aside) + 1 >= MOST_RUNS:
        aside[ALL] = "is left out: too many rules and packs have ended the run"
    elif running.what == running.origin:
        aside[running.what] = f"{ended.why}, while it was loaded; it is left out"
    elif origins.count(running.origin) >= MOST_OF_A_PACK:
        aside[running.origin] = f"is left out, for several of its rules ended the run: the last one {ended.why}"
    else:
        aside[running.what] = ended.why
        origins.append(running.origin)


def _followed(process: _Process, relay: _Relay) -> _Ended:
    """Watch over a process until it has ended or must be stopped."""
    heard: queue.Queue[tuple[bytes, bytes] | None] = queue.Queue(WAITING)
    threading.Thread(target=_listen, args=(process.link, heard), daemon=True).start()
    watched = Watched(process.number)
    over: float | None = None
    while True:
        try:
            sign = heard.get(timeout=TICK)
        except queue.Empty:
            wrong = watched.wrong()
            if wrong:
                return _Ended(None, wrong, watched.running)
            if process.has_ended():
                over = over or time.monotonic()
                if time.monotonic() - over > LAST_SECONDS:  # somebody else holds its link open
                    return _Ended(None, process.how_it_ended(), watched.running)
            continue
        if sign is None:
            process.may_end()
            return _Ended(None, process.how_it_ended(), watched.running)
        kind, more = sign
        if kind == WRITES:
            relay.hold(more)
        elif kind == LETS_GO:
            relay.let_go(dialogue=more == b"dialogue")
        elif kind == ENDS:
            process.may_end()
            status = int(more)
            if 0 <= status <= BROKEN:
                return _Ended(status)
            return _Ended(None, f"ended with the unknown status {status}")
        watched.heard(kind, more)


def _listen(link: int, heard: queue.Queue[tuple[bytes, bytes] | None]) -> None:
    """Pass on the signs that come over a link, until it is closed."""
    held = b""
    with contextlib.suppress(OSError):
        while piece := os.read(link, 1 << 16):
            held += piece
            while len(held) >= _HEAD and len(held) >= _HEAD + (length := int.from_bytes(held[1:_HEAD], "big")):
                heard.put((held[:1], held[_HEAD : _HEAD + length]))
                held = held[_HEAD + length :]
    heard.put(None)


_HEAD = 5
"""Bytes before what a sign says: which sign it is, and how long what it says."""


class _Relay:
    """What comes of the runs, on its way to standard output."""

    def __init__(self) -> None:
        self._held: list[bytes] = []
        self._gone = 0
        self._skip = 0
        self._failed: OSError | None = None

    def hold(self, piece: bytes) -> None:
        """Keep a piece back: whether the run ends as it should is not known yet."""
        self._held.append(piece)

    def let_go(self, *, dialogue: bool) -> None:
        """Write what is held: of a dialogue as it is; else lines that are whole in themselves, each of them once."""
        if dialogue:
            self._write(b"".join(self._held))
            self._held.clear()
            return
        lines = b"".join(self._held).splitlines(keepends=True)
        self._held.clear()
        fresh = lines[self._skip :]
        self._skip -= len(lines) - len(fresh)
        self._gone += len(fresh)
        self._write(b"".join(fresh))

    def again(self) -> None:
        """Another run begins."""
        self._held.clear()
        self._skip = self._gone

    def finish(self, status: int) -> int:
        """Write what is left. Returns the exit status."""
        if self._gone:
            self.let_go(dialogue=False)
        else:
            for piece in self._held:
                self._write(piece)
        if self._failed is None or isinstance(self._failed, BrokenPipeError):
            return status  # whoever reads the report may have had enough of it
        sys.stderr.write(f"swaplint: standard output cannot be written: {self._failed.strerror or self._failed}.\n")
        return UNWRITABLE

    def _write(self, data: bytes) -> None:
        if self._failed is not None or sys.stdout is None:
            return
        try:
            binary = getattr(sys.stdout, "buffer", None)
            if binary is None:
                sys.stdout.write(data.decode("utf-8", "replace"))
            else:
                binary.write(data)
            sys.stdout.flush()
        except OSError as error:
            self._failed = error
            # Else the language tries once more at its end.
            with contextlib.suppress(OSError, ValueError):
                os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        except ValueError:  # closed
            self._failed = OSError(errno.EBADF, os.strerror(errno.EBADF))


# -- the process -----------------------------------------------------------------------------------------------
class _Process:
    """The process that does the work."""

    number: int
    link: int
    """The file that its signs are read from."""

    def has_ended(self) -> bool:
        raise NotImplementedError

    def how_it_ended(self) -> str:
        """What became of it, as the end of a sentence."""
        raise NotImplementedError

    def stop(self) -> None:
        """Stop it with all that it started, and forget it."""
        raise NotImplementedError

    def may_end(self) -> None:
        """Wait a moment for it to end by itself."""
        until = time.monotonic() + LAST_SECONDS
        while not self.has_ended() and time.monotonic() < until:
            time.sleep(0.001)


OVERSEEN: set[int] = set()
"""The processes that are watched over now. Each leads a group of its own, where the system has such groups."""


def stop_all() -> None:
    """Stop the processes that are watched over, with all that they started: this one is being stopped."""
    for number in OVERSEEN:
        for end in (getattr(os, "killpg", None), os.kill):
            if end is not None:
                with contextlib.suppress(OSError):
                    end(number, getattr(signal, "SIGKILL", signal.SIGTERM))


def _can_copy() -> bool:
    """Whether a process can be begun as a copy of this one."""
    return hasattr(os, "fork") and hasattr(os, "waitid") and sys.platform != "darwin"


class _Copy(_Process):
    """A copy of this process."""

    def __init__(self, work: Work, arguments: Sequence[str], aside: Mapping[str, str]) -> None:
        for stream in (sys.stdout, sys.stderr):
            with contextlib.suppress(OSError, ValueError, AttributeError):
                stream.flush()  # else the copy would write it, too
        above = os.getpid()
        self.link, theirs = (_out_of_the_way(number) for number in os.pipe())
        self.number = os.fork()
        if self.number:
            OVERSEEN.add(self.number)
            os.close(theirs)
            return
        try:
            os.close(self.link)
            os.setsid()  # what a terminal sends is for the process above
            end_with(above)
            atexit._clear()
            terminal, encoding = _about_output()
            number = None
            with contextlib.suppress(OSError):
                number = _out_of_the_way(os.dup(1))
            OVERSEEN.clear()  # this is the one
            work_watched(work, arguments, aside, theirs, lambda: streams.move_streams(terminal, encoding, number))
        finally:
            os._exit(1)

    def has_ended(self) -> bool:
        return os.waitid(os.P_PID, self.number, os.WEXITED | os.WNOHANG | os.WNOWAIT) is not None

    def how_it_ended(self) -> str:
        how = os.waitid(os.P_PID, self.number, os.WEXITED | os.WNOHANG | os.WNOWAIT)
        if how is None:
            return "closed its process's way to the one that watches over it"
        return ending(how.si_status if how.si_code == os.CLD_EXITED else -how.si_status)

    def stop(self) -> None:
        with contextlib.suppress(OSError):
            os.killpg(self.number, signal.SIGKILL)
        with contextlib.suppress(OSError):
            os.kill(self.number, signal.SIGKILL)  # where it has not come to lead a group of its own yet
        with contextlib.suppress(OSError):
            os.waitpid(self.number, 0)
        OVERSEEN.discard(self.number)
        with contextlib.suppress(OSError):
            os.close(self.link)


HANDED = "SWAPLINT_HANDED"
"""What a fresh process is handed in its surroundings."""
_BEGIN = (
    f"import json, os, sys; sys.path[:] = json.loads(os.environ['{HANDED}'])['path']; "
    "from swaplint.cli import watched_over; watched_over()"
)


class _Fresh(_Process):
    """A process of the language begun anew, where none can be begun as a copy."""

    def __init__(self, arguments: Sequence[str], aside: Mapping[str, str]) -> None:
        import subprocess  # here: a copy does without it

        terminal, encoding = _about_output()
        path = [os.path.abspath(entry) for entry in sys.path]
        handed = {"path": path, "aside": dict(aside), "terminal": terminal, "encoding": encoding}
        surroundings = {**os.environ, HANDED: json.dumps(handed)}
        if terminal and "COLUMNS" not in os.environ:
            with contextlib.suppress(OSError, ValueError):
                surroundings["COLUMNS"] = str(os.get_terminal_size(sys.stdout.fileno()).columns)
        apart: dict[str, Any] = {"start_new_session": True}
        if sys.platform == "win32":
            apart = {"creationflags": subprocess.CREATE_NEW_PROCESS_GROUP}
        flags = subprocess._args_from_interpreter_flags()  # type: ignore[attr-defined]
        command = [sys.executable, *flags, "-P", "-c", _BEGIN, *arguments]
        self._begun = subprocess.Popen(command, stdout=subprocess.PIPE, env=surroundings, **apart)
        assert self._begun.stdout is not None
        self.number, self.link = self._begun.pid, self._begun.stdout.fileno()
        OVERSEEN.add(self.number)

    def has_ended(self) -> bool:
        return self._begun.poll() is not None

    def how_it_ended(self) -> str:
        if self._begun.returncode is None:
            return "closed its process's way to the one that watches over it"
        return ending(self._begun.returncode)

    def stop(self) -> None:
        with contextlib.suppress(OSError, AttributeError):
            os.killpg(self.number, signal.SIGKILL)
        with contextlib.suppress(OSError):
            self._begun.kill()
        self._begun.wait()
        OVERSEEN.discard(self.number)
        with contextlib.suppress(OSError):
            self._begun.stdout.close()  # type: ignore[union-attr]


def begun_fresh(work: Work) -> None:
    """What a fresh process does: the command that it was handed."""
    handed = json.loads(os.environ.pop(HANDED))
    link = _out_of_the_way(os.dup(1))
    arguments = sys.argv[1:]
    try:
        work_watched(
            work,
            arguments,
            handed["aside"],
            link,
            lambda: streams.move_streams(handed["terminal"], handed["encoding"]),
        )
    finally:
        os._exit(1)


def work_watched(
    work: Work, arguments: Sequence[str], aside: Mapping[str, str], link: int, move: Callable[[], None]
) -> None:
    """Do the work in this process, and tell whoever watches over it. Ends the process."""
    for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK"):
        if hasattr(signal, name):  # these are for the process that watches over this one
            signal.signal(getattr(signal, name), signal.SIG_IGN)
    STRANGERS.aside.update(aside)
    SIGNS.to(lambda sign, more: _send(link, sign, more))
    move()
    status = work(arguments)
    streams.report_stream().flush()
    if MODULES.looks and (changed := MODULES.changed()):
        sys.stderr.write(f"swaplint: {changed} was changed by some pack.\n")
        os._exit(1)  # nobody knows since when: what is written is not to be relied on
    with contextlib.suppress(OSError, ValueError):
        sys.stderr.flush()
    SIGNS.tell(ENDS, str(status).encode())
    atexit._run_exitfuncs()
    os._exit(0)


def _send(link: int, sign: bytes, more: bytes) -> None:
    left = memoryview(sign + len(more).to_bytes(_HEAD - 1, "big") + more)
    while left:
        left = left[os.write(link, left) :]


def ending(status: int) -> str:
    """How a process ended, as the end of a sentence: with an exit status, or by a signal, which is negative."""
    if status >= 0:
        return f"ended its process, with exit status {status}"
    try:
        name = signal.Signals(-status).name
    except ValueError:
        name = str(-status)
    return f"ended its process, by the signal {name}"


def _about_output() -> tuple[bool, str]:
    """Whether standard output is a terminal, and its encoding."""
    try:
        terminal = sys.stdout.isatty()
    except (AttributeError, ValueError):  # there is none, or it is closed
        terminal = False
    return terminal, (getattr(sys.stdout, "encoding", None) or "utf-8") if terminal else "utf-8"


def _out_of_the_way(number: int) -> int:
    """The same open file under a number that no standard stream has, and that no other program inherits."""
    if number > 2:
        return number
    try:
        import fcntl
    except ImportError:
        return number
    other = fcntl.fcntl(number, fcntl.F_DUPFD_CLOEXEC, 3)
    os.close(number)
    return other


def end_with(above: int) -> bool:
    """Have the system end this process when the one that began it ends, however that comes; False where none can."""
    done = False
    if sys.platform == "linux":
        with contextlib.suppress(Exception):
            import ctypes

            done = ctypes.CDLL(None).prctl(1, signal.SIGKILL) == 0  # PR_SET_PDEATHSIG
    if os.getppid() != above:
        os._exit(1)
    return done
