"""What `docgen features` prints: every feature under its part of a control, or one in full."""

from __future__ import annotations

import textwrap

from docgen.console.width import WIDTH
from docgen.criteria.sentences import capital, listed
from docgen.errors import Problem, UserError
from docgen.fit.feature import PARTS, features, unknown_feature
from docgen.fit.finding import vocabulary
from docgen.fit.settings import drive_settings

PART_TITLES = {
    "control": "Drive control: which movement drives, and how is it sensed?",
    "fitting": "Fitting: is the part reached, and what must it leave free?",
    "stop_behavior": "Stop behavior: what happens when the command ends?",
    "speed": "Speed: how is a speed chosen?",
    "reverse": "Reverse: which movement is left for it?",
    "standby": "Standby: what keeps the chair still when nothing is meant?",
    "stop": "Stopping means: who can stop it, and how?",
    "modes": "Modes: what else does the control do?",
    "seat": "Seat",
    "feedback": "Hearing, vision and touch: what tells the driver?",
    "mount": "Mounting: does each part come back to its place?",
    "devices": "External devices",
    "electronics": "Electronics and programming",
}


def wrapped(text: str, indent: int = 2, hang: int = 2) -> list[str]:
    """The text in lines of the page."""
    return textwrap.wrap(
        text,
        WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + hang),
        break_long_words=False,
        break_on_hyphens=False,
    )


def plain(word: str) -> str:
    """An id in words."""
    return word.replace("_", " ")


def features_text() -> str:
    """Every feature under the part of a control it belongs to, with the findings that call for it."""
    lines: list[str] = []
    width = max(len(name) for name in features())
    for part in PARTS:
        lines += ["", PART_TITLES[part]] if lines else [PART_TITLES[part]]
        # what reads a movement follows what moves, so that the options at one site do not stand as one list
        of_part = (f for f in features().values() if f.part == part)
        for feature in sorted(of_part, key=lambda f: not f.sites) if part == "control" else of_part:
            lines += textwrap.wrap(
                f"{feature.id:<{width}}  {', '.join(map(plain, feature.called_for_by))}",
                WIDTH,
                initial_indent="  ",
                subsequent_indent=" " * (width + 4),
                break_on_hyphens=False,
            )
    return "\n".join([*lines, "", "One in full: docgen features ID"])


def feature_text(feature_id: str) -> str:
    """One feature in full. Raises UserError naming the nearest when there is none."""
    known = features()
    if feature_id not in known:
        raise UserError([Problem("docgen features", *unknown_feature(feature_id))])
    feature = known[feature_id]
    called = [f"{name}: {vocabulary()[name].says}" for name in feature.called_for_by]
    grounded = [f"{name}: {vocabulary()[name].says}" for name in feature.grounded_by]
    spoken = [f"{no.finding}: {no.risk}{' Safety.' if no.safety else ''}" for no in feature.spoken_against_by]
    needs = [
        f"{listed(need.any_of, 'or')}{' where ' + listed(need.when, 'or') if need.when else ''}: {need.risk}"
        for need in feature.needs
    ]
    touched = [f"{drive_settings()[name].name}: {drive_settings()[name].does}" for name in feature.settings]
    sections: tuple[tuple[str, list[str]], ...] = (
        ("Part", [PART_TITLES[feature.part]]),
        ("Goes with", [", ".join(feature.goes_with)] if feature.goes_with else []),
        ("Called for by", called),
        ("Reason enough, where it is asked for", grounded),
        ("Contraindicated or limited by", spoken),
        ("Needs", needs),
        ("A trial must show", [feature.trial]),
        ("Justification", [feature.justification, *(words.says for words in feature.said_if)]),
        ("Without it", [feature.without]),
        ("Care", [feature.care]),
        ("Training", [feature.training]),
        ("Settings it touches", touched),
        ("Place to record", [", ".join(map(plain, feature.sites))] if feature.sites else []),
        ("Codes", [", ".join(feature.codes)] if feature.codes else []),
        ("Source", [feature.source]),
    )
    lines = [feature.id, *wrapped(f"{capital(feature.name)}. {feature.what}")]
    for title, texts in sections:
        if texts:
            lines += ["", title, *(line for text in texts for line in wrapped(text))]
    return "\n".join(lines)
