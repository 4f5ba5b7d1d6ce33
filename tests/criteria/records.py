"""The records of a criterion: what each holds, and the answer it gets. One file each in tests/criteria/questions."""

from __future__ import annotations

import importlib.util
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from ready_case import changed_ready, ready_grounds
from whole_case import ask, changed, grounds

from docgen.criteria.criterion import Answer

Record = tuple[Any, ...]  # what the case then holds, the changes, and the rows where they are others
FOLDER = Path(__file__).parent / "questions"


@dataclass(frozen=True)
class Records:
    """A criterion with records for each answer it can give.

    met, not_met, cannot_tell, does_not_apply  changes of the whole case, each with what it then holds in words
    ready          answer -> changes of the ready demo
    settings       thresholds of a payer, changes of the whole case, and the answer they give
    rests_on       the innermost keys of the whole case without which it cannot be told, all of them; an entry of a
                   list is "*"
    only_recorded  a claim of the form "this is recorded": nothing recorded can contradict it
    needs_rows     the whole case without the rows of its trial does not meet it
    rows_suffice   the trial alone, without the rest of the case, meets it
    """

    criterion: str
    met: Sequence[Record] = ()
    cannot_tell: Sequence[Record] = ()
    not_met: Sequence[Record] = ()
    does_not_apply: Sequence[Record] = ()
    ready: Mapping[str, Sequence[Any]] = field(default_factory=dict)
    settings: Sequence[tuple[dict[str, Any], Sequence[Any], str]] = ()
    rests_on: tuple[str, ...] = ()
    only_recorded: bool = False
    needs_rows: bool = False
    rows_suffice: bool = False

    @property
    def answers(self) -> set[str]:
        """Every answer for which there is a record, of either case."""
        whole = ("met", "not_met", "cannot_tell", "does_not_apply")
        return {status for status in whole if getattr(self, status)} | set(self.ready)

    def test(self) -> Callable[..., None]:
        """A test of each record of either case, and of each setting."""
        tried = [*self._tried()]

        @pytest.mark.parametrize(
            ("status", "given"), [(s, given) for s, _, given in tried], ids=[i for _, i, _ in tried]
        )
        def answered(status: str, given: Callable[[], Answer]) -> None:
            answer = given()
            assert answer.status == status, f"{self.criterion}: {answer.reason}"
            assert answer.reason.endswith(".") and "  " not in answer.reason
            assert not re.search(r"None(?! of)", answer.reason)
            assert answer.where and bool(answer.mend) == (status in ("not_met", "cannot_tell"))

        return answered

    def _tried(self) -> Iterator[tuple[str, str, Callable[[], Answer]]]:
        """Answer expected, name of the record, and how to get the answer given."""
        for status in ("met", "not_met", "cannot_tell", "does_not_apply"):
            for words, changes, *rows in getattr(self, status):
                yield (
                    status,
                    f"{status}, {words}",
                    lambda changes=changes, rows=rows: ask(self.criterion, grounds(changed(*changes), *rows)),
                )
        for status, changes in self.ready.items():
            yield (
                status,
                f"{status}, ready demo",
                lambda changes=changes: ask(self.criterion, ready_grounds(changed_ready(*changes))),
            )
        for settings, changes, status in self.settings:
            yield (
                status,
                f"{status}, {settings}",
                lambda changes=changes, settings=settings: ask(self.criterion, grounds(changed(*changes)), **settings),
            )


@cache
def all_records() -> dict[str, Records]:
    """Criterion named by the file -> its records; every file test_<criterion>.py of the folder."""
    return {path.stem.removeprefix("test_"): _records(path) for path in sorted(FOLDER.glob("test_*.py"))}


def _records(path: Path) -> Records:
    spec = importlib.util.spec_from_file_location(f"records_of_{path.stem}", path)
    assert spec and spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    records: Records = module.RECORDS
    return records
