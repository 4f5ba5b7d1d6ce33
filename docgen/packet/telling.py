"""Which document is done, told to whoever waits for a packet while it is made."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_LISTENER: ContextVar[Callable[[str], object] | None] = ContextVar("_LISTENER", default=None)


@contextmanager
def telling(listener: Callable[[str], object]) -> Iterator[None]:
    """In here `listener` is called with the name of each document once it is done, in the thread that makes it."""
    before = _LISTENER.set(listener)
    try:
        yield
    finally:
        _LISTENER.reset(before)


def tell(name: str) -> None:
    """Say that a document is done."""
    if listener := _LISTENER.get():
        listener(name)
