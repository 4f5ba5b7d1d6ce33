"""A case: everything recorded about one client, in the order a therapist works."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any, Literal

from pydantic import ModelWrapValidatorHandler, PrivateAttr, model_validator

from docgen.case.asked import Configuration
from docgen.case.awaited import Awaited
from docgen.case.base import CaseId, Part, key, many, must, part
from docgen.case.confirmed import Confirmed
from docgen.case.emergency import Accepted, Emergency, NamedCondition
from docgen.case.fitted import Fitted, FittedSetting
from docgen.case.forgiving import forgiven
from docgen.case.left_out import LeftOut
from docgen.case.lines import KeyPath
from docgen.case.need import Activity, Finding, Goal, HelpADay, Limit, Need, Space, WeightShift
from docgen.case.own_words import Letter
from docgen.case.paper import Attendant, Authorization, Delivery, Denial, Encounter, Order, OutsideRecord
from docgen.case.photos import Photo
from docgen.case.placeholder import without_placeholders
from docgen.case.privacy import Privacy
from docgen.case.record import Row
from docgen.case.session import SessionRow
from docgen.case.sheets import Sheets
from docgen.case.short_form import written_out
from docgen.case.sitting import Sitting
from docgen.case.supervision import Supervision
from docgen.case.totals import DayTotal, Tried
from docgen.case.training import Caution, FollowUp, Lesson, Taught, ToTeach
from docgen.case.transport import Transport
from docgen.case.tried import Alternative, Method, Trial
from docgen.case.who import Client, Dates, Diagnosis, Person, Request, Visit


class Case(Part):
    """One client, one request. The rows come from the CSV file, everything else from case.toml."""

    format: Literal["docgen case 2", "docgen case 1"] = must(Privacy.FUNDING, "format of this file", "docgen case 2")
    id: CaseId = must(Privacy.FUNDING, "id of the case, the same as its folder", "robin-example")
    invented: bool = key(Privacy.FUNDING, "whether this is a made-up person", True, default=False)
    # who
    request: Request = part("the request", Request)
    client: Client = part("the client", Client)
    diagnoses: tuple[Diagnosis, ...] = many("diagnoses")
    conditions: tuple[NamedCondition, ...] = many("conditions, and answers to what is asked of them")
    people: tuple[Person, ...] = many("people")
    dates: Dates = part("dates", Dates)
    visits: tuple[Visit, ...] = many("visits: the day and the clinician of what is recorded there")
    # why
    limits: tuple[Limit, ...] = many("screening for deficits")
    findings: tuple[Finding, ...] = many("findings")
    activities: tuple[Activity, ...] = many("activities")
    counts: tuple[Need, ...] = many("counts of help a day")
    help_a_day: HelpADay = part("all help in a day, where it was counted as a whole", HelpADay)
    goals: tuple[Goal, ...] = many("goals")
    # where
    spaces: tuple[Space, ...] = many("spaces")
    transport: Transport = part("transport", Transport)
    weight_shift: WeightShift = part("the weight shift", WeightShift)
    supervision: tuple[Supervision, ...] = many("supervision")
    # what was ruled out, what was tried, what is requested
    alternatives: tuple[Alternative, ...] = many("alternatives, simplest first")
    trial: Trial = part("the trial", Trial)
    configuration: Configuration = part("what is requested", Configuration)
    left_out: tuple[LeftOut, ...] = many("what somebody asked for and is not requested")
    # the paper trail
    outside_records: tuple[OutsideRecord, ...] = many("records that others wrote and the request rests on")
    encounter: Encounter = part("the encounter", Encounter)
    order: Order = part("the order", Order)
    authorization: Authorization = part("prior authorization", Authorization)
    denial: Denial = part("a denial", Denial)
    delivery: Delivery = part("delivery", Delivery)
    attendant: Attendant = part("a caregiver who drives instead", Attendant)
    # what is still open
    awaited: tuple[Awaited, ...] = many("what somebody has still to answer, and whether the request waits for it")
    # what looks like a slip and is none
    confirmed: tuple[Confirmed, ...] = many("unusual values that were checked again and are right")
    # the letter, where the rest of the case cannot say it
    letter: Letter = part("the therapist's own words for the letter, printed at the head of each section", Letter)
    # living with it
    sitting: Sitting = part("how the client sits, and how the seat moves", Sitting)
    emergency: Emergency = part("the emergency page", Emergency)
    cautions: tuple[Caution, ...] = many("cautions particular to this client")
    fitted: tuple[Fitted, ...] = many("the parts as fitted on the delivered chair")
    fitted_settings: tuple[FittedSetting, ...] = many("settings of the profiles as fitted on the delivered chair")
    taught: tuple[Taught, ...] = many("who was taught")
    to_teach: tuple[ToTeach, ...] = many("who has still to be taught, and when that is planned")
    photos: tuple[Photo, ...] = many("photos in place of drawings, in papers for daily use", 4)
    sheets: Sheets = part("the printed sheets for daily use", Sheets)
    training: Lesson = part("training", Lesson)
    follow_up: tuple[FollowUp, ...] = many("follow-up")

    # the rows are read and checked by rows.py, which knows their lines; here they only travel along
    _records: tuple[Row, ...] = PrivateAttr(default=())
    _totals: tuple[DayTotal, ...] = PrivateAttr(default=())
    _sessions: tuple[SessionRow, ...] = PrivateAttr(default=())
    _accepted: tuple[Accepted, ...] = PrivateAttr(default=())  # of the clinic, one file for all its cases
    _placeholders: tuple[KeyPath, ...] = PrivateAttr(default=())

    @model_validator(mode="wrap")
    @classmethod
    def _without_placeholders(cls, raw: Any, validated: ModelWrapValidatorHandler[Case]) -> Case:
        """A word that only keeps a place is not recorded; where it stood is kept for those who are to fill it in."""
        if not isinstance(raw, Mapping):
            return validated(raw)
        cleaned, stood = without_placeholders(written_out(forgiven(raw, cls), cls), cls)
        case = validated(cleaned)
        case._placeholders = stood
        return case

    @property
    def as_fitted(self) -> Case:
        """The same case with the gaps and angles of its parts as fitted on the delivered chair, where that is recorded;
        for whoever uses that chair."""
        of_part = {entry.mount: entry for entry in self.fitted}
        mounting = tuple(
            mount.model_copy(
                update={
                    name: value
                    for name in ("gap_mm", "angle_deg")
                    if (value := getattr(of_part[mount.id], name)) is not None
                }
            )
            if mount.id in of_part
            else mount
            for mount in self.configuration.mounting
        )
        if mounting == self.configuration.mounting:
            return self
        return self.model_copy(update={"configuration": self.configuration.model_copy(update={"mounting": mounting})})

    def _beside(self, name: str) -> tuple[Any, ...]:
        """What travels along with the keys; by the name alone, pydantic would take ten times as long to give it."""
        beside: dict[str, tuple[Any, ...]] = self.__pydantic_private__ or {}
        return beside[name]

    @property
    def placeholders(self) -> tuple[KeyPath, ...]:
        """Where a word stood that only keeps a place, such as "tbd"."""
        return self._beside("_placeholders")

    @property
    def records(self) -> tuple[Row, ...]:
        """Raw rows of the trial, in the order of the file."""
        return self._beside("_records")

    @property
    def totals(self) -> tuple[DayTotal, ...]:
        """Day totals of the trial, in the order of their file."""
        return self._beside("_totals")

    @property
    def tried(self) -> tuple[Tried, ...]:
        """All that counts attempts of the trial: its rows, then its day totals."""
        return (*self.records, *self.totals)

    @property
    def requested_method(self) -> Method | None:
        """The method of the trial that is requested; None where none is named."""
        return next((method for method in self.trial.methods if method.id == self.configuration.method), None)

    @property
    def on_call(self) -> tuple[str, ...]:
        """Ids of the people who are called where nobody stands at the chair, each once."""
        called = (name for place in self.supervision if place.level == "on_call" for name in place.who)
        return tuple(dict.fromkeys(called))

    @property
    def sessions(self) -> tuple[SessionRow, ...]:
        """Raw rows of training after delivery, in the order of the file."""
        return self._beside("_sessions")

    @property
    def accepted(self) -> tuple[Accepted, ...]:
        """Rows of conditions that the clinic has accepted, for all its cases."""
        return self._beside("_accepted")

    def with_accepted(self, rows: tuple[Accepted, ...]) -> Case:
        """The same case with these rows accepted by the clinic."""
        case = self.model_copy()
        case._accepted = rows
        return case

    def with_records(self, rows: tuple[Row, ...]) -> Case:
        """The same case with these rows of the trial."""
        case = self.model_copy()
        case._records = rows
        return case

    def with_totals(self, totals: tuple[DayTotal, ...]) -> Case:
        """The same case with these day totals of the trial."""
        case = self.model_copy()
        case._totals = totals
        return case

    def with_sessions(self, rows: tuple[SessionRow, ...]) -> Case:
        """The same case with these rows of training."""
        case = self.model_copy()
        case._sessions = rows
        return case

    def is_confirmed(self, name: str, *values: float | date) -> bool:
        """Whether each of these values of a key or column was looked up again and stands."""
        entries = [entry for entry in self.confirmed if entry.of == name]
        return bool(entries) and all(any(entry.covers(value) for entry in entries) for value in values)

    def person(self, person_id: str | None) -> Person | None:
        """The person with this id, or None."""
        return next((p for p in self.people if p.id == person_id), None)

    def called_by_relation(self, person_id: str) -> str:
        """Who the person with this id is to the client; the id where nobody has it."""
        person = self.person(person_id)
        return person.called_by_relation if person else person_id

    def with_role(self, role: str) -> tuple[Person, ...]:
        """Everyone with this role, in the order written."""
        return tuple(p for p in self.people if p.role == role)
