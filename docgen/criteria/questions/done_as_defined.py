"""A row written down as done had no collision, no help by hand and no missed stop.

Asks: Whether a row of the trial or of training that is done holds a collision, help by hand or a missed stop, and by
    which rule it was then counted; of totals of a day, which do not define it, what done meant.
Why a payer asks: The letter says what done means, and a reviewer who asks for the rows and finds a collision in one
    that is done believes none of the counts.
What settles it: done_rule under [trial], "no_contact_no_help" or "task_rule"; until then every number is worked out
    with the strict count. Or a row that is corrected.
Source: the definition of the column success on the printed sheets; common practice, no source.
"""

from __future__ import annotations

from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import fill_in
from docgen.criteria.sentences import counted, k_of_n, listed
from docgen.evidence.blocks import lines, total_lines
from docgen.evidence.done import Overruled, done_is_open, helped_somewhere, overruled, overruled_tries

HEADING = "record"
CLAIM = "An attempt counted as done meets its definition"
SHOWN_IN = ("letter: Equipment Trial and Results",)
SETTINGS: dict[str, object] = {}

_RULE = ("trial", "done_rule")


def answer(grounds: Grounds) -> Answer:
    case = grounds.case
    if not case.tried:
        return cannot_tell("No row of a trial is recorded.", ("trial", "rows"), mend="Add the rows of the trial.")
    rows, tries, rule = overruled(case), overruled_tries(case), case.trial.done_rule
    if (rows or tries) and rule == "task_rule":
        return met(
            (
                f"{_written_as_done(rows, tries)}; by the rule that the record names, the rule of its task "
                f"decides.{_both(grounds)}"
            ),
            _RULE,
        )
    if rows or tries:
        stated = (
            "that is not done by the rule that the record names"
            if rule
            else "no rule of the record says that it counts"
        )
        return not_met(
            f"{_written_as_done(rows, tries)}; {stated}.{_both(grounds)}",
            ("trial", "rows"),
            _RULE,
            rows=lines(entry.row for entry in rows),
            totals=total_lines(entry.row for entry in rows),
            facts=tuple(name for name in grounds.evidence if name.startswith("done_")),
            mend="Look the rows up on the sheets and mend the wrong side of each."
            if rule
            else fill_in({"trial.done_rule": '"no_contact_no_help" or "task_rule"'}),
        )
    if helped := helped_somewhere(case):
        blocks = listed(f"{block[0].method} on {block[0].date}" for block in helped)
        return cannot_tell(
            (
                f"In the block of {blocks} every attempt is done and help by hand is counted; in which attempt is "
                "not recorded."
            ),
            ("trial", "rows"),
            _RULE,
            rows=lines(block[0] for block in helped),
            totals=total_lines(block[0] for block in helped),
            mend="Write prompts_physical and took_over on each row of the block.",
        )
    if done_is_open(case):
        return cannot_tell(
            "What counted as done in the totals of a day is not recorded.",
            _RULE,
            totals=total_lines(case.totals),
            mend=fill_in({"trial.done_rule": '"no_contact_no_help" or "task_rule"'}),
        )
    return met("No attempt counted as done has a collision, help by hand or a missed stop.", ("trial", "rows"))


def _written_as_done(rows: tuple[Overruled, ...], tries: tuple[Overruled, ...]) -> str:
    parts = [
        f"{counted(len(entries), f'row of the {what} is', f'rows of the {what} are')} written down as done with "
        f"{listed(dict.fromkeys(why for entry in entries for why in entry.why))}"
        for what, entries in (("trial", rows), ("training", tries))
        if entries
    ]
    return listed(parts)


def _both(grounds: Grounds) -> str:
    """Both counts of each control whose rows differ."""
    evidence, names = grounds.evidence, {method.id: method.name for method in grounds.case.trial.methods}
    counts = [
        f"{names[method]}: {k_of_n(recorded)} as written, {k_of_n(strict)} by the strict rule"
        for method in names
        if (recorded := evidence.of("done_recorded", method)) and (strict := evidence.of("done_strict", method))
    ]
    return f" {'; '.join(counts)}." if counts else ""
