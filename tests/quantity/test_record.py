"""Records are named tuples in all that a program can see of them."""

from __future__ import annotations

import copy
import pickle
import typing

import pytest

from procedure.quantity.record import NamedTuple


class Ours(NamedTuple):
    """A pot."""

    name: str
    litres: int = 8
    lidded: bool = False

    @property
    def large(self) -> bool:
        """True for a pot of 10 L and more."""
        return self.litres >= 10


class Theirs(typing.NamedTuple):
    """A pot."""

    name: str
    litres: int = 8
    lidded: bool = False

    @property
    def large(self) -> bool:
        """True for a pot of 10 L and more."""
        return self.litres >= 10


def test_a_record_is_made_read_and_changed_as_a_named_tuple_is() -> None:
    tried: list[tuple[tuple[typing.Any, ...], dict[str, typing.Any]]] = [
        (("kettle",), {}),
        (("kettle", 12), {}),
        (("kettle",), {"lidded": True}),
        ((), {"litres": 3, "name": "tub"}),
    ]
    for given, named in tried:
        ours, theirs = Ours(*given, **named), Theirs(*given, **named)
        assert tuple(ours) == tuple(theirs) and hash(ours) == hash(theirs)
        assert (ours.name, ours.litres, ours.lidded) == (theirs.name, theirs.litres, theirs.lidded)
        assert ours.large is theirs.large
        assert ours._asdict() == theirs._asdict()
        assert repr(ours) == repr(theirs).replace("Theirs", "Ours")
        assert tuple(ours._replace(litres=1)) == tuple(theirs._replace(litres=1))
        assert copy.deepcopy(ours) == ours and pickle.loads(pickle.dumps(ours)) == ours
        match ours:
            case Ours(name, litres):
                assert (name, litres) == ours[:2]
    for name in ("_fields", "_field_defaults", "__match_args__", "__doc__"):
        assert getattr(Ours, name) == getattr(Theirs, name)


@pytest.mark.parametrize("made", [Ours, Theirs])
def test_a_record_refuses_what_a_named_tuple_refuses(made: typing.Any) -> None:
    for given, named in (((), {}), (("a", 1, True, 2), {}), (("a",), {"colour": "red"})):
        with pytest.raises(TypeError):
            made(*given, **named)
    with pytest.raises(ValueError, match="unexpected field names"):
        made("a")._replace(colour="red")
    with pytest.raises(AttributeError):
        made("a").name = "b"


def test_a_default_stands_behind_those_without() -> None:
    making: typing.Any = type(NamedTuple)
    space = {"__annotations__": {"a": "int", "b": "int"}, "a": 1}
    with pytest.raises(TypeError):
        making("Bad", (NamedTuple,), space)


class Many(NamedTuple):
    """More fields than any record whose constructor is written out."""

    a: int
    b: int
    c01: int = 1
    c02: int = 2
    c03: int = 3
    c04: int = 4
    c05: int = 5
    c06: int = 6
    c07: int = 7
    c08: int = 8
    c09: int = 9
    c10: int = 10
    c11: int = 11
    c12: int = 12
    c13: int = 13
    c14: int = 14
    c15: int = 15
    c16: int = 16
    c17: int = 17
    c18: int = 18
    c19: int = 19
    c20: int = 20
    c21: int = 21
    c22: int = 22
    c23: int = 23
    c24: int = 24
    c25: int = 25
    c26: int = 26
    c27: int = 27
    c28: int = 28


def test_a_record_of_very_many_fields_is_made_and_refuses_as_the_others() -> None:
    assert tuple(Many(-1, 0)) == tuple(range(-1, 29))
    assert Many(-1, b=0) == Many(b=0, a=-1) == Many(*range(-1, 29))
    assert Many(-1, 0, c28=7).c28 == 7
    making: typing.Any = Many
    for given, named in (
        ((1,), {}),
        ((1, 2), {"a": 3}),
        ((1, 2), {"colour": "red"}),
        (tuple(range(31)), {}),
    ):
        with pytest.raises(TypeError):
            making(*given, **named)
