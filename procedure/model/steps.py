"""Lines of steps to steps and blocks, numbered in the order of the text."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import partial
from math import ceil, floor
from operator import attrgetter

from procedure.language import Line, Node, Token, once_for_each_node_of_a_line
from procedure.language.spoken import BEYOND, BOUNDS
from procedure.model import describing
from procedure.model.alternatives import alternatives, things
from procedure.model.everyday_sense import Known
from procedure.model.naming import known, phrase, section_allow, unquoted
from procedure.model.quantity import Place, Quantity, number
from procedure.model.to_quantities import place_of, quantity, span_of
from procedure.model.types import (
    Block,
    Item,
    Name,
    Procedure,
    Step,
    UnknownWord,
    UnreadStep,
    Written,
)
from procedure.quantity.interval import ENDLESS, Interval
from procedure.quantity.kept_answers import remembered
from procedure.vocabulary import Verb, near, vocabulary
from procedure.vocabulary.everyday import readings_of

# The part that a clause's amount plays, by clause.
_ROLES = {"at": "heat", "over": "time", "lasting": "time", "source": "from", "to": "to"}
_ROLES |= {"ceiling": "heat"}
_AMOUNTS = attrgetter(*_ROLES)


class Steps:
    """Builds the steps of ``made``, numbering them in the order of the text."""

    def __init__(self, made: Procedure) -> None:
        self.made = made
        self.number = 0
        self.done: list[Step] = []
        self.known = Known(made)

    def lines(self, lines: list[Line], section: str) -> list[Step | Block]:
        """The steps and blocks of lines; one that could not be read only takes its number."""
        found: list[Step | Block] = []
        # The first and the last number of what the next “meanwhile” is done beside.
        going_on = (0, 0)
        for line in lines:
            if line.opens == "or":
                self.other_way(line, section, found)
                continue
            if line.opens == "meanwhile":
                found += self.meanwhile(line, section, going_on)
                going_on = (going_on[0], self.number)
                continue
            going_on = (self.number + 1, 0)
            if line.node is None:
                self.known.going.forget(line.first)
                self.number += 1
                unread = UnreadStep(self.number, line.first.line, not line.block)
                self.made.unread_steps.append(unread)
                inner = self.lines(line.block, section)
                found += inner  # the heading is faulty; its steps still count
                continue
            first = line.node.children[0] if line.node.children else line.first
            alone = line.node.kind == "step" and len(line.node.children) == 1
            if alone and isinstance(first, Node) and first.kind == "allow":
                section_allow(self.made, section, first)
                continue
            self.number += 1
            if line.opens:
                found.append(self.block(line, section))
            else:
                found.append(self.step_or_choice(line.node))
        return found

    def meanwhile(self, line: Line, section: str, going_on: tuple[int, int]) -> list[Step | Block]:
        """Steps that are done beside what stands above them; they are steps like any other."""
        last = self.number
        inner = self.lines(line.block, section)
        if not going_on[0] and inner:
            self.made.stray_meanwhiles.append(Name("meanwhile", place_of(line.first)))
            return inner
        return [_beside(one, (going_on[0], last)) for one in inner]

    # ------------------------------------------------------------ choices

    def either(self, line: Line, section: str) -> Block:
        """An ``either`` with its first way; the others are lines of their own behind it."""
        assert line.node is not None
        number = self.number
        label, _ = _label(line.node)
        where = span_of(line.node) if line.node.children else place_of(line.first)
        way = self.way(line, section, 1)
        return Block(number, "either", label, "", None, None, (), (way,), where)

    def other_way(self, line: Line, section: str, found: list[Step | Block]) -> None:
        """An ``or``: one more way of the choice before it."""
        last = found[-1] if found else None
        self.number += 1
        if not isinstance(last, Block) or last.kind != "either":
            if line.node is not None:
                self.made.stray_ors.append(Name("or", place_of(line.first)))
            found += self.lines(line.block, section)
            return
        way = self.way(line, section, len(last.body) + 1)
        found[-1] = last._replace(body=(*last.body, way))

    def way(self, line: Line, section: str, place: int) -> Block:
        """One way of a choice: by its words in quotation marks, or its place among the ways."""
        self.number += 1
        number = self.number
        children = line.node.children if line.node is not None else ()
        strings = [c for c in children if isinstance(c, Token) and c.kind == "STRING"]
        said = strings[0].word[1:-1] if strings else _nth_way(place)
        where = place_of(line.first)
        body = tuple(self.known.going.in_doubt(partial(self.lines, line.block, section)))
        return Block(number, "way", None, said, None, None, (), body, where)

    def step_or_choice(self, node: Node) -> Step | Block:
        """A step; or, where it says “or” between things, a choice of steps."""
        ways = alternatives(node)
        if len(ways) == 1:
            return self.step(node)
        number = self.number
        made: list[Step | Block] = []
        kept = len(self.made.written)
        going = self.known.going
        for said, one in ways:
            self.number += 1
            inner = self.number
            self.number += 1
            step = going.in_doubt(partial(self.step, one), first=not made)
            made.append(Block(inner, "way", None, said, None, None, (), (step,), span_of(one)))
        self.once_written(kept)
        return Block(number, "either", None, "", None, None, (), tuple(made), span_of(node))

    def once_written(self, kept: int) -> None:
        """What is written once is judged once, though several ways have it."""
        new = {one.quantity.place: one for one in reversed(self.made.written[kept:])}
        self.made.written[kept:] = sorted(new.values(), key=lambda one: one.quantity.place)

    def block(self, line: Line, section: str) -> Block:
        """A repeat, an if or a for, with the steps in it."""
        node = line.node
        assert node is not None
        if line.opens == "either":
            return self.either(line, section)
        number_here = self.number
        label, children = _label(node)
        variable: Name | None = None
        values: tuple[Item, ...] = ()
        rounds = next((c for c in children if isinstance(c, Node) and c.kind == "rounds"), None)
        every = next((c for c in children if isinstance(c, Node) and c.kind == "every"), None)
        times = None if rounds is None else _times(rounds)
        strings = [c for c in children if isinstance(c, Token) and c.kind == "STRING"]
        if node.kind == "each":
            name = next(c for c in children if isinstance(c, Token) and c.kind == "NAME")
            variable = Name(name.word, place_of(name))
            objects = children[-1]
            assert isinstance(objects, Node)
            values = tuple(self.item(child) for child in things(objects))
        kind = {"repeat": "repeat", "choice": "if", "each": "for"}[node.kind]
        going = self.known.going
        outside = self.known.turns
        if variable is not None:
            self.known.turns = outside | {variable.text}
        going.unknown += kind == "for"
        if kind == "if":
            body = tuple(going.in_doubt(partial(self.lines, line.block, section)))
        else:
            body = tuple(self.lines(line.block, section))
        going.unknown -= kind == "for"
        self.known.turns = outside
        return Block(
            number=number_here,
            kind=kind,
            label=label,
            condition=strings[0].word[1:-1] if strings else "",
            times=times,
            variable=variable,
            values=values,
            body=body,
            place=span_of(node) if rounds is None else _from(line.first, span_of(node)),
            every=self.every(every),
        )

    def every(self, node: Node | None) -> Quantity | None:
        """The time from one round to the next."""
        if node is None:
            return None
        measured = quantity(_node(node.children[0]))
        self.made.written.append(Written(measured, "time", None, None))
        return measured

    def step(self, node: Node) -> Step:
        """One step, with its clauses."""
        label, children = _label(node)
        first = children[0]
        where = span_of(node)
        if label is not None:
            where = Place(label.place.line, label.place.column, where.to)
        verb = None
        verb_place = where
        words = None
        if isinstance(first, Token) and first.kind == "VERB":
            verb_place = place_of(first)
        elif isinstance(first, Token):
            words = unquoted(first)
            verb_place = words.place
        said: dict[str, object] = {}
        twice: list[Name] = []
        for child in children[1:]:
            assert isinstance(child, Node)
            if child.kind == "objects":
                said["objects"] = self.items(child, _takes_materials(first))
            else:
                self.clause(child, said, twice)
        _times_behind(said)
        _in_water(said)
        if isinstance(first, Token) and first.kind == "VERB":
            self.known.implied.fill(first, said, label is not None)
            verb = self.known.verb(first, said)
            if verb is not None and verb.does.prepares:
                self.known.made_of(said)
            if verb is not None:
                _heated_until(verb, said)
                self.known.implied.complete(first, verb, said)
        if verb is not None and "to" in verb.may and "to" not in said:
            said |= _from_one_heat_to_another(said.get("source"))
        said |= _limits(said, twice, verb)
        said |= _heat_brought(said, verb)
        step = Step(
            number=self.number,
            kind=node.kind,
            label=label,
            verb=verb,
            verb_place=verb_place,
            words=words,
            twice=tuple(twice),
            place=where,
            word=first.word if isinstance(first, Token) and first.kind == "VERB" else "",
            **said,  # type: ignore[arg-type]
        )
        self.note_quantities(step)
        self.done.append(step)
        self.known.note(step)
        return step

    def clause(self, node: Node, said: dict[str, object], twice: list[Name]) -> None:
        """Enter a clause among the fields of its step; what is said twice counts once."""
        kind = node.kind.removesuffix("_clause")
        if kind in ("allow", "clause"):
            inner = node.children[0] if kind == "clause" else node
            assert isinstance(inner, Node)
            _append(said, "allows", describing.allow(inner))
        elif kind == "manner":
            _append(said, "manners", _manner(node.children[0]))
        elif kind == "limit":
            _append(said, "limits", quantity(_node(node.children[0])))
        elif kind == "as_long":
            self.as_long(node, said, twice)
        else:
            field, read = _CLAUSES[kind]
            if field in said:
                twice.append(Name(kind, span_of(node)))
            else:
                said[field] = read(self, node.children[0])

    def as_long(self, node: Node, said: dict[str, object], twice: list[Name]) -> None:
        """``as long as dipped``: the time of the last step of that verb, or of that label.

        ``as long`` alone is the time of the step before.
        """
        told = node.children[-1]
        assert isinstance(told, Token)
        before = self.done[-1] if self.done and told.meant == "before" else None
        long = next(
            (
                step.lasting
                for step in reversed(self.done)
                if step is before
                or told.text in ((step.verb.past, step.verb.name) if step.verb else ())
                or (step.label is not None and step.label.text == told.text)
            ),
            None,
        )
        if "lasting" in said:
            twice.append(Name("as long as", span_of(node)))
        elif long is None:
            verbs = [step.verb.past for step in self.done if step.verb is not None]
            meant = near(told.text, verbs)
            name = _name(told)._replace(text=told.text)
            self.made.unknown.append(UnknownWord(name, "as long as", meant))
        else:
            said["lasting"] = long._replace(place=span_of(node))

    def wearing(self, node: Node | Token) -> tuple[Name, ...]:
        """What is worn at a step, as the vocabulary has it."""
        return tuple(
            known(self.made, phrase(_node(word)), "wearing") for word in _node(node).children
        )

    def items(self, node: Node | Token, materials: bool = False) -> tuple[Item, ...]:
        """Several items of one clause. In what brings ``materials``, “5 g of tartar” is tartar,
        and a lot named behind an amount of a lot is measured together with it."""
        found: list[Item] = []
        for child in things(_node(node)):
            item = self.item(child, materials)
            last = found[-1] if found else None
            if materials and last is not None and self._goes_with(last, item):
                assert last.quantity is not None and item.name is not None
                more = (*last.quantity.more_bases, item.name.text)
                so_far = last.quantity.text
                if last.quantity.more_bases:  # ash, beech and fir
                    so_far = ", ".join(so_far.rsplit(" and ", 1))
                text = f"{so_far} and {item.name.text}"
                summed = last.quantity._replace(more_bases=more, text=text)
                found[-1] = last._replace(quantity=summed)
            else:
                found.append(item)
        return tuple(found)

    def _goes_with(self, last: Item, item: Item) -> bool:
        """True for the silk of “alum 12 % of yarn and silk”, both declared or parted off before."""
        if item.name is None or item.quantity is not None or item.given is not None:
            return False
        return (
            last.quantity is not None
            and self.known.is_lot(item.name.text)
            and self.known.is_lot(last.quantity.base)
        )

    def item(self, node: Node | Token, materials: bool = False) -> Item:
        """A name, an amount, free words, or a name and an amount."""
        read: Item = (_item_brought if materials else _item)(_node(node))
        if read.quantity is not None and read.quantity.base == _THE_REST:
            return _of_what_is_left(read, read.quantity, self.made)
        if read.quantity is not None and read.quantity.base:
            return read._replace(quantity=self._of_lots(read.quantity))
        return read

    def _of_lots(self, measured: Quantity) -> Quantity:
        """“50 % of all the yarn” and “of the wool”, where that is several lots: of all of them."""
        base = measured.base
        if measured.more_bases or self.known.is_lot(base) or self.made.declared(base) is not None:
            return measured
        if base in self.known.turns:  # for each skein in ...: the one whose turn it is
            return measured
        lots = self.known.implied.of_a_sort(" ".join(base.split()).removeprefix("all "))
        if len(lots) < 2:
            return measured
        from procedure.quantity.number_words import listed

        text = f"{measured.text.rpartition(' of ')[0]} of {listed(lots)}"
        return measured._replace(base=lots[0], more_bases=lots[1:], text=text)

    def note_quantities(self, step: Step) -> None:
        """Keep every amount with the part it plays, for the rules on units."""
        add = self.made.written.append
        for value, role in zip(_AMOUNTS(step), _ROLES.values(), strict=True):
            if value is None:
                continue
            if isinstance(value, Quantity):
                add(Written(value, role, None, step))
            elif isinstance(value, Item) and value.quantity is not None:
                add(Written(value.quantity, role, value.name, step))
        if step.until is not None and step.until.quantity is not None:
            add(Written(step.until.quantity, "until", None, step))
        for items in (step.objects, step.into, step.using):
            for item in items:
                if item.quantity is not None:
                    add(Written(item.quantity, "amount", item.name, step))
        if step.within is not None and step.within.quantity is not None:
            add(Written(step.within.quantity, "amount", step.within.name, step))


# What a turn of speech makes of “the rest of the alum”: alum, one of this.
_THE_REST = "the rest"


def _of_what_is_left(item: Item, measured: Quantity, made: Procedure) -> Item:
    """“The rest of the alum”, “half the remaining madder”: a share of what is left of it.

    Of a bath or a lot all that there is now is what is left, and a share is one of that.
    """
    if item.name is None:
        return item
    whole = measured.low == measured.high == 1
    share = "" if whole else f"{measured.text.partition(' of ')[0]} of "
    if item.name.text not in made.materials:
        text = f"{share}{item.name.text}"
        of_it = measured._replace(base=item.name.text, base_place=item.name.place, text=text)
        return item._replace(quantity=None if whole else of_it)
    left = measured._replace(
        base=item.name.text, base_place=item.name.place, left=True, text=f"{share}{_THE_REST}"
    )
    return item._replace(quantity=left)


def _read_item(node: Node, materials: bool) -> Item:
    """A name, an amount, free words, or a name and an amount."""
    name: Name | None = None
    measured: Quantity | None = None
    words: Name | None = None
    given: Name | None = None
    heat: Quantity | None = None
    for child in node.children:
        if isinstance(child, Node):
            measured = quantity(child)
            if materials and len(node.children) == 1:
                name, measured = _named_behind(child, measured)
            if materials:
                measured = _of_fibre(measured)
        elif child.kind == "STRING":
            words = unquoted(child)
        elif child.kind == "HEAT":
            heat = quantity(Node("quantity", (Node("heat", (child,)),)))
        elif name is None:
            name = _name(child)
        else:
            given = _name(child)
    water, called = "", ""
    if name is not None and name.text.endswith(" water"):
        said = name.text.removesuffix("water").strip()
        entry = vocabulary().find(said, "water")
        water, called = (entry.name, said) if entry is not None else ("", "")
        if entry is None and said in vocabulary().heats:
            heat = _heat_of_word(said, name.place)
        warm, _, sort = said.partition(" ")  # cold tap water
        of_sort = vocabulary().find(sort, "water") if sort and heat is None else None
        if entry is None and of_sort is not None and warm in vocabulary().heats:
            entry, heat = of_sort, _heat_of_word(warm, name.place)
            water, called = of_sort.name, sort
        if entry is not None or heat is not None:  # rusty nail water is a material by that name
            name = Name("water", name.place)
    return Item(name, measured, words, given, span_of(node), water, heat, called)


@once_for_each_node_of_a_line
def _item(node: Node) -> Item:
    return _read_item(node, materials=False)


@once_for_each_node_of_a_line
def _item_brought(node: Node) -> Item:
    return _read_item(node, materials=True)


# What is measured out, so that the name behind it is that of the thing.
_SHARED = frozenset(("percent", "spoon by weight"))
_MEASURED_OUT = frozenset(("mass", "volume", "spoon", "loose", "count", "concentration"))
_MEASURED_OUT |= {"concentration by volume", "spoon by volume"}


def _named_behind(node: Node, measured: Quantity) -> tuple[Name | None, Quantity]:
    """“5 g of tartar” is five grams, and tartar is what they are of."""
    base = next((c for c in node.children if isinstance(c, Node) and c.kind == "base"), None)
    if base is None or measured.kind not in _MEASURED_OUT | _SHARED:
        return None, measured
    token = base.children[0]
    assert isinstance(token, Token)
    per = any(isinstance(c, Node) and c.kind == "per" for c in node.children)
    shared = measured.kind in _SHARED
    if token.kind != "NAME" or (shared and not per):
        return None, measured
    if measured.base == token.word and not shared:
        text = measured.text.replace(f" of {token.text}", "", 1)
        measured = measured._replace(base="", base_place=None, text=text)
    return _name(token), measured


def _beside(one: Step | Block, going_on: tuple[int, int]) -> Step | Block:
    """A step, or each step of a block, that is done beside others."""
    if isinstance(one, Block):
        return one._replace(body=tuple(_beside(inner, going_on) for inner in one.body))
    return one if one.beside is not None else one._replace(beside=going_on)


def _of_fibre(measured: Quantity) -> Quantity:
    """“20 % alum” is of the weight of fibre, as dyers mean it where they do not say.

    So is the share in brackets of “75 g (15 %)”.
    """
    if measured.reading is not None:
        measured = measured._replace(reading=_of_fibre(measured.reading))
    unsaid = not measured.base and not measured.of_fibre and measured.each is None
    if measured.kind not in ("percent", "ratio") or not unsaid:
        return measured
    return measured._replace(of_fibre=True, taken=True)


def _takes_materials(said: Node | Token) -> bool:
    """True of a word that can be done to materials, and of what is no verb."""
    if not isinstance(said, Token) or said.kind != "VERB":
        return True
    return _verb_takes_materials(said.word)


@remembered(1024)
def _verb_takes_materials(word: str) -> bool:
    own = vocabulary().verbs.get(word)
    if own is not None and not {"material", "thing"}.isdisjoint(own.objects):
        return True
    return any("material" in one.of or not one.of for one in readings_of(word))


def _times(rounds: Node) -> tuple[Fraction, Fraction]:
    """The least and the most rounds; less than none is none, of which a rule tells."""
    tokens = [token for token in rounds.children if isinstance(token, Token)]
    bound = next((one for one in tokens if one.kind in ("BOUND", "BEYOND")), None)
    try:
        ends = [
            max(number(" ".join((one.meant or one.text).split())).value, Fraction(0))
            for one in tokens
            if one.kind in ("NUMBER", "OFTEN")
        ]
    except ZeroDivisionError:
        return Fraction(0), Fraction(0)
    if bound is None:
        return ends[0], ends[-1]
    said = {**BOUNDS, **BEYOND}[" ".join(bound.text.split())]
    return (ends[0], ENDLESS) if said == "least" else (Fraction(1), ends[-1])


def _times_behind(said: dict[str, object]) -> None:
    """“simmer dye-bath 1 h” is for an hour: a time is no amount of anything."""
    objects = said.get("objects", ())
    assert isinstance(objects, tuple)
    for at, item in enumerate(objects):
        if item.quantity is None or item.quantity.kind != "time" or "lasting" in said:
            continue
        said["lasting"] = item.quantity
        bare = (item._replace(quantity=None),) if item.name is not None else ()
        said["objects"] = (*objects[:at], *bare, *objects[at + 1 :])


def _in_water(said: dict[str, object]) -> None:
    """“in warm water” is with water; in what it is done is then not said."""
    within = said.get("within")
    if isinstance(within, Item) and within.name is not None and within.name.text == "water":
        using = said.get("using", ())
        assert isinstance(using, tuple)
        if not any(one.name is not None and one.name.text == "water" for one in using):
            del said["within"]
            said["using"] = (within, *using)


def _heated_until(verb: Verb, said: dict[str, object]) -> None:
    """“Heat until boiling” is to the boil."""
    until = said.get("until")
    heated = "to|at" in verb.needs and not (said.get("to") or said.get("at"))
    if heated and isinstance(until, Item) and until.quantity is not None:
        said["to"] = said.pop("until")


def _heat_brought(said: dict[str, object], verb: Verb | None) -> dict[str, object]:
    """“with 4 L warm water” makes the bath warm, where nothing else is said of its heat."""
    using = said.get("using", ())
    assert isinstance(using, tuple)
    heats = [item.heat for item in using if item.heat is not None]
    if not heats:
        return {}
    until = said.get("until")
    warms = isinstance(until, Item) and until.quantity is not None
    said_else = warms or verb is None or any(field in said for field in _HEATS[:-1])
    if said_else or (verb is not None and "at" not in verb.may):
        return {}
    liquors = [item for item in using if _is_water(item)]
    liquors += [item for item in using if _is_much_else(item, liquors)]
    heat = heats[0] if len(liquors) < 2 else _together(liquors, heats)
    return {"at": Item(None, heat, None, None, heat.place)}


def _is_water(item: Item) -> bool:
    return item.name is not None and item.name.text == "water"


def _is_much_else(item: Item, waters: list[Item]) -> bool:
    """“2 L vinegar” beside 2 L of boiling water, which cools it; a dash of it does not."""
    own = _litres(item)
    whole = sum((one.high for one in map(_litres, waters) if one is not None), Fraction(0))
    return not _is_water(item) and own is not None and own.low * 10 >= whole > 0


def _litres(item: Item) -> Interval | None:
    """How much a liquor measures, where that is known."""
    measured = item.quantity
    known = measured is not None and measured.kind == "volume" and measured.known
    return measured.ends if known and measured is not None else None


def _together(liquors: list[Item], heats: list[Quantity]) -> Quantity:
    """The heat of “3 L cold water and 1 L boiling water”, by how much there is of each.

    Where that is not said it lies anywhere between the two. Water of which no heat is said is
    cold; of any other liquor nobody knows.
    """
    cold = vocabulary().heats["cold"]
    hottest = max(heat.ends.high for heat in heats)
    parts: list[tuple[Interval, Interval | None]] = []
    for item in liquors:
        unsaid = Interval(cold.low, cold.high if _is_water(item) else hottest)
        warm = item.heat.ends if item.heat is not None else unsaid
        parts.append((warm, _litres(item)))
    low, high = min(heat.low for heat, _ in parts), max(heat.high for heat, _ in parts)
    volumes = [volume for _, volume in parts if volume is not None]
    if len(volumes) == len(parts) and all(one.low > 0 and one.high < ENDLESS for one in volumes):
        whole = sum((one.low + one.high for one in volumes), Fraction(0))
        shares = [(one.low + one.high) / whole for one in volumes]
        low = sum((heat.low * of for (heat, _), of in zip(parts, shares, strict=True)), Fraction(0))
        high = sum((h.high * of for (h, _), of in zip(parts, shares, strict=True)), Fraction(0))
    text = " and ".join(heat.text for heat in heats)
    low, high = Fraction(floor(low)), Fraction(ceil(high))  # nobody measures it finer
    return heats[0]._replace(low=low, high=high, text=text, word="")


_HEATS = ("at", "to", "source", "until")


def _limits(said: dict[str, object], twice: list[Name], verb: Verb | None) -> dict[str, object]:
    """Bounds that stand as clauses of their own, in the fields that they fill.

    A heat is that of the step, or a ceiling beside the heats that the step says, be it by its
    verb alone (simmer below 90 °C); a time is how long it lasts.
    """
    if "limits" not in said:
        return {}
    limits = said.pop("limits")
    assert isinstance(limits, tuple)
    made: dict[str, object] = {}
    says_heat = verb is not None and bool(verb.does.heat)
    for limit in limits:
        if limit.kind == "time":
            field = "lasting"
        elif limit.held or says_heat or any(field in said for field in _HEATS):
            field = "ceiling" if limit.bound == "most" else "at"
        else:
            field = "to" if verb is not None and "to" in verb.needs else "at"
        if field in said or field in made:
            twice.append(Name("for" if field == "lasting" else "at", limit.place))
            continue
        item = Item(None, limit, None, None, limit.place)
        made[field] = limit if field in ("lasting", "ceiling") else item
    ceiling = made.get("ceiling")
    if ceiling is not None and not (says_heat or any(one in (*said, *made) for one in _HEATS)):
        assert isinstance(ceiling, Quantity)
        made["at"] = Item(None, ceiling, None, None, ceiling.place)
    return made


def _heat_of_word(said: str, place: Place) -> Quantity:
    """The heat of “warm water”, at the place of those words."""
    word = vocabulary().heats[said]
    return Quantity("temperature", word.low, word.high, word.name, place, word=word.name)


def _nth_way(place: int) -> str:
    """What a way without words is called."""
    from procedure.quantity.number_words import in_turn

    which = in_turn(place)
    return f"the {which} way" if which else f"way {place}"


def _label(node: Node) -> tuple[Name | None, list[Node | Token]]:
    children = list(node.children)
    first = children[0] if children else None
    if isinstance(first, Token) and first.kind == "LABEL":
        text = first.text.rstrip(": \t")
        where = Place(first.line, first.column, first.column + len(text))
        return Name(first.name, where), children[1:]
    return None, children


def _name(token: Node | Token) -> Name:
    assert isinstance(token, Token)
    return Name(token.word, place_of(token))


def _node(child: Node | Token) -> Node:
    assert isinstance(child, Node)
    return child


def _names(node: Node | Token) -> tuple[Name, ...]:
    return tuple(_name(token) for token in _node(node).children)


def _measured(node: Node | Token) -> Quantity:
    return quantity(_node(node))


def _inside_marks(token: Node | Token) -> str:
    assert isinstance(token, Token)
    return token.word[1:-1]


def _manner(token: Node | Token) -> Name:
    """A manner word, or a heat word in its place, under the vocabulary's own name."""
    assert isinstance(token, Token)
    found = vocabulary().find(token.word, "manner") or vocabulary().heats.get(token.word)
    return Name(found.name if found else token.word, place_of(token))


def _append(said: dict[str, object], field: str, one: object) -> None:
    earlier = said.get(field, ())
    assert isinstance(earlier, tuple)
    said[field] = (*earlier, one)


def _from_one_heat_to_another(source: object) -> dict[str, Item]:
    """“from 40 to 85 °C” as from the one heat to the other; nothing where it says no range.

    So people write it, and nobody means a range of heats to begin with. A second reading
    is of the heat at the end.
    """
    heat = source.quantity if isinstance(source, Item) else None
    if not isinstance(source, Item) or heat is None or heat.kind != "temperature" or heat.bound:
        return {}
    begins, between, ends = heat.text.partition(" to ")
    if not between or heat.low is None or heat.high is None or heat.about or heat.word:
        return {}
    first, last = (heat.high, heat.low) if heat.backwards else (heat.low, heat.high)
    line, column, _ = heat.place
    start = Place(line, column, column + len(begins))
    end = Place(line, column + len(begins) + len(between), heat.place.to)
    one = heat._replace(
        low=first,
        high=first,
        slack_high=heat.slack_low,
        reading=None,
        backwards=False,
        text=f"{begins} {heat.unit.name}" if heat.unit is not None else begins,
        place=start,
    )
    other = heat._replace(
        low=last, high=last, slack_low=heat.slack_high, backwards=False, text=ends, place=end
    )
    return {
        "source": source._replace(quantity=one, place=start),
        "to": source._replace(quantity=other, place=end),
    }


def _from(first: Token, place: Place) -> Place:
    return Place(first.line, first.column, place.to) if first.line == place.line else place


# The field of a step that a clause fills, and what reads its value.
_CLAUSES: dict[str, tuple[str, Callable[[Steps, Node | Token], object]]] = {
    "in": ("within", Steps.item),
    "from": ("source", Steps.item),
    "at": ("at", Steps.item),
    "to": ("to", Steps.item),
    "until": ("until", Steps.item),
    "into": ("into", Steps.items),
    "with": ("using", lambda steps, node: steps.items(node, materials=True)),
    "over": ("over", lambda _, node: _measured(node)),
    "for": ("lasting", lambda _, node: _measured(node)),
    "after": ("after", lambda _, node: _names(node)),
    "on": ("on", lambda _, node: _name(node)),
    "through": ("through", lambda _, node: _name(node)),
    "as": ("named", lambda _, node: _name(node)),
    "wearing": ("wearing", Steps.wearing),
    "note": ("note", lambda _, node: _inside_marks(node)),
}
