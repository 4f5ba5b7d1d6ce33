"""Many cases -> their packets, in order. One that fails stops no other; one that has not changed is left alone."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from docgen.errors import Problem, UserError
from docgen.packet.contents import Contents, case_contents
from docgen.packet.recipe import Recipe
from docgen.packet.work import Failed, Made, fault_of
from docgen.packet.workers import Alone, Processes, Promise, Workers
from docgen.packet.write import Packet, put, unchanged

_FEW = 3  # cases that are done before another process has started


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one case: a packet with remarks, or problems."""

    folder: Path
    packet: Packet | None = None
    remarks: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


def workers(recipe: Recipe, out: Path, n_cases: int, jobs: int = 0, cluster: str = "") -> Workers:
    """Who builds so many cases: a cluster, `jobs` processes, or this one. Raises UserError.

    jobs  0 for one process a core, or this one alone where the cases are few
    """
    if cluster and recipe.deidentified:
        raise UserError([Problem("--cluster", "a copy about nobody is made on this machine alone", "Leave it out.")])
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
    folders: Iterable[Path], recipe: Recipe, out: Path, those: Workers, force: bool = False
) -> Iterator[Outcome]:
    """Build each case and tell what became of it, in the order of the folders. Files are written by this process alone.

    force  also where the same has been built before
    """
    begun: deque[tuple[Contents, Packet | Promise]] = deque()
    with those:
        for folder in folders:
            case = case_contents(folder, recipe.langs)
            known = None if force else unchanged(out / case.name, recipe.made_from(case))
            begun.append((case, known or those.submit(case)))
            while begun and (len(begun) > those.n_ahead or _is_done(begun[0][1])):
                yield _ended(*begun.popleft())
        while begun:
            yield _ended(*begun.popleft())


def told(outcome: Outcome) -> Iterator[str]:
    """What a command says of it: problems, or the packet and what must be known of it."""
    if outcome.packet is None:
        yield from map(str, outcome.problems)
        return
    packet = outcome.packet
    yield f"{packet.folder}: {'unchanged, ' if packet.unchanged else ''}{len(packet.written)} files, {packet.state}"
    yield from (f"  {line}" for line in outcome.remarks)
    for name in packet.kept:
        yield f"  {name} was changed by hand and is left as it is; the new one stands beside it"


def _is_done(begun: Packet | Promise) -> bool:
    return isinstance(begun, Packet) or begun.done()


def _ended(case: Contents, begun: Packet | Promise) -> Outcome:
    if isinstance(begun, Packet):
        return Outcome(case.path, begun)
    try:
        result = begun.result()
    except Exception as fault:  # of whoever did the work: its process is gone, or cannot read what was sent
        result = fault_of(case, fault)
    if isinstance(result, Made):
        try:
            return Outcome(case.path, put(result.files, result.packet, result.made_from), result.remarks)
        except UserError as failure:
            result = Failed(failure.problems)
    return Outcome(case.path, problems=result.problems)
