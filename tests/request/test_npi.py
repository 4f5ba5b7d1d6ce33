"""The check digit of an NPI."""

import pytest

from docgen.request.npi import is_npi


# "Requirements for National Provider Identifier (NPI) and NPI Check Digit", CMS 2004: its worked example is 123456789
# with check digit 3; the others follow from the Luhn formula (ISO/IEC 7812-1) by hand
@pytest.mark.parametrize("number", ["1234567893", "1245319599", "1003000126"])
def test_a_number_with_its_check_digit_is_one(number):
    assert is_npi(number)


@pytest.mark.parametrize(
    "wrong", ["1234567890", "2134567893", "123456789", "12345678933", "12345 6789", "", "１２３４５６７８９３"]
)
def test_any_other_is_none(wrong):
    assert not is_npi(wrong)


def test_each_slip_of_one_digit_is_seen():
    number = "1234567893"
    slips = [
        number[:at] + digit + number[at + 1 :] for at in range(10) for digit in "0123456789" if digit != number[at]
    ]
    assert not [slip for slip in slips if is_npi(slip)]
