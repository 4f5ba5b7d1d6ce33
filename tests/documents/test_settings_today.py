"""Which setting may be used now: one rule over the sheets, from the step of training that the record shows. Places told
a setting that the plan did not give yet."""

from __future__ import annotations

import pytest
from made import assessed
from support import ASSESSED, DEMOS

from docgen.documents.supervised import barred_settings, settings_waiting
from docgen.evidence.training import stage_now
from docgen.packet.trees import trees
from docgen.packet.wording import wording

SAYS = {"en": ('Use "{}" ', 'Do not use "{}" yet.'), "es": ('Use "{}" ', 'Todavía no use "{}".')}
TWO = (
    {"id": "slow", "name": "slow", "used": "in sessions until corners", "until_stage": "corners"},
    {"id": "fast", "name": "fast", "used": "at home"},
)


@pytest.mark.parametrize("lang", SAYS)
@pytest.mark.parametrize("name", DEMOS)
def test_no_sheet_gives_a_setting_beyond_the_step_that_is_open(name, lang):
    case = ASSESSED[name].file.case
    now = stage_now(case)
    steps = [profile.until_stage for profile in case.configuration.profiles if profile.until_stage is not None]
    made = trees(ASSESSED[name], ["card", "guide"], wording(lang))
    use, waits = SAYS[lang]
    for profile in case.configuration.profiles:
        is_later = profile.until_stage is None and any(now is None or now <= step for step in steps)
        is_shut = is_later or profile.name in barred_settings(case)
        assert (waits.format(profile.name) in made["guide"].plain()) is is_shut
        assert (use.format(profile.name) in made["guide"].plain()) is not is_shut
        assert f'"{profile.name}"' not in made["card"].plain() or not is_shut


@pytest.mark.parametrize(
    ("stage", "waiting"), [(None, ("fast",)), ("each_way", ("fast",)), ("corners", ("fast",)), ("tight", ())]
)
def test_a_setting_waits_until_the_step_of_the_one_before_it_is_passed(stage, waiting):
    one = assessed(configuration={"profiles": TWO}, training={"stage": stage} if stage else {})
    assert settings_waiting(one.file.case) == waiting
    guide = trees(one, ["guide"])["guide"].plain()
    assert ('Do not use "fast" yet.' in guide) is bool(waiting) and 'Use "slow" in sessions' in guide
