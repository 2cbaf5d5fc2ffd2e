"""The commonest arguments of ``check``, read without argparse, mean what it makes of them."""

from __future__ import annotations

import argparse

import pytest

from procedure.command.check import add_arguments, asked_plainly

PLAIN = (
    ["a.dye"],
    ["a.dye", "b", "c.dye"],
    ["--format", "gnu", "a.dye"],
    ["a.dye", "b.dye", "--format", "json", "--at-least", "note"],
    ["--no-cache", "--at-least", "error", "a.dye"],
    ["--format", "gnu", "--format", "text", "a.dye"],
)
NOT_PLAIN: tuple[list[str], ...] = (
    [],
    ["--no-cache"],
    ["-"],
    [""],
    ["--", "a.dye"],
    ["--format", "gnu"],
    ["--format", "nothing", "a.dye"],
    ["--format"],
    ["--form", "gnu", "a.dye"],
    ["--format=gnu", "a.dye"],
    ["a.dye", "--format", "gnu", "b.dye"],
    ["a.dye", "--no-cache", "b.dye"],
    ["--mend", "a.dye"],
    ["--units", "us", "a.dye"],
    ["--help"],
)


@pytest.mark.parametrize("given", PLAIN, ids=" ".join)
def test_it_is_what_argparse_makes_of_it(given: list[str]) -> None:
    parser = argparse.ArgumentParser()
    add_arguments(parser)
    asked = asked_plainly(given)
    assert asked is not None
    assert vars(asked) == vars(parser.parse_args(given))


@pytest.mark.parametrize("given", NOT_PLAIN, ids=" ".join)
def test_the_rest_is_left_to_argparse(given: list[str]) -> None:
    assert asked_plainly(given) is None
