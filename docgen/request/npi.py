"""The check digit of a National Provider Identifier (45 CFR 162.406(a))."""

_PREFIX = "80840"  # health applications, United States: the digits before each identifier when its check digit is made


def is_npi(text: str) -> bool:
    """Whether ten digits end in the check digit of the Luhn formula over the prefix and the first nine."""
    if len(text) != 10 or not (text.isascii() and text.isdigit()):
        return False
    total = 0
    for place, digit in enumerate(reversed(_PREFIX + text)):
        doubled = int(digit) * (1 + place % 2)
        total += doubled // 10 + doubled % 10
    return total % 10 == 0
