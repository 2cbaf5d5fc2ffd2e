"""Declarations: what the words after a name say, looked up in the vocabulary."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache, lru_cache

from procedure.language import Node, Token, once_for_each_node
from procedure.model.harm import denies, misspelt, named_pieces, plants_named, suspected, unsure
from procedure.model.quantity import Place, Quantity
from procedure.model.said_beside import DeclaredWords, beside, describes
from procedure.model.substances import bare_substance, names_a_lye_of_old, substances_in
from procedure.model.to_quantities import place_of, quantity, span_of, tokens_of
from procedure.model.types import (
    Allow,
    Equipment,
    Lot,
    Material,
    Name,
    Past,
    Procedure,
    SaidBeside,
    UnknownWord,
    Written,
    joins,
)
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Entry, Vocabulary, near, vocabulary
from procedure.vocabulary.data_files import rows
from procedure.vocabulary.library import MATERIAL_TABLES, MOST_GUESSED, food_phrases
from procedure.vocabulary.suggestions import near_harm, suggestion

LONGEST_PHRASE = 5
# The tables that a section's words are looked for in, in this order.
TABLES: dict[str, tuple[str, ...]] = {
    "fibre": ("fibres", "state", "form", "look of fibre"),
    "equipment": ("use", "metals", "vessel", "heater", "tool", "state", "look of equipment"),
    "materials": (*MATERIAL_TABLES, "part", "state", "look of materials"),
}


@cache
def _colours() -> frozenset[str]:
    """The words for colours, and the plain colours that they are of."""
    return frozenset(row[key] for row in rows("colour_words") for key in ("word", "family"))


_FILLERS = frozenset(
    "& + for only of a an the and with from in on to each all altogether total".split()
)

_JOINS = frozenset("& + and or".split())

# A word of the vocabulary that tells of something done before, by how its meaning begins.
_DONE = "was "
_GATHERED = "gathered"
# The meaning of words that papers print as they are written: one is no other word for another.
_FOR_READERS = "told for the reader"
# How a past tells how much was taken.
_SHARES = frozenset(("percent", "mass", "ratio", "number", "loose", "unstated"))


class Described:
    """What one declaration says: its entries by table, quantities, dates, free words."""

    def __init__(
        self,
        node: Node,
        section: str,
        unknown: list[UnknownWord],
        known: Vocabulary,
        before: int = 0,
    ) -> None:
        self.known = known
        self.before = before  # words that were not known before these
        label = node.children[0]
        assert isinstance(label, Token)
        text = label.text.rstrip(": \t")
        where = Place(label.line, label.column, label.column + len(text))
        self.name = Name(label.name, where)
        self.line = label.line
        self.entries: list[tuple[Entry, Place]] = []
        self.phrases: list[str] = []
        self.quantities: list[tuple[Quantity, tuple[str, ...]]] = []
        self.free: list[str] = []
        self.free_places: list[Place] = []
        # Each day with the word before it, of what was done on it; “” where none is.
        self.days: list[tuple[Name, str]] = []
        self.joined: list[Place] = []
        self.section = section
        self._taken: list[Quantity] = []
        self.doing = ""
        words = (token.text for token in tokens_of(node) if token.kind == "WORD")
        self.each = "each" in words
        self.done: list[str] = []
        self.past: list[Past] = []
        # “mordanted with 10 % alum”: so much of what is named next.
        self.ahead: Quantity | None = None
        self.made_in: Name | None = None
        self.shares: list[Quantity] = []
        self.allows = tuple(
            allow(c) for c in node.children if isinstance(c, Node) and c.kind == "allow"
        )
        for child in node.children[1:]:
            if isinstance(child, Node) and child.kind == "descriptor":
                self._descriptor(child, section, unknown)

    def _descriptor(self, node: Node, section: str, unknown: list[UnknownWord]) -> None:
        measured: list[Quantity] = []
        found: list[str] = []
        of_each = False
        self.doing = ""
        for part in node.children:
            assert isinstance(part, Node)
            if part.kind != "quantity":
                found += self._words(part, section, unknown)
                of_each = [token.text for token in tokens_of(part)] == ["of"]
                continue
            one = quantity(part)
            # “6 skeins of about 2 oz”: the grammar knows no “about” after “of”.
            if of_each and measured and measured[-1].kind == "count" and one.kind == "mass":
                self.each = True
            of_each = False
            last = self.past[-1] if self.past and self.doing else None
            if last is not None and last.share is None and one.kind in _SHARES:
                self.past[-1] = last._replace(share=one)
                self.shares.append(one)
            elif self.doing and last is None and one.kind in _SHARES and self.ahead is None:
                self.ahead = one
                self.shares.append(one)
            else:
                measured.append(one)
        self.quantities += [(one, tuple(found)) for one in measured]

    def _words(self, node: Node, section: str, unknown: list[UnknownWord]) -> list[str]:
        words: list[Token] = []
        found: list[str] = []
        for token in (*node.children, None):
            if isinstance(token, Token) and token.kind == "WORD":
                words.append(token)
                continue
            comes = bool(words) and section == "fibre" and words[-1].text == "from"
            comes = comes and isinstance(token, Token) and token.word[1:-1].endswith(".dye")
            if words:
                found += self._look_up(words, section, unknown)
                words = []
            if isinstance(token, Token) and token.kind == "STRING" and comes:
                self.made_in = Name(token.word[1:-1].strip(), place_of(token))
            elif isinstance(token, Token) and token.kind == "STRING":
                self.free.append(token.word[1:-1])
                self.free_places.append(place_of(token))
            elif isinstance(token, Token):
                day = Name(token.text, place_of(token))
                self.days.append((day, found[-1] if found else ""))
        return found

    def _look_up(self, tokens: list[Token], section: str, unknown: list[UnknownWord]) -> list[str]:
        """The longest known phrases, from the left; what is not known is reported."""
        words = self.known
        found: list[str] = []
        at = 0
        while at < len(tokens):
            tables = TABLES[section] + ((*MATERIAL_TABLES, "part") if self.doing else ())
            for length in range(min(LONGEST_PHRASE, len(tokens) - at), 0, -1):
                phrase = " ".join(token.text for token in tokens[at : at + length])
                entry = self._meant(phrase, section, tables)
                if entry is not None:
                    where = span_of(Node("words", tuple(tokens[at : at + length])))
                    self.entries.append((entry, where))
                    self.phrases.append(phrase)
                    if at and tokens[at - 1].text in _JOINS:
                        self.joined.append(where)
                    found.append(entry.name)
                    self._happened(entry, where)
                    at += length
                    break
            else:
                token = tokens[at]
                if section == "equipment" and (many := _plant_at(tokens[at:])):
                    # A spoon of yew poisons as its leaves do, whether in quotation marks or not.
                    self.free.append(" ".join(one.text for one in tokens[at : at + many]))
                    self.free_places.append(span_of(Node("words", tuple(tokens[at : at + many]))))
                    at += many
                    continue
                if section == "equipment" and (many := _of_food_at(tokens[at:])):
                    # A lemonade bottle is one for drink, in quotation marks or not; it is a bottle.
                    self.free.append(" ".join(one.text for one in tokens[at : at + many]))
                    self.free_places.append(span_of(Node("words", tuple(tokens[at : at + many]))))
                    at += 1 if self._is_equipment(tokens[at + many - 1]) else many
                    continue
                if self.entries and self.entries[-1][0].name.endswith(f" {token.text}"):
                    at += 1  # Tsuga canadensis bark, which is hemlock bark
                    continue
                if self._sort_of_a_plant(token):
                    self.free.append(token.text)
                    at += 1
                    continue
                rest = [token.text for token in tokens[at:]]
                at += 1
                if token.text not in _FILLERS:
                    asked = self.before + len(unknown)
                    guess = _unknown if asked < MOST_GUESSED else _without_a_guess
                    unknown.append(guess(token, " ".join(rest), section, words))
                    told = _told_of(rest[1:], unknown[-1], section, words)
                    last = tokens[at + told - 1]
                    unknown[-1] = unknown[-1]._replace(
                        behind=" ".join(rest[1 : 1 + told]),
                        to=place_of(last).to if told and last.line == token.line else 0,
                    )
                    at += told
        return found

    def _meant(self, phrase: str, section: str, tables: tuple[str, ...]) -> Entry | None:
        """What a phrase stands for in a section; None where the vocabulary does not know it."""
        words = self.known
        entry = words.find(phrase, *tables) or words.find(phrase.lower(), *tables)
        if entry is None and (section == "materials" or self.doing):
            entry = words.material(phrase)
        if entry is None and self.doing and words.find(phrase, "metals") is not None:
            entry = words.material(f"{phrase} sulphate")  # mordanted with copper
        if entry is not None and entry.table == "tool" and self.of("vessel"):
            entry = words.find(phrase.lower(), "state") or entry  # a pot with its lid
        return entry

    def _sort_of_a_plant(self, token: Token) -> bool:
        """True for the red of “onion skins, red & yellow”: which of them, for the reader."""
        plant = any(entry.facts.get("botanical") for entry, _ in self.entries)
        return plant and token.text.lower() in _colours()

    def _is_equipment(self, token: Token) -> bool:
        return self.known.find(token.text.lower(), *TABLES["equipment"]) is not None

    def _happened(self, entry: Entry, where: Place) -> None:
        """Keep what a word says of the past: that it was mordanted, or with what."""
        if entry.facts.get("meaning", "").startswith(_DONE) and entry.table == "state":
            self.doing = entry.name
            if entry.name not in self.done:
                self.done.append(entry.name)
        elif self.doing and entry.table in (*MATERIAL_TABLES, "part"):
            share = self.ahead if entry.table in MATERIAL_TABLES else None
            self.past.append(Past(self.doing, entry, share, where))
            self.ahead = self.ahead if share is None else None

    def of(self, *tables: str) -> list[Entry]:
        """The entries found in those tables."""
        return [entry for entry, _ in self.entries if entry.table in tables]

    def states(self) -> tuple[str, ...]:
        """The words that tell its state."""
        return tuple(entry.name for entry in self.of("state"))

    def words(self, *, plainly: bool = False) -> tuple[str, ...]:
        """Its words as papers tell them: those of the vocabulary, then the writer's own.

        With ``plainly`` those of the vocabulary are as the writer has them.
        """
        said = zip(self.entries, self.phrases, strict=True)
        told = [
            phrase if plainly or entry.facts.get("meaning") == _FOR_READERS else entry.name
            for (entry, _), phrase in said
        ]
        gathered, names = self.gathered(), [entry.name for entry, _ in self.entries]
        for day, done in self.days:
            if done and day is not gathered:
                told[names.index(done)] += f" {day.text}"
        return (*told, *self.free, *self.described())

    def gathered(self) -> Name | None:
        """The day on which a material was gathered, where it says so."""
        if self.section != "materials" or _GATHERED not in self.states():
            return None
        said = [day for day, done in self.days if done == _GATHERED]
        return next(iter((*said, *(day for day, done in self.days if not done))), None)

    def described(self) -> tuple[str, ...]:
        """The amounts that only describe it, as written, each with what it is of: “70 % wool”."""
        return tuple(
            " ".join((one.text, *(found if one.kind == "percent" else ())))
            for one, found in self.quantities
            if describes(self.section, one, self.blended())
            and not any(one is taken for taken in self._taken)
        )

    def blended(self) -> bool:
        """True for fibre of several kinds."""
        fibres = self.of("fibres")
        return len(fibres) > 1 or any(one.facts.get("class") == "blend" for one in fibres)

    def measure(self, *kinds: str, never: str = "") -> Quantity | None:
        """The first quantity of those kinds that nothing else has taken yet, which takes it.

        ``never`` is the name of a unit that is of other things.
        """
        found = next(
            (
                one
                for one in self.left()
                if one.kind in kinds and (one.unit is None or one.unit.name != never)
            ),
            None,
        )
        if found is not None:
            self._taken.append(found)
        return found

    def left(self) -> list[Quantity]:
        """The quantities that nothing has taken."""
        return [one for one, _ in self.quantities if not any(one is taken for taken in self._taken)]

    def read(self) -> DeclaredWords:
        """What was read, for what no maker has taken of it."""
        entries = zip(self.entries, self.phrases, strict=True)
        gathered = self.gathered()
        days = (
            day
            for day, done in self.days
            if day is not gathered and (not done or (done == _GATHERED and gathered is not None))
        )
        return DeclaredWords(
            [(entry, where, phrase) for (entry, where), phrase in entries],
            self._taken,
            self.left(),
            self.ahead,
            gathered,
            tuple(days),
            frozenset(self.joined),
            self.blended(),
        )

    def written_for(self, table: str) -> tuple[str, ...]:
        """The writer's words for entries of a table, where those are called otherwise."""
        said = zip(self.entries, self.phrases, strict=True)
        return tuple(
            phrase
            for (entry, _), phrase in said
            if entry.table == table and phrase.lower() != entry.name
        )


def _plant_at(tokens: list[Token]) -> int:
    """Of how many words the name of a plant that poisons is with which they begin, or 0."""
    for count in range(min(LONGEST_PHRASE, len(tokens)), 0, -1):
        named = plants_named(" ".join(token.text for token in tokens[:count]))
        if any(bare and plant.facts["level"] != "harmful" for plant, bare in named):
            return count
    return 0


def _told_of(behind: list[str], told: UnknownWord, section: str, words: Vocabulary) -> int:
    """How many of the words after an unknown one it speaks for: the plant's part, its name."""
    if section != "materials":
        return 0
    meant = [name for one in told.ask for name in (one.name, *one.words("aliases"))]
    if told.nearest is not None and " " in told.nearest:  # cream of tarter, told of once
        meant.append(told.nearest)
    named = [word for name in (*meant, "of the") for word in name.split()]
    count = 0
    while count < len(behind) and (
        behind[count] in words.parts_of_plants or near(behind[count], named) is not None
    ):
        count += 1
    return count


def _unknown(token: Token, rest: str, section: str, words: Vocabulary) -> UnknownWord:
    """A word that the vocabulary lacks, with what it and the words after it may mean."""
    # How a thing looks is nothing to guess at: a word near to “wilted” is more likely weld.
    name, tables = Name(token.text, place_of(token)), tuple(_telling(section))
    if section != "materials":
        known = words.names(*tables)
        if section == "equipment" and (ask := misspelt(token.text)):
            return UnknownWord(name, section, None, ask)
        return UnknownWord(name, section, near(rest, known) or near(token.text, known))
    first = suggestion(rest, *tables, words=words)
    if first.ask or first.meant:
        return UnknownWord(name, section, first.meant, first.ask)
    meant, ask = suggestion(token.text, *tables, words=words)
    if meant is not None and rest != token.text and meant.startswith(f"{token.text} "):
        meant = None  # the half of a name, and the words behind are not the other half
    return UnknownWord(name, section, meant, ask)


def _telling(section: str) -> Iterator[str]:
    """The tables of a section but for that of words that only the reader looks at."""
    return (table for table in TABLES[section] if not table.startswith("look of"))


def _without_a_guess(token: Token, rest: str, section: str, words: Vocabulary) -> UnknownWord:
    """The same where there are too many to guess at; a plant that harms is asked about still."""
    ask = near_harm(rest, words) or near_harm(token.text, words) if section == "materials" else ()
    return UnknownWord(Name(token.text, place_of(token)), section, None, ask)


def allow(node: Node) -> Allow:
    """What an ``allow`` node says."""
    name, reason = node.children
    assert isinstance(name, Token) and isinstance(reason, Token)
    where = place_of(name)
    return Allow(Name(name.text, where), reason.word[1:-1].strip(), where)


def lot(said: Described) -> Lot:
    """A lot of fibre."""
    states = said.states()
    weight = _above_nothing(said.measure("mass"))
    pieces = _above_nothing(said.measure("count"))
    if pieces is not None and pieces.each is None and weight is not None and said.each:
        # three hanks, 50 g each
        pieces = pieces._replace(each=weight)
        weight = _above_nothing(said.measure("mass"))
    if weight is None and pieces is not None and pieces.each is not None:
        weight = _whole(pieces)
    return Lot(
        name=said.name,
        fibres=tuple(dict.fromkeys(said.of("fibres"))),
        weight=weight,
        pieces=pieces,
        scoured=True if "scoured" in states else False if "unscoured" in states else None,
        mordanted=any(one in states for one in ("mordanted", "tannined")),
        words=said.words(),
        line=said.line,
        allows=said.allows,
        past=tuple(said.past),
        damp="damp" in states,
        made_in=said.made_in,
        breeds=said.written_for("fibres"),
    )


def _above_nothing(quantity: Quantity | None) -> Quantity | None:
    """The quantity; nothing where it is below nothing, which a rule tells of."""
    below = quantity is not None and quantity.low is not None and quantity.low < 0
    return None if below else quantity


def _of_food_at(tokens: list[Token]) -> int:
    """Of how many words the name of a thing for food is with which they begin, or 0."""
    said = " ".join(token.text.lower() for token in tokens[:LONGEST_PHRASE]) + " "
    long = (len(one.split()) for one in food_phrases() if said.startswith(one + " "))
    return max(long, default=0)


def _whole(pieces: Quantity) -> Quantity | None:
    """The weight of a lot given as pieces of a weight each."""
    each = pieces.each
    if each is None or each.kind != "mass" or not each.known or not pieces.known:
        return None
    low, high = each.ends
    fewest, most = pieces.ends
    return each._replace(low=low * fewest, high=high * most, text=pieces.text, each=None)


def _of_all(holds: Quantity | None, many: Quantity | None, each: bool) -> Quantity | None:
    """What the vessel holds; all of them together for “2 pots, 12 L each”."""
    if holds is None or many is None or not each or not holds.known or not many.known:
        return holds
    (low, high), (fewest, most) = holds.ends, many.ends
    return holds._replace(low=low * fewest, high=high * most)


def _metal(said: Described) -> Entry | None:
    """The metal of a vessel; “enamel pot, chipped” is of chipped enamel."""
    metals = said.of("metals")
    if not metals or not said.of("state"):
        return metals[0] if metals else None
    worn = [vocabulary().find(phrase + " " + metals[0].name, "metals") for phrase in said.phrases]
    return next((one for one in worn if one is not None), metals[0])


def equipment(said: Described) -> Equipment:
    """A pot or a tool."""
    use = [(entry, where) for entry, where in said.entries if entry.table == "use"]
    said_use = {"dyeing only": "dyeing", "cooking": "cooking", "cooking and dyeing": "both"}
    kinds = said.of("vessel", "heater", "tool")
    holds, many = said.measure("volume"), said.measure("count", never="skein")
    return Equipment(
        name=said.name,
        metal=_metal(said),
        kind=next(iter(kinds), None),
        capacity=_of_all(holds, many, said.each),
        power=said.measure("power"),
        lidded="lidded" in said.states(),
        use=said_use[use[0][0].name] if use else "",
        use_place=use[0][1] if use else None,
        words=said.words(plainly=True),
        line=said.line,
        allows=said.allows,
        several=many,
    )


def material(said: Described) -> Material:
    """A plant, mordant or other material."""
    entry = next(iter(said.of(*MATERIAL_TABLES)), None)
    told: tuple[str, ...] = ()
    if entry is not None and vocabulary().material(entry.name) is None:
        told = (entry.name, *entry.words("aliases"))  # the workshop's own word
    suspects = suspected(entry, said.name.text, (*said.free, *told))
    if entry is None and suspects:
        # A poison that only a nickname or free words name is a material like any other.
        entry, suspects = said.known.material(suspects[0].name), suspects[1:]
    phrases = tuple(said.phrases)
    if entry is None and (own := _by_its_name(said)) is not None:
        entry, phrases = own[0], (own[1], *phrases)
    if entry is None:
        entry = _by_its_latin_name(said)
    if entry is None:
        entry = bare_substance((said.name.text, *said.free))
    own_name = said.name.text if entry is None else ""
    mixed = substances_in(entry, (own_name, *said.free))
    states = said.states()
    return Material(
        name=said.name,
        entry=entry,
        roles=_roles(entry, said),
        state="fresh" if "fresh" in states else "dried" if "dried" in states else "",
        gathered="" if (day := said.gathered()) is None else day.text,
        strength=said.measure("percent", "concentration"),
        strength_by=next((s for s in states if s in ("by weight", "by volume")), ""),
        words=said.words(),
        line=said.line,
        allows=said.allows,
        part=_part(entry, said),
        gathered_place=None if day is None else day.place,
        suspects=suspects,
        phrases=phrases,
        free=tuple(said.free),
        mixed=mixed,
        stock=_in_all(said),
    )


def _in_all(said: Described) -> Quantity | None:
    """How much there is of a material: a weight or a volume."""
    return _above_nothing(said.measure("mass", "volume"))


def _by_its_name(said: Described) -> tuple[Entry, str] | None:
    """The salt, acid or lye that its own name or free words alone tell, and those words.

    As in “lye: alkali” and “sour: acid, "oxalic"”. Only what harms counts: a nickname of
    anything else says nothing of what is in the jar.
    """
    roles = {part.name for part in said.of("part")}
    own = said.name.text
    # “lye: alkali, "wood ash lye"”: what says the same more closely goes first.
    closer = [text for text in said.free if own in text.split() and text != own]
    for text in (*closer, own, *said.free) if roles else ():
        for words in named_pieces(text):
            for name in (words, *(f"{words} {role}" for role in roles)):
                found = said.known.material(name)
                if found is None or found.table == "dyestuffs" or not found.words("hazards"):
                    continue
                if found.name == "lye" and names_a_lye_of_old(text):
                    continue
                if text is not own and joins(text):
                    continue  # wheat bran and lye of ashes: what is beside it counts as well
                if roles & {*found.words("role"), *found.words("also")}:
                    return found, words
    return None


_LATIN = r"\b[A-Z][a-z]{2,} (?:x )?[a-z-]{3,}\b"


def _by_its_latin_name(said: Described) -> Entry | None:
    """The plant whose Latin name is in the free words of a material, where they do not deny it."""
    for text in said.free:
        for words in () if text.islower() else pattern(_LATIN).findall(text):
            before = text.partition(words)[0].lower()
            found = said.known.material(words)
            latin = found is not None and words.lower() in found.facts.get("botanical", "").lower()
            if found is not None and latin and not denies(before):
                return found
    return None


def _part(entry: Entry | None, said: Described) -> str:
    """The part of the plant that comes after its name."""
    if entry is None:
        return ""
    parts = entry.words("part")
    return next((part for part in parts for p in said.phrases if p.endswith(f" {part}")), "")


def _roles(entry: Entry | None, said: Described) -> tuple[str, ...]:
    roles = [part.name for part in said.of("part")]
    if entry is not None:
        if entry.table == "dyestuffs":
            roles.append("dyestuff")
        roles += [*entry.words("role"), *entry.words("also")]
    return tuple(dict.fromkeys(roles))


_DECLARED_ROLES = {
    "mass": "weight",
    "volume": "capacity",
    "count": "pieces",
    "power": "power",
    "percent": "strength",
    "concentration": "strength",
}


class Declared(NamedTuple):
    """What one declaration says, what was made of it, the words not known and those left over."""

    said: Described
    made: Lot | Equipment | Material
    unknown: tuple[UnknownWord, ...]
    beside: tuple[SaidBeside, ...]


def declare(procedure: Procedure, section: str, node: Node) -> None:
    """Enter one declaration into the procedure."""
    if section == "materials" and (water := _is_water(node)) is not None:
        procedure.waters_declared.append(water)
        return
    workshop = procedure.workshop
    known = vocabulary() if workshop is None else workshop.words
    before = len(procedure.unknown)
    # Behind very many, nothing is guessed.
    if before < MOST_GUESSED:
        said, made, unknown, left = _once_in(section, known)(node)
    if before >= MOST_GUESSED or before + len(unknown) > MOST_GUESSED:
        said, made, unknown, left = _declared(node, section, known, before)
    procedure.unknown += unknown
    procedure.beside += left
    for measured, _ in said.quantities:
        role = _DECLARED_ROLES.get(measured.kind, "description")
        procedure.written.append(Written(measured, role, said.name, None))
    for share in said.shares:
        procedure.written.append(Written(share, "past", said.name, None))
    earlier = procedure.declared(said.name.text)
    if earlier is not None:
        procedure.declared_twice.append((said.name, earlier.name))
    elif isinstance(made, Lot):
        procedure.lots[said.name.text] = made
    elif isinstance(made, Equipment):
        procedure.equipment[said.name.text] = made
    else:
        procedure.materials[said.name.text] = made
        if made.entry is None:
            procedure.unknown += _may_be_poison(said)


def _declared(node: Node, section: str, known: Vocabulary, before: int) -> Declared:
    """What a declaration says after so many unknown words."""
    unknown: list[UnknownWord] = []
    said = Described(node, section, unknown, known, before)
    made = _MAKERS[section](said)
    left = tuple(one._replace(section=section) for one in beside(section, said.read()))
    return Declared(said, made, tuple(unknown), left)


_MAKERS: dict[str, Callable[[Described], Lot | Equipment | Material]] = {
    "fibre": lot,
    "equipment": equipment,
    "materials": material,
}


@lru_cache(maxsize=16)
def _once_in(section: str, known: Vocabulary) -> Callable[[Node], Declared]:
    """What declarations say that stand in a section, each worked out once."""
    return once_for_each_node(lambda node: _declared(node, section, known, 0))


def _is_water(node: Node) -> Name | None:
    """The name of what is declared, where that is plain water, which is always there."""
    label = node.children[0]
    words = [token.text for token in tokens_of(node)[1:] if token.kind == "WORD"]
    if not isinstance(label, Token):
        return None
    kinds = (*vocabulary().tables["water"], "")
    plain = words[1:] == ["water"] and words[0] in kinds
    if words != ["water"] and not plain and label.name != "water":
        return None
    return Name(label.name, place_of(label))


def _may_be_poison(said: Described) -> Iterator[UnknownWord]:
    """The writer's own name and free words that may name a poison, of a material else unknown."""
    own = (said.name.text.replace("-", " "), said.name.place)
    for text, place in (own, *zip(said.free, said.free_places, strict=True)):
        if ask := unsure(text):
            yield UnknownWord(Name(text, place), "materials", None, ask)
