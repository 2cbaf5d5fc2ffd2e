"""Where a name is declared and used, in its own file and in those that follow it; renaming.

Names are found by their words and not by the tree, so that they are found in lines that
cannot be read yet. ``with yarn = moss`` in a ``follow`` names ``yarn`` of the followed file
and ``moss`` of this one; ``with yarn`` names both; ``alum.alum-bath`` is the bath of the
file that the step ``alum`` follows.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

from procedure.findings import Edit
from procedure.language import Token
from procedure.language.called import Called
from procedure.language.one_line import LONGEST_NAME
from procedure.language.words import reserved
from procedure.quantity.record import NamedTuple
from procedure.service.desk import Desk
from procedure.service.spots import Spot, head_of, spots
from procedure.vocabulary import vocabulary

_NAME = re.compile(r"[^\W\d_][^\W_]*(?:['’-][^\W_]+)*")


class Use(NamedTuple):
    """A place where a name is. ``declares`` holds where it is declared or made there.

    ``given`` is what a ``with`` hands over under the same name, so that a new name on one
    side has to say both.
    """

    file: Path
    line: int
    column: int
    to: int
    declares: bool = False
    given: str = ""


class CannotRename(ValueError):
    """A name that cannot be changed so; its text is one plain sentence."""


class Follow(NamedTuple):
    """A ``follow``: its label ('' for none), the file that it names, and its words."""

    label: str
    file: Path | None
    tokens: tuple[Token, ...]


def name_at(desk: Desk, file: Path, line: int, column: int) -> tuple[Path, str] | None:
    """The name at a place, with the file that it belongs to; None where there is no name."""
    for one in _uses_in(desk, file):
        owner, name, use = one
        if use.line == line and use.column <= column <= use.to:
            return owner, name
    return None


def uses(desk: Desk, owner: Path, name: str) -> tuple[Use, ...]:
    """Every place of a name of a file, in its collection, declarations first."""
    found = [
        use
        for file in desk.collection(owner)
        for whose, said, use in _uses_in(desk, file)
        if whose == owner and said == name
    ]
    return tuple(sorted(found, key=lambda use: (use.file != owner, not use.declares, use)))


def declared_at(desk: Desk, file: Path, line: int, column: int) -> tuple[Use, ...]:
    """Where the name at a place is declared or made; the file itself for a ``follow``."""
    found = name_at(desk, file, line, column)
    if found is None:
        follow = _follow_at(desk, file, line, column)
        return (Use(follow, 1, 1, 1, True),) if follow is not None else ()
    owner, name = found
    made = tuple(use for use in uses(desk, owner, name) if use.declares)
    return made or _of_workshop(desk, owner, name)


def rename(desk: Desk, file: Path, line: int, column: int, new: str) -> dict[Path, list[Edit]]:
    """The edits, by file, that give the name at a place another one.

    Raises :class:`CannotRename` where the new name would mean something else.
    """
    found = name_at(desk, file, line, column)
    if found is None:
        raise CannotRename("There is no name here that could be changed.")
    owner, old = found
    every = uses(desk, owner, old)
    _fit(desk, owner, old, new, every)
    made: dict[Path, list[Edit]] = {}
    for use in every:
        text = new
        if use.given:
            text = f"{new} = {old}" if use.given == "theirs" else f"{old} = {new}"
        made.setdefault(use.file, []).append(Edit(use.line, use.column, use.to, text))
    return made


def _fit(desk: Desk, owner: Path, old: str, new: str, every: tuple[Use, ...]) -> None:
    if not any(use.declares for use in every):
        raise CannotRename(
            f"“{old}” is declared in the workshop file for all its procedures; change it there."
            if _of_workshop(desk, owner, old)
            else f"“{old}” is declared nowhere, so there is nothing to rename."
        )
    if _NAME.fullmatch(new) is None or len(new) > LONGEST_NAME:
        raise CannotRename("A name is letters, digits and hyphens, and begins with a letter.")
    if new in reserved():
        raise CannotRename(f"“{new}” is a word of the language, so nothing can be called that.")
    if new != old and any(who == owner and said == new for who, said, _ in _uses_in(desk, owner)):
        raise CannotRename(f"“{new}” is the name of something else in {owner.name}.")
    for file, follow in _followers(desk, owner):
        shared = _shared(desk, owner, file, old) and not _told(follow, old)
        if shared:
            raise CannotRename(
                f"{file.name} follows {owner.name} and both have “{old}”, which are one for that. "
                f"Say “with {old} = {old}” in the follow there first."
            )


# ------------------------------------------------------------------ the names of one file

Named = tuple[Path, str, Use]


def _uses_in(desk: Desk, file: Path) -> Iterator[Named]:
    """Every name that is in a file, with the file that it belongs to."""
    try:
        text = desk.text(file)
    except (OSError, ValueError):
        return
    every = spots(text)
    follows = {one.label: one.file for one in _follows(desk, file, every) if one.label}
    called = _called(every)
    for line in every:
        if line.section in ("", "procedure") or line.heading:
            continue
        if line.section != "steps":
            first = line.tokens[0] if line.tokens else None
            if first is not None and first.kind == "LABEL":
                yield _label(file, first)
        else:
            yield from _in_steps(desk, file, line, follows, called)


def _called(every: tuple[Spot, ...]) -> Called:
    """The names of a text, by which “dye bath” is found as ``dye-bath``."""
    called = Called()
    for line in every:
        called.declare(line.section, line.tokens)
        if line.section == "steps" and not line.heading:
            if line.tokens and line.tokens[0].kind == "LABEL":
                called.make(line.tokens[0])
            for before, token in pairwise(line.tokens):
                if before.kind == "AS" and token.kind == "NAME":
                    called.make(token)
    return called


def _in_steps(
    desk: Desk, file: Path, line: Spot, follows: dict[str, Path | None], called: Called
) -> Iterator[Named]:
    whole = tuple(called.in_one_word(list(_whole(desk, file, line))))
    verb = head_of(whole)
    callee = _named_file(desk, file, whole)
    for at, token in enumerate(whole):
        if token.line != line.number or _described(token):
            continue
        if token.kind == "LABEL":
            yield _label(file, token)
        elif token.kind == "NAME" and whole[at - 1].kind != "ALLOW" and not _worn(whole, at):
            makes = _makes(verb, whole, at)
            if verb is not None and verb.kind == "FOLLOW" and callee is not None:
                yield from _bound(file, callee, whole, at)
            else:
                yield from _dotted(file, token, follows, makes)


def _described(token: Token) -> bool:
    """True for words that tell what a thing is and not its name, as “cream of tartar”."""
    said = "-".join(token.text.split())
    return token.kind == "NAME" and said.casefold() != token.word.casefold()


def _label(file: Path, token: Token) -> Named:
    name = token.name
    return file, name, Use(file, token.line, token.column, token.column + len(name), True)


def _dotted(
    file: Path, token: Token, follows: dict[str, Path | None], makes: bool
) -> Iterator[Named]:
    """A name, or the names of a chain: each after the first belongs to a followed file."""
    first, _, rest = token.word.partition(".")
    end = token.column + len(first) if rest else token.to
    yield file, first, Use(file, token.line, token.column, end, makes and not rest)
    callee = follows.get(first)
    if rest and callee is not None and "." not in rest:
        yield callee, rest, Use(file, token.line, end + 1, token.to)


def _bound(file: Path, callee: Path, tokens: tuple[Token, ...], i: int) -> Iterator[Named]:
    """A name in the ``with`` of a follow: theirs, ours, or both in one word."""
    token = tokens[i]
    before = tokens[i - 1].kind if i else ""
    after = tokens[i + 1].kind if i + 1 < len(tokens) else ""
    where = Use(file, token.line, token.column, token.to)
    if before == "EQUAL":
        yield file, token.text, where
    elif after == "EQUAL":
        yield callee, token.text, where
    elif before == "AFTER":
        yield file, token.text, where
    else:
        yield file, token.text, where._replace(given="ours")
        yield callee, token.text, where._replace(given="theirs")


def _worn(whole: tuple[Token, ...], at: int) -> bool:
    """True for a word after ``wearing``: what is worn has no name."""
    while at > 0 and whole[at - 1].kind in ("NAME", "COMMA", "AND"):
        at -= 1
    return at > 0 and whole[at - 1].kind == "WEARING"


def _makes(verb: Token | None, whole: tuple[Token, ...], at: int) -> bool:
    """True where a name is made by its step: the parts of a split, what ``as`` names."""
    if verb is None:
        return False
    clause = next((t.kind for t in reversed(whole[:at]) if t.kind in _CLAUSES), "")
    if clause == "AS":
        return True
    known = vocabulary().verbs.get(verb.text)
    if known is not None and known.does.makes_lots:
        return clause == "INTO" and whole[at - 1].kind in ("INTO", "COMMA", "AND")
    return verb.kind == "FOR" and whole[at - 1].kind == "EACH"


_CLAUSES = frozenset(("INTO", "AS", "IN", "WITH", "AT", "TO", "FROM", "OF", "ALLOW", "NOTE"))


def _whole(desk: Desk, file: Path, line: Spot) -> tuple[Token, ...]:
    """All the words of the step that a line belongs to."""
    every = spots(desk.text(file))
    found: list[Token] = []
    for one in every[line.head - 1 :]:
        if one.head != line.head and not one.blank:
            break
        if one.head == line.head:
            found += one.tokens
    return tuple(found)


# ------------------------------------------------------------------ follows


def _follows(desk: Desk, file: Path, every: tuple[Spot, ...]) -> Iterator[Follow]:
    for line in every:
        first = head_of(line.tokens) if line.head == line.number else None
        if first is not None and first.kind == "FOLLOW":
            whole = _whole(desk, file, line)
            label = whole[0].name if whole[0].kind == "LABEL" else ""
            yield Follow(label, _named_file(desk, file, whole), whole)


def _named_file(desk: Desk, file: Path, whole: tuple[Token, ...]) -> Path | None:
    """The file of the collection that a follow names, if it is there."""
    first = head_of(whole)
    at = whole.index(first) + 1 if first is not None and first.kind == "FOLLOW" else len(whole)
    if at >= len(whole) or whole[at].kind != "STRING":
        return None
    said = whole[at].text[1:-1]
    if Path(said).is_absolute() or "\\" in said or ":" in said:
        return None
    try:
        found = (file.parent / said).resolve()
        return found if desk.holds(file, found) else None
    except (OSError, ValueError):
        return None


def _follow_at(desk: Desk, file: Path, line: int, column: int) -> Path | None:
    here = spots(desk.text(file))[line - 1] if line <= len(spots(desk.text(file))) else None
    token = here.at(column) if here is not None else None
    if here is None or token is None or token.kind != "STRING":
        return None
    return _named_file(desk, file, _whole(desk, file, here))


def _followers(desk: Desk, owner: Path) -> Iterator[tuple[Path, Follow]]:
    """The follows between this file and others, both ways, each with the other file."""
    for file in desk.collection(owner):
        try:
            every = spots(desk.text(file))
        except (OSError, ValueError):
            continue
        for follow in _follows(desk, file, every):
            if file == owner and follow.file is not None:
                yield follow.file, follow
            elif follow.file == owner:
                yield file, follow


def _shared(desk: Desk, owner: Path, other: Path, name: str) -> bool:
    """True where both files declare a pot or tool of that name, which makes them one."""
    return all(name in _equipment(desk, one) for one in (owner, other))


def _equipment(desk: Desk, file: Path) -> set[str]:
    return {
        one.tokens[0].name
        for one in spots(desk.text(file))
        if one.section == "equipment" and one.tokens and one.tokens[0].kind == "LABEL"
    }


def _told(follow: Follow, name: str) -> bool:
    return any(token.kind == "NAME" and token.text == name for token in follow.tokens)


# ------------------------------------------------------------------ the workshop


def _of_workshop(desk: Desk, owner: Path, name: str) -> tuple[Use, ...]:
    """Where the workshop file declares a name that a procedure takes from it."""
    plan = desk.plan(owner)
    place = plan.model.brought.get(name)
    if place is None or plan.model.workshop is None:
        return ()
    file = Path(plan.model.workshop.file).resolve()
    return (Use(file, place[0], place[1], place[2], True),)
