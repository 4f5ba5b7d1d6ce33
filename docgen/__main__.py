"""The command `docgen`, which is also `python -m docgen`: whatever happens ends in one sentence and a status of its
own."""

from __future__ import annotations

import gc
import os
import sys
import threading
import traceback
from contextlib import suppress
from typing import NoReturn, TextIO

from docgen.commands.statuses import UNREADABLE
from docgen.errors import Problem, UserError, place_of_fault

# Nearly all that a command makes at its start, some 200,000 objects, stays to its end: the usual 700 have it looked
# through over and over, for some 600 that nothing needs.
_OBJECTS_BETWEEN_COLLECTIONS = 500_000


def run() -> NoReturn:
    """The same as `main` for a process that is there for it alone: with its last word said it ends at once, for taking
    apart what it made, object by object, takes as long as a tenth of a check. What a thread still does is waited for.
    """
    try:
        main()
    except SystemExit as end:
        if isinstance(end.code, int) and threading.active_count() == 1:
            os._exit(end.code)
        raise


def main() -> NoReturn:
    """Run the command and leave with its status; status 1 speaks of the case alone, never of a fault.

    Under `python -X dev` a fault is shown with its traceback, which may hold words of the case.
    """
    gc.set_threshold(_OBJECTS_BETWEEN_COLLECTIONS)
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # of any package installed; none is to see a case
    try:
        status = _status()
        for stream in (sys.stdout, sys.stderr):
            if stream is not None:
                stream.flush()
    except OSError:  # what was printed has nowhere to go: a full disk, or a reader that has gone
        status = UNREADABLE
    for stream in (sys.stdout, sys.stderr):
        _let_go(stream)
    gc.freeze()  # the system takes the memory back whole: looking for cycles in it at the end is lost
    raise SystemExit(status)


def _status() -> int:
    """Exit status of the command."""
    from docgen.cli import program  # once it is settled how often memory is looked through

    printed_to = sys.stdout
    try:
        program(sys.argv[1:])()
    except SystemExit as end:
        # a stream whose reader has gone is replaced, and the status given then is that of a case with gaps
        return end.code if isinstance(end.code, int) and sys.stdout is printed_to else UNREADABLE
    except UserError as failure:
        _tell(*failure.problems)
    except Exception as fault:
        if sys.flags.dev_mode:
            traceback.print_exc()
        _tell(_problem_of(fault))
    return UNREADABLE


def _problem_of(fault: Exception) -> Problem:
    """What ended the command; of a fault only its kind and its place, for what it says may hold words of the case."""
    if isinstance(fault, OSError) and fault.strerror:
        where = str(fault.filename) if fault.filename else "standard output"
        return Problem(where, f"cannot be used: {fault.strerror}", "Choose another place.")
    place = place_of_fault(fault)
    return Problem(
        "docgen", f"stopped by a fault of its own: {place}", "Report it; nothing of yours was changed by it."
    )


def _tell(*problems: Problem) -> None:
    for problem in problems:
        with suppress(OSError):
            print(problem, file=sys.stderr, flush=True)


def _let_go(stream: TextIO | None) -> None:
    """Let a stream that cannot be written end in silence, so that Python does not change the status at its end."""
    if stream is None:
        return
    try:
        stream.flush()
    except (OSError, ValueError):
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


if __name__ == "__main__":
    run()
