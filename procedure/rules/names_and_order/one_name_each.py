"""Names: everything is called by one name, and each name is used."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from fractions import Fraction

from procedure.facts.study import Pointer, Study
from procedure.findings import Heat, LineNumber, Says, listed, say
from procedure.flow import Slip
from procedure.flow.graph import FlowNode
from procedure.model import Name, Place, Procedure, Step
from procedure.model.harm import plants_named
from procedure.model.substances import restricted_named
from procedure.rules.rule import Found, from_slip, rule
from procedure.vocabulary import everyday, near, vocabulary
from procedure.vocabulary.everyday import ANY_BATH
from procedure.vocabulary.slips import one_slip
from procedure.wording.samples import shown

FAMILY = "names and order"


PRACTICE = "common practice"


@rule("not-declared", level="error", family=FAMILY, source="the language reference")
def not_declared(study: Study) -> Iterator[Found]:
    """A name that is used and was never declared or made.

    The reader looks for it in vain; most often it is spelt two ways.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        rinse yarm in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        rinse yarn in tub with water 5 L
    """
    together = yield from _one_mistake(study)
    uses: dict[tuple[str, str, str], list[Slip]] = {}
    for slip in study.slips("not declared"):
        if slip.name.place.line in _lines_unread(slip.procedure):
            continue  # the line is to be written anew, and the name may go with it
        if (slip.procedure.key, slip.name.text) not in together:
            uses.setdefault((slip.procedure.key, slip.name.text, slip.near or ""), []).append(slip)
    for first, *others in uses.values():
        from procedure.rules import edits

        # A name that is there nowhere is one mistake, however often it is used.
        places = dict.fromkeys(
            one.name.place for one in others if one.name.place != first.name.place
        )
        also = tuple(Pointer(first.procedure, one, "It is used here too.") for one in places)
        found = from_slip(study, first, *(_for_food(first) or _not_there(study, first)))
        yield found._replace(edit=edits.of_name(first), related=also[:_SHOWN])
    yield from _nowhere(study)


def _whole_lots(study: Study, slip: Slip) -> list[str]:
    """The lots that there are before a step: of one that was split its parts."""
    lots = list(slip.procedure.lots)
    for node in study.flow.nodes:
        step = node.step
        if node is slip.node or node.procedure is not slip.procedure:
            break
        if isinstance(step, Step) and step.does.splits:
            gone = {item.name.text for item in step.objects if item.name is not None}
            parts = [item.name.text for item in step.into if item.name is not None]
            lots = [*(lot for lot in lots if lot not in gone), *parts]
    return lots


def _lines_unread(procedure: Procedure) -> set[int]:
    return {one.line for one in procedure.unread_steps}


def _for_food(slip: Slip) -> tuple[Says, Says] | None:
    """What is said of a vessel or a place of food, which is not to be declared: “the fridge”."""
    from procedure.rules.safety.food_places import food_in

    name = slip.name.text
    if not food_in(name):
        return None
    return (
        say("“{name}” is for food or drink, and nothing that dyes may touch that.", name=name),
        Says("Use a vessel or a place that is kept for dyeing only, and declare it so."),
    )


def _no_one_lot(study: Study, slip: Slip) -> tuple[Says, Says] | None:
    """What is said of “the fibre” of several lots, “the other two” and “some”."""
    name = slip.name.text
    sort = name.removeprefix("all ")
    any_of_them = sort in everyday.SAID_OF_FIBRE or (name in _ALL and "fibre" in slip.wanted)
    some = name.partition(" ")[0] in _OTHERS or name.rpartition(" ")[2] in _LOTS
    if (any_of_them or some) and len(lots := _whole_lots(study, slip)[:_SHOWN]) > 1:
        template = (
            "Write the names of the lots that are meant, such as “{lots}”."
            if any_of_them
            else "Write the names of the lots: some of {lots}."
        )
        return (
            say("“{name}” does not say what is meant.", name=name),
            say(template, lots=listed(lots)),
        )
    if (some or name in _PARTS) and slip.procedure.lots and "material" not in slip.wanted:
        lot = next(iter(slip.procedure.lots))
        return (
            say("“{name}” does not say what is meant.", name=name),
            say(
                "What is treated otherwise is a lot of its own: part it before with “split {lot} "
                "into early half of {lot}, late”, and write the name.",
                lot=lot,
            ),
        )
    return None


def _no_one_bath(study: Study, slip: Slip) -> tuple[Says, Says] | None:
    """What is said of “keep the rest” where a bath is kept: what is left of it bears its name."""
    name = slip.name.text
    if name not in _LEFT or "bath" not in slip.wanted or "fibre" in slip.wanted:
        return None
    baths = _baths_meant(study, slip.procedure, "bath")
    if not baths:
        return None
    return (
        say("“{name}” does not say what is meant.", name=name),
        say(
            "What is left of a bath is called as the bath: write “{baths}”.",
            baths=listed(baths[-_SHOWN:], last="” or “"),
        ),
    )


def _no_bath_of(slip: Slip) -> tuple[Says, Says] | None:
    """What is said of “weld bath” where none is made."""
    name = slip.name.text
    of_what = name.removesuffix(" bath")
    if of_what != name and of_what in slip.procedure.materials and "bath" in slip.wanted:
        return (
            say("Nothing is called “{name}” so far.", name=name),
            shown(
                "A bath gets its name where it is made: “{label}: prepare in pot with water "
                "{much_water}”.",
                label=name.replace(" ", "-"),
            ),
        )
    return None


def _of_that_kind(procedure: Procedure, name: str) -> list[str]:
    """What is declared of the kind that a word says, where it is a few: the pots of “the pot”."""
    kind = vocabulary().find(name, "vessel", "tool", "heater")
    if kind is None or kind.name != name:
        return []  # “the wok” is none of the pots that are declared
    alike = [
        made.name.text
        for made in procedure.equipment.values()
        if made.kind is not None and made.kind.name == name
    ]
    return alike if len(alike) <= _FEW_NAMES else []


def _name_of_a_step(study: Study, slip: Slip) -> tuple[Says, Says] | None:
    """What is said of “red-bath” where that is the label of a step which makes no bath.

    A bath that is poured into another pot or strained keeps its name.
    """
    name = slip.name.text
    for node in study.flow.nodes:
        if node is slip.node or not isinstance(node.step, Step) or node.makes:
            continue
        label = node.step.label
        if label is None or label.text != name or node.procedure is not slip.procedure:
            continue
        moved = node.bath
        if node.does.adds:
            objects = [item.name.text for item in node.step.objects if item.name is not None]
            baths = [one for one in objects if node.names.get(one, "") in study.flow.baths]
            moved = baths[0] if len(objects) == len(baths) == 1 else ""
        sentence = say(
            "“{name}” is the name of the step in {line}, and of no bath.",
            name=name,
            line=LineNumber(label.place.line),
        )
        called = study.called(moved) if moved else ""
        made = study.flow.baths.get(moved, -1)
        if " " in called and made >= 0:
            return sentence, say(
                "The bath has no name yet. Write it where the bath is made, in front of {line}: "
                "“{name}: ...”.",
                line=LineNumber(study.flow.nodes[made].step.place.line),
                name=name,
            )
        if not called or " " in called:
            return sentence, Says(
                "A bath keeps its name in another pot; write the one that it got where it was made."
            )
        remedy = say("A bath keeps its name in another pot: write “{bath}” here.", bath=called)
        return sentence, remedy
    return None


_SETTLES = frozenset("sediment sludge dregs lees residue grounds scum froth foam".split())


def _settled(name: str) -> tuple[Says, Says] | None:
    """What is said of what settles or floats in a bath, which is followed with the bath."""
    if name not in _SETTLES:
        return None
    return (
        say("“{name}” is no thing of its own: it is followed with its bath.", name=name),
        say(
            "Say what becomes of the bath that holds it, or tell it in free words: "
            '“do "put the {name} where it may go"”.',
            name=name,
        ),
    )


def _no_vessels(name: str) -> tuple[Says, Says] | None:
    """What is said of “2 large pots” where there are none."""
    number, *words = name.split()
    if not words or vocabulary().find(words[-1], "vessel") is None:
        return None
    if vocabulary().find(name, "vessel") is not None:
        return None
    return (
        say("Nothing is called “{name}” here.", name=name),
        say(
            "Write the name of what there is, or write it among the equipment: “{label}: {kind}, "
            "for dyeing only”.",
            label="-".join((number, words[-1])) if number.isalpha() else words[-1],
            kind=name,
        ),
    )


def _to_declare(study: Study, slip: Slip) -> Says:
    """What to write for a name that is spelt like no other: where it is declared, or what is."""
    name = slip.name.text
    if vocabulary().material(name) is not None:
        return say(
            "Write it among the materials: “{label}: {name}”.",
            label=name.replace(" ", "-"),
            name=name,
        )
    several = _of_that_kind(slip.procedure, name)
    if len(several) > 1:
        return say(
            "Write which: {names}.", names=listed(["“" + one + "”" for one in several], " or ")
        )
    if vocabulary().find(name, "vessel", "tool", "heater") is not None:
        return say(
            "Write it among the equipment: “{label}: {kind}, for dyeing only”.",
            label=name.replace(" ", "-"),
            kind=name,
        )
    if known := by_kind(slip.procedure, slip.wanted, study):
        return say(
            "Declare it, or write the name of {wanted}: {known}.",
            wanted=slip.wanted,
            known=listed(["“" + one + "”" for one in known], last=" or "),
        )
    return say("Declare it, or write the name of {wanted}.", wanted=slip.wanted)


def _not_there(study: Study, slip: Slip) -> tuple[Says, Says]:
    """What is said of a name that nothing bears, and what to write instead."""
    from procedure.rules.names_and_order.by_meaning import by_meaning

    name = slip.name.text
    baths = _baths_meant(study, slip.procedure, name)
    if (said := _no_one_bath(study, slip) or _no_one_lot(study, slip)) is not None:
        return said
    if name in _IT:
        return (
            say("“{name}” does not say what is meant.", name=name),
            say("Write the name of {wanted}.", wanted=slip.wanted),
        )
    said = _no_bath_of(slip) or _name_of_a_step(study, slip) or _no_vessels(name) or _settled(name)
    if said is not None:
        return said
    if name in _ALL_TOOLS and (pots := [*slip.procedure.equipment]):
        return (
            say("“{name}” does not say which.", name=name),
            say(
                "Write the names of those that were used: “{name}”.",
                name=listed(pots[:_SHOWN], last=" and "),
            ),
        )
    poison = next((plant for plant, _ in plants_named(name)), None)
    if poison is not None and _a_lot_by_its_colour(slip):
        poison = None
    if poison is not None:
        remedy = say(
            "{plant} ({latin}) is {level}: do not use it. {instead} gives a like colour.",
            plant=poison.name,
            latin=poison.facts["botanical"],
            level=poison.facts["level"],
            instead=poison.facts["instead"],
        )
    elif (salt := restricted_named(name)) is not None:
        remedy = say(
            "{salt} is not to be used: {why}. Safer: {safer}.",
            salt=salt.name,
            why=salt.facts["restricted"],
            safer=salt.facts["safer"],
        )
    elif meant := (
        _spelt_like(slip) or by_meaning(slip.procedure, name, slip.wanted) or "".join(baths[:1])
    ):
        remedy = _which(meant, baths)
    else:
        remedy = _to_declare(study, slip)
    return say("Nothing is called “{name}” here.", name=name), remedy


def _spelt_like(slip: Slip) -> str:
    """The name that is spelt nearly so; none where it is of another substance.

    Soap is no slip for soda: what the trade knows by that name is to be declared; nor is a verb.
    """
    meant = slip.near or ""
    if slip.name.text in vocabulary().verbs:
        return ""  # transfer the soak: what lies there to soak
    known = vocabulary().material(slip.name.text)
    made = slip.procedure.materials.get(meant)
    if known is None or made is None:
        return meant
    return meant if made.entry is not None and made.entry.name == known.name else ""


def by_kind(procedure: Procedure, wanted: str, study: Study) -> list[str]:
    """A few names of the text of the kinds that are wanted; none where there are many."""
    found: list[str] = []
    if "lot" in wanted or "fibre" in wanted:
        found += procedure.lots
    if "bath" in wanted:
        found += study.once(_labels_of_baths)
    if "pot" in wanted or "equipment" in wanted:
        found += [one.name.text for one in procedure.equipment.values() if one.holds]
    if "material" in wanted:
        found += procedure.materials
    return found if len(found) <= _FEW_NAMES else []


def _labels_of_baths(study: Study) -> list[str]:
    steps = [node.step for node in study.flow.nodes if node.does.makes_bath]
    return [one.label.text for one in steps if isinstance(one, Step) and one.label]


_FEW_NAMES = 5


def _baths_meant(study: Study, procedure: Procedure, word: str) -> tuple[str, ...]:
    """The baths of a procedure that “the bath” or “the liquor” may mean, in the text's order."""
    from procedure.rules.names_and_order.by_meaning import ANY_BATH

    places = study.flow.baths.values() if word in ANY_BATH else ()
    makers = [study.flow.nodes[at] for at in places if at >= 0]
    steps = [maker.step for maker in makers if maker.procedure is procedure]
    named = [step.label.text for step in steps if isinstance(step, Step) and step.label is not None]
    return tuple(dict.fromkeys(named))


def _a_lot_by_its_colour(slip: Slip) -> bool:
    """True for fibre that is called by a colour, plum, which is the name of a plant as well.

    A colour may be any word in a line that could not be read and divides a lot.
    """
    if slip.wanted != "a lot of fibre":
        return False
    name = slip.name.text
    if vocabulary().find(name, "hue") is not None:
        return True
    lines = [one.text.replace(",", " ").split() for one in slip.procedure.unread_words]
    return any(name in words and not _DIVIDES.isdisjoint(words) for words in lines)


def _which(meant: str, baths: tuple[str, ...]) -> Says:
    """What to write for a name that there is not: the one that is meant, or which of the baths."""
    if len(baths) < 2:
        return say("Did you mean “{near}”?", near=meant)
    return say("Write which bath: {baths}.", baths=listed(baths, last=" or "))


# So many further places of a name are pointed at.
_SHOWN = 3
_PARTS = frozenset("half rest remainder part some third quarter skein hank".split())
_ALL_TOOLS = frozenset("pots pans tools equipment utensils vessels everything things".split())
_LEFT = frozenset(("rest", "remainder"))
_OTHERS = frozenset(("both", "other", "others"))
_LOTS = frozenset(("lot", "lots"))
_DIVIDES = frozenset(("split", "divide", "part"))
_ALL = frozenset(("them", "everything", "all"))
_IT = _ALL | {"it", "this", "that"}


def _one_mistake(study: Study) -> Generator[Found, None, set[tuple[str, str]]]:
    """Names that are used often and never made: told once, where the bath that they mean is made.

    It is a bath made without a name, or one whose name is misspelt where it is made. The
    names that are dealt with are handed back.
    """
    uses: dict[tuple[str, str], list[Slip]] = {}
    for slip in study.slips("not declared"):
        uses.setdefault((slip.procedure.key, slip.name.text), []).append(slip)
    dealt: set[tuple[str, str]] = set()
    for key, slips in uses.items():
        first = slips[0]
        if len(slips) < 2 or first.name.text in first.procedure.unread:
            continue
        maker = next((one for one in study.flow.nodes if _made_for(study, one, first)), None)
        if maker is None or not isinstance(maker.step, Step):
            continue
        dealt.add(key)
        label = maker.step.label
        name = first.name.text
        if label is None:
            yield Found(
                maker.procedure,
                maker.step.verb_place,
                say("This bath has no name, and “{name}” below is made nowhere.", name=name),
                say("Write its name and a colon in front: “{name}: prepare in ...”.", name=name),
            )
        else:
            from procedure.rules import edits

            yield Found(
                maker.procedure,
                label.place,
                say(
                    "“{label}” is used nowhere, and “{name}” below is made nowhere.",
                    label=label.text,
                    name=name,
                ),
                say("Did you mean “{name}”?", name=name),
                edit=edits.at_place(label.place, name),
            )
    return dealt


def _made_for(study: Study, node: FlowNode, slip: Slip) -> bool:
    """True for the step that makes the bath which a name that is made nowhere means."""
    step = node.step
    if not isinstance(step, Step) or not step.does.makes_bath or node.calls != slip.calls:
        return False
    if step.label is None:
        return True
    label = step.label.text
    others = (one.step for one in study.flow.nodes if one.procedure is node.procedure)
    used = any(label in _names_said(one) for one in others if isinstance(one, Step))
    return not used and one_slip(label, slip.name.text)


def _names_said(step: Step) -> Iterator[str]:
    """The names that a step's line has, but for its own."""
    alone = (step.within, step.source, step.to)
    for item in (*step.objects, *step.into, *step.using, *(one for one in alone if one)):
        if item.name is not None:
            yield item.name.text
        if item.quantity is not None:
            yield from item.quantity.bases


def _one_meant(study: Study, node: FlowNode) -> bool:
    """True where “the bath” is one that the flow knows: the step's own, or that of its fibre."""
    return bool(node.left or node.bath) or (node.does.takes_out and bool(study.flow.baths))


def _nowhere(study: Study) -> Iterator[Found]:
    """Names after “to” and “from” that nothing was made of: a heat that is misspelt, mostly."""
    told = {slip.name.place for slip in study.flow.slips}
    seen: set[Place] = set()
    for node in study.flow.nodes:
        step = node.step
        if not isinstance(step, Step) or step.verb is None:
            continue
        for item in (step.to, step.source):
            name = None if item is None else item.name
            if name is None or name.text in node.names or name.place in told | seen:
                continue
            if name.text in node.procedure.unread or (
                name.text in ANY_BATH and _one_meant(study, node)
            ):
                continue
            seen.add(name.place)
            meant = near(name.text, list(vocabulary().heats)) or near(name.text, list(node.names))
            remedy = say(
                "Write a heat such as {heat} or the boil, or the name of a bath or a pot.",
                heat=Heat(Fraction(80)),
            )
            if step.does.empties:
                remedy = say(
                    'Write in quotation marks where it goes: “to "{name}"”.', name=name.text
                )
            elif meant is not None:
                remedy = say("Did you mean “{meant}”?", meant=meant)
            elif baths := _baths_meant(study, node.procedure, name.text):
                remedy = _which(baths[0], baths)
            sentence = "Nothing is called “{name}” here, and it is no heat."
            if step.does.empties:
                sentence = "Nothing is called “{name}” here."
            yield Found(node.procedure, name.place, say(sentence, name=name.text), remedy)


@rule("declared-twice", level="error", family=FAMILY, source="the language reference")
def declared_twice(study: Study) -> Iterator[Found]:
    """A name, label or section that means two things.

    The reader cannot tell which is meant.

    Trips:
        soak: wet out yarn in tub with water 5 L for 1 h
        soak: rinse yarn in tub with water 5 L
    Cure:
        soak: wet out yarn in tub with water 5 L for 1 h
        first-rinse: rinse yarn in tub with water 5 L
    """
    for slip in study.slips("declared twice"):
        yield from_slip(
            study,
            slip,
            say("“{name}” is the name of something else already.", name=slip.name.text),
            _another_name(slip),
            "It was named here first.",
        )
    for procedure in study.procedures:
        for name, first in procedure.declared_twice:
            yield Found(
                procedure,
                name.place,
                say("“{name}” is declared twice.", name=name.text),
                "Choose another name for one of the two.",
                related=(Pointer(procedure, first.place, "It was declared here first."),),
            )
        for name, line in procedure.sections_twice:
            yield Found(
                procedure,
                name.place,
                say(
                    "There are two sections “{name}”; the first begins on {line}.",
                    name=name.text,
                    line=LineNumber(line),
                ),
                "Put both together.",
            )


def _another_name(slip: Slip) -> Says:
    """What to write for a name that something else has already."""
    step = slip.node.step if slip.node is not None else None
    if isinstance(step, Step) and step.does.joins:
        return say("Choose another name for what is joined: “as all-{name}”.", name=slip.name.text)
    return Says("Choose another name for one of the two.")


@rule("never-used", level="warning", family=FAMILY, source=PRACTICE)
def never_used(study: Study) -> Iterator[Found]:
    """Fibre, a pot or a material that is declared and never used.

    Either a step is missing or the reader buys something for nothing.

    Trips:
        materials
          alum: potassium alum
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for slip in study.slips("never used"):
        yield from_slip(
            study,
            slip,
            say("“{name}” is declared and never used.", name=slip.name.text),
            "Use it in a step, or remove it.",
        )


def no_such_rule(name: Name, known: list[str]) -> tuple[Says, Says | str]:
    """What to say of an ``allow`` with a rule that there is not."""
    from procedure.vocabulary import near

    meant = near(name.text, known)
    remedy = (
        say("Did you mean “{meant}”?", meant=meant) if meant else "“vatwright why” lists the rules."
    )
    return say("There is no rule called “{name}”.", name=name.text), remedy


RULES = (
    not_declared,
    declared_twice,
    never_used,
)
