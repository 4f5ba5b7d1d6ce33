"""Rows of a table as one test. Where a row is tried in a millisecond, a test of its own would take longer to be found,
handed out and reported than to run."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable
from functools import wraps
from typing import Any

import pytest
from _pytest.mark.structures import ParameterSet

Check = Callable[..., None]


def of_each(names: str | tuple[str, ...], rows: Iterable[Any], ids: Any = None) -> Callable[[Check], Check]:
    """As pytest.mark.parametrize, but one test that tries every row and then fails with each that did not hold, by its
    id. For rows that need no fixture of their own and cannot skip. Rows must not be empty."""
    keys = [name.strip() for name in names.split(",")] if isinstance(names, str) else [*names]
    tried = [_row(keys, row) for row in rows]
    named = _names(keys, tried, ids)

    def gather(check: Check) -> Check:
        @wraps(check)
        def tries_each(**fixtures: Any) -> None:
            assert tried, "no row to try"
            failed = []
            for name, (values, _) in zip(named, tried, strict=True):
                try:
                    check(**dict(zip(keys, values, strict=True)), **fixtures)
                except (Exception, pytest.fail.Exception) as failure:
                    failed.append(f"[{name}] {_line(failure)}: {type(failure).__name__}: {failure}")
            if failed:
                pytest.fail("\n".join(failed), pytrace=False)

        signature = inspect.signature(check)
        left = [parameter for name, parameter in signature.parameters.items() if name not in keys]
        tries_each.__signature__ = signature.replace(parameters=left)  # type: ignore[attr-defined]
        return tries_each

    return gather


def _row(keys: list[str], row: Any) -> tuple[tuple[Any, ...], str | None]:
    """The values of a row, and its id where it has one."""
    if isinstance(row, ParameterSet):
        return tuple(row.values), str(row.id) if row.id else None
    return (row,) if len(keys) == 1 else tuple(row), None


def _names(keys: list[str], tried: list[tuple[tuple[Any, ...], str | None]], ids: Any) -> list[str]:
    if ids is not None and not callable(ids):
        return [str(name) for name in ids]
    return [own or "-".join(str(ids(value) if ids else _short(value)) for value in values) for values, own in tried]


def _short(value: object) -> str:
    text = getattr(value, "__name__", None) or str(value)
    return text if len(text) <= 80 else f"{text[:80]}..."


def _line(failure: BaseException) -> str:
    """Where in the test it failed: the innermost line of a file of tests."""
    here, at = failure.__traceback__, "?"
    while here is not None:
        path = here.tb_frame.f_code.co_filename
        if "/tests/" in path.replace("\\", "/") and not path.endswith("/tests/gathered.py"):
            at = f"{path.rpartition('/')[2]}:{here.tb_lineno}"
        here = here.tb_next
    return at
