"""The paper trail and the rules of single payers: for each criterion, changes of the whole case and the answer they give."""

from __future__ import annotations

from datetime import date

from whole_case import AUTHORIZED, CAREGIVER_DRIVES, DELIVERED, GONE, ROWS, attempts

YOUNG = ("client.born_on", date(2010, 5, 5))  # 15 on the day of the request
SAID = ("request.payer_says", "2026-05-04, by phone: one is needed.")
REPLACED = ("request.kind", "replacement")
SHORT = ("request.months_needed", 2)
STARTED = ("delivery", {"service_on": date(2026, 8, 20)})
NO_PAPER = (*DELIVERED, ("authorization", {}))
SMALL = [("configuration.items.0.code", "E2312"), ("configuration.items.0.because", ["hand_weak_graded"])]
WEAK_HAND = (
    "findings.+",
    {"id": "hand_weak_graded", "says": "Moves a light stick.", "measure": "pinch 35 g, range 6 mm"},
)
HEADREST = (
    "configuration.items.+",
    {"id": "rest", "name": "headrest", "code": "E0955", "why": "Holds it in transport.", "because": ["head_three_way"]},
)
MISSED_STOPS = ROWS[:16] + [row | {"success": row["task"] != "stop"} for row in attempts("pads", "1" * 24)]

LESSONS = [
    {"date": date(2026, 8, 10), "stage": 3, "task": "left", "success": True},
    {"date": date(2026, 8, 12), "stage": 3, "task": "left", "success": True},
]
TOUCHED = LESSONS[0] | {"success": False, "contacts": 1, "person_contacts": 1}
MISSED = LESSONS[0] | {"task": "stop_word", "success": False}
LATE = LESSONS[0] | {"date": date(2026, 9, 1)}

# criterion -> answer -> records: what the case then holds, the changes, and the rows where they are not those of the whole case
TRAIL = {
    "doubts_answered": {
        "met": [
            ("no doubt", []),
            (
                "a doubt with its answer",
                [
                    ("findings.+", {"id": "reflex_head_turn", "says": "Turning the head moves the arms."}),
                    ("configuration.features.0.answer", "Arms strapped."),
                ],
            ),
        ],
        "cannot_tell": [
            (
                "a doubt without an answer",
                [("findings.+", {"id": "reflex_head_turn", "says": "Turning the head moves the arms."})],
            ),
            ("nothing asked for", [("configuration.features", []), ("configuration.items", [])]),
        ],
    },
    "encounter_documented": {
        "met": [("the whole note", [])],
        "not_met": [
            ("a form", [("encounter.narrative", False)]),
            ("no signature", [("encounter.signed", False)]),
            ("home and outside mixed", [("encounter.separates_home_and_outside", False)]),
        ],
        "cannot_tell": [
            ("no word on how it was held", [("encounter.mode", GONE)]),
            ("nothing of it", [("encounter", {})]),
        ],
    },
    "order_is_complete": {
        "met": [("six elements", [])],
        "not_met": [("no signature", [("order.has", ["client", "items", "quantity", "date", "practitioner"])])],
        "cannot_tell": [("no word on what it holds", [("order.has", GONE)])],
    },
    "same_practitioner": {
        "met": [("one practitioner", [])],
        "not_met": [
            ("another signer", [("order.signed_by", "ot")]),
            ("filled in by the supplier", [("order.completed_by", "atp")]),
        ],
        "cannot_tell": [
            ("no word on who filled it in", [("order.completed_by", GONE)]),
            ("no word on the encounter", [("encounter.by", GONE)]),
        ],
    },
    "signer_may_order": {
        "met": [("a nurse practitioner", [])],
        "not_met": [
            ("a therapist", [("order.signed_by", "ot")]),
            ("another credential", [("people.3.credential", "RN")]),
        ],
        "cannot_tell": [("no signer", [("order.signed_by", GONE)]), ("no credential", [("people.3.credential", GONE)])],
    },
    "order_before_delivery": {
        "met": [
            ("receipt before delivery", DELIVERED),
            ("receipt on the day of delivery", [*DELIVERED, ("order.received_on", date(2026, 8, 3))]),
        ],
        "not_met": [
            ("receipt after delivery", [*DELIVERED, ("order.received_on", date(2026, 8, 4))]),
            ("receipt before it was written", [("order.received_on", date(2026, 4, 9))]),
        ],
        "cannot_tell": [
            ("no day of receipt", [("order.received_on", GONE)]),
            ("no day of the order", [("dates.ordered_on", GONE)]),
        ],
        "does_not_apply": [("no delivery", [])],
    },
    "papers_agree": {
        "met": [("an order of the same codes", []), ("a request of the same codes", AUTHORIZED)],
        "not_met": [
            ("another base on the request", [*AUTHORIZED, ("authorization.codes.0", "K0861")]),
            ("an item that is not ordered", [("order.codes.3", GONE)]),
            ("an item that the case lacks", [("order.codes.+", "E2601")]),
        ],
        "cannot_tell": [
            ("no codes of the order", [("order.codes", GONE)]),
            ("no codes of the request", [*AUTHORIZED, ("authorization.codes", GONE)]),
            ("no base", [("configuration.chair.base_code", GONE)]),
        ],
    },
    "authorization_before_delivery": {
        "met": [("affirmed before delivery", DELIVERED), ("affirmed for a replacement", [*DELIVERED, REPLACED])],
        "not_met": [
            ("not affirmed", [*AUTHORIZED, ("authorization.decision", "not_affirmed")]),
            ("a decision after delivery", [*DELIVERED, ("authorization.decided_on", date(2026, 8, 4))]),
        ],
        "cannot_tell": [
            ("no decision", NO_PAPER),
            ("no tracking number", [*DELIVERED, ("authorization.tracking", GONE)]),
            ("no base", [("configuration.chair.base_code", GONE)]),
            ("no kind of request", [("request.kind", GONE)]),
        ],
        "does_not_apply": [
            ("no delivery", []),
            ("a base on no list", [*DELIVERED, ("configuration.chair.base_code", "K0890")]),
            ("a control alone", [*DELIVERED, ("request.kind", "control_only")]),
        ],
    },
    "authorization_decided_in_time": {
        "met": [
            ("8 working days", AUTHORIZED),
            ("10 working days", [*AUTHORIZED, ("authorization.decided_on", date(2026, 4, 28))]),
        ],
        "not_met": [
            ("11 working days", [*AUTHORIZED, ("authorization.decided_on", date(2026, 4, 29))]),
            ("a decision before the request", [*AUTHORIZED, ("authorization.decided_on", date(2026, 4, 13))]),
        ],
        "cannot_tell": [
            ("no day of the decision", [*AUTHORIZED, ("authorization.decided_on", GONE)]),
            ("a delivery without either", NO_PAPER),
        ],
        "does_not_apply": [("no request for it yet", [])],
    },
    "delivered_in_time": {
        "met": [("delivery in the fourth month", DELIVERED)],
        "not_met": [
            ("delivery a day too late", [*DELIVERED, ("dates.delivered_on", date(2026, 10, 25))]),
            ("delivery before the decision", [*DELIVERED, ("dates.delivered_on", date(2026, 4, 23))]),
        ],
        "cannot_tell": [("no day of the decision", [*DELIVERED, ("authorization.decided_on", GONE)])],
        "does_not_apply": [
            ("no delivery", []),
            ("a base on no list", [*DELIVERED, ("configuration.chair.base_code", "K0891")]),
        ],
    },
    "delivery_proven": {
        "met": [("the client's signature", DELIVERED)],
        "not_met": [
            ("the supplier's signature", [*DELIVERED, ("delivery.signed_by", "supplier")]),
            ("a paper that lists nothing", [*DELIVERED, ("delivery.lists_items", False)]),
            ("another day", [*DELIVERED, ("delivery.signed_on", date(2026, 8, 4))]),
        ],
        "cannot_tell": [("no signature", [*DELIVERED, ("delivery.signed_by", GONE)])],
        "does_not_apply": [("no delivery", [])],
    },
    "papers_kept": {
        "met": [("seven years", DELIVERED)],
        "not_met": [("a day less", [*DELIVERED, ("delivery.keep_until", date(2033, 8, 2))])],
        "cannot_tell": [("no day", [*DELIVERED, ("delivery.keep_until", GONE)])],
        "does_not_apply": [("no delivery", [])],
    },
    "home_report_before_delivery": {
        "met": [
            ("a visit before delivery", DELIVERED),
            ("a visit at delivery", [*DELIVERED, ("dates.home_visit_on", date(2026, 8, 3))]),
        ],
        "not_met": [("a visit after delivery", [*DELIVERED, ("dates.home_visit_on", date(2026, 8, 4))])],
        "cannot_tell": [("no visit", [("dates.home_visit_on", GONE)]), ("no measure", [("spaces", [])])],
        "does_not_apply": [("no delivery", [])],
    },
    "specialist_after_encounter": {
        "met": [("11 days later", []), ("the same day", [("dates.supplier_assessed_on", date(2026, 2, 20))])],
        "not_met": [("a day before", [("dates.supplier_assessed_on", date(2026, 2, 19))])],
        "cannot_tell": [("no encounter", [("dates.encounter_on", GONE)])],
    },
    "specialist_in_person": {
        "met": [("in person, with a record", [])],
        "not_met": [
            ("by video", [("people.1.took_part", "video")]),
            ("on paper", [("people.1.took_part", "on_paper")]),
        ],
        "cannot_tell": [
            ("no word on how", [("people.1.took_part", GONE)]),
            ("no record", [("people.1.own_record", GONE)]),
            ("no specialist", [("people.1.role", "other")]),
        ],
    },
    "specialist_employed": {
        "met": [("an employee", [])],
        "not_met": [("a contract", [("people.1.employment", "contract")])],
        "cannot_tell": [("no word", [("people.1.employment", GONE)]), ("no specialist", [("people.1.role", "other")])],
    },
    "attendant_control_grounds": {
        "met": [("four grounds", CAREGIVER_DRIVES)],
        "not_met": [("a caregiver who is not willing", [*CAREGIVER_DRIVES, ("attendant.willing", False)])],
        "cannot_tell": [
            ("no word on pushing", [*CAREGIVER_DRIVES, ("attendant.cannot_push", GONE)]),
            ("nobody who drives", [("configuration.method", GONE)]),
        ],
        "does_not_apply": [("a client who drives", [])],
    },
    "driver_is_safe": {
        "met": [("a client who drives", []), ("a caregiver who drives", CAREGIVER_DRIVES)],
        "not_met": [
            ("more attempts missed than done", [], ROWS[:16] + attempts("pads", "0001" * 6)),
            ("every stop missed", [], MISSED_STOPS),
            ("a caregiver who is not willing", [*CAREGIVER_DRIVES, ("attendant.willing", False)]),
        ],
        "cannot_tell": [
            ("no rows", [], ROWS[:16]),
            ("no control asked for", [("configuration.method", GONE)]),
            ("no word on how the caregiver drove", [*CAREGIVER_DRIVES, ("attendant.drives_safely", GONE)]),
        ],
    },
    "base_group_fits_diagnosis": {
        "met": [("a neurological condition", []), ("a myopathy", [("diagnoses.0.group", "myopathy")])],
        "not_met": [("another condition", [("diagnoses.0.group", "other")])],
        "cannot_tell": [
            ("no kind of condition", [("diagnoses.0.group", GONE)]),
            ("no base", [("configuration.chair.base_code", GONE)]),
        ],
        "does_not_apply": [("a base of group 2", [("configuration.chair.base_code", "K0835")])],
    },
    "weight_within_class": {
        "met": [("61 kg", []), ("300 lb, as 136.1 kg", [("client.weight_kg", 136.1)])],
        "not_met": [
            ("301 lb", [("client.weight_kg", 136.6)]),
            ("less than the class is for", [("configuration.chair.base_code", "K0858"), ("client.weight_kg", 128.0)]),
        ],
        "cannot_tell": [
            ("no weight", [("client.weight_kg", GONE)]),
            ("no base", [("configuration.chair.base_code", GONE)]),
        ],
    },
    "base_coded": {
        "met": [("a base that was looked up", [])],
        "not_met": [("a base without a code", [("configuration.chair.base_code", "K0899")])],
        "cannot_tell": [
            ("no day", [("order.base_looked_up_on", GONE)]),
            ("no base", [("configuration.chair.base_code", GONE)]),
        ],
    },
    "one_chair": {
        "met": [("one chair", [])],
        "not_met": [("a second chair", [("request.keeps_other_chair", True)])],
        "cannot_tell": [
            ("no word on another", [("request.keeps_other_chair", GONE)]),
            ("no chair of now", [("request.chair_now", GONE)]),
        ],
    },
    "need_lasts": {
        "met": [("60 months", []), ("two months of a condition that stays", [SHORT])],
        "not_met": [("two months of one that passes", [SHORT, ("diagnoses.0.course", "recovering")])],
        "cannot_tell": [
            ("no months", [("request.months_needed", GONE)]),
            ("two months and no course", [SHORT, ("diagnoses.0.course", GONE)]),
        ],
    },
    "need_in_daily_life": {
        "met": [("one at home and one away", []), ("one away alone", [("activities.0", GONE)])],
        "cannot_tell": [("no barrier", [("activities.0.barrier", GONE), ("activities.1.barrier", GONE)])],
    },
    "medicaid_encounter_in_time": {
        "met": [
            ("services on the last day", [("delivery", {"service_on": date(2026, 8, 20)})]),
            ("delivery counts as the start", DELIVERED),
        ],
        "not_met": [
            ("services a day too late", [("delivery", {"service_on": date(2026, 8, 21)})]),
            ("services before the encounter", [("delivery", {"service_on": date(2026, 2, 19)})]),
        ],
        "cannot_tell": [("no encounter", [STARTED, ("dates.encounter_on", GONE)])],
        "does_not_apply": [("no services yet", [])],
    },
    "need_reviewed": {
        "met": [("73 days before", []), ("a year before", [("request.reviewed_on", date(2025, 5, 4))])],
        "not_met": [("a year and a day before", [("request.reviewed_on", date(2025, 5, 3))])],
        "cannot_tell": [("no review", [("request.reviewed_on", GONE)])],
    },
    "local_rules_known": {
        "met": [("rules looked up", [])],
        "cannot_tell": [("no rules", [("request.local_rules", GONE)])],
    },
    "corrects_or_improves": {
        "met": [("what it maintains", [YOUNG, ("request.corrects", "Keeps what moving teaches.")])],
        "cannot_tell": [("no word", [YOUNG]), ("no day of birth", [("client.born_on", GONE)])],
        "does_not_apply": [("an adult", []), ("21 on the day", [("client.born_on", date(2005, 5, 4))])],
    },
    "growth_planned": {
        "met": [
            ("a plan", [YOUNG]),
            (
                "a finding that a feature answers",
                [
                    YOUNG,
                    ("request.growth", GONE),
                    ("findings.+", {"id": "growth_expected", "says": "Grows."}),
                    ("configuration.features.0.because.+", "growth_expected"),
                ],
            ),
        ],
        "cannot_tell": [
            ("no plan", [YOUNG, ("request.growth", GONE)]),
            ("no day of birth", [("client.born_on", GONE)]),
            ("a pediatric base and no plan", [("configuration.chair.base_code", "K0890"), ("request.growth", GONE)]),
        ],
        "does_not_apply": [("an adult", [])],
    },
    "stop_rules_kept": {
        "met": [
            ("lessons without a warning", [*DELIVERED, ("sessions", LESSONS)]),
            (
                "a person touched, and cleared on the next row",
                [*DELIVERED, ("sessions", [TOUCHED, LESSONS[1] | {"cleared_by": "OT, by phone"}])],
            ),
            ("a warning in the last try", [*DELIVERED, ("sessions", [LESSONS[0], TOUCHED])]),
        ],
        "not_met": [
            ("a person touched, and driven on", [*DELIVERED, ("sessions", [TOUCHED, LESSONS[1]])]),
            ("two stops missed, and driven on", [*DELIVERED, ("sessions", [MISSED, MISSED, LESSONS[1]])]),
            (
                "tiredness at the limit, and a next lesson",
                [*DELIVERED, ("sessions", [LESSONS[0] | {"fatigue_after": 8.0}, LESSONS[1]])],
            ),
        ],
        "cannot_tell": [("no lesson recorded", DELIVERED)],
        "does_not_apply": [("no delivery", [])],
    },
    "follow_up_kept": {
        "met": [
            ("a first visit on its day", [*DELIVERED, ("follow_up.0.done_on", date(2026, 8, 17))]),
            ("lessons within the days of grace", [*DELIVERED, ("sessions", LESSONS)]),
        ],
        "not_met": [("lessons until long after the first visit was due", [*DELIVERED, ("sessions", [*LESSONS, LATE])])],
        "cannot_tell": [("no visit planned", [*DELIVERED, ("follow_up", [])])],
        "does_not_apply": [("no delivery", []), ("nothing since delivery", DELIVERED)],
    },
    "record_dated": {
        "met": [("days and authors", []), ("the same, delivered", DELIVERED)],
        "not_met": [
            ("a finding after delivery", [*DELIVERED, ("findings.0.on", date(2026, 8, 4))]),
            ("rows after delivery", [("dates.delivered_on", date(2026, 3, 3))]),
        ],
        "cannot_tell": [
            ("a finding without its day", [("findings.0.on", GONE)]),
            ("a screening without its author", [("limits.0.by", GONE)]),
            ("no finding", [("findings", []), ("configuration.features", []), ("configuration.items", [])]),
        ],
    },
    "packet_whole": {
        "met": [("all parts", [])],
        "not_met": [
            ("an evaluator paid by the supplier", [("people.0.employed_by_supplier", True)]),
            ("an unsigned note", [("encounter.signed", False)]),
        ],
        "cannot_tell": [("no license", [("people.0.license", GONE)]), ("no note", [("encounter", {})])],
    },
    "sources_settled": {
        "met": [("an answer on a replacement", [REPLACED, SAID])],
        "cannot_tell": [
            ("a replacement", [REPLACED]),
            ("a pediatric base", [("configuration.chair.base_code", "K0890")]),
            ("no order before delivery", [*DELIVERED, ("order.received_on", date(2026, 8, 4))]),
        ],
        "does_not_apply": [("a new chair", []), ("a new chair, delivered", DELIVERED)],
    },
    "seating_has_ground": {
        "met": [("skin at risk", [])],
        "cannot_tell": [
            ("another finding", [("configuration.items.4.because", ["head_three_way"])]),
            ("nothing behind it", [("configuration.items.4.because", [])]),
        ],
        "does_not_apply": [("no power seat", [("configuration.items.4", GONE)])],
    },
    "sharing_agreed": {
        "met": [("an aunt who may know", [])],
        "cannot_tell": [("no day", [("people.2.informed_on", GONE)])],
        "does_not_apply": [("nobody to tell", [("people.2", GONE), ("taught", []), ("training", {})])],
    },
    "mounting_plausible": {
        "met": [("three pads", [])],
        "not_met": [("two sides far apart", [("configuration.mounting.1.gap_mm", 45)])],
        "cannot_tell": [("no part", [("configuration.mounting", [])])],
    },
    "settings_within_evidence": {
        "met": [("a slow profile", [])],
        "not_met": [("a speed that the room does not bear", [("spaces.0.clear_ahead_mm", 300)])],
        "cannot_tell": [("no space", [("spaces", [])]), ("no rows", [], ROWS[:16])],
    },
    "driving_shown": {
        "met": [
            ("attempts and stops", []),
            ("one attempt and one stop of many", [], ROWS[:16] + attempts("pads", "1100" + "0000" * 5)),
        ],
        "not_met": [
            ("not one stop done", [], MISSED_STOPS),
            ("not one attempt done", [], ROWS[:16] + attempts("pads", "0" * 24)),
        ],
        "cannot_tell": [
            ("no rows", [], ROWS[:16]),
            ("no control asked for", [("configuration.method", GONE)]),
            ("no task that shows a stop", [("trial.tasks.1.shows", "steer")]),
        ],
        "does_not_apply": [("a caregiver who drives", CAREGIVER_DRIVES)],
    },
    "overlap_explained": {
        "met": [("a connection with its reason", []), ("a headrest beside the array, with its reason", [HEADREST])],
        "cannot_tell": [
            ("a connection without a reason", [("configuration.items.5.why", GONE)]),
            ("a connection without a finding", [("configuration.items.5.features", [])]),
            ("a headrest beside the array without a finding", [HEADREST, ("configuration.items.6.because", [])]),
        ],
        "does_not_apply": [("no connection", [("configuration.items.5", GONE)])],
    },
    "leisure_left_out": {
        "met": [
            ("no line for leisure", []),
            ("a purpose that only sounds like it", [("configuration.items.3.purpose", "transport in the van")]),
        ],
        "not_met": [
            ("fishing", [("configuration.items.3.purpose", "for fishing from the bank")]),
            ("sports", [("configuration.items.0.purpose", "Mainly wheelchair sports.")]),
        ],
        "cannot_tell": [("a line without a reason", [("configuration.items.0.why", GONE)])],
    },
    "small_joystick_measured": {
        "met": [("a force and a travel", [WEAK_HAND, *SMALL])],
        "cannot_tell": [
            ("no travel", [WEAK_HAND, *SMALL, ("findings.3.measure", "pinch 35 g")]),
            ("no force", [WEAK_HAND, *SMALL, ("findings.3.measure", "6 mm")]),
            ("no measure", [WEAK_HAND, *SMALL, ("findings.3.measure", GONE)]),
            ("a measure of something else", [SMALL[0], ("configuration.items.0.because", ["pressure_risk"])]),
        ],
        "does_not_apply": [("a head array", [])],
    },
    "told_only_what_bears": {
        "met": [
            ("one diagnosis, of the nerves", []),
            ("a pressure injury", [("diagnoses.+", {"code": "L89.153", "name": "pressure ulcer"})]),
            (
                "a disease of the skin that the record names as a ground",
                [
                    ("diagnoses.+", {"code": "L40.0", "name": "plaque psoriasis"}),
                    ("diagnoses.1.name", "skin that tears"),
                    ("findings.0.says", "Skin that tears under any pad."),
                ],
            ),
            ("a shoulder that droops", [("client.function", "Depression of the left shoulder.")]),
        ],
        "not_met": [
            ("a disease of the skin", [("diagnoses.+", {"code": "L20.9", "name": "atopic dermatitis"})]),
            ("use of a drug", [("diagnoses.+", {"code": "F11.21", "name": "opioid dependence, in remission"})]),
            ("a sentence on it", [("client.day", "Up at seven; an old note on substance use.")]),
            ("the same in a finding", [("findings.0.says", "Eczema behind both ears.")]),
        ],
        "cannot_tell": [("neither diagnosis nor function", [("diagnoses", []), ("client.function", GONE)])],
    },
    "history_told": {
        "met": [("the whole history", [])],
        "cannot_tell": [
            ("no diagnosis", [("diagnoses", [])]),
            ("no course", [("diagnoses.0.course", GONE)]),
            ("no function", [("client.function", GONE)]),
            ("nothing tried", [("alternatives", [])]),
        ],
    },
}
# claims of the form "this is recorded": nothing recorded can contradict them
TRAIL_ONLY_RECORDED = {
    "doubts_answered",
    "need_in_daily_life",
    "local_rules_known",
    "corrects_or_improves",
    "growth_planned",
    "sources_settled",
    "seating_has_ground",
    "sharing_agreed",
    "history_told",
    "overlap_explained",
    "small_joystick_measured",
}
# criteria that the whole case meets only once more is recorded: a delivery, a start of services, a young client
LATER = {
    name
    for name, answers in TRAIL.items()
    if not any(changes == [] and not rows for _, changes, *rows in answers["met"])
}
