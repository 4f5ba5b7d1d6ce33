"""Where one side of a record says what another side says otherwise: what a reader of its numbers must know first."""

from __future__ import annotations

from collections.abc import Iterable

from docgen.criteria.run import Verdict

# Criteria of which an answer that is not met is such a contradiction, those of the trial's own numbers first.
CONTRADICTIONS = (
    "done_as_defined",
    "releases_fit_stops",
    "values_agree",
    "values_are_usual",
    "years_fit",
    "set_up_was_tried",
    "one_device_one_name",
    "own_words_hold",
    "results_told_as_counted",
    "driving_told_alike",
    "trial_told_as_driven",
    "reliable_is_counted",
    "remedy_is_new",
    "near_as_said",
    "stop_rules_kept",
    "stop_space_ahead_of_chair",
    "turning_circle_holds_chair",
    "minutes_of_help_fall",
    "gain_when_alone_holds",
    "people_are_there",
)


def contradictions(verdicts: Iterable[Verdict]) -> tuple[str, ...]:
    """The reason of each, once, in the order of `CONTRADICTIONS`."""
    not_met = [verdict for verdict in verdicts if verdict.answer.status == "not_met"]
    return tuple(
        dict.fromkeys(
            verdict.answer.reason for name in CONTRADICTIONS for verdict in not_met if verdict.criterion.id == name
        )
    )
