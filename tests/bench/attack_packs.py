"""Packs that do what no pack should: what `attacks.py` and the tests of the host run the command with.

Each is a whole pack file. Whatever it does, a command that loads it ends within its time with exit status 3, its
report is whole and holds all that the built-in rules say, says what is missing, and no process is left. Those in
`HARMLESS` do nothing that a pack may not do: with them the status is what the built-in rules make it.
"""

from __future__ import annotations

import textwrap
from typing import NamedTuple

HEAD = '''\
import ctypes, gc, itertools, locale, math, os, re, signal, subprocess, sys, threading, time
from swaplint.api import *

DOC = """Is it as it should be?

Computes: nothing of use.
Limit: an invented limit.
Consequence: nothing to mind.
Remedy: change it.
Cannot tell: anything else.
"""


def made(id, function, **more):
    function.__doc__ = DOC
    more = {"level": "note", "due": "commission", "sources": [practice("invented").giving("limit")],
            "about": "engine", "bad": [{"engine.cylinders": 5}], "good": [{"engine.cylinders": 4}], **more}
    return rule(id, **more)(function)


def sound(build):
    return holds(True)


RULES = [made("supply.acme-sound", sound)]
QUANTITIES = []


def add(function):
    RULES.append(made("fit.acme-" + function.__name__.replace("_", "-"), function))
    return function


def use(function):
    function.__doc__ = "A number."
    invented = practice("invented").giving("formula")
    QUANTITIES.append(quantity("fit.acme-number", formula="none", sources=[invented])(function))
    return QUANTITIES[-1]


@hookimpl
def swaplint_pack():
    return Pack("acme", interface=INTERFACE, rules=RULES, quantities=QUANTITIES)


'''


class Attack(NamedTuple):
    """One pack, and what becomes of it."""

    body: str
    """Its code behind `HEAD`."""
    seconds: float = 15.0
    """Longest time that a command may take with it, on a machine that nobody else holds."""
    keeps_its_rules: bool = True
    """Whether its sound rule is run none the less."""

    @property
    def text(self) -> str:
        """The pack file."""
        return HEAD + textwrap.dedent(self.body)


def _rule(*lines: str, seconds: float = 15.0) -> Attack:
    """A pack with a rule that runs some lines."""
    body = "\n".join(f"    {line}" for line in lines)
    return Attack(f"@add\ndef odd(build):\n{body}\n    return holds(True)\n", seconds)


def _import(*lines: str, seconds: float = 15.0) -> Attack:
    """A pack that runs some lines when it is imported."""
    return Attack("\n".join(lines) + "\n", seconds, keeps_its_rules=False)


ENDS_THE_PROCESS = {
    "import: _exit(0)": _import("os._exit(0)"),
    "import: _exit(3)": _import("os._exit(3)"),
    "import: kills itself": _import("os.kill(os.getpid(), signal.SIGKILL)"),
    "import: segmentation fault": _import("ctypes.string_at(0)"),
    "import: aborts": _import("os.abort()"),
    "import: replaces the process": _import("os.execv('/bin/true', ['true'])"),
    "import: closes every file": _import("os.closerange(0, 256)"),
    "import: raises SystemExit": _import("sys.exit(0)"),
    "import: raises KeyboardInterrupt": _import("raise KeyboardInterrupt"),
    "import: raises GeneratorExit": _import("raise GeneratorExit"),
    "hook: _exit(0)": Attack("@hookimpl\ndef swaplint_pack():\n    os._exit(0)\n", keeps_its_rules=False),
    "rule: _exit(0)": _rule("os._exit(0)"),
    "rule: _exit(1)": _rule("os._exit(1)"),
    "rule: sys.exit(0)": _rule("sys.exit(0)"),
    "rule: raises KeyboardInterrupt": _rule("raise KeyboardInterrupt"),
    "rule: kills itself": _rule("os.kill(os.getpid(), signal.SIGKILL)"),
    "rule: ends its group": _rule("os.killpg(0, signal.SIGKILL)"),
    "rule: stops itself": _rule("os.kill(os.getpid(), signal.SIGSTOP)"),
    "rule: segmentation fault": _rule("ctypes.string_at(0)"),
    "rule: aborts": _rule("os.abort()"),
    "rule: closes every file": _rule("os.closerange(3, 256)"),
    "rule: deep recursion in C": _rule("sys.setrecursionlimit(10**9)", "f = lambda n: f(n + 1)", "f(0)", seconds=20.0),
    "rule: a thread that ends the process": Attack(
        """
        def end():
            time.sleep(0.05)
            os._exit(0)
        @add
        def odd(build):
            threading.Thread(target=end).start()
            time.sleep(0.5)
            return holds(True)
        """
    ),
    "import: a thread that ends the process": Attack(
        """
        def end():
            time.sleep(0.02)
            os._exit(0)
        threading.Thread(target=end).start()
        """,
        keeps_its_rules=False,
    ),
    "rule: several end the process": Attack(
        "\n".join(
            f"@add\ndef odd_{n}(build):\n    os._exit(0)\n    return holds(True)\n" for n in ("a", "b", "c", "d", "e")
        ),
        20.0,
        keeps_its_rules=False,
    ),
    "quantity: _exit(0)": Attack(
        """
        @use
        def number(build):
            os._exit(0)
        @add
        def odd(build):
            return at_most(number(build), 2.0)
        """
    ),
    "each: _exit(0)": Attack(
        'RULES.append(made("fit.acme-odd", lambda b, p: holds(True), each=lambda b: os._exit(0)))\n'
    ),
}
"""Nothing of the run is left but what another process knows of it."""

NEVER_ENDS = {
    "import: a loop": _import("while True: pass", seconds=25.0),
    "import: a sleep": _import("time.sleep(600)", seconds=25.0),
    "import: a loop in C": _import("(10**7)**(10**7)", seconds=25.0),
    "import: ignores the alarm": _import(
        "signal.signal(signal.SIGALRM, signal.SIG_IGN)", "time.sleep(600)", seconds=25.0
    ),
    "rule: a loop": _rule("while True: pass"),
    "rule: a sleep": _rule("time.sleep(600)"),
    "rule: swallows everything": _rule(
        "while True:", "    try:", "        while True: pass", "    except BaseException: pass"
    ),
    "rule: a power without end": _rule("(10**7)**(10**7)"),
    "rule: a regular expression": _rule("re.match(r'(a+)+$', 'a' * 64 + 'b')"),
    "rule: sums for ever": _rule("sum(itertools.repeat(0))"),
    "rule: ignores the alarm": _rule("signal.signal(signal.SIGALRM, signal.SIG_IGN)", "while True: pass"),
    "rule: takes the alarm": _rule("signal.signal(signal.SIGALRM, lambda *a: None)", "while True: pass"),
    "rule: stops the timer": _rule("signal.setitimer(signal.ITIMER_REAL, 0)", "while True: pass"),
    "rule: blocks every signal": _rule("signal.pthread_sigmask(signal.SIG_BLOCK, range(1, 32))", "while True: pass"),
    "rule: waits for a lock": _rule("lock = threading.Lock()", "lock.acquire()", "lock.acquire()"),
    "rule: reads what nobody writes": _rule("os.read(os.pipe()[0], 1)"),
    "rule: waits for a keyboard": _rule("input()"),
    "rule: holds the interpreter": _rule("signal.setitimer(signal.ITIMER_REAL, 0)", "ctypes.PyDLL(None).sleep(600)"),
    "rule: the words of its exception": Attack(
        """
        class Odd(Exception):
            def __str__(self):
                while True: pass
        @add
        def odd(build):
            raise Odd
        """
    ),
    "rule: the words of its exception, in C": Attack(
        """
        class Odd(Exception):
            def __str__(self):
                return str((10**7)**(10**7))
        @add
        def odd(build):
            raise Odd
        """
    ),
    "rule: the words of its exception end it": Attack(
        """
        class Odd(Exception):
            def __str__(self):
                raise SystemExit(0)
        @add
        def odd(build):
            raise Odd
        """
    ),
    "each: endless": Attack(
        'RULES.append(made("fit.acme-odd", lambda b, n: holds(True), each=lambda b: itertools.count()))\n'
    ),
    "each: endless, in C": Attack(
        'RULES.append(made("fit.acme-odd", lambda b, n: holds(True), each=lambda b: itertools.repeat(3)))\n'
    ),
    "quantity: a loop in C": Attack(
        """
        @use
        def number(build):
            return (10**7)**(10**7)
        @add
        def odd(build):
            return at_most(number(build), 2.0)
        """
    ),
    "rule: a thread in a loop in C": Attack(
        """
        @add
        def odd(build):
            threading.Thread(target=lambda: sum(itertools.repeat(0))).start()
            time.sleep(0.1)
            return holds(True)
        """,
        30.0,
    ),
    "rule: two of them": Attack(
        """
        @add
        def odd(build):
            return (10**7)**(10**7)
        @add
        def even(build):
            return (10**7)**(10**7)
        """,
        25.0,
    ),
}
"""The clock is looked at from outside."""

TAKES_ALL = {
    "import: memory": _import("x = [bytearray(1 << 26) for _ in range(1000)]", seconds=25.0),
    "rule: memory at once": _rule("x = b'x' * (6 << 30)", seconds=20.0),
    "rule: memory bit by bit": _rule("x = []", "while True: x.append(bytearray(1 << 20))", seconds=20.0),
    "rule: a list without end": _rule("list(itertools.repeat(object()))", seconds=20.0),
    "rule: many threads": Attack(
        """
        @add
        def odd(build):
            for _ in range(50):
                threading.Thread(target=time.sleep, args=(600,)).start()
            os._exit(0)
        """
    ),
    "rule: many processes": Attack(
        """
        @add
        def odd(build):
            for _ in range(10):
                if os.fork() == 0:
                    time.sleep(600)
            os._exit(0)
        """
    ),
}
"""Memory, threads, processes."""

CHANGES_WHAT_IS_NOT_ITS_OWN = {
    "import: the folder": Attack("os.chdir('/')\n"),
    "import: the recursion limit": Attack("sys.setrecursionlimit(100)\n"),
    "import: math.pi": Attack("math.pi = 3.0\n"),
    "import: every formula": Attack(
        """
        import swaplint.engineering.pipes as pipes
        for name, function in list(vars(pipes).items()):
            if callable(function) and not name.startswith("_"):
                setattr(pipes, name, lambda *a, **k: 0.0)
        """
    ),
    "import: standard error": Attack("import io\nsys.stderr = io.StringIO()\n"),
    "rule: the folder": _rule("os.chdir('/')"),
    "rule: a folder that goes": _rule("os.mkdir('gone')", "os.chdir('gone')", "os.rmdir('../gone')"),
    "rule: the recursion limit": _rule("sys.setrecursionlimit(60)"),
    "rule: the locale": _rule(
        "now = locale.setlocale(locale.LC_ALL)", "locale.setlocale(locale.LC_ALL, 'C.UTF-8' if now == 'C' else 'C')"
    ),
    "rule: math.pi": _rule("math.pi = 3.0"),
    "rule: math.sqrt": _rule("math.sqrt = lambda x: 0.0"),
    "rule: a formula": _rule("import swaplint.api", "swaplint.api.at_most = None"),
    "rule: a module": _rule("sys.modules['math'] = None"),
    "rule: the verdict": _rule("import swaplint.gating.gate as g", "g.gate_of = lambda i, l: g.Gate(l, (), (), 0)"),
    "rule: the view": _rule("from swaplint.build.view import View", "View.touches = lambda s, r: False"),
    "rule: a built-in": _rule("import builtins", "builtins.sorted = lambda x, **k: list(x)"),
    "rule: the handlers": _rule("signal.signal(signal.SIGTERM, lambda *a: None)"),
    "rule: standard error": _rule("import io", "sys.stderr = io.StringIO()"),
}
"""All packs share one interpreter: what is changed is noticed and put back."""

HARMLESS = {
    "nothing at all": Attack(""),
    "prints": Attack("print('at import')\n@add\ndef odd(build):\n    print('in a rule')\n    return holds(True)\n"),
    "writes to the raw handle": Attack(
        "os.write(1, b'raw')\n@add\ndef odd(build):\n    os.write(1, b'raw')\n    return holds(True)\n"
    ),
    "writes to the first handles": Attack(
        "@add\ndef odd(build):\n    sys.__stderr__.write('x')\n    open(1, 'w', closefd=False).write('y')\n"
        "    return holds(True)\n"
    ),
    "a process that prints": Attack(
        "@add\ndef odd(build):\n    subprocess.run(['echo', 'chatter'])\n    os.system('echo chatter')\n"
        "    return holds(True)\n"
    ),
    "a thread that prints": Attack(
        """
        def chatter():
            while True:
                print("chatter")
                time.sleep(0.001)
        threading.Thread(target=chatter).start()
        """
    ),
    "a thread that never ends": Attack("threading.Thread(target=time.sleep, args=(600,)).start()\n"),
    "a process that goes on": Attack(
        "@add\ndef odd(build):\n    subprocess.Popen(['sleep', '600'])\n    return holds(True)\n"
    ),
    "a copy of the process": Attack("@add\ndef odd(build):\n    os.fork()\n    return holds(True)\n"),
    "interrupts itself": Attack(
        "@add\ndef odd(build):\n    os.kill(os.getpid(), signal.SIGINT)\n    os.kill(os.getpid(), signal.SIGTERM)\n"
        "    return holds(True)\n"
    ),
    "warns": Attack("import warnings\n@add\ndef odd(build):\n    warnings.warn('odd')\n    return holds(True)\n"),
    "something at the end": Attack("import atexit\natexit.register(os._exit, 0)\natexit.register(print, 'bye')\n"),
}
"""What a pack may do, but for the noise: the report is as it would be without."""

ON_CHANGED_VALUES = {
    "a loop": Attack(
        """
        @add
        def odd(build):
            if abs(build.plumbing.fuel.supply.bore - BORE) > 1e-9:
                while True: pass
            return at_most(2.0, 1.0)
        """
    ),
}
"""Rules that misbehave only when remedies are looked for; `BORE` and the like are for whoever runs them to fill in."""

SHEETS_HEAD = """
STEPS, FIGURES, LISTINGS = [], [], []


@hookimpl
def swaplint_pack():
    return Pack("acme", interface=INTERFACE, rules=RULES, steps=STEPS, figures=FIGURES, listings=LISTINGS)


def a_step(function, **more):
    function.__doc__ = "Look at it.\\n\\n    How: with your eyes.\\n    "
    STEPS.append(step("fit.acme-step", **{"moment": "before-lifting", **more})(function))


def a_listing(function, **more):
    function.__doc__ = "Something to buy."
    LISTINGS.append(listing("fit.acme-listing", more.pop("list", "parts"), **more)(function))


def a_figure(function, **more):
    function.__doc__ = "Something to look at."
    FIGURES.append(figure("fit.acme-figure", **more)(function))


X, Y = Axis("engine speed", "rotation", "r/min"), Axis("current", "current", "A")


"""


def _sheet(how: str, *lines: str, more: str = "", takes: str = "build") -> Attack:
    """A pack with a step, a listing or a figure that runs some lines."""
    body = "\n".join(f"    {line}" for line in lines)
    return Attack(f"{SHEETS_HEAD}def odd({takes}):\n{body}\n{how}(odd{more})\n", 25.0)


FORMS = {
    "nothing of a form": "return 42",
    "a class": "return Chart",
    "no axes": "return Chart(None, None, [])",
    "curves that are none": "return Chart(X, Y, 3)",
    "no numbers": "return Chart(X, Y, [Curve('a', [('x', 'y')])])",
    "not finite": "return Chart(X, Y, [Curve('a', [(1.0, math.nan), (2.0, math.inf)])])",
    "beyond all": "return Chart(X, Y, [Curve('a', [(-1e308, 1e308), (1e308, -1e308)])])",
    "one point": "return Chart(X, Y, [Curve('a', [(1.0, 1.0)])])",
    "all alike": "return Chart(X, Y, [Curve('a', [(1.0, 1.0)] * 100)])",
    "a million points": "return Chart(X, Y, [Curve('a', [(float(n), float(n % 7)) for n in range(1000000)])])",
    "a thousand curves": "return Chart(X, Y, [Curve(f'c{n}', [(0.0, n), (1.0, n)]) for n in range(1000)])",
    "a long name": "return Chart(X, Y, [Curve('a' * 1000000, [(0.0, 1.0), (1.0, 2.0)])])",
    "a name that is none": "return Chart(X, Y, [Curve(None, [(0.0, 1.0), (1.0, 2.0)])])",
    "hostile names": "return Chart(X, Y, [Curve('$\\\\frac{<script>\\x1b[2J\\u202e%s', [(0.0, 1.0), (1.0, 2.0)])])",
    "no unit": "return Chart(Axis('a', 'nothing', 'furlong'), Y, [Curve('a', [(0.0, 1.0), (1.0, 2.0)])])",
    "an endless curve": "return Chart(X, Y, [Curve('a', ((float(n), 1.0) for n in itertools.count()))])",
    "ten thousand bars": "return Bars(Y, [(f'g{n}', [Bar('a', 1.0)]) for n in range(10000)])",
}
"""What a figure may return that is no figure, or too much of one: an error of its pack, or drawn; nothing else."""

ON_SHEETS = {
    **{
        f"{how}: {name}": _sheet(f"a_{how}", *lines)
        for how in ("step", "listing", "figure")
        for name, lines in {
            "raises": ["raise KeyError('x')"],
            "raises SystemExit": ["raise SystemExit(0)"],
            "_exit(0)": ["os._exit(0)"],
            "a loop": ["while True: pass"],
            "a loop in C": ["(10**7)**(10**7)"],
            "returns nonsense": ["return object()"],
            "returns a generator": ["yield 1"],
            "memory": ["x = []", "while True: x.append(bytearray(1 << 20))"],
            "the folder": ["os.chdir('/')", "raise KeyError"],
            "the words of its exception": ["class Odd(Exception):", "    __str__ = lambda s: 1/0", "raise Odd"],
        }.items()
    },
    **{
        f"{how}: {name}": _sheet(f"a_{how}", "return {}", more=f", each={each}", takes="build, part")
        for how in ("step", "listing")
        for name, each in {
            "parts without end": "lambda b: itertools.count()",
            "parts that raise": "lambda b: 1/0",
            "parts that are none": "lambda b: 3",
            "a million parts": "lambda b: range(1000000)",
            "parts of an odd kind": "lambda b: [object(), None, [], {}]",
        }.items()
    },
    "step: expects nonsense": _sheet("a_step", "return expect(object())"),
    "step: a limit that raises": _sheet("a_step", "return expect(lambda: 1.0, at_most=lambda: 1 / 0)"),
    "step: a limit that is none": _sheet("a_step", "return expect(lambda: 1.0, at_most=lambda: 'x')"),
    "step: a limit in a loop": _sheet("a_step", "def ever():", "    while True: pass", "return expect(ever)"),
    "listing: a cell that raises": _sheet("a_listing", "return {'what': lambda: 1 / 0}"),
    "listing: a cell in a loop": _sheet("a_listing", "def ever():", "    while True: pass", "return {'what': ever}"),
    "listing: a cell of an odd kind": _sheet("a_listing", "return {'what': lambda: object()}"),
    "listing: a column that is none": _sheet("a_listing", "return {'colour': lambda: 'red'}"),
    "listing: columns that are none": _sheet("a_listing", "return {3: 4, None: 5}"),
}
"""Steps, listings and figures that do what none should: each costs itself, and makes the status 3."""

HARMLESS_SHEETS = {
    "step: prints": _sheet("a_step", "print('x')", "os.write(1, b'raw')", "return expect('nothing')"),
    "step: a long text": _sheet("a_step", "return expect('x' * 1000000)"),
    "step: hostile words": _sheet("a_step", r"return expect('<script>\x1b[2J\u202e$\\frac{%s')"),
    "listing: prints": _sheet("a_listing", "print('x')", "os.write(1, b'raw')", "return {'what': lambda: 'x'}"),
    "listing: hostile words": _sheet("a_listing", r"return {'what': lambda: '=1+1<script>\x1b[2J\u202e'}"),
    **{f"figure: {name}": _sheet("a_figure", line) for name, line in FORMS.items()},
}
"""What may be, or is said of the figure alone: whether the status is 3 hangs on whether anything broke."""

ALL = {**ENDS_THE_PROCESS, **NEVER_ENDS, **TAKES_ALL, **CHANGES_WHAT_IS_NOT_ITS_OWN}
