"""What findings of a client make doubtful or dangerous in the requested features, as answers of a criterion."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec.structs import replace

from docgen.case.lines import KeyPath
from docgen.case.model import Case
from docgen.criteria.criterion import Answer, Grounds, cannot_tell, met, not_met
from docgen.criteria.mend import Mend, NewEntry, fill_in
from docgen.criteria.sentences import capital, listed
from docgen.fit.feature import Against, features
from docgen.fit.finding import finding_name
from docgen.fit.match import Chosen, may_be_of_other_side
from docgen.fit.signs import Sign, signs

# what the rows of the trial must hold for a sign to be seen or not seen
_RECORDED_IN = {
    "stops_missed": "a task that shows stop",
    "space_too_short": "{release}, and the room ahead in each space",
    "release_late": "{release}, and release_from of the trial",
    "contacts_often": "contacts and distance_m",
    "unintended_often": "unintended and minutes (or minutes of the method, for all of them)",
    "missed_often": "activations and missed",
    "corners_lost": "a task that shows steer",
    "tone_up": "tone_before and tone_after",
    "tired": "fatigue_before and fatigue_after",
    "late_worse": "attempts in their order",
}


_TIMED = ("release_late",)  # signs that are seen only where it is known what a time was timed from
# features that a stop switch of a helper is asked for by
HELPER_STOPS = ("attendant_stop", "attendant_control", "stop_switch")
OF_A_LINE = "Where a line brings it, name it in features of that line in place of with_base."
_UNSEEN = "; no answer will do where the trial shows what it does not record so far: "


def release_keys(case: Case) -> str:
    """The columns that take a release, of the file in which the trial stands."""
    if not case.totals:
        return "release_s"
    of_totals = "releases_s or slowest_release_s of totals.csv"
    return f"{of_totals}, or release_s of trial.csv" if case.records else of_totals


def _columns_of(case: Case, unseen: Iterable[Sign]) -> list[str]:
    """What the rows or totals of this case must hold for these signs, each once."""
    return list(dict.fromkeys(_RECORDED_IN[sign.id].format(release=release_keys(case)) for sign in unseen))


def nothing_to_compare() -> Answer:
    """What is said while features or findings are not recorded."""
    return cannot_tell(
        "Features or findings are not recorded, so they cannot be held against each other.",
        ("configuration", "features"),
        mend=Mend(
            "Add [[findings]] and [[configuration.features]].",
            add=(NewEntry("findings"), NewEntry("configuration.features")),
        ),
    )


def weighed(grounds: Grounds, against: Iterable[Answer], *, safety: bool, none: str, answered: str) -> Answer:
    """The worst of what speaks against the requested features; met where each is answered in the record, or none is.

    safety    whether it is a risk of injury, or another doubt
    none      what is said where no finding speaks against a feature
    answered  the same where each is answered, with {features} for the names
    """
    if not grounds.case.configuration.features or not grounds.case.findings:
        return nothing_to_compare()
    if unanswered := worst(against):
        return unanswered
    names = [chosen.feature.name for chosen in grounds.fit.chosen if any(no.safety is safety for no in chosen.at_odds)]
    return met(answered.format(features=listed(names)) if names else none, ("configuration", "features"))


def worst(answers: Iterable[Answer]) -> Answer | None:
    """The worst, with the names of all and what settles each; None when there is none. What the trial bears out stands
    before what is not met, and that before what cannot be told."""
    ranked = sorted(answers, key=lambda answer: (answer.status == "cannot_tell", not answer.facts))
    if not ranked:
        return None
    names = dict.fromkeys(name for answer in ranked for name in answer.names)
    first, ways = ranked[0], _said_once(answer.to_settle for answer in ranked if answer.mend)
    mend = replace(first.mend, say=" ".join(ways)) if first.mend else None
    return replace(first, names=tuple(names), mend=mend)


def _said_once(ways: Iterable[str]) -> Iterator[str]:
    """What settles each, one sentence for those of which only the signs of the trial differ."""
    shown: dict[str, dict[str, None]] = {}
    for way in ways:
        what, _, signs = way.rstrip(".").partition(_UNSEEN)
        shown.setdefault(what, {}).update(dict.fromkeys([signs] if signs else []))
    for what, seen in shown.items():
        yield f"{what}{_UNSEEN}{listed(seen, 'or')}." if seen else f"{what}."


def lacking(grounds: Grounds, safety: bool) -> Iterator[Answer]:
    """Features without another that they must not go without."""
    for index, chosen in enumerate(grounds.fit.chosen):
        for need in (need for need in chosen.lacking if need.safety is safety):
            names = listed((features()[other].name for other in need.any_of), "or")
            say = not_met if need.safety else cannot_tell
            needs = dict.fromkeys(filter(None, (what_it_needs(grounds.case, other) for other in need.any_of)))
            keys = listed([*needs, "with_base <true or false>"])
            or_gap = f" Or record the gap_mm at {need.or_gap}." if need.or_gap else ""
            answer = say(
                f"{capital(chosen.feature.name)} is requested without {names}: {need.risk}",
                ("configuration", "features", index),
                mend=f"Add the feature {listed(need.any_of, 'or')}, and for it {keys}. {OF_A_LINE}{or_gap}",
            )
            yield replace(answer, names=(f"{chosen.feature.name} without {names}",))


def what_it_needs(case: Case, feature: str) -> str:
    """What a feature that is added needs at once where a finding of the case makes it a danger; "" where none does."""
    recorded = {finding.id for finding in case.findings}
    against = [finding_name(risk.finding) for risk in features()[feature].spoken_against_by if risk.finding in recorded]
    return f"answer <what mitigates {listed(dict.fromkeys(against))}>" if against else ""


def at_odds(grounds: Grounds, safety: bool) -> Iterator[Answer]:
    """Features that a finding speaks against, with what the trial says and what mitigates it."""
    seen = signs(grounds.case, grounds.evidence, grounds.case.configuration.method)
    for index, chosen in enumerate(grounds.fit.chosen):
        for against in (against for against in chosen.at_odds if against.safety is safety):
            if risk := _weighed(grounds, index, chosen, against, seen):
                why = f" ({_short_of(risk, against, seen)})" if chosen.answer else ""
                yield replace(risk, names=(f"{chosen.feature.name} with {finding_name(against.finding)}{why}",))


def _short_of(risk: Answer, against: Against, seen: dict[str, Sign]) -> str:
    """Why the answer that the case states is not enough, in a few words."""
    if risk.status == "not_met":
        return "its answer is not enough: the trial shows the risk"
    if any(seen[name].seen is None for name in against.signs):
        return "its answer is not enough: the trial does not record whether it shows"
    return "its answer is not enough: no row of the trial shows it"


def _weighed(grounds: Grounds, index: int, chosen: Chosen, against: Against, seen: dict[str, Sign]) -> Answer | None:
    """The answer one risk deserves; None when it is made up for."""
    where = ("configuration", "features", index)
    reason, of_risk = _reason(grounds.case, chosen, against), [seen[name] for name in against.signs]
    if grounds.case.trial.release_from is None and (untimed := _from_what_untold(against, seen)):
        of_risk = [replace(sign, seen=None) if sign.id in _TIMED else sign for sign in of_risk]
        reason += untimed
    if borne_out := [sign for sign in of_risk if sign.seen]:
        return _borne_out(where, reason, chosen, borne_out)
    if not chosen.answer:
        return _unanswered(grounds.case, where, reason, chosen, against, of_risk)
    return _answer_unseen(grounds, where, reason, chosen, of_risk) if against.safety else None


def _reason(case: Case, chosen: Chosen, against: Against) -> str:
    """The finding that speaks against a feature, and what can go wrong, where the words of the finding, which are the
    risk of one of the therapist's own, do not say so."""
    says = next(finding.says.rstrip(".") for finding in case.findings if finding.id == against.finding)
    risk = f" What can go wrong then: {against.risk}" if against.risk != f"{says}." else ""
    return f"{capital(chosen.feature.name)} is requested, and the record states: {says}.{risk}"


def _from_what_untold(against: Against, seen: dict[str, Sign]) -> str:
    """That a sign which the trial seems to show was timed from nobody knows what, as a sentence after others; or
    empty."""
    if not any(seen[name].seen for name in against.signs if name in _TIMED):
        return ""
    return (
        f" In the trial {listed(seen[name].in_words for name in _TIMED)}, and what that was timed from is not "
        "recorded, so it neither shows this nor rules it out."
    )


def _borne_out(where: KeyPath, reason: str, chosen: Chosen, signs: Sequence[Sign]) -> Answer:
    """Not met, whatever is answered: the trial shows these signs of the risk."""
    in_words = listed(sign.in_words for sign in signs)
    return not_met(
        f"{reason} The trial shows a sign of it: {in_words}.",
        where,
        facts=tuple(fact.id for sign in signs for fact in sign.facts),
        mend=f"Request another feature than {chosen.feature.id}: no answer makes up for what the trial shows, "
        f"{in_words}.",
    )


def _unanswered(
    case: Case, where: KeyPath, reason: str, chosen: Chosen, against: Against, signs: Sequence[Sign]
) -> Answer:
    """A risk to which the case states no answer, and what would settle it."""
    say = not_met if against.safety else cannot_tell
    is_needed = _alone_asks_for_the_stop(case, chosen.feature.id)
    tail = f" of {chosen.feature.id}{'' if is_needed else ', or choose another feature'}"
    if any(place.chair_state == "in_bed" for place in case.supervision):
        tail += f", or write only_in_bed = true of {against.finding} where it holds in bed alone"
    if may_be_of_other_side(case, against.finding):
        tail += f', or write side = "left" or "right" of {against.finding} where it is of the other limb'
    if is_needed:
        tail += "; taking the feature out settles nothing while helper_switch is recorded"
    if signs and all(sign.seen is None for sign in signs):
        tail += f"{_UNSEEN}{listed((sign.label for sign in signs), 'or')}"
    return say(reason, where, mend=fill_in({"answer": "<what mitigates it>"}, tail))


def _alone_asks_for_the_stop(case: Case, feature: str) -> bool:
    """Whether a stop switch of a helper is recorded that no other feature asks for: without this one it is a danger of
    another kind."""
    others = {asked.id for asked in case.configuration.features} - {feature}
    return bool(
        feature in HELPER_STOPS and case.configuration.stop.helpers_own and not others.intersection(HELPER_STOPS)
    )


def _answer_unseen(
    grounds: Grounds, where: KeyPath, reason: str, chosen: Chosen, signs: Sequence[Sign]
) -> Answer | None:
    """A stated answer to a risk of safety that no trial shows; None where the trial records each sign."""
    if unseen := [sign for sign in signs if sign.seen is None]:
        return cannot_tell(
            (
                f"{reason} An answer is stated, and the trial does not record whether "
                f"{listed((sign.label for sign in unseen), 'or')}."
            ),
            where,
            mend="Fill in, in the rows or day totals of the trial with the requested control, "
            f"{listed(_columns_of(grounds.case, unseen))} for {chosen.feature.id}.",
        )
    if not grounds.evidence.of("success", grounds.case.configuration.method):
        return cannot_tell(
            f"{reason} An answer is stated, and no row of the trial shows it.",
            where,
            mend="Add trial rows with the requested control.",
        )
    return None
