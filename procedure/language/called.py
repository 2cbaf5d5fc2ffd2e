"""Names as people say them: “dye bath” for ``dye-bath``, “cream of tartar” for what is declared so.

A name of the language is one word. Where several words stand for one thing of the text they
are read as its name: the parts of a name with hyphens, or the words that describe it, where
nothing else is described so. A material of several words that is not declared is one word
too, so that it is asked for by its whole name.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from functools import cache
from itertools import pairwise

from procedure.language.tree import BATHS, Token
from procedure.quantity.record import TYPE_CHECKING
from procedure.vocabulary import near, vocabulary
from procedure.vocabulary.everyday import BATHS_BY_ROLE
from procedure.vocabulary.plant_parts import parts_of_plants

if TYPE_CHECKING:
    from typing import Any

LONGEST = 4
# What any fibre may be called, where there is only one lot.
_ANY_FIBRE = ("fibre", "fiber")
# What a dyestuff that stays in pieces may be called, where there is only one.
_ANY_PLANT = ("plants", "plant")
_BY_FORM = {
    "yarn": ("yarn", "skein", "skeins", "hank", "hanks"),
    "cloth": ("cloth", "fabric"),
}
_ONE_PIECE = frozenset(("skein", "hank"))
# New names are given in a line with these.
_NAMING = frozenset(("split", "divide", "join"))
_INSIDE = frozenset(("NAME", "OF"))
_IN_A_LIST = frozenset(("NAME", "COMMA", "AND"))
# A name begins behind these; “and” or a comma may come before a verb of its own as well.
_DECLARED = ("fibre", "equipment", "materials")
_EQUIPMENT = ("vessel", "tool", "heater")


def _is_no_water(kind: str) -> bool:
    """False for the “rain” of rain water, a hot water and lime water, which are no bath’s."""
    known = vocabulary()
    water = known.find(kind, "water") is not None or known.material(f"{kind} water") is not None
    return not water and kind not in known.heats


class Called:
    """The names of one text so far, by the words that people say for them.

    With ``once`` (see :class:`procedure.language.kept_lines.Lines`) two readings that have met the
    same names are in the very same ``state``. ``asked`` becomes true where what is read depends on
    the names.
    """

    def __init__(self, once: Callable[[Hashable, Callable[[], Any]], Any] | None = None) -> None:
        self.state: object = None
        self.asked = False
        self._once = once
        self.names: set[str] = set()
        # What was made last, in a label or behind “as”.
        self.last: tuple[str, ...] = ()
        self._meant: dict[str, set[str]] = {}
        # What holds something: pots, and the baths in them.
        self._places: set[str] = set()
        # Words for the only thing of a sort, with its name; and the same as one text.
        self._sorted: dict[str, str] | None = None
        self._sorts_said = ""

    def __contains__(self, word: object) -> bool:
        self.asked = True
        return word in self.names

    def is_place(self, word: str) -> bool:
        """True for a pot, and for what a label names."""
        self.asked = True
        return word in self._places

    def hold(self, name: str) -> None:
        """Note that something holds something."""
        if name not in self._places:
            self._places.add(name)
            self._grown(" holds", name)

    def declare(self, section: str, tokens: Sequence[Token]) -> None:
        """Note a declaration: its name, and the words that describe the thing."""
        if section not in _DECLARED or not tokens or tokens[0].kind != "LABEL":
            return
        name = self.make(tokens[0])
        if section == "equipment":
            self.hold(name)
            # A bath without a name is called by its pot in every paper: the pan bath.
            for said in (f"{name} bath", f"{name}-bath"):
                self._note(said, name)
            self._note_number(name, tokens)
        if section == "materials":
            # One that goes on to another pot is called by what is in it: the weld bath.
            self._note(f"{name} bath", f"{name} bath")
        clauses = _clauses(tokens)
        words, said = clauses[0], ""
        for one in clauses:  # what it is may be said behind its weight or size
            said = _calls(section, one)
            if said:
                words = one
                break
        for word in self._sorts(section, words, clauses, _is_counted(tokens)) - {name}:
            self._note(word, name)
        if words:
            self._note(said or " ".join(words), name)

    def _note_number(self, name: str, tokens: Sequence[Token]) -> None:
        """Note vessels that are several of a kind, as a step may count them: “2 large pots”."""
        for at, token in enumerate(tokens[1:], 1):
            if token.kind == "UNIT" and token.word == "pieces" and tokens[at - 1].kind == "NUMBER":
                from procedure.language.counted_vessels import described

                words = [one for one in tokens if one.kind == "WORD"]
                for said in described([tokens[at - 1], *words]):
                    self._note(said, name)

    def vessels(self, descriptions: Iterable[str]) -> str:
        """The name of what all these descriptions of several vessels fit; empty for none."""
        self.asked = True
        fits = [frozenset(self._meant.get(one, ())) for one in descriptions]
        both = frozenset.intersection(*fits) if fits else frozenset()
        return next(iter(both)) if len(both) == 1 else ""

    def _sorts(
        self, section: str, words: Sequence[str], clauses: Sequence[Sequence[str]], several: bool
    ) -> set[str]:
        """What a thing is by itself: the wool, the skein; the bucket; the plants, the skins."""
        if section == "materials":
            return _sorts_of_plant(words, clauses)
        sorts = set(words[-1:])
        if section == "fibre":
            forms = [vocabulary().find(word, "form") for word in words]
            form = next((one.name for one in forms if one is not None), "")
            sorts = {*_ANY_FIBRE, *words[:1], *words[-1:], *_BY_FORM.get(form, ())}
            if several:  # the skein is one of them, and nobody knows which
                sorts -= _ONE_PIECE
        return sorts

    def only_of_their_sort(self) -> dict[str, str]:
        """The name of the only thing that a word is said of, for each word that is no name."""
        if self._sorted is None:
            self._sorted = {
                word: next(iter(known))
                for word, known in self._meant.items()
                if len(known) == 1 and " " not in word and word not in self.names
            }
            self._sorts_said = "step " + " ".join(
                f"{word} {self._sorted[word]}" for word in self._sorted
            )
        return self._sorted

    def sorts(self) -> str:
        """What words mean the only thing of a sort, as one text: a step is read by it."""
        self.only_of_their_sort()
        return self._sorts_said

    def _by_its_sort(self, tokens: list[Token]) -> list[Token]:
        """“the wool” as the name of the only thing that is wool."""
        known = self.only_of_their_sort()
        if not known:
            return tokens
        words = [meant or text for _, text, _, _, meant in tokens]
        if known.keys().isdisjoint(words) or not _NAMING.isdisjoint(words):
            return tokens
        if any(token.kind in ("EQUAL", "FOLLOW") for token in tokens):
            return tokens  # those are names of another procedure
        made: list[Token] = []
        before, of_its_own = "", False
        for token in tokens:
            kind = token.kind
            if kind == "NAME" and token.word in known and not of_its_own:
                token = token._replace(meant=known[token.word])
            # What is behind “after” is the name of a step, and behind “for each” a new one.
            within = of_its_own and kind in _IN_A_LIST
            of_its_own = within or kind in ("AFTER", "AS") or (kind == "EACH" and before == "FOR")
            before = kind
            made.append(token)
        return made

    def make(self, token: Token) -> str:
        """Note a name that stands in a label, or behind “as”."""
        name = token.name
        if name not in self.names:
            self.names.add(name)
            self._grown("", name)
            if name in self._meant:
                self._sorted = None
        if "-" in name:
            said = name.replace("-", " ")
            if said.endswith(" bath"):
                # Where a bath is made of that name, no other is meant.
                self._meant.pop(said, None)
                self._meant.pop(said.lower(), None)
                self._grown(said, name)
                # “The alum water”, poured away; lime water is a thing of its own.
                kind = said.removesuffix(" bath")
                if _is_no_water(kind):
                    self._note(f"{kind} water", name)
            self._note(said, name)
            if said != said.lower():
                self._note(said.lower(), name)
        return name

    def _note(self, said: str, name: str) -> None:
        known = self._meant.setdefault(said, set())
        if name not in known:
            known.add(name)
            self._grown(said, name)
            if " " not in said:
                self._sorted = None

    def _grown(self, said: str, name: str) -> None:
        if self._once is not None:
            self.state = self._once(("called", self.state, said, name), object)

    def all_of_a_sort(self, tokens: list[Token]) -> list[Token]:
        """“all six skeins” as one word where there is no lot of that name, as “all yarn” may be."""
        for at in range(1, len(tokens)):
            if tokens[at].word != "all" or tokens[at].kind != "NAME":
                continue
            end = at + 1
            while end < len(tokens) and tokens[end].kind in ("OF", "NUMBER"):
                end += 1
            run = tokens[at : end + 1]
            sort = run[-1].word
            named = len(run) > 1 and sort in all_sorts() and sort not in self
            if named and run[0].line == run[-1].line:
                whole = run[0]._replace(text=_spaced(run), meant=f"all {sort}")
                return [*tokens[:at], whole, *self.all_of_a_sort(tokens[end:])[1:]]
        return tokens

    def named_with_of(self, tokens: list[Token]) -> list[Token]:
        """“Cream of tartar” as one name before “6 g of” is read with what follows it."""
        for at in range(1, len(tokens) - 1):
            run = tokens[at - 1 : at + 2]
            if [one.kind for one in run] != ["NAME", "OF", "NAME"] or run[0].line != run[2].line:
                continue
            if vocabulary().material(_said(run)) is not None:
                made = [*tokens[: at - 1], self._joined(run), *tokens[at + 2 :]]
                return self.named_with_of(made)
        return tokens

    def in_one_word(self, tokens: list[Token]) -> list[Token]:
        """The words of a step, names of several words in one; each keeps its own place."""
        kinds = [token.kind for token in tokens]
        if "LPAR" in kinds:
            tokens = _no_stuff_in_brackets(_without_brackets(tokens))
        if "UNTIL" in kinds:
            tokens = _signs(tokens)
        if not _one_after_another([token.kind for token in tokens]):
            return self._by_its_sort(tokens)
        at = 1
        while at + 1 < len(tokens):
            if tokens[at].kind == "NAME" and tokens[at + 1].kind in _INSIDE:
                end = at + self._length(tokens, at)
                if end > at:
                    tokens = [*tokens[:at], self._joined(tokens[at:end]), *tokens[end:]]
            at += 1
        return self._by_its_sort(tokens)

    def _length(self, tokens: list[Token], at: int) -> int:
        """How many words from here on are one name; 0 where they are not."""
        line = tokens[at].line
        for length in range(LONGEST, 1, -1):
            run = tokens[at : at + length]
            whole = len(run) == length and run[-1].kind == "NAME" and run[-1].line == line
            if whole and _INSIDE.issuperset([one.kind for one in run]) and self._name(_said(run)):
                return length
        return 2 if self._near_bath(tokens[at : at + 2]) else 0

    def _near_bath(self, run: Sequence[Token]) -> str:
        """The “wled-bath” of “wled bath”, near to the name of one bath; empty for anything else."""
        if [one.kind for one in run] != ["NAME", "NAME"] or run[1].word not in BATHS:
            return ""
        word = run[0].word
        if vocabulary().material(word) is not None or word in self.names:
            return ""
        self.asked = True
        said = f"{word}-{run[1].word}"
        return said if near(said, [one for one in self._places if one[-1:] == said[-1:]]) else ""

    def _name(self, said: str) -> str:
        """The name that words stand for; themselves where they are a material; else empty."""
        self.asked = True
        known = self._meant.get(said if said in self._meant else said.lower(), ())
        if len(known) == 1:
            return next(iter(known))
        if not known and said in BATHS_BY_ROLE:
            return said
        entry = vocabulary().material(said) if not known else None
        if entry is None:
            return ""
        known = self._meant.get(f"= {entry.name}", ())
        return next(iter(known)) if len(known) == 1 else said

    def _joined(self, run: list[Token]) -> Token:
        meant = self._name(_said(run)) or self._near_bath(run)
        return run[0]._replace(text=_spaced(run), meant=meant)


def _is_counted(tokens: Sequence[Token]) -> bool:
    """True for a lot of several skeins or pieces."""
    for number, unit in pairwise(tokens):
        known = vocabulary().units.get(unit.word) if unit.kind == "UNIT" else None
        if number.kind == "NUMBER" and known is not None and known.kind == "count":
            return number.word not in ("1", "one")
    return False


def _sorts_of_plant(words: Sequence[str], clauses: Sequence[Sequence[str]]) -> set[str]:
    """What a dyestuff of a plant is called by itself: the plants, and its part, the skins."""
    known = vocabulary()
    entry = known.material(" ".join(words)) if words else None
    if entry is None or entry.table != "dyestuffs":
        return set()
    parts = parts_of_plants().intersection(words)
    state = any(known.find(word, "state") is not None for one in clauses for word in one)
    return {*_ANY_PLANT, *parts} if parts or state else set()


@cache
def all_sorts() -> frozenset[str]:
    """Words for fibre of any kind or of one form, as in “all yarn”, “all the skeins”."""
    words = vocabulary()
    forms = [words.find(form, "form") for form in (*_BY_FORM, "garment", "fleece", "roving")]
    called = [
        one for form in forms if form is not None for one in (form.name, *form.words("aliases"))
    ]
    counted = [name for name, unit in words.units.items() if unit.kind == "count"]
    return frozenset((*_ANY_FIBRE, "lots", "lot", "wool", *called, *counted))


def _clauses(tokens: Sequence[Token]) -> list[list[str]]:
    """The words of a declaration, parted where anything else is; the first may be empty."""
    clauses: list[list[str]] = [[]]
    for token in tokens[1:]:
        if token.kind == "WORD":
            clauses[-1].append(token.text)
        else:
            clauses.append([])
    return [clauses[0], *filter(None, clauses[1:])]


def _calls(section: str, words: Sequence[str]) -> str:
    """What words call a thing of that section; empty where they only tell of its state."""
    known = vocabulary()
    said = " ".join(words)
    if not words:
        return ""
    if section == "materials":
        entry = known.material(said)
        return f"= {entry.name}" if entry is not None else ""
    if section == "equipment":
        return said if known.find(words[-1], *_EQUIPMENT) is not None else ""
    return said if any(known.find(word, "fibres") is not None for word in words) else ""


def _one_after_another(kinds: list[str]) -> bool:
    """True where a name may have several words: one stands right behind another."""
    before = ""
    for kind in kinds:
        if before == "NAME" and kind in _INSIDE:
            return True
        before = kind
    return False


# What people put before a sign: until it is dry, until the water runs clear.
_LOOKS = (
    *("it is", "it's", "they are", "water runs", "water is", "it runs", "all is", "it feels"),
    *("it has", "they have", "it", "all"),
)


_OF_SOMETHING = (" has ", " have ", " is ", " are ")


def _signs(tokens: list[Token]) -> list[Token]:
    """“until clear” is until "clear": a sign that people look for needs no marks."""
    for at, token in enumerate(tokens):
        if token.kind != "UNTIL":
            continue
        run: list[Token] = []
        for one in tokens[at + 1 :]:
            if (
                one.kind not in ("NAME", "VERB", "HEAT", "THROUGH", "LOOSE")
                or one.line != token.line
            ):
                break
            run.append(one)
        said = " ".join(one.text for one in run)
        for looks in _LOOKS:
            said = said.removeprefix(f"{looks} ")
        for verb in _OF_SOMETHING:  # until the alum has dissolved
            said = said.rpartition(verb)[2]
        if run and vocabulary().find(said, "sign") is not None:
            whole = _spaced(run)
            the = "the " if run[0].text == "water" else ""  # an article is read over
            sign = run[0]._replace(kind="STRING", text=whole, meant=f'"{the}{whole}"')
            return [*tokens[: at + 1], sign, *tokens[at + 1 + len(run) :]]
    return tokens


def _no_stuff_in_brackets(tokens: list[Token]) -> list[Token]:
    """“(a pinch of arsenic)” is no reading of an amount, as “(15 % of yarn)” is: it is not read."""
    units = vocabulary().units
    within, share = False, True
    for at, token in enumerate(tokens):
        if token.kind in ("LPAR", "RPAR"):
            within, share = token.kind == "LPAR", True
        elif within and token.kind in ("UNIT", "LOOSE"):
            unit = units.get(token.word)
            share = unit is not None and unit.kind == "percent"
        elif within and token.kind == "OF" and not share:
            return [*tokens[:at], token._replace(kind="WORD"), *tokens[at + 1 :]]
    return tokens


def _without_brackets(tokens: list[Token]) -> list[Token]:
    """“water (about 2 litres)” is water about 2 litres: there is no first reading."""
    for at in range(1, len(tokens) - 4):
        if [one.kind for one in tokens[at : at + 2]] != ["NAME", "LPAR"]:
            continue
        first = at  # the onion skins: a name of two words
        while first > 1 and tokens[first - 1].kind == "NAME":
            first -= 1
        before = tokens[first - 1].kind
        end = at + 2
        while end < len(tokens) and tokens[end].kind in _BRACKETED:
            end += 1
        if end > at + 2 and end < len(tokens) and tokens[end].kind == "RPAR":
            if before in ("IN", "INTO") and _is_heat(tokens[end - 1]):  # in dye-bath (75 °C)
                clause = tokens[at + 1]._replace(kind="AT", meant="at")
                rest = _without_brackets(tokens[end + 1 :])
                return [*tokens[: at + 1], clause, *tokens[at + 2 : end], *rest]
            if before not in ("VERB", "WITH", "COMMA", "AND", "OVER"):
                continue
            rest = _without_brackets(tokens[end + 1 :])
            return [*tokens[: at + 1], *tokens[at + 2 : end], *rest]
    return tokens


def _is_heat(token: Token) -> bool:
    """True for a unit of heat."""
    unit = vocabulary().units.get(token.word) if token.kind == "UNIT" else None
    return unit is not None and unit.kind == "temperature"


_BRACKETED = frozenset(("ABOUT", "NUMBER", "RANGE", "UNIT", "BASIS", "BOUND"))


def _spaced(run: Sequence[Token]) -> str:
    """Words as they stand, with as many blanks."""
    text, end = "", run[0].column
    for token in run:
        text += " " * (token.column - end) + token.text
        end = token.to
    return text


def _said(run: Sequence[Token]) -> str:
    return " ".join(token.text for token in run)
