"""A setting of a drive profile that was changed after delivery, as keys: which profile, which setting, to what value.

What was changed in words alone is a remark: it is shown as it was written, and no value is read out of it.
"""

from docgen.case.base import Id, Part, Words, key, must
from docgen.case.privacy import Privacy

# setting -> the key of a profile that holds its value, in the unit of that key
VALUE_OF = {
    "forward_speed": "speed_m_s",
    "reverse_speed": "reverse_m_s",
    "turn_speed": "turn_deg_s",
    "latch_timeout": "latch_timeout_s",
}


class Change(Part):
    """One setting of one profile. `to` is None where its value now is not recorded, or no profile holds one."""

    profile: Id = must(Privacy.TRAINING, "id of the profile that was changed", "training")
    setting: Id = must(Privacy.TRAINING, "id of the setting that was changed", "turn_speed")
    to: float | None = key(
        Privacy.TRAINING, "its value now, of a speed in m/s, a turning speed in degrees/s, a time-out in s", 16
    )
    says: Words = must(
        Privacy.TRAINING, "from what to what and by whom, in words", "turn speed 20 to 16 degrees/s, by the supplier"
    )
