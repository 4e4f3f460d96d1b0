"""Field paths as a person reads them; the messages themselves are held in test_read."""

from __future__ import annotations

import tomllib

import pytest

from leadsman.kitfile.messages import dotted, toml_error


def test_positions_count_from_one() -> None:
    assert dotted(("angler", "casts", 0, "mass")) == "angler.casts.1.mass"


@pytest.mark.parametrize(
    ("text", "line"), [("a = 1\nb = \n", 2), ("a = 1\n[b\n", 2), ('a = "x', 1), ("a = 1\na = 2", 2)]
)
def test_line_of_what_is_not_toml(text: str, line: int) -> None:
    with pytest.raises(tomllib.TOMLDecodeError) as caught:
        tomllib.loads(text)
    error = toml_error(caught.value, text, "kit.toml")
    assert error.where.line == line
    assert "column" not in error.message
