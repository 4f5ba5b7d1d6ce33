"""A trial planned: what to borrow, which controls to compare, with which tasks, in which order, how often.

What the therapist decides stands in `trial.plan` of the case; what is not decided stays open here, and nothing is
decided in its place. Minutes that are not recorded are reckoned as in common practice and named as such.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Literal, get_args

from msgspec import Struct

from docgen.case.model import Case
from docgen.case.need import Space
from docgen.case.trial_plan import TrialPlan
from docgen.case.tried import Alternative, ControlKind, Method
from docgen.errors import Problem, UserError, did_you_mean
from docgen.evidence.planned_trial import order_of, visit_of
from docgen.evidence.trial_order import Order
from docgen.evidence.trial_size import Visit
from docgen.fit.feature import Where
from docgen.shelf.client import tires
from docgen.shelf.judge import Judged
from docgen.shelf.match import Match

LETTERS = "ABCDEF"
_SIMPLER: tuple[str, ...] = tuple(kind for kind in get_args(ControlKind) if kind != "other_control")

CardOf = Literal["task", "stop", "doorway", "turning", "goal"]
Ground = Literal["compared", "borrowed", "ruled_out", "no_ground", "offered", "untold"]


class Control(Struct, frozen=True):
    """One control of the comparison. `letter` is its place: A is the first.

    method  the method of the trial that it is, None where only the device is named
    judged  the device of the shelf with this client, None where the shelf does not hold it or nobody has said which
    alike   then, devices of its kind that a finding sets apart
    of_kind  then, how many devices of its kind there are
    """

    letter: str
    id: str
    name: str
    method: Method | None
    judged: Judged | None
    alike: tuple[Judged, ...]
    of_kind: int = 0

    @property
    def may_be_driven(self) -> bool:
        """Whether nothing sets it apart: a harm without an answer, or a site that does not move. A control of which
        nobody has said which device it is stands apart where every device of its kind does."""
        if self.judged is not None:
            return not _apart(self.judged)
        return not self.of_kind or len(self.alike) < self.of_kind


class Card(Struct, frozen=True):
    """One task of the trial, the same for every control.

    of     a task that is recorded, or what of the record it is proposed for
    id     that task, None where it is proposed
    name   of the task, of the place, or the goal in its own words
    rule   what counts as done, None where that is not recorded
    limit_mm, within_m  how wide the place is, and within what a stop counts, where either is recorded
    """

    of: CardOf
    id: str | None
    name: str
    rule: str | None = None
    limit_mm: float | None = None
    within_m: float | None = None


class Simpler(Struct, frozen=True):
    """A kind of control that is simpler than what is compared, and whether the record tells why it will not do.

    ground   compared in this plan, to be borrowed where nothing is decided, ruled out with its reason, named without
             one, a ground offered by the match, or nothing at all
    entries  alternatives of the case of this kind
    offered  devices of this kind that the match sets apart by a finding, no statement before the case says so
    """

    kind: str
    ground: Ground
    entries: tuple[Alternative, ...]
    offered: tuple[Judged, ...]


class Planned(Struct, frozen=True):
    """A trial as planned.

    controls   those compared, in the order of their letters; none where they are not decided
    borrow     devices to borrow: those compared; where none is decided, those that stand first or could
    visit      how the time of a visit goes, None where its length is not recorded
    reckoned   parts of the visit's time that are not recorded
    order      of those driven; None where controls or visits are not decided, or the length of a visit is not
    """

    plan: TrialPlan
    controls: tuple[Control, ...]
    borrow: tuple[Judged, ...]
    questions: Mapping[str, tuple[str, ...]]
    cards: tuple[Card, ...]
    simpler: tuple[Simpler, ...]
    visit: Visit | None
    reckoned: tuple[str, ...]
    order: Order | None

    @property
    def driven(self) -> tuple[Control, ...]:
        """The controls that are driven, as the order numbers them."""
        return tuple(control for control in self.controls if control.may_be_driven)

    @property
    def not_driven(self) -> tuple[Control, ...]:
        """The controls of the plan that are set apart: no minutes, no order and no sheet are written for them."""
        return tuple(control for control in self.controls if not control.may_be_driven)


def planned(case: Case, matched: Match, where: Where) -> Planned:
    """The trial of a case. Raises UserError for a control that is no method of the trial and no device of the shelf."""
    plan = case.trial.plan
    controls = tuple(_controls(case, matched, where))
    visit, reckoned = visit_of(plan, case.weight_shift)
    n_driven = sum(control.may_be_driven for control in controls)
    borrow = [control.judged for control in controls if control.judged is not None and control.may_be_driven]
    if not controls:
        borrow = [matched.devices[name] for name in matched.may_lead]
    return Planned(
        plan,
        controls,
        tuple({judged.device.id: judged for judged in borrow}.values()),
        {judged.device.id: matched.questions.get(judged.device.id, ()) for judged in borrow},
        tuple(_cards(case)),
        tuple(_simpler(case, matched, controls, borrow)),
        visit,
        reckoned,
        order_of(plan, bool(tires(matched.client)), n_driven, case.weight_shift),
    )


def _controls(case: Case, matched: Match, where: Where) -> Iterator[Control]:
    methods = {method.id: method for method in case.trial.methods}
    named = case.trial.plan.methods
    known = {*methods, *matched.devices}
    if unknown := [at for at, name in enumerate(named) if name not in known]:
        raise UserError(
            Problem(
                where("trial", "plan", "methods", at),
                f"'{named[at]}' is no method of the trial and no device of {matched.shelf.name}",
                did_you_mean(named[at], known),
            )
            for at in unknown
        )
    for letter, name in zip(LETTERS, dict.fromkeys(named), strict=False):
        method = methods.get(name) or next((m for m in case.trial.methods if m.device == name), None)
        device = methods[name].device if name in methods else name
        judged = matched.devices.get(device) if device else None
        called = methods[name].name if name in methods else matched.devices[name].device.name
        kind = None if judged else kind_of_method(case, name)
        of_kind = [other for other in matched.devices.values() if other.device.kind == kind]
        yield Control(letter, name, called, method, judged, tuple(filter(_apart, of_kind)), len(of_kind))


def _cards(case: Case) -> Iterator[Card]:
    """The tasks of the trial; where none is recorded, a stop, the tightest places and the client's goals."""
    if case.trial.tasks:
        for task in case.trial.tasks:
            yield Card("stop" if task.shows == "stop" else "task", task.id, task.name, task.rule, None, task.within_m)
        return
    yield Card("stop", None, "stop")
    for of, kind, measure in (("doorway", "doorway", "clear_width_mm"), ("turning", "turning", "turning_mm")):
        if place := _tightest(case, kind, measure):
            yield Card("doorway" if of == "doorway" else "turning", None, place.name, None, getattr(place, measure))
    yield from (Card("goal", None, goal.says) for goal in case.goals)


def _tightest(case: Case, kind: str, measure: str) -> Space | None:
    measured = [space for space in case.spaces if space.kind == kind and getattr(space, measure) is not None]
    return min(measured, key=lambda space: float(getattr(space, measure)), default=None)


def _simpler(case: Case, matched: Match, controls: tuple[Control, ...], borrow: list[Judged]) -> Iterator[Simpler]:
    """Each kind that is simpler than what is compared, or borrowed where nothing is decided, and those set apart."""
    kinds = [_kind_of(case, control) for control in controls] or [judged.device.kind for judged in borrow]
    here = {_kind_of(case, control) for control in controls if control.may_be_driven} if controls else {*kinds}
    for kind in _kinds_to_tell(kinds, here):
        entries = tuple(entry for entry in case.alternatives if entry.kind == kind and _is_known(case, entry))
        offered = tuple(judged for judged in matched.devices.values() if judged.device.kind == kind and _apart(judged))
        if kind in here:
            yield Simpler(kind, "compared" if controls else "borrowed", entries, offered)
        else:
            yield Simpler(kind, _ground(entries, offered), entries, offered)


def _kinds_to_tell(kinds: Collection[str | None], here: Collection[str | None]) -> Iterable[str]:
    """Each kind that stands before the one of `kinds` that stands last in the order of proof, every kind where that of
    a control is not known; then those of `kinds` that are not `here`: they are set apart."""
    places = [_SIMPLER.index(kind) if kind in _SIMPLER else len(_SIMPLER) for kind in kinds]
    apart = [kind for kind in _SIMPLER if kind in kinds and kind not in here]
    return dict.fromkeys((*_SIMPLER[: max(places, default=0)], *apart))


def _kind_of(case: Case, control: Control) -> str | None:
    return control.judged.device.kind if control.judged else kind_of_method(case, control.id)


def _is_known(case: Case, entry: Alternative) -> bool:
    """Whether what rules it out was known on the day of the plan: the outcome of a trial that came later was not."""
    on = case.trial.plan.on
    return not (entry.ruled_out_by == "trial" and on is not None and entry.on is not None and entry.on > on)


def _ground(entries: tuple[Alternative, ...], offered: tuple[Judged, ...]) -> Ground:
    if entries:
        ruled = all(entry.is_ruled_out and entry.reason for entry in entries)
        return "ruled_out" if ruled else "no_ground"
    return "offered" if offered else "untold"


def _apart(judged: Judged) -> bool:
    """Whether a finding rules a device out: a harm without an answer, or a site that does not move."""
    return judged.stage == "harm" or (judged.stage == "movement" and judged.movement == "none")


def kind_of_method(case: Case, method: str) -> str | None:
    """The kind of a method, where an alternative of the case tried it."""
    return next((entry.kind for entry in case.alternatives if entry.method == method), None)
