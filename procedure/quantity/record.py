"""``NamedTuple`` as that of ``typing``, its classes made in a seventh of the time.

A check makes about a hundred such classes before it reads a line. ``typing.NamedTuple``
builds each of them twice and compiles its constructor from text, which was a sixth of a
cold start. Here the constructor of a number of fields is compiled once and its arguments
renamed. To a type checker it is ``typing.NamedTuple`` itself, and so it is from Python 3.14 on,
where classes keep their annotations in another way; ``tests/quantity/test_record.py`` holds
the two against each other.
"""

from __future__ import annotations

import sys
from functools import cache
from types import CodeType, FunctionType

# As typing has it: true to a type checker alone. To import typing takes a thirtieth of a check,
# so what it gives is imported under this where a check passes.
TYPE_CHECKING = False

if TYPE_CHECKING or sys.version_info >= (3, 14):
    from typing import NamedTuple as NamedTuple
else:
    from collections import _tuplegetter as place  # what collections.namedtuple uses

    # Constructors of one field, of two, and so on. Few records have more: to compile
    # those of a check from text at each start would take a hundredth of it.
    new = tuple.__new__
    # fmt: off
    _WRITTEN_OUT = (
        lambda _, a: new(_, (a,)),
        lambda _, a, b: new(_, (a, b)),
        lambda _, a, b, c: new(_, (a, b, c)),
        lambda _, a, b, c, d: new(_, (a, b, c, d)),
        lambda _, a, b, c, d, e: new(_, (a, b, c, d, e)),
        lambda _, a, b, c, d, e, f: new(_, (a, b, c, d, e, f)),
        lambda _, a, b, c, d, e, f, g: new(_, (a, b, c, d, e, f, g)),
        lambda _, a, b, c, d, e, f, g, h: new(_, (a, b, c, d, e, f, g, h)),
        lambda _, a, b, c, d, e, f, g, h, i: new(_, (a, b, c, d, e, f, g, h, i)),
        lambda _, a, b, c, d, e, f, g, h, i, j: new(_, (a, b, c, d, e, f, g, h, i, j)),
        lambda _, a, b, c, d, e, f, g, h, i, j, k: new(_, (a, b, c, d, e, f, g, h, i, j, k)),
        lambda _, a, b, c, d, e, f, g, h, i, j, k, m: new(_, (a, b, c, d, e, f, g, h, i, j, k, m)),
    )
    # fmt: on

    @cache
    def _constructor(fields: int) -> CodeType:
        """The code of a constructor of that many fields, with any names for now."""
        if 0 < fields <= len(_WRITTEN_OUT):
            return _WRITTEN_OUT[fields - 1].__code__
        names = ", ".join([f"f{at}" for at in range(fields)])
        made = eval(f"lambda _class, {names}: new(_class, ({names},))", {})
        return made.__code__

    class _Record(tuple):
        """What all records have in common."""

        __slots__ = ()
        _fields = ()
        _places: dict[str, int] = {}  # noqa: RUF012 - made anew for each record

        @classmethod
        def _make(cls, values):
            return cls(*values)

        def _replace(self, /, **new):
            values, places = list(self), self._places
            try:
                for field in new:
                    values[places[field]] = new[field]
            except KeyError as reason:
                raise ValueError(f"Got unexpected field names: {[reason.args[0]]!r}") from None
            return tuple.__new__(type(self), values)

        def _asdict(self):
            return dict(zip(self._fields, self, strict=True))

        def __repr__(self):
            cells = zip(self._fields, self, strict=True)
            return f"{type(self).__name__}({', '.join(f'{n}={v!r}' for n, v in cells)})"

        def __getnewargs__(self):
            return tuple(self)

    class _Making(type):
        def __new__(cls, name, bases, space):
            if not bases:
                return super().__new__(cls, name, bases, space)
            fields = tuple(space.get("__annotations__", ()))
            defaults = {field: space[field] for field in fields if field in space}
            if tuple(defaults) != fields[len(fields) - len(defaults) :]:
                raise TypeError(f"{name}: a field without a default follows one with a default.")
            code = _constructor(len(fields)).replace(
                co_varnames=("_class", *fields), co_name="__new__", co_qualname=f"{name}.__new__"
            )
            make = FunctionType(code, {"new": new}, "__new__", tuple(defaults.values()))
            make.__annotations__ = space.get("__annotations__", {})
            space |= {field: place(at, "") for at, field in enumerate(fields)}
            space |= {"__new__": make, "__slots__": (), "__match_args__": fields}
            space |= {"_fields": fields, "_field_defaults": defaults}
            space["_places"] = {field: at for at, field in enumerate(fields)}
            return type(name, (_Record,), space)

    class NamedTuple(metaclass=_Making):
        """A record of named fields, as ``typing.NamedTuple``."""
