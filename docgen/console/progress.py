"""A line at the foot of a terminal: how many are done, and how long the rest will take."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TextIO, TypeVar

_Item = TypeVar("_Item")

_WIDTH = 24
_CLEAR = "\r\x1b[K"
_PATIENCE_S = 2.0  # of a single case, before it is shown that it is worked on


class Progress:
    """The line on a stream; nothing where the stream is no terminal or there is but one thing to do."""

    def __init__(self, n: int, stream: TextIO, clock: Callable[[], float] = time.monotonic) -> None:
        self._n, self._stream, self._clock = n, stream, clock
        self._shown = n > 1 and stream.isatty()
        self._start_s, self._n_worked = clock(), 0

    def show(self, n_done: int, worked: bool = True) -> None:
        """Show the line anew. `worked` is false when the last one took no time, as nothing had to be done."""
        self._n_worked += worked
        if self._shown:
            self._stream.write(_CLEAR + progress_line(n_done, self._n, self._n_worked, self._clock() - self._start_s))
            self._stream.flush()

    def clear(self) -> None:
        """Take the line away, so that something else can be written."""
        if self._shown:
            self._stream.write(_CLEAR)
            self._stream.flush()


@contextmanager
def waiting(stream: TextIO, patience_s: float = _PATIENCE_S, step_s: float = 1.0) -> Iterator[None]:
    """How long one thing has taken, shown after a while and anew each second; nothing where the stream is no
    terminal."""
    if not stream.isatty():
        yield
        return
    done, start_s = threading.Event(), time.monotonic()

    def show() -> None:
        pause_s = patience_s
        while not done.wait(pause_s):
            stream.write(f"{_CLEAR}at work, {time.monotonic() - start_s:.0f} s")
            stream.flush()
            pause_s = step_s

    thread = threading.Thread(target=show, daemon=True)
    thread.start()
    try:
        yield
    finally:
        done.set()
        thread.join()
        if time.monotonic() - start_s >= patience_s:
            stream.write(_CLEAR)
            stream.flush()


def waited_for(items: Iterable[_Item], stream: TextIO) -> Iterator[_Item]:
    """The items; while each is made, how long that has taken."""
    source, end = iter(items), object()
    while True:
        with waiting(stream):
            item = next(source, end)
        if item is end:
            return
        yield item  # type: ignore[misc]


def progress_line(n_done: int, n: int, n_worked: int, spent_s: float) -> str:
    """Bar, count, and time left if each of the rest takes as long as those that were worked on."""
    full = _WIDTH * n_done // n
    left = f", {_rough(spent_s / n_worked * (n - n_done))} left" if n_worked and n_done < n else ""
    return f"[{'#' * full}{'.' * (_WIDTH - full)}] {n_done:,} of {n:,}{left}"


def _rough(spent_s: float) -> str:
    if spent_s < 60:
        return f"about {max(1, round(spent_s))} s"
    minutes = round(spent_s / 60)
    return f"about {minutes} min" if minutes < 60 else f"about {minutes // 60} h {minutes % 60} min"
