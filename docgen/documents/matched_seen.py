"""What a trial showed of the devices of a shelf, beside what was expected of them, in words."""

from __future__ import annotations

from collections.abc import Iterator

from docgen.criteria.sentences import capital, listed, points_of
from docgen.evidence.difference import Difference
from docgen.fit.finding import finding_name
from docgen.shelf.match import Match
from docgen.shelf.seen import Differs, Seen


def trial_sentences(matched: Match, shown: Seen, differ: tuple[Differs, ...]) -> Iterator[str]:
    """What the trial showed of each device, of each pair that it parts with how fair that was, and where it is not what
    was expected."""
    names = {device: device for device in shown.devices}
    names |= {name: judged.device.name for name, judged in matched.devices.items()}
    if elsewhere := [device for device in shown.devices if device not in matched.devices]:
        yield f"Tried, and not on this shelf: {listed(elsewhere)}."
    for device in shown.devices:
        expected = f" Expected: {expected_words(matched, device)}." if device in matched.devices else ""
        yield f"{capital(names[device])}.{expected} Seen: {seen_words(shown, device)}."
    for pair in shown.compared:
        better = f"{capital(names[pair.better])} did better than {names[pair.worse]}: {points(pair.difference)}."
        unlike = listed(sign.text.replace("the requested control", names[pair.better]) for sign in pair.unfair)
        counts = "" if pair.counts else " It decides nothing here: too few attempts, or trials too unlike."
        yield f"{better}{f' Not alike: {unlike}.' if unlike else ''}{counts}"
    yield from (differs_sentence(matched, each) for each in differ)


def expected_words(matched: Match, device: str) -> str:
    """What the findings alone let expect of a device."""
    judged = matched.devices[device]
    if judged.stage != "layered":
        return {"harm": "harm", "harm_unknown": "not known", "movement": "no movement recorded"}[judged.stage]
    if judged.driven and judged.movement != "recorded":
        return "no movement recorded, and it was driven"
    return "first" if device in matched.leads else "not first"


def differs_sentence(matched: Match, differ: Differs) -> str:
    """Where what was seen and what was expected do not agree."""
    name = matched.devices[differ.device].device.name if differ.device in matched.devices else differ.device
    if differ.rival is not None:
        rival = matched.devices[differ.rival].device.name
        return f"{capital(rival)} was expected to stand above {name}; in the trial {name} did better."
    risk = finding_name(differ.finding or "")
    sign = f" ({differ.sign.in_words})" if differ.sign is not None else ""
    return (
        f"{capital(name)}: a harm was expected ({risk}), and the trial did not show it{sign}. So few attempts do not "
        "take it away; an answer recorded for that feature does."
    )


def seen_words(shown: Seen, device: str) -> str:
    """Attempts done with a device in the trial, a way of trying it after another."""
    return "; ".join(
        f"{way.method.name}: {way.done.n_success} of {way.done.n} ({way.done.low * 100:.0f} to "
        f"{way.done.high * 100:.0f}%)"
        for way in shown.devices.get(device, ())
    )


def points(difference: Difference) -> str:
    """A difference of shares in points, with its interval."""
    return points_of(difference.difference, difference.low, difference.high)
