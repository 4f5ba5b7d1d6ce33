"""Who does the work: this process or several; `cluster.py` has machines elsewhere. All take cases in and give futures
back."""

from __future__ import annotations

import gc
import multiprocessing
import signal
import threading
from concurrent.futures import Future, ThreadPoolExecutor
from multiprocessing.connection import Connection
from pathlib import Path
from types import TracebackType
from typing import Any, Protocol, Self

from docgen.errors import Problem, UserError
from docgen.packet.contents import Contents
from docgen.packet.recipe import Recipe
from docgen.packet.work import Failed, Made, Worker, here

_SELDOM = (500_000, 10, 10)


def _collect_between() -> None:
    """Have Python look for rings of dead objects between packets, see `_collect`, and never among those that are there
    now.

    A packet makes half a million objects that live until it is written, and the program as many before it; each look
    within a packet goes through them for nothing. The memory that a process holds stays the same.
    """
    gc.freeze()
    gc.set_threshold(*_SELDOM)


def _collect() -> None:
    """Take away what the packet before has left; it is among what was made last."""
    gc.collect(0)


class Promise(Protocol):
    """What a future of any kind can do."""

    def done(self) -> bool: ...
    def result(self) -> Made | Failed: ...


class Workers(Protocol):
    """Those who do the work.

    n_ahead  how many cases they are given before the first of them is asked for
    """

    n_ahead: int

    def submit(self, case: Contents) -> Promise: ...
    def __enter__(self) -> Self: ...
    def __exit__(
        self, kind: type[BaseException] | None, failure: BaseException | None, trace: TracebackType | None
    ) -> None: ...


class Alone:
    """This process, one case after the other. With `loud`, a fault of the program is raised instead of told."""

    n_ahead = 0

    def __init__(self, recipe: Recipe, out: Path, loud: bool = False) -> None:
        self._recipe, self._out, self._loud = recipe, out, loud
        self._worker: Worker | None = None

    def submit(self, case: Contents) -> Promise:
        """The case, done at once."""
        if self._worker is None:
            self._worker = here(self._recipe)
        else:
            _collect()
        promise: Future[Made | Failed] = Future()
        try:
            promise.set_result((self._worker.make if self._loud else self._worker.attempt)(case, self._out))
        except UserError as failure:
            promise.set_result(Failed(failure.problems))
        return promise

    def __enter__(self) -> Self:
        self._before = gc.get_threshold()
        _collect_between()
        return self

    def __exit__(self, *_: object) -> None:
        gc.set_threshold(*self._before)
        gc.unfreeze()


class Processes:
    """Processes on this machine, each looked after by a thread, so that it is known which case ended one.

    A process is started when there is something to do. An interrupt from the keyboard reaches this process alone.
    """

    def __init__(self, recipe: Recipe, out: Path, n: int) -> None:
        self.n_ahead = 2 * n
        self._asked = recipe, out
        self._context = multiprocessing.get_context("spawn")
        self._threads = ThreadPoolExecutor(n, initializer=_spare_interrupts)
        self._own, self._lock, self._ended = threading.local(), threading.Lock(), False
        self._processes: list[Any] = []

    def submit(self, case: Contents) -> Promise:
        """The case, to be done by the process that is free first."""
        return self._threads.submit(self._ask, case)

    def _ask(self, case: Contents) -> Made | Failed:
        pipe: Connection = getattr(self._own, "pipe", None) or self._start()
        try:
            pipe.send(case)
            outcome: Made | Failed = pipe.recv()
            return outcome
        except (EOFError, OSError):
            pipe.close()
            self._own.pipe = None
            self._own.process.join()
            code = self._own.process.exitcode
            return Failed(
                (
                    Problem(
                        str(case.path),
                        f"was not built: the process that worked on it ended ({_ending(code)})",
                        "Try it alone; if that works, memory was short: use fewer --jobs.",
                    ),
                )
            )

    def _start(self) -> Connection:
        near_end, far_end = self._context.Pipe()
        with self._lock:
            if self._ended:
                raise EOFError
            process = self._context.Process(target=_serve, args=(far_end, *self._asked), daemon=True)
            process.start()
            self._processes.append(process)
        far_end.close()
        self._own.pipe, self._own.process = near_end, process
        return near_end

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        with self._lock:
            self._ended = True
            for process in self._processes:
                process.kill()  # none of them writes anything
        self._threads.shutdown(cancel_futures=True)
        for process in self._processes:
            process.join()


def _ending(code: int | None) -> str:
    return f"killed by {signal.Signals(-code).name}" if code is not None and code < 0 else f"with status {code}"


def _spare_interrupts() -> None:
    """In a thread: it and the processes that it starts get none."""
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})


def _serve(pipe: Connection, recipe: Recipe, out: Path) -> None:
    """What a process does: one case after the other, until nobody asks any more."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _collect_between()
    worker = here(recipe)
    try:
        while True:
            pipe.send(worker.attempt(pipe.recv(), out))
            _collect()
    except (EOFError, OSError):
        return
