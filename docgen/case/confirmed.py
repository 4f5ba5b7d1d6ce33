"""Values that lie outside what is usual and were looked up again: which, by whom and when."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import cache

from docgen.case.base import Id, Part, Words, key, must, part_of
from docgen.case.privacy import Privacy
from docgen.case.record import TRIAL
from docgen.case.session import SESSIONS
from docgen.case.totals import TOTALS


class Confirmed(Part):
    """One key or column whose value was looked up again and stands. It holds for the values named, and for no other:
    where the record changes later, the question is asked again."""

    of: str = must(
        Privacy.OFFICE,
        "what was looked up: the question or column that the check named",
        "client.weight_kg",
        pattern=r"^[a-z][a-z0-9_.]{0,99}$",
    )
    values: tuple[float | date, ...] = must(
        Privacy.IDENTITY, "the value that stands; of several the least and the greatest", [0.12, 0.14], max_length=2
    )
    by: Id = must(Privacy.OFFICE, "who looked it up", "evaluator")
    on: date = must(Privacy.OFFICE, "date it was looked up", date(2026, 4, 2))
    says: Words | None = key(Privacy.OFFICE, "how it was looked up", "Timed again from the video.")

    def covers(self, value: float | date) -> bool:
        """Whether a value is the one confirmed, or lies between the two."""
        if isinstance(value, date):
            days = [entry for entry in self.values if isinstance(entry, date)]
            return bool(days) and min(days) <= value <= max(days)
        numbers = [entry for entry in self.values if not isinstance(entry, date)]
        return bool(numbers) and min(numbers) <= value <= max(numbers)


# counts have no usual range, and one of them can be asked about: stops beside rows that hold stops too
_COUNTED = ("trial.methods.stops_asked",)


@cache
def confirmable() -> tuple[str, ...]:
    """Every key and column that can be confirmed: measures and days. A column is trial.<name>,
    totals.<name> or sessions.<name>."""
    from docgen.case.model import Case  # which holds what is confirmed

    return (
        *_keys(Case, ""),
        *_COUNTED,
        *(f"trial.{column.name}" for column in TRIAL.columns if column.usual or column.kind == "date"),
        *(f"totals.{column.name}" for column in TOTALS.columns if column.usual or column.kind == "date"),
        *(f"sessions.{column.name}" for column in SESSIONS.columns if column.usual or column.kind == "date"),
    )


def _keys(model: type[Part], before: str) -> Iterator[str]:
    for name, field in model.model_fields.items():
        if inner := part_of(field.annotation):
            if inner is not Confirmed:
                yield from _keys(inner, f"{before}{name}.")
        elif model.usual_of(name) or field.annotation in (date, date | None):
            yield f"{before}{name}"
