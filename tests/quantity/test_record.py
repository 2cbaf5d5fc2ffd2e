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
