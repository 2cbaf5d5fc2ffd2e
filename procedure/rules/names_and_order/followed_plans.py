"""Plans: procedures that follow other procedures, and what they are told."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Study
from procedure.findings import Several, Word, plainly_said, say
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, from_slip, rule

FAMILY = "plans"
REFERENCE = "the language reference"


@rule("cannot-follow", level="error", family=FAMILY, source=REFERENCE)
def cannot_follow(study: Study) -> Iterator[Found]:
    """A procedure that is followed and cannot be found or read.

    What it would do is not known, so nothing after it is sure. Only files of the same
    collection can be followed: others may be gone, or different, at the reader's.

    Trips:
        follow "no-such-file.dye" with yarn
    Cure:
        follow "wet-wool.dye" with yarn, tub

        # saved as: wet-wool.dye
        steps
          wet out yarn in tub with water 5 L for 1 h
    """
    said = {
        "missing": ("There is no file “{name}”.", "Look at its name and folder."),
        "outside": (
            "“{name}” is outside this collection, and only its own files can be followed.",
            "Copy it into the collection; a file vatwright.toml marks the collection's folder.",
        ),
        "absolute": (
            "“{name}” is not a path inside this collection.",
            "Write it from this file's folder, with forward slashes.",
        ),
        "unreadable": ("“{name}” cannot be read as text.", "Save it as UTF-8 text."),
        "nowhere": (
            "“{name}” cannot be looked for, because this text is not in a file.",
            "Save the text as a file beside it.",
        ),
    }
    for kind, (sentence, remedy) in said.items():
        for slip in study.slips(f"follow {kind}"):
            yield from_slip(study, slip, say(sentence, name=slip.name.text), remedy)
    for slip in study.slips("too much written out")[:1]:
        yield from_slip(
            study,
            slip,
            "Written out, these steps come to more than anyone can follow; I stopped here.",
            "Put fewer “for each” blocks or follows inside one another.",
        )


@rule("follows-itself", level="error", family=FAMILY, source=REFERENCE)
def follows_itself(study: Study) -> Iterator[Found]:
    """Procedures that follow one another in a circle.

    Nobody would ever come to the end of them.

    Trips:
        follow "wet-wool.dye" with yarn, tub

        # saved as: wet-wool.dye
        steps
          wet out yarn in tub with water 5 L for 1 h
          follow "wet-wool.dye" with yarn, tub
    Cure:
        follow "wet-wool.dye" with yarn, tub

        # saved as: wet-wool.dye
        steps
          wet out yarn in tub with water 5 L for 1 h
    """
    for slip in study.slips("follow circle"):
        first = slip.wanted.split(", then ")[0]
        yield from_slip(
            study,
            slip,
            say(
                "These procedures go round in a circle: {wanted}, and back to {first}.",
                wanted=slip.wanted,
                first=first,
            ),
            "Remove one of the follows.",
        )


@rule("follow-needs", level="error", family=FAMILY, source=REFERENCE)
def follow_needs(study: Study) -> Iterator[Found]:
    """A procedure that is followed without what it needs, or is told what it does not know.

    It cannot be done until it has its fibre and its vessels, and each is of the kind
    that it is written for.

    Trips:
        follow "wet-wool.dye" with wool = tub, tub

        # saved as: wet-wool.dye
        fibre
          wool: wool yarn, 100 g, scoured
        steps
          wet out wool in tub with water 5 L for 1 h
    Cure:
        follow "wet-wool.dye" with wool = yarn, tub

        # saved as: wet-wool.dye
        fibre
          wool: wool yarn, 100 g, scoured
        steps
          wet out wool in tub with water 5 L for 1 h
    """
    declared = "It is declared here."
    for slip in study.slips("follow unbound"):
        first = slip.wanted.split("”")[0].lstrip("“")
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” is followed without being told what takes the place of its {wanted}.",
                name=slip.name.text,
                wanted=_wanted(slip.wanted),
            ),
            say("Write “with {first} = ...”.", first=first),
            declared,
        )
    for slip in study.slips("follow wrong kind"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” cannot take the place of {wanted}.",
                name=slip.name.text,
                wanted=_wanted(slip.wanted),
            ),
            "Give the name of such a thing.",
            declared,
        )
    for slip in study.slips("follow unknown"):
        near = say("Did you mean “{near}”?", near=slip.near) if slip.near else "Remove it."
        yield from_slip(
            study,
            slip,
            say(
                "“{wanted}” declares nothing called “{name}”.",
                wanted=slip.wanted,
                name=slip.name.text,
            ),
            near,
        )
    for slip in study.slips("follow told twice"):
        yield from_slip(
            study,
            slip,
            say(
                "“{wanted}” is told twice what “{name}” is.",
                wanted=slip.wanted,
                name=slip.name.text,
            ),
            "Keep one of the two.",
        )
    for slip in study.slips("told no name"):
        yield from_slip(
            study,
            slip,
            "A followed procedure is told names here, not amounts.",
            "Write names, as in: with yarn = moss.",
        )


@rule("given-twice", level="error", family=FAMILY, source=REFERENCE)
def given_twice(study: Study) -> Iterator[Found]:
    """The same lot given to a followed procedure under two names, or named twice in a block.

    One lot would be in two places, or be treated twice over.

    Trips:
        follow "wet-both.dye" with wool = yarn, fleece = yarn, tub

        # saved as: wet-both.dye
        fibre
          wool: wool yarn, 100 g, scoured
          fleece: wool fleece, 100 g, scoured
        steps
          wet out wool, fleece in tub with water 10 L for 1 h
    Cure:
        split yarn into gold 50 g, moss 50 g
        follow "wet-both.dye" with wool = gold, fleece = moss, tub

        # saved as: wet-both.dye
        fibre
          wool: wool yarn, 100 g, scoured
          fleece: wool fleece, 100 g, scoured
        steps
          wet out wool, fleece in tub with water 10 L for 1 h
    """
    for slip in study.slips("passed twice"):
        yield from_slip(
            study,
            slip,
            say("“{name}” is given twice here.", name=slip.name.text),
            "Name each thing once; divide a lot first where two are needed.",
            "It was given here first.",
        )


@rule("other-than-meant", level="warning", family=FAMILY, source="common practice")
def other_than_meant(study: Study) -> Iterator[Found]:
    """Fibre or a material that a followed procedure is not written for.

    Wool and cotton are scoured and mordanted in different ways, and soap does not do
    the work of alum.

    Trips:
        follow "alum-on-wool.dye" with wool = cloth, pan

        # saved as: alum-on-wool.dye
        fibre
          wool: wool yarn, 100 g, scoured
        steps
          wet out wool in pan with water 5 L for 1 h
          mordant wool in pan with water 5 L, alum 12 g at 85 °C for 1 h
          rinse wool in pan with water 5 L
    Cure:
        follow "alum-on-wool.dye" with wool = yarn, pan

        # saved as: alum-on-wool.dye
        fibre
          wool: wool yarn, 100 g, scoured
        steps
          wet out wool in pan with water 5 L for 1 h
    """
    for slip in study.slips("follow other fibre"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” is of another kind of fibre than the procedure is written for: {wanted}.",
                name=slip.name.text,
                wanted=_wanted(slip.wanted),
            ),
            "Follow a procedure for this fibre.",
            "It is declared here.",
        )
    for slip in study.slips("follow other part"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” has another use in the work than {wanted}.",
                name=slip.name.text,
                wanted=_wanted(slip.wanted),
            ),
            "Give it a material that does the same.",
            "It is declared here.",
        )


@rule("lent-bath-emptied", level="warning", family=FAMILY, source="common practice")
def lent_bath_emptied(study: Study) -> Iterator[Found]:
    """A followed procedure that throws away a bath which was only lent to it.

    Whoever lent it means to use it again, and finds the pot empty. The plan that makes
    or keeps a bath is the place to throw it away.

    Trips:
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        wet out yarn in tub with water 5 L for 1 h
        follow "dip.dye" with yarn, vat, tub

        # saved as: dip.dye
        materials
          vat: kept bath
        steps
          dip yarn in vat at 50 °C for 10 min
          air yarn for 15 min
          rinse yarn in tub with water 5 L
          rinse yarn in tub with water 5 L, vinegar 50 mL
          discard vat to "foul drain"
    Cure:
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        wet out yarn in tub with water 5 L for 1 h
        follow "dip.dye" with yarn, vat, tub
        discard vat to "foul drain"

        # saved as: dip.dye
        materials
          vat: kept bath
        steps
          dip yarn in vat at 50 °C for 10 min
          air yarn for 15 min
          rinse yarn in tub with water 5 L
          rinse yarn in tub with water 5 L, vinegar 50 mL
    """
    for slip in study.slips("lent bath emptied"):
        maker = study.flow.baths.get(slip.wanted, -1)
        found = from_slip(
            study,
            slip,
            say(
                "{wanted} is emptied here, and it was only lent to this procedure.",
                wanted=study.thing(slip.wanted),
            ),
            "Remove this, and discard the bath in the plan that it belongs to.",
        )
        yield found._replace(related=study.at(maker, "The bath is made here."))


def _wanted(words: str) -> Several:
    """What is wanted; what the writer says of it, in brackets, keeps its spelling."""
    pieces = pattern(r"( \([^“”]*?\)(?=, and “|$))").split(words)
    said = [Word(one) if at % 2 else plainly_said(one) for at, one in enumerate(pieces) if one]
    return Several(tuple(said), between="", last="")


RULES = (
    cannot_follow,
    follows_itself,
    follow_needs,
    given_twice,
    other_than_meant,
    lent_bath_emptied,
)
