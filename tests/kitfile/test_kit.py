"""Finding things by name."""

from __future__ import annotations

import pytest

from leadsman.errors import KitError
from leadsman.kitfile.kit import suggestion
from leadsman.kitfile.template import demo_kit


def test_case_does_not_matter() -> None:
    kit = demo_kit()
    assert kit.lure("BIG-lip-25 ") is kit.lure("big-lip-25")


def test_a_slip_gets_the_nearest_name() -> None:
    with pytest.raises(KitError, match="Perhaps 'fluoro-12' is meant"):
        demo_kit().line("flouro-12")


def test_a_stranger_gets_the_list() -> None:
    with pytest.raises(KitError, match="Use one of long, middle, short"):
        demo_kit().rod("zzz")


def test_nothing_to_choose_from() -> None:
    assert suggestion("a", [], "reel") == "Add a reel to the kit first"
