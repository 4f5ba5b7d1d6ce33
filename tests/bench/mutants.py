"""Do the tests notice a wrong number? Small faults are put into the code, one at a time, and the tests must fail.

    python tests/bench/mutants.py evidence                  every module of evidence, by its own test file alone
    python tests/bench/mutants.py criteria/questions        every criterion, by its own records alone
    python tests/bench/mutants.py fit criteria              the other areas, by the tests that import each module
    python tests/bench/mutants.py criteria/questions --each 5    five mutants of each file, drawn by the seed
    python tests/bench/mutants.py evidence release          one module
    python tests/bench/mutants.py --all --changed           what has no record, was edited since, or has open ones
    python tests/bench/mutants.py --figures                 runs nothing, prints the record

A mutant changes one constant, operator, comparison, condition or choice of the larger and the smaller. It is put into
a fork of a process that has collected the tests, and those that call the changed function run until one fails: the
quickest first, and before them those that noticed other faults of that function. One at the level of a module or
class, which the import has used by then, is tried again in a process of its own if it lives. A test that fails without
a fault is left out and named. `mutants_alive.toml` names those that may live and why; status 1 if another one does.
`--record` writes the figures of each module that was tried to `mutants_figures.toml`.
"""

from __future__ import annotations

import argparse
import ast
import copy
import gc
import hashlib
import importlib
import mmap
import os
import pickle
import random
import re
import resource
import signal
import subprocess
import sys
import time
import tomllib
from collections import Counter, defaultdict
from collections.abc import Collection, Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache
from importlib.machinery import SourceFileLoader
from itertools import groupby
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any, NoReturn

ROOT = Path(__file__).resolve().parent.parent.parent
ALIVE = Path(__file__).with_name("mutants_alive.toml")
FIGURES = Path(__file__).with_name("mutants_figures.toml")
AREAS = tuple(
    str(folder.relative_to(ROOT / "docgen"))
    for layer in ("evidence", "fit", "criteria")
    for folder in sorted({path.parent for path in (ROOT / "docgen" / layer).rglob("*.py")})
)
LONGEST_S = 1  # a test that computes for longer than this, and than five times what it takes, has noticed the mutant
_PROBES = 20  # tests that a module put in unchanged must pass
SLOWEST_S = 4.0  # a test that computes for longer, traced, is left out: what it alone notices is not held well
_AREAS_OF_TESTS = ("evidence", "fit", "conditions", "criteria")
_MOST_RECORDS = 12
_MOST_FILES = 25
_ELSEWHERE = {  # module of criteria -> tests that reach it through another module alone
    "asked_of": ("cli/test_ask.py", "cli/test_new.py"),
    "asked_questions": ("cli/test_ask.py",),
    "growth": ("case/test_usual.py",),
    "lacking": ("criteria/questions/test_mounting_recorded.py",),
    "denial": ("criteria/test_payer.py", "documents/test_appeal_and_progress.py"),
    "settle": ("criteria/test_settle.py", "criteria/test_advice.py", "criteria/test_each_key_left_out.py"),
    "starting": ("cli/test_new.py",),
    "window": ("criteria/test_calendar.py",),
}
HANGS_S = 60  # a process that does nothing for so long is ended, which counts as noticed

_ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.FloorDiv,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
}
_COMPARISONS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
_CALLS = {"min": "max", "max": "min", "any": "all", "all": "any", "floor": "ceil", "ceil": "floor"}
_NONE = -1  # the variant that changes nothing
_NO_NUMBER = frozenset({"frozen", "slots", "extra", "strict", "min_length", "model_config"})  # names of arguments


@dataclass(frozen=True)
class Mutant:
    """One fault: its place as the number of a node of the tree and of a variant of it."""

    path: Path
    node: int
    variant: int
    name: str
    line: int
    function: str  # qualified name of the function or class it lies in; empty at the level of the module
    at_import: bool  # used when the module is loaded

    @property
    def module(self) -> str:
        return ".".join(self.path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")

    def tree(self) -> ast.Module:
        tree = ast.parse(self.path.read_text(encoding="utf-8"))
        if self.variant != _NONE:
            _variants(list(ast.walk(tree))[self.node])[self.variant]()
        return ast.fix_missing_locations(tree)


def mutants(path: Path) -> list[Mutant]:
    """Every mutant of a file, in the order of its lines."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    parents = {child: node for node in ast.walk(tree) for child in ast.iter_child_nodes(node)}
    left_out = set(_left_out(tree))
    found: list[Mutant] = []
    names: Counter[str] = Counter()
    short = _short(path)
    for at, node in enumerate(ast.walk(tree)):
        if node in left_out:
            continue
        for variant in range(len(_variants(node))):
            context = parents[node] if isinstance(node, ast.Constant) and isinstance(parents[node], ast.expr) else node
            before, changed = copy.deepcopy(context), copy.deepcopy(context)
            place = next(i for i, inner in enumerate(ast.walk(context)) if inner is node)
            _variants(list(ast.walk(changed))[place])[variant]()
            function = _function(node, parents)
            name = f"{short}.{function or 'module'}: {_brief(before)} -> {_brief(changed)}"
            names[name] += 1
            name += f" ({names[name]})" if names[name] > 1 else ""
            line = getattr(node, "lineno", 0)
            found.append(Mutant(path, at, variant, name, line, function, _at_import(node, parents)))
    return sorted(found, key=lambda mutant: mutant.line)


def _short(path: Path) -> str:
    """Name of a module within docgen, such as `fit.signs`."""
    return ".".join(path.relative_to(ROOT / "docgen").with_suffix("").parts)


def _variants(node: ast.AST) -> list[Any]:
    """Ways to change one node, each a call that changes it where it stands."""

    def put(name: str, value: Any) -> Any:
        return lambda: setattr(node, name, value)

    match node:
        case ast.Constant(value=bool(value)):
            return [put("value", not value)]
        case ast.Constant(value=int(value)):
            return [put("value", value + 1)]
        case ast.Constant(value=float(value)):
            return [put("value", value * 1.1 if value else 0.3)]
        case ast.BinOp(op=op) | ast.AugAssign(op=op) if type(op) in _ARITHMETIC:
            return [put("op", _ARITHMETIC[type(op)]())]
        case ast.Compare(ops=[op]):
            return [put("ops", [other()]) for other in _COMPARISONS[type(op)]]
        case ast.Compare(ops=ops):
            return [
                put("ops", [*ops[:at], other(), *ops[at + 1 :]])
                for at, op in enumerate(ops)
                for other in _COMPARISONS[type(op)]
            ]
        case ast.BoolOp(op=op):
            return [put("op", ast.And() if isinstance(op, ast.Or) else ast.Or())]
        case ast.UnaryOp(op=ast.USub()):
            return [put("op", ast.UAdd())]
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            return [put("operand", ast.UnaryOp(ast.Not(), operand))]
        case ast.If(test=test) | ast.IfExp(test=test) | ast.While(test=test) if isinstance(
            test, ast.Name | ast.Attribute | ast.Call | ast.NamedExpr
        ):
            return [put("test", ast.UnaryOp(ast.Not(), test))]
        case ast.Call(func=ast.Name(id=name) as func, args=args) if name in _CALLS:
            picks = [put("args", [ast.Tuple([arg], ast.Load())]) for arg in args] if len(args) > 1 else []
            return [lambda: setattr(func, "id", _CALLS[name]), *picks]
        case ast.Call(func=ast.Attribute(attr=name) as func) if name in _CALLS:
            return [lambda: setattr(func, "attr", _CALLS[name])]
    return []


def _left_out(tree: ast.Module) -> Iterator[ast.AST]:
    """What holds no number: annotations, decorators, what a raise says, arguments such as `strict`."""
    for node in ast.walk(tree):
        gone: list[ast.AST | None] = []
        match node:
            case ast.FunctionDef():
                gone = [*node.decorator_list, node.returns]
            case ast.ClassDef():
                gone = list(node.decorator_list)
            case ast.arg() | ast.AnnAssign():
                gone = [node.annotation]
            case ast.Raise():
                gone = [node]
            case ast.keyword(arg=name) if name in _NO_NUMBER:
                gone = [node]
            case ast.FormattedValue(format_spec=spec):
                gone = [spec]
        for part in gone:
            if part is not None:
                yield from ast.walk(part)


def _function(node: ast.AST, parents: dict[ast.AST, ast.AST]) -> str:
    names: list[str] = []
    child = node
    while child in parents:
        parent = parents[child]
        if isinstance(parent, ast.FunctionDef | ast.ClassDef):
            names.append(parent.name)
        child = parent
    return ".".join(reversed(names))


def _at_import(node: ast.AST, parents: dict[ast.AST, ast.AST]) -> bool:
    """Outside every function, or in one that a decorator may have made or called when the module was loaded."""
    functions: list[ast.FunctionDef] = []
    while node in parents:
        node = parents[node]
        functions += [node] if isinstance(node, ast.FunctionDef) else []
    return len(functions) != 1 or {ast.unparse(made) for made in functions[0].decorator_list} - {"property"} != set()


def _brief(node: ast.AST) -> str:
    return ast.unparse(node).partition("\n")[0][:90]


# ---- putting a mutant into a process that has loaded everything ---------------------------------


def put_in(mutant: Mutant) -> None:
    """Change the loaded module; wherever its functions were imported to, they change with it."""
    module = importlib.import_module(mutant.module)  # the tests may not have asked for it yet
    new: dict[str, Any] = {"__name__": module.__name__, "__file__": module.__file__, "__package__": module.__package__}
    exec(compile(mutant.tree(), str(mutant.path), "exec"), new)
    for name, value in new.items():
        if not name.startswith("__"):
            _replace(module, name, value)
    if mutant.at_import and mutant.path.parent.name == "questions":
        sys.modules["docgen.criteria.criterion"].criteria.cache_clear()  # holds what each of them declares


@cache
def _imported(module: ModuleType) -> set[tuple[str, str]]:
    """Module and name of all that a module has from another by `from ... import`."""
    path = getattr(module, "__file__", None) or ""
    if not path.startswith(str(ROOT)):
        return set()
    tree = ast.parse(Path(path).read_text(encoding="utf-8"))
    lines = [node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    return {(line.module or "", alias.name) for line in lines for alias in line.names}


def _replace(module: ModuleType, name: str, value: Any) -> None:
    old = getattr(module, name, None)
    if getattr(value, "__module__", module.__name__) != module.__name__ or isinstance(value, ModuleType):
        return
    if isinstance(value, type) and isinstance(old, type):
        for attribute, member in list(vars(value).items()):  # asking a member for its cache may set a name
            _replace_code(vars(old).get(attribute), member)
    elif not _replace_code(old, value) and not callable(value):
        for other in list(sys.modules.values()):
            same = getattr(other, "__dict__", {}).get(name) is old
            if other is module or (same and (module.__name__, name) in _imported(other)):
                setattr(other, name, value)


def _replace_code(old: Any, new: Any) -> bool:
    if isinstance(old, property) and isinstance(new, property):
        return _replace_code(old.fget, new.fget)
    if hasattr(old, "cache_clear"):
        old.cache_clear()
    old, new = getattr(old, "__wrapped__", old), getattr(new, "__wrapped__", new)
    if not isinstance(old, FunctionType) or not isinstance(new, FunctionType):
        return False
    if old.__code__.co_freevars != new.__code__.co_freevars:
        return False
    old.__code__, old.__defaults__, old.__kwdefaults__ = new.__code__, new.__defaults__, new.__kwdefaults__
    return True


def load_mutated(mutant: Mutant) -> None:
    """Let the import of this module find the mutant, in a process that has not loaded it yet."""
    code, as_it_is = compile(mutant.tree(), str(mutant.path), "exec"), SourceFileLoader.get_code

    def get_code(loader: SourceFileLoader, name: str) -> CodeType | None:
        return code if name == mutant.module else as_it_is(loader, name)

    SourceFileLoader.get_code = get_code  # type: ignore[method-assign]


# ---- running the tests ---------------------------------------------------------------------------


@dataclass
class Result:
    """What became of the mutants of one module."""

    path: Path
    tried: list[Mutant]
    alive: list[Mutant]
    n_too_long: int


class Bench:
    """A plugin of pytest that, in place of running the tests once, runs those of its module in a fork for each mutant.

    `tell` takes the result of a module as soon as all of its mutants were tried.
    """

    def __init__(self, wanted: list[Mutant], until: float, named: Collection[str], tell: Any) -> None:
        self.wanted, self.until, self.named, self.tell = wanted, until, named, tell
        self.aloud = os.dup(2)  # the terminal, while pytest holds back what is printed

    def pytest_runtestloop(self, session: Any) -> bool:
        if all("criteria" in mutant.path.parts for mutant in self.wanted):
            for item in session.items:
                if item.path.parent.name == "questions":
                    _passes(item)  # what the records hold is made once, not in each fork: no criterion has a part in it
        gc.freeze()  # a fork that collects garbage copies every page that it looks at
        took, calls = self._as_it_is(session)
        ready = [item for item in session.items if item.nodeid in took]
        for path, of_module in groupby(self.wanted, key=lambda mutant: mutant.path):
            own = [Path(name) for name in tests_of(path)]
            items = [item for item in ready if any(item.path == test or test in item.path.parents for test in own)]
            self.tell(self._of_module(path, list(of_module), items, took, calls))
        return True

    def _of_module(
        self,
        path: Path,
        wanted: list[Mutant],
        items: list[Any],
        took: dict[str, float],
        calls: dict[tuple[str, str], set[str]],
    ) -> Result:
        noticed: dict[str, Counter[str]] = defaultdict(Counter)  # function -> tests that noticed a fault in it
        at = mmap.mmap(-1, 4)  # the test that a fork has come to
        quickest = sorted(items, key=lambda item: took[item.nodeid])[:_PROBES]
        if _in_fork(lambda: self._tried(replace(wanted[0], variant=_NONE), quickest, took, at)):
            self._give_up(f"{_short(path)} as it is, put in like a mutant, is noticed: the bench proves nothing")
        result = Result(path, [], [], 0)
        for mutant in wanted:
            if time.monotonic() > self.until:
                break
            result.tried.append(mutant)
            before = noticed[mutant.function]
            reached = calls.get((str(path), mutant.function.rpartition(".")[2]), set())
            chosen = sorted(
                (item for item in items if item.nodeid in reached or (mutant.at_import and not reached)),
                key=lambda item, n=before: took[item.nodeid] / (1 + n[item.nodeid]) ** 2,
            )
            at[:] = (0).to_bytes(4)
            status = _in_fork(lambda m=mutant, c=chosen: self._tried(m, c, took, at))
            result.n_too_long += status in (-signal.SIGPROF, -signal.SIGALRM)
            if status:
                before[chosen[int.from_bytes(at[:])].nodeid] += 1
            elif mutant.name in self.named or not mutant.at_import or tried_afresh(mutant):
                result.alive.append(mutant)
                if mutant.name not in self.named:
                    os.write(self.aloud, f"        lives: {mutant.name}\n".encode())
        return result

    def _give_up(self, why: str) -> NoReturn:
        os.write(self.aloud, f"        {why}\n".encode())  # pytest keeps what an exception says to itself
        raise SystemExit(why)

    def _tried(self, mutant: Mutant, items: list[Any], took: dict[str, float], at: mmap.mmap) -> int:
        try:
            put_in(mutant)
        except Exception:
            return 1  # it does not even load
        for place, item in enumerate(items):
            at[:] = place.to_bytes(4)
            signal.setitimer(signal.ITIMER_PROF, LONGEST_S + 5 * took[item.nodeid])  # time computed, not waited for
            if not _passes(item):
                return 1
        return 0

    def _as_it_is(self, session: Any) -> tuple[dict[str, float], dict[tuple[str, str], set[str]]]:
        """Seconds of each test that passes without a fault, and the tests that call each function."""
        inward, outward = os.pipe()
        took: dict[str, float] = {}
        calls: dict[tuple[str, str], set[str]] = defaultdict(set)
        here = str(ROOT / "docgen")
        caches = [
            member
            for name in {mutant.module for mutant in self.wanted} & sys.modules.keys()
            for member in vars(sys.modules[name]).values()
            if hasattr(member, "cache_clear") and member.__module__ == name
        ]

        def run() -> int:
            seen: set[tuple[str, str]] = set()

            def called(frame: Any, event: str, _: object) -> None:
                if (code := frame.f_code).co_filename.startswith(here):
                    seen.add((code.co_filename, code.co_name))

            def too_slow(*_: object) -> None:
                raise TimeoutError

            signal.signal(signal.SIGPROF, too_slow)
            with os.fdopen(outward, "w") as pipe:
                for item in session.items:
                    for cached in caches:
                        cached.cache_clear()  # what an earlier test left there would hide who calls the function
                    seen.clear()
                    began = time.process_time()
                    signal.setitimer(signal.ITIMER_PROF, SLOWEST_S)
                    sys.settrace(called)
                    with suppress(TimeoutError):
                        good = False
                        good = _passes(item)
                    sys.settrace(None)
                    signal.setitimer(signal.ITIMER_PROF, 0)
                    seconds = time.process_time() - began
                    if good and seconds <= SLOWEST_S:
                        pipe.write(f"{item.nodeid!r}\t{seconds}\t{sorted(seen)!r}\n")
                    elif not good and seconds < SLOWEST_S:
                        print(f"        fails without a fault: {item.nodeid}", file=sys.stderr)
            return 0

        child = os.fork()
        if child == 0:
            os.close(inward)
            os._exit(run())
        os.close(outward)
        with os.fdopen(inward) as pipe:
            for line in pipe:
                node, seconds, seen = line.rstrip("\n").split("\t")
                took[ast.literal_eval(node)] = float(seconds)
                for function in ast.literal_eval(seen):
                    calls[function].add(ast.literal_eval(node))
        if os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]):
            self._give_up("the tests could not be run without a fault")
        return took, calls


def _passes(item: Any) -> bool:
    from _pytest.runner import runtestprotocol

    with open(os.devnull, "w") as nowhere:
        kept, sys.stdout = sys.stdout, nowhere
        reports = runtestprotocol(item, log=False, nextitem=None)
        sys.stdout = kept
    return not any(report.failed for report in reports)


def _in_fork(work: Any) -> int:
    child = os.fork()
    if child == 0:
        gc.disable()
        signal.signal(signal.SIGALRM, signal.SIG_DFL)
        signal.signal(signal.SIGPROF, signal.SIG_DFL)
        signal.alarm(HANGS_S)
        resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
        os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
        status = 1
        try:
            status = work()
        finally:
            os._exit(status)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


@cache
def tests_of(path: Path) -> list[str]:
    """The test file of a module of evidence or of a criterion; of every other module those that import it.

    Those are files of tests/evidence, fit, conditions and criteria, and the records of criteria that import the
    module, of which the first _MOST_RECORDS count. What nearly all import has its own test file alone.
    """
    area = path.relative_to(ROOT / "docgen").parent
    if area in (Path("evidence"), Path("criteria/questions")):
        own = ROOT / "tests" / area / f"test_{path.stem}.py"
        return [str(own)] if own.exists() else []
    if area.parts[:2] == ("evidence", "facts"):
        return sorted(map(str, (ROOT / "tests" / "evidence").glob("test_facts*.py")))
    imports = re.compile(rf"from docgen\.{re.escape(_short(path))} import|import docgen\.{re.escape(_short(path))}\b")

    def importing(folder: Path, pattern: str) -> list[Path]:
        return [path for path in sorted(folder.rglob(pattern)) if imports.search(path.read_text(encoding="utf-8"))]

    tests = [test for name in _AREAS_OF_TESTS for test in importing(ROOT / "tests" / name, "test_*.py")]
    asking = importing(ROOT / "docgen" / "criteria" / "questions", "*.py")[:_MOST_RECORDS]
    tests += [ROOT / "tests" / "criteria" / "questions" / f"test_{module.stem}.py" for module in asking]
    tests += [ROOT / "tests" / name for name in _ELSEWHERE.get(path.stem, ())]
    own = ROOT / "tests" / area / f"test_{path.stem}.py"
    if len(tests) > _MOST_FILES and own in tests:
        return [str(own)]
    return [str(test) for test in dict.fromkeys(tests) if test.exists()]


_QUIET = ["-o", "addopts=", "-q", "-x", "-p", "no:xdist", "-p", "no:cacheprovider", "--hypothesis-seed=0"]


def tried_afresh(mutant: Mutant) -> bool:
    """Whether it lives in a process of its own, with every test there is for its module."""
    words = [sys.executable, __file__, "--afresh", str(mutant.path), str(mutant.node), str(mutant.variant)]
    try:
        return subprocess.run(words, capture_output=True, timeout=4 * HANGS_S, cwd=ROOT).returncode == 0
    except subprocess.TimeoutExpired:
        return False


def _files(area: str, modules: list[str]) -> list[Path]:
    files = sorted((ROOT / "docgen" / area).glob("*.py"))
    return [path for path in files if mutants(path) and (not modules or path.stem in modules)]


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("names", nargs="*", help="areas, and modules of them")
    words.add_argument("--all", action="store_true")
    words.add_argument("--each", type=int, default=0, help="so many of each file, drawn by the seed")
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--minutes", type=float, default=30)
    words.add_argument("--changed", action="store_true", help="only files edited since their record, or with open ones")
    words.add_argument("--record", action="store_true", help="write the figures to mutants_figures.toml")
    words.add_argument("--figures", action="store_true", help="print the figures recorded, run nothing")
    words.add_argument("--afresh", nargs=3, help=argparse.SUPPRESS)
    asked = words.parse_args()
    os.chdir(ROOT)
    sys.path[:0] = [str(ROOT), str(ROOT / "tests")]
    if asked.afresh:
        path, node, variant = asked.afresh
        mutant = Mutant(Path(path), int(node), int(variant), "", 0, "", True)
        load_mutated(mutant)
        import pytest

        return int(pytest.main([*_QUIET, *tests_of(mutant.path)]))
    if asked.figures:
        _print_figures()
        return 0
    areas = [area for area in AREAS if asked.all or area in asked.names or area.partition("/")[0] in asked.names]
    modules = [name for name in asked.names if name not in AREAS]
    wanted: dict[str, list[Mutant]] = defaultdict(list)
    for area in areas:
        for path in _files(area, modules):
            record = _recorded().get(_short(path), {})
            if asked.changed and record.get("source") == _digest(path) and not record["open"]:
                continue
            of_file = mutants(path)
            if asked.each and len(of_file) > asked.each:
                of_file = random.Random(f"{asked.seed} {_short(path)}").sample(of_file, asked.each)
            wanted[area] += of_file
    drawn = f"{asked.each} of each file, seed {asked.seed}" if asked.each else ""
    return _report(wanted, time.monotonic() + asked.minutes * 60, asked.record, drawn)


def _report(wanted: dict[str, list[Mutant]], until: float, record: bool, drawn: str) -> int:
    may_live = tomllib.loads(ALIVE.read_text(encoding="utf-8"))
    reason = {name: why for why, names in may_live.items() for name in names}
    total: Counter[str] = Counter()
    for of_area in wanted.values():
        tests = list(dict.fromkeys(test for path in dict.fromkeys(m.path for m in of_area) for test in tests_of(path)))
        if not tests:
            raise SystemExit(f"no test file: {', '.join(_short(path) for path in {m.path for m in of_area})}")
        for result in _in_pytest(tests, of_area, until, reason):
            every = mutants(result.path)
            unexplained = [mutant for mutant in result.alive if mutant.name not in reason]
            figures = {
                "mutants": len(every),
                "tried": len(result.tried),
                "killed": len(result.tried) - len(result.alive),
                "named": len(result.alive) - len(unexplained),
                "open": len(unexplained),
            }
            total.update(figures, too_long=result.n_too_long)
            print("  ".join(f"{count:5} {what}" for what, count in figures.items()), _short(result.path), sep="  ")
            for mutant in unexplained:
                print(f"        {mutant.path.relative_to(ROOT)}:{mutant.line} {mutant.name}")
            known = {mutant.name for mutant in every}
            for name in reason:
                if name.startswith(f"{_short(result.path)}.") and name not in known:
                    print(f"        named in {ALIVE.name}, and no mutant any more: {name}")
            sys.stdout.flush()
            if record and len(result.tried) == sum(mutant.path == result.path for mutant in of_area):
                _record(result.path, figures, drawn if len(result.tried) < len(every) else "")
    n_asked = sum(map(len, wanted.values()))
    print(
        f"{n_asked} mutants, {total['killed']} killed ({total['too_long']} by running on), "
        f"{total['named'] + total['open']} live, of which {total['open']} without a reason; "
        f"{n_asked - total['tried']} not run for want of time"
    )
    return 1 if total["open"] or n_asked > total["tried"] else 0


# ---- the figures of every module, kept from run to run ------------------------------------------


def _digest(path: Path) -> str:
    """Of the code alone: other words, comments or line breaks are no edit, since no mutant is made of them."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            node.value = ""
    return hashlib.sha256(ast.dump(tree).encode()).hexdigest()[:12]


def _recorded() -> dict[str, dict[str, Any]]:
    return tomllib.loads(FIGURES.read_text(encoding="utf-8")) if FIGURES.exists() else {}


def _record(path: Path, figures: dict[str, int], drawn: str) -> None:
    """Replace the line of one module; `source` is the digest of its code as it was tried."""
    kept = _recorded() | {_short(path): {**figures, "drawn": drawn, "source": _digest(path)}}
    lines = [
        f'"{name}" = {{ ' + ", ".join(f"{key} = {value!r}".replace("'", '"') for key, value in line.items()) + " }"
        for name, line in sorted(kept.items())
    ]
    FIGURES.write_text("# Written by tests/bench/mutants.py --record.\n" + "\n".join(lines) + "\n", encoding="utf-8")


def _print_figures() -> None:
    """One line a module and one an area, and which files have been edited, or are new, since their record."""
    recorded = _recorded()
    for area in AREAS:
        total: Counter[str] = Counter()
        for path in _files(area, []):
            line = recorded.get(_short(path))
            if line is None:
                print(f"{_short(path)}: not tried")
                continue
            total.update({key: value for key, value in line.items() if isinstance(value, int)})
            said = ", ".join(f"{value} {key}" for key, value in line.items() if isinstance(value, int))
            edited = "" if line["source"] == _digest(path) else "; edited since"
            print(f"{_short(path)}: {said}{'; ' + line['drawn'] if line['drawn'] else ''}{edited}")
        print(f"== {area}: " + ", ".join(f"{count} {what}" for what, count in total.items()))


def _in_pytest(tests: Collection[str], wanted: list[Mutant], until: float, named: Collection[str]) -> Iterator[Result]:
    """Run the bench in a fork, so that what the next area loads is fresh; its results come back through a pipe."""
    inward, outward = os.pipe()
    child = os.fork()
    if child == 0:
        import pytest

        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        with os.fdopen(outward, "wb") as pipe:

            def tell(result: Result) -> None:
                pickle.dump(result, pipe)
                pipe.flush()

            status = pytest.main([*_QUIET, *tests], plugins=[Bench(wanted, until, named, tell)])
        os._exit(int(status))
    os.close(outward)
    with os.fdopen(inward, "rb") as pipe:
        while pipe.peek(1):
            yield pickle.load(pipe)
    if os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]):
        raise SystemExit(f"the tests could not be run: {' '.join(tests)[:200]}")


if __name__ == "__main__":
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    sys.exit(main())
