"""Do the tests notice a wrong number? Small faults are put into the code, one at a time, and the tests must fail.

    python tests/bench/mutants.py evidence                  every module of evidence, by its own test file alone
    python tests/bench/mutants.py criteria/questions        every criterion, by its own records alone
    python tests/bench/mutants.py fit criteria              the other areas, by the tests of the area
    python tests/bench/mutants.py criteria/questions --each 5    five mutants of each file, drawn by the seed
    python tests/bench/mutants.py evidence release          one module
    python tests/bench/mutants.py --all --changed           what has no record yet, or was edited since its record
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
import hashlib
import importlib
import mmap
import os
import random
import resource
import signal
import subprocess
import sys
import time
import tomllib
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from importlib.machinery import SourceFileLoader
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

ROOT = Path(__file__).resolve().parent.parent.parent
ALIVE = Path(__file__).with_name("mutants_alive.toml")
FIGURES = Path(__file__).with_name("mutants_figures.toml")
AREAS = ("evidence", "evidence/facts", "evidence/facts/after", "fit", "criteria", "criteria/questions")
LONGEST_S = 1  # a test that computes for longer than this, and than five times what it takes, has noticed the mutant
_PROBES = 20  # tests that a module put in unchanged must pass
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
        return ".".join(self.path.relative_to(ROOT).with_suffix("").parts)

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
    """Outside every function, or in one that a decorator may have made when the module was loaded."""
    n_functions = 0
    while node in parents:
        node = parents[node]
        n_functions += isinstance(node, ast.FunctionDef)
    return n_functions != 1


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


def _replace(module: ModuleType, name: str, value: Any) -> None:
    old = getattr(module, name, None)
    if getattr(value, "__module__", module.__name__) != module.__name__ or isinstance(value, ModuleType):
        return
    if isinstance(value, type) and isinstance(old, type):
        for attribute, member in vars(value).items():
            _replace_code(vars(old).get(attribute), member)
    elif not _replace_code(old, value) and not callable(value):
        for other in list(sys.modules.values()):
            if getattr(other, "__dict__", {}).get(name) is old:
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


class Bench:
    """A plugin of pytest that, in place of running the tests once, runs them in a fork for each mutant."""

    def __init__(self, wanted: list[Mutant], until: float) -> None:
        self.wanted, self.until = wanted, until
        self.alive: list[Mutant] = []
        self.tried: list[Mutant] = []
        self.n_too_long = 0

    def pytest_runtestloop(self, session: Any) -> bool:
        took, calls = self._as_it_is(session)
        noticed: dict[str, Counter[str]] = defaultdict(Counter)  # function -> tests that noticed a fault in it
        at = mmap.mmap(-1, 4)  # the test that a fork has come to
        quickest = sorted((item for item in session.items if item.nodeid in took), key=lambda item: took[item.nodeid])
        for any_of_module in {mutant.path: mutant for mutant in self.wanted}.values():
            unchanged = replace(any_of_module, variant=_NONE)
            if _in_fork(lambda m=unchanged: self._tried(m, quickest[:_PROBES], took, at)):
                raise SystemExit(
                    f"{unchanged.module} as it is, put in like a mutant, is noticed: the bench proves nothing"
                )
        for mutant in self.wanted:
            if time.monotonic() > self.until:
                break
            reached = calls.get((str(mutant.path), mutant.function.rpartition(".")[2]))
            before = noticed[mutant.function]
            items = sorted(
                (item for item in session.items if item.nodeid in took),
                key=lambda item, n=before: took[item.nodeid] / (1 + n[item.nodeid]) ** 2,
            )
            chosen = [item for item in items if reached is None or item.nodeid in reached] or items
            at[:] = (0).to_bytes(4)
            status = _in_fork(lambda m=mutant, c=chosen: self._tried(m, c, took, at))
            self.tried.append(mutant)
            self.n_too_long += status in (-signal.SIGPROF, -signal.SIGALRM)
            if status == 0:
                self.alive.append(mutant)
            else:
                before[chosen[int.from_bytes(at[:])].nodeid] += 1
        return True

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

        def run() -> int:
            seen: set[tuple[str, str]] = set()

            def called(frame: Any, event: str, _: object) -> None:
                if (code := frame.f_code).co_filename.startswith(here):
                    seen.add((code.co_filename, code.co_name))

            with os.fdopen(outward, "w") as pipe:
                for item in session.items:
                    seen.clear()
                    began = time.perf_counter()
                    sys.settrace(called)
                    good = _passes(item)
                    sys.settrace(None)
                    if good:
                        pipe.write(f"{item.nodeid!r}\t{time.perf_counter() - began}\t{sorted(seen)!r}\n")
                    else:
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
            raise SystemExit("the tests could not be run without a fault")
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


def tests_of(path: Path) -> list[str]:
    """The test file of a module of evidence or of a criterion; the tests of its area for every other module."""
    area = path.relative_to(ROOT / "docgen").parent
    if area in (Path("evidence"), Path("criteria/questions")):
        own = ROOT / "tests" / area / f"test_{path.stem}.py"
        return [str(own)] if own.exists() else []
    if area.parts[:2] == ("evidence", "facts"):
        return sorted(map(str, (ROOT / "tests" / "evidence").glob("test_facts*.py")))
    return [str(ROOT / "tests" / area.parts[0])]


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
    return [path for path in files if path.stem != "__init__" and (not modules or path.stem in modules)]


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    words.add_argument("names", nargs="*", help="areas, and modules of them")
    words.add_argument("--all", action="store_true")
    words.add_argument("--each", type=int, default=0, help="so many of each file, drawn by the seed")
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--minutes", type=float, default=30)
    words.add_argument("--changed", action="store_true", help="only files that their record does not fit")
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
    groups: dict[tuple[str, ...], list[Mutant]] = defaultdict(list)
    untested: list[Mutant] = []
    for path in (path for area in areas for path in _files(area, modules)):
        if asked.changed and _recorded().get(_short(path), {}).get("source") == _digest(path):
            continue
        of_file = mutants(path)
        if asked.each and len(of_file) > asked.each:
            of_file = random.Random(f"{asked.seed} {_short(path)}").sample(of_file, asked.each)
        tests = tuple(tests_of(path))
        if tests:
            groups[tests] += of_file
        else:
            untested += of_file
    drawn = f"{asked.each} of each file, seed {asked.seed}" if asked.each else ""
    return _report(groups, untested, time.monotonic() + asked.minutes * 60, asked.record, drawn)


def _report(
    groups: dict[tuple[str, ...], list[Mutant]], untested: list[Mutant], until: float, record: bool, drawn: str
) -> int:
    may_live = tomllib.loads(ALIVE.read_text(encoding="utf-8"))
    reason = {name: why for why, names in may_live.items() for name in names}
    for mutant in untested:
        print(f"        no test file: {mutant.name}")
    n_mutants, n_tried, n_too_long, n_named, n_open = len(untested), len(untested), 0, 0, len(untested)
    for tests, wanted in groups.items():
        bench = _in_pytest(tests, Bench(wanted, until))
        lived = [
            mutant for mutant in bench.alive if mutant.name in reason or not mutant.at_import or tried_afresh(mutant)
        ]
        of_module = {path: [m for m in bench.tried if m.path == path] for path in {m.path: None for m in wanted}}
        for path, tried in of_module.items():
            named = sum(mutant.path == path and mutant.name in reason for mutant in lived)
            unexplained = [mutant for mutant in lived if mutant.path == path and mutant.name not in reason]
            figures = {
                "mutants": len(mutants(path)),
                "tried": len(tried),
                "killed": len(tried) - named - len(unexplained),
                "named": named,
                "open": len(unexplained),
            }
            print("  ".join(f"{count:5} {what}" for what, count in figures.items()), _short(path), sep="  ", flush=True)
            for mutant in unexplained:
                print(f"        {mutant.path.relative_to(ROOT)}:{mutant.line} {mutant.name}", flush=True)
            known = {mutant.name for mutant in mutants(path)}
            for name in reason:
                if name.startswith(f"{_short(path)}.") and name not in known:
                    print(f"        named in {ALIVE.name}, and no mutant any more: {name}", flush=True)
            if record and len(tried) == sum(mutant.path == path for mutant in wanted):
                _record(path, figures, drawn if len(tried) < len(mutants(path)) else "")
            n_named, n_open = n_named + named, n_open + len(unexplained)
        n_mutants, n_tried = n_mutants + len(wanted), n_tried + len(bench.tried)
        n_too_long += bench.n_too_long
    print(
        f"{n_mutants} mutants, {n_tried - n_named - n_open} killed ({n_too_long} by running on), {n_named + n_open} "
        f"live, of which {n_open} without a reason; {n_mutants - n_tried} not run for want of time"
    )
    return 1 if n_open or n_mutants > n_tried else 0


# ---- the figures of every module, kept from run to run ------------------------------------------


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()[:12]


def _recorded() -> dict[str, dict[str, Any]]:
    return tomllib.loads(FIGURES.read_text(encoding="utf-8")) if FIGURES.exists() else {}


def _record(path: Path, figures: dict[str, int], drawn: str) -> None:
    """Replace the line of one module; `source` is the digest of the file as it was tried."""
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


def _in_pytest(tests: tuple[str, ...], bench: Bench) -> Bench:
    """Run the bench in a fork, so that what the next group loads is fresh; its results come back through a pipe."""
    import pickle

    inward, outward = os.pipe()
    child = os.fork()
    if child == 0:
        import pytest

        output = os.dup(1)
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
        if pytest.main([*_QUIET, *tests], plugins=[bench]) == 0:
            os.dup2(output, 1)
            with os.fdopen(outward, "wb") as pipe:
                pickle.dump(bench, pipe)
        os._exit(0)
    os.close(outward)
    with os.fdopen(inward, "rb") as pipe:
        result = pipe.read()
    os.waitpid(child, 0)
    if not result:
        raise SystemExit(f"the tests could not be run: {' '.join(tests)}")
    done: Bench = pickle.loads(result)
    return done


if __name__ == "__main__":
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    sys.exit(main())
