"""The records of a criterion: what each holds, and the answer it gets. One file each in tests/criteria/questions.

The words of each answer of the whole case stand in tests/criteria/answers/<criterion>.txt, with its keys, rows and
numbers, what would settle it and whether it is a danger, below what the criterion declares. DOCGEN_REWRITE=1 writes
the file anew.
"""

from __future__ import annotations

import importlib.util
import os
import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache, partial
from pathlib import Path
from typing import Any

from gathered import of_each
from ready_case import changed_ready, ready_grounds
from whole_case import ask, changed, grounds

from docgen.criteria.criterion import Answer, Grounds, criteria
from docgen.criteria.mend import Mend

DECLARED = "what it declares"
READY = ", ready demo"
Record = tuple[Any, ...]  # what the case then holds, the changes, and the rows where they are others
FOLDER = Path(__file__).parent / "questions"
ANSWERS = Path(__file__).parent / "answers"


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
        """A test of each record of either case, of each setting, and of what the criterion declares."""
        tried = {name: (status, given) for status, name, given in self._tried()}
        assert len(tried) == sum(1 for _ in self._tried()), f"{self.criterion}: two records of one name"

        @of_each("name", [DECLARED, *tried])
        def answered(name: str) -> None:
            if name == DECLARED:
                self._written(tried)
                return
            status, given = tried[name]
            answer = given()
            assert answer.status == status, f"{self.criterion}: {answer.reason}"
            assert answer.reason.endswith(".") and "  " not in answer.reason
            assert not re.search(r"None(?! of)", answer.reason)
            assert answer.where and bool(answer.mend) == (status in ("not_met", "cannot_tell"))
            if not name.endswith(READY):  # the demo's own words change with it
                assert in_words(answer) == self._words[name], f"if it is meant, {self._anew}"

        return answered

    @property
    def _file(self) -> Path:
        return ANSWERS / f"{self.criterion}.txt"

    @property
    def _anew(self) -> str:
        return f"DOCGEN_REWRITE=1 pytest tests/criteria/questions/test_{self.criterion}.py writes {self._file.name}"

    @property
    def _words(self) -> dict[str, str]:
        """Name of a record -> its answer, as the file has them."""
        parts = self._file.read_text(encoding="utf-8").split("\n== ")[1:] if self._file.exists() else []
        return {name: words for name, _, words in (part.rstrip("\n").partition("\n") for part in parts)}

    def _written(self, tried: Mapping[str, tuple[str, Callable[[], Answer]]]) -> None:
        """The file holds what the criterion declares and an answer of each record, and no other."""
        before = self._words
        kept = {name: given for name, (_, given) in tried.items() if not name.endswith(READY)}
        if os.environ.get("DOCGEN_REWRITE"):
            answers = {DECLARED: declared(self.criterion)} | {name: in_words(given()) for name, given in kept.items()}
            self._file.parent.mkdir(exist_ok=True)
            text = "".join(f"\n== {name}\n{words}\n" for name, words in answers.items())
            self._file.write_text(text, encoding="utf-8")
        assert list(before) == [DECLARED, *kept], self._anew
        assert before[DECLARED] == declared(self.criterion), f"if it is meant, {self._anew}"

    def _tried(self) -> Iterator[tuple[str, str, Callable[[], Answer]]]:
        """Answer expected, name of the record, and how to get the answer given."""

        def asked(make: Callable[[], Grounds], **settings: Any) -> Callable[[], Answer]:
            here = cache(make)
            return lambda: ask(self.criterion, here(), **settings)

        for status in ("met", "not_met", "cannot_tell", "does_not_apply"):
            for words, changes, *rows in getattr(self, status):
                make = partial(lambda changes, rows: grounds(changed(*changes), *rows), changes, rows)
                yield status, f"{status}, {words}", asked(make)
        for status, changes in self.ready.items():
            make = partial(lambda changes: ready_grounds(changed_ready(*changes)), changes)
            yield status, f"{status}{READY}", asked(make)
        names = Counter[str]()
        for settings, changes, status in self.settings:
            name = f"{status}, {settings}"
            names[name] += 1
            make = partial(lambda changes: grounds(changed(*changes)), changes)
            yield status, name if names[name] == 1 else f"{name} ({names[name]})", asked(make, **settings)


def in_words(answer: Answer) -> str:
    """An answer as a file of answers holds it."""
    mend = answer.mend or Mend("")
    held = {
        "danger": answer.danger,
        "met": answer.limit,
        "bare": answer.bare,
        "settled by": mend.say,
        "fill": mend.fill,
        "add": tuple(f"{a.table} {' '.join((*a.keys, *(f'{k}={v}' for k, v in a.fixed)))}".strip() for a in mend.add),
        "more work": mend.work,
        "keys": tuple(".".join(map(str, path)) for path in answer.where),
        "rows": answer.rows,
        "totals": answer.totals,
        "facts": answer.facts,
        "holds": answer.holds,
        "of": answer.of,
        "names": answer.names,
    }
    return "\n".join([answer.reason, *_filled(held)])


def declared(name: str) -> str:
    """What a criterion declares besides its words, as a file of answers holds it."""
    criterion = criteria()[name]
    keys = ("danger", "holds", "settings", "shown_in", "fits_together", "line_rank", "window", "in_limits", "quiet")
    return "\n".join([criterion.claim, *_filled({key: getattr(criterion, key) for key in keys})])


def _filled(held: Mapping[str, Any]) -> Iterator[str]:
    for name, value in held.items():
        if isinstance(value, tuple):
            value = ", ".join(map(str, value))
        if value or value == 0 and value is not False:
            yield f"    {name}: {value}"


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
