"""How impossible tackle is refused."""

from __future__ import annotations

import pytest

from leadsman.dimensions import LENGTH
from leadsman.errors import KitError
from leadsman.tackle.checks import check_between, check_name


def test_message_speaks_in_the_unit_of_the_field() -> None:
    with pytest.raises(KitError) as caught:
        check_between(7.5, 0.9, 4.6, "length", LENGTH, "ft")
    assert caught.value.message == (
        "length: length of 24.61 ft is outside 2.953 to 15.09 ft. Check the number and its unit."
    )


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 0.0])
def test_not_numbers_are_refused(value: float) -> None:
    with pytest.raises(KitError):
        check_between(value, 0.9, 4.6, "length", LENGTH, "ft")


@pytest.mark.parametrize("name", ["", " a", "a\tb", "x" * 61, "\x1b[31m"])
def test_names_must_be_typeable(name: str) -> None:
    with pytest.raises(KitError):
        check_name(name, "lure")
