"""A packet in the making while the page goes on: begun, how far it is, what came of it."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

from msgspec import Struct

from docgen.errors import UserError
from docgen.packet.many import outcome_lines
from docgen.packet.telling import telling
from docgen.packet.write import Outcome, Packet

_FAULT = "The packet was not built, by a fault of docgen. Report it; what was there before is as it was."


class Build(Struct):
    """One packet.

    done    names of documents in the order in which they were finished
    says    what came of it, in sentences; none while it is in the making
    folder  where the packet is; None where there is none
    """

    done: list[str] = []
    says: list[str] = []
    folder: Path | None = None

    @property
    def at_work(self) -> bool:
        """Whether it is still in the making."""
        return not self.says


class Builds:
    """The last build of each case of this run of the desk; one is made at a time, the others wait for it."""

    def __init__(self) -> None:
        self._last: dict[Path, Build] = {}
        self._one_at_a_time = threading.Lock()  # what prints keeps fonts and styles for the whole process

    def last(self, folder: Path) -> Build | None:
        """The build of a case that is in the making or was made last."""
        return self._last.get(folder)

    @property
    def at_work(self) -> bool:
        """Whether any packet is in the making."""
        return any(build.at_work for build in self._last.values())

    def begin(self, folder: Path, work: Callable[[], Packet]) -> Build:
        """Begin a packet; the one that is in the making where there is one. The process ends after it is whole."""
        last = self._last.get(folder)
        if last and last.at_work:
            return last
        build = self._last[folder] = Build()
        threading.Thread(target=self._make, args=(folder, build, work), name="packet").start()
        return build

    def _make(self, folder: Path, build: Build, work: Callable[[], Packet]) -> None:
        says = [_FAULT]
        try:
            with self._one_at_a_time, telling(build.done.append):
                packet = work()
            build.folder = packet.folder
            says = [*outcome_lines(Outcome(folder, packet))]
        except UserError as failure:
            says = [*map(str, failure.problems)]
        finally:
            build.says = says
