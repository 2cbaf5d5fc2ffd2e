"""``NamedTuple`` as that of ``typing``, its classes made in a seventh of the time.

A check makes about a hundred such classes before it reads a line. ``typing.NamedTuple``
builds each of them twice and compiles its constructor from text, which was a sixth of a
cold start. Here the constructor of a number of fields is written out once and its arguments
renamed. To a type checker it is ``typing.NamedTuple`` itself, and so it is from Python 3.14 on,
where classes keep their annotations in another way; ``tests/quantity/test_record.py`` holds
the two against each other.
"""

from __future__ import annotations

import sys
from types import FunctionType

# As typing has it: true to a type checker alone. To import typing takes a thirtieth of a check,
# so what it gives is imported under this where a check passes.
TYPE_CHECKING = False

if TYPE_CHECKING or sys.version_info >= (3, 14):
    from typing import NamedTuple as NamedTuple
else:
    from collections import _tuplegetter as place  # what collections.namedtuple uses

    # Constructors of one field, of two, and so on: of all records of a check but one. To compile
    # one from text at each start would take longer than to make six classes.
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
        lambda _, a, b, c, d, e, f, g, h, i, j, k, m, n:
            new(_, (a, b, c, d, e, f, g, h, i, j, k, m, n)),
        lambda _, a, b, c, d, e, f, g, h, i, j, k, m, n, p, q:
            new(_, (a, b, c, d, e, f, g, h, i, j, k, m, n, p, q)),
        lambda _, a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r:
            new(_, (a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r)),
        lambda _, a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r, s:
            new(_, (a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r, s)),
        lambda _, a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r, s, t, u:
            new(_, (a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r, s, t, u)),
        lambda _, a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r, s, t, u, v:
            new(_, (a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r, s, t, u, v)),
        lambda _, a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r, s, t, u, v, w, x, y:
            new(_, (a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r, s, t, u, v, w, x, y)),
        lambda _, a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r, s, t, u, v, w, x, y, z,
            aa, bb, cc, dd, ee:
            new(_, (a, b, c, d, e, f, g, h, i, j, k, m, n, p, q, r, s, t, u, v, w, x, y,
                    z, aa, bb, cc, dd, ee)),
    )
    # fmt: on
    _CODES = {made.__code__.co_argcount - 1: made.__code__ for made in _WRITTEN_OUT}

    def _constructor(record, fields, defaults, annotations):
        """What makes a record of those fields, the last of which may be left to their defaults."""
        written = _CODES.get(len(fields))
        if written is None:
            return _of_any_number(record, fields, defaults)
        code = written.replace(
            co_varnames=("_class", *fields), co_name="__new__", co_qualname=f"{record}.__new__"
        )
        made = FunctionType(code, {"new": new}, "__new__", tuple(defaults.values()))
        made.__annotations__ = annotations
        return made

    def _of_any_number(record, fields, defaults):
        """The same for so many fields as none is written out for."""
        least, usual = len(fields) - len(defaults), tuple(defaults.values())

        def __new__(_class, /, *given, **named):  # noqa: N807 - it is put into a class below
            if not named and least <= len(given) <= len(fields):
                return new(_class, given + usual[len(given) - least :])
            values = defaults | dict(zip(fields, given, strict=False)) | named
            twice = not named.keys().isdisjoint(fields[: len(given)])
            if twice or len(given) > len(fields) or values.keys() != set(fields):
                raise TypeError(f"{record} has the fields {', '.join(fields)}.")
            return new(_class, [values[field] for field in fields])

        return __new__

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
            annotations = space.get("__annotations__", {})
            make = _constructor(name, fields, defaults, annotations)
            space |= {field: place(at, "") for at, field in enumerate(fields)}
            space |= {"__new__": make, "__slots__": (), "__match_args__": fields}
            space |= {"_fields": fields, "_field_defaults": defaults}
            space["_places"] = {field: at for at, field in enumerate(fields)}
            return type(name, (_Record,), space)

    class NamedTuple(metaclass=_Making):
        """A record of named fields, as ``typing.NamedTuple``."""
