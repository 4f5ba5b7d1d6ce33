"""Classes of privacy: what kind of thing a key tells of a person, so that who may read it is decided once.

Each key of the case carries one class beside its name (`base.key`). A document lists the classes its reader may see;
what is made from keys carries the classes of all of them. The split is ours; that no reader is shown more than the
purpose needs is 45 CFR 164.502(b)(1).
"""

from __future__ import annotations

from enum import StrEnum


class Privacy(StrEnum):
    """One class of privacy; its value is the word by which a document's front matter names it."""

    NAME = "name"  # what the client is called
    IDENTITY = "identity"  # date of birth, number with the payer, size and weight
    NARRATIVE = "narrative"  # life, body and wishes in the therapist's words
    DIAGNOSIS = "diagnosis"
    BILLING = "billing"  # a diagnosis as a code alone, as whoever bills has to write it on the claim
    CLINICAL = "clinical"  # findings, screening, and what was concluded from them
    NEED = "need"  # daily activities, help, and why just this is requested
    GOALS = "goals"
    HOME = "home"  # places and their measures
    CARE = "care"  # cautions, travel, who was taught daily care
    SUPERVISION = "supervision"  # who is near while the client drives
    TRIAL = "trial"
    TRAINING = "training"  # lessons, progress, follow-up
    DEVICE = "device"  # the chair and its control: parts, settings, how it works and stops
    ORDER = "order"  # lines of the order, their codes and reasons
    FUNDING = "funding"  # the request and its papers
    DENIAL = "denial"
    CREDENTIALS = "credentials"  # training, license and employment of those who work on the request
    OFFICE = "office"  # how those who work on the request are called and reached at work
    CIRCLE = "circle"  # who is around the client
    CONTACT = "contact"  # how people around the client are reached
    PHOTO = "photo"  # pictures of the client or of the chair, for papers of every day alone
    EMERGENCY = "emergency"  # what a stranger must know to help, shown as far as was consented to
    PRIVATE = "private"  # for no document at all
