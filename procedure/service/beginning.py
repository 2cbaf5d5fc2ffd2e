"""The first text of a procedure: from a few questions, from a recipe in words, or an empty form."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from procedure.quantity.record import NamedTuple

FIELDS = ("title", "fibre", "dye", "mordant", "recipe")
Words = Mapping[str, str]


class CannotBegin(ValueError):
    """There is no first text for what was answered; a plain sentence says why."""


class Begun(NamedTuple):
    """A first text, and what is to be said of it ('' where nothing is)."""

    text: str
    said: str = ""


def begun(way: str, words: Words) -> Begun:
    """The first text; ``way`` is questions, recipe or blank, ``words`` has the :data:`FIELDS`.

    Raises :class:`CannotBegin`.
    """
    make = _WAYS.get(way)
    if make is None:
        raise CannotBegin(f"There is no way to begin called “{way[:40]}”.")
    return make(words)


def _from_questions(words: Words) -> Begun:
    from datetime import date

    from procedure.start import NoMethod, Wish, made
    from procedure.start.fibre_answers import fibre_of
    from procedure.start.first_answers import dye_of, mordant_of, none_of, plain
    from procedure.start.wish import NotUnderstood

    try:
        fibre = fibre_of(words["fibre"])
        mordant = words["mordant"]
        asked = Wish(
            title=plain(words["title"]),
            fibre=fibre.entry,
            form=fibre.form,
            weight=fibre.grams,
            amount=fibre.amount,
            dye=dye_of(words["dye"]),
            mordant=None if not mordant or none_of(mordant) else mordant_of(mordant),
            day=date.today().isoformat(),
            scoured=fibre.scoured,
        )
        return Begun(made(asked))
    except (NoMethod, NotUnderstood) as reason:
        raise CannotBegin(str(reason)) from None


def _from_recipe(words: Words) -> Begun:
    from procedure.draft import NotProse, drafted
    from procedure.draft.dangers import dangers
    from procedure.draft.showing import with_harms
    from procedure.pipeline import read
    from procedure.start.first_answers import plain

    try:
        draft = drafted(words["recipe"])
    except NotProse as reason:
        raise CannotBegin(str(reason)) from None
    not_all = draft.left or draft.partly or draft.not_at_all
    said = (
        f"Sentences understood: {draft.understood}, partly: {draft.partly}, not at all: "
        f"{draft.not_at_all}. Look through every line that begins with #."
    )
    harms = dangers(draft, read(draft.text, "the draft"))
    if harms:
        said += " Some of it can hurt, and only comments tell of it: see the end of the text."
    text = with_harms(draft.text, draft, harms)
    text = text.replace(_title_of(text), f'procedure "{plain(words["title"])}"', 1)
    return Begun(
        text, said if not_all or harms else "Every sentence was understood; look through it all."
    )


def _title_of(text: str) -> str:
    return next((line for line in text.split("\n") if line.startswith("procedure ")), "\0")


def _blank(words: Words) -> Begun:
    from procedure.start import blank
    from procedure.start.first_answers import plain

    return Begun(blank(plain(words["title"])))


_WAYS: Mapping[str, Callable[[Words], Begun]] = {
    "questions": _from_questions,
    "recipe": _from_recipe,
    "blank": _blank,
}
