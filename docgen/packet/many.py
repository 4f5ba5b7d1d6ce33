"""Many cases -> their packets, in order. One that fails stops no other; one that has not changed is left alone."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Generator, Iterable, Iterator
from pathlib import Path

from docgen.case.key import settle_key
from docgen.errors import Problem, UserError
from docgen.packet.contents import Contents, case_contents
from docgen.packet.recipe import Recipe
from docgen.packet.work import Failed, Made, fault_of
from docgen.packet.workers import Alone, Processes, Promise, Workers
from docgen.packet.write import Outcome, Packet, put, unchanged

_FEW = 3  # cases that are done before another process has started


def workers(recipe: Recipe, out: Path, n_cases: int, jobs: int = 0, cluster: str = "") -> Workers:
    """Who builds so many cases: a cluster, `jobs` processes, or this one. Raises UserError.

    jobs  0 for one process a core, or this one alone where the cases are few
    """
    if cluster and recipe.deidentified:
        raise UserError([Problem("--cluster", "a de-identified copy is made on this machine alone", "Leave it out.")])
    if cluster:
        from docgen.packet.cluster import Cluster

        return Cluster(recipe, out, cluster)
    jobs = min(n_cases, jobs or (n_cores() if n_cases > _FEW else 1))
    # copies about nobody draw a name that no packet has, so one must stand before the next is made
    return (
        Processes(recipe, out, jobs) if jobs > 1 and not recipe.deidentified else Alone(recipe, out, loud=n_cases == 1)
    )


def n_cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def build_many(
    folders: Iterable[Path], recipe: Recipe, out: Path, pool: Workers, force: bool = False
) -> Generator[Outcome]:
    """Build each case and tell what became of it, in the order of the folders. Files are written by this process alone.

    force  also where the same has been built before

    Raises UserError at once when two folders have the same id.
    """
    folders = [*folders]
    if not recipe.deidentified:
        _refuse_equal_ids(folders)
    return _built(folders, recipe, out, pool, force)


def _refuse_equal_ids(folders: Iterable[Path]) -> None:
    first: dict[str, Path] = {}
    problems = []
    for folder in folders:
        other = first.setdefault(folder.resolve().name, folder)
        if other.resolve() != folder.resolve():
            problems.append(
                Problem(
                    str(folder), f"has the same id as {other}", "Give one of the two another id, and its folder too."
                )
            )
    if problems:
        raise UserError(problems)


def _built(folders: Iterable[Path], recipe: Recipe, out: Path, pool: Workers, force: bool) -> Generator[Outcome]:
    begun: deque[tuple[Contents, Packet | Promise | Failed, tuple[str, ...]]] = deque()
    with pool:
        for folder in folders:
            begun.append(_begun(folder, recipe, out, pool, force))
            while begun and (len(begun) > pool.n_ahead or _is_done(begun[0][1])):
                yield _ended(*begun.popleft())
        while begun:
            yield _ended(*begun.popleft())


def _begun(
    folder: Path, recipe: Recipe, out: Path, pool: Workers, force: bool
) -> tuple[Contents, Packet | Promise | Failed, tuple[str, ...]]:
    """A case, what it is or will be, and what must be told of its key, which is drawn before the case is read."""
    key = remark = ""
    try:
        if not recipe.deidentified:
            key, remark = settle_key(folder)
    except UserError as failure:
        return case_contents(folder, recipe.langs), Failed(failure.problems), ()
    case = case_contents(folder, recipe.langs)
    known = None if force else unchanged(out / case.name, recipe.made_from(case), key)
    return case, known or pool.submit(case), (remark,) if remark else ()


def outcome_lines(outcome: Outcome) -> Iterator[str]:
    """What a command says of it: problems, or the packet and what must be known of it."""
    if outcome.packet is None:
        yield from map(str, outcome.problems)
        return
    packet = outcome.packet
    yield f"{packet.folder}: {'unchanged, ' if packet.unchanged else ''}{len(packet.written)} files, {packet.state}"
    yield from (f"  {line}" for line in packet.remarks)
    for name in packet.kept:
        yield f"  {name} was changed by hand and is left as it is; the new one stands beside it"
    for name in packet.in_use:
        yield f"  {name} is open in another program and is left as it was; close it there and build again"
    if not packet.is_private:
        yield "  whoever may open this folder can read these files: its disk keeps no file modes"
    if packet.removed:
        yield f"  removed, for this build's content did not make them: {', '.join(packet.removed)}"
    for name, aside in packet.set_aside.items():
        yield f"  {name} was changed by hand and is of earlier content; it is kept as {aside}"


def _is_done(begun: Packet | Promise | Failed) -> bool:
    return isinstance(begun, Packet | Failed) or begun.done()


def _ended(case: Contents, begun: Packet | Promise | Failed, remarks: tuple[str, ...]) -> Outcome:
    if isinstance(begun, Packet):
        begun.remarks = remarks
        return Outcome(case.path, begun)
    try:
        result = begun if isinstance(begun, Failed) else begun.result()
    except Exception as fault:  # of whoever did the work: its process is gone, or cannot read what was sent
        result = fault_of(case, fault)
    if isinstance(result, Made):
        try:
            packet = put(result.files, result.packet, case.path, result.made_from)
            packet.remarks = remarks + result.remarks
            return Outcome(case.path, packet)
        except UserError as failure:
            result = Failed(failure.problems)
    return Outcome(case.path, problems=result.problems)
