"""Help with the clauses of a verb: what it acts on, what it needs and may have."""

from __future__ import annotations

from procedure.language import Token
from procedure.quantity.record import NamedTuple
from procedure.service.spots import before, head_of
from procedure.vocabulary import Verb, vocabulary

OBJECTS = {
    "lot": "FIBRE",
    "bath": "BATH",
    "thing": "MATERIAL AMOUNT",
    "material": "MATERIAL",
    "equipment": "POT, TOOL",
}
CLAUSES = {
    "in": ("in BATH or POT", "where it happens"),
    "into": ("into POT or NAMES", "where it goes, or what it becomes"),
    "from": ("from HEAT or BATH", "the heat it begins at, or what it is taken from"),
    "with": ("with MATERIAL AMOUNT, ...", "what goes in, each with its amount"),
    "at": ("at HEAT", "how hot, such as 85 °C, simmer or hand-hot"),
    "to": ("to HEAT or BATH", "the heat it comes to, or where it goes"),
    "over": ("over TIME", "how long it takes to get there"),
    "for": ("for TIME", "how long it stays so"),
    "until": ('until "SIGN"', "the sign to wait for"),
    "after": ("after LABEL", "another step that comes first"),
    "on": ("on HEATER", "what it is heated with"),
    "through": ("through FILTER", "what it is strained through"),
    "wearing": ("wearing GLOVES, ...", "what protects whoever does it"),
    "as": ("as NAME", "what it is called from here on"),
    "note": ('note "WORDS"', "anything else that a reader should know"),
    "allow": ('allow RULE because "REASON"', "accept a finding, and say why"),
}
ALWAYS = ("after", "wearing", "note", "allow")


class ClauseHelp(NamedTuple):
    """A clause that the verb may have: its form, what it says, whether the verb needs it.

    ``said`` holds where the step has it already; ``now`` where the cursor is in it.
    """

    word: str
    form: str
    says: str
    needed: bool
    said: bool
    now: bool


class VerbHelp(NamedTuple):
    """How a verb is used, with all its clauses, those that it needs first."""

    verb: str
    form: str
    meaning: str
    clauses: tuple[ClauseHelp, ...]


def clause_help(text: str, line: int, column: int) -> VerbHelp | None:
    """Help for the verb of the step at a place; None where there is no verb before it."""
    tokens = before(text, line, column)
    first = head_of(tokens)
    verb = vocabulary().verbs.get(first.text) if first is not None else None
    return None if verb is None else help_of(verb, tokens)


def help_of(verb: Verb, tokens: tuple[Token, ...] = ()) -> VerbHelp:
    """How a verb is used; ``tokens`` are the words of the step so far."""
    said = [token.kind.lower() for token in tokens if token.kind.lower() in CLAUSES]
    needs = {word for need in verb.needs for word in need.split("|")}
    words = [*(w for w in CLAUSES if w in needs), *(w for w in CLAUSES if w in clauses_of(verb))]
    made = tuple(
        ClauseHelp(word, *CLAUSES[word], word in needs, word in said, said[-1:] == [word])
        for word in dict.fromkeys(words)
    )
    objects = " or ".join(OBJECTS.get(one, one.upper()) for one in verb.objects)
    needed = " ".join(
        " or ".join(CLAUSES[word][0] for word in need.split("|")) for need in verb.needs
    )
    return VerbHelp(verb.name, f"{verb.name} {objects} {needed}".strip(), verb.meaning, made)


def clauses_of(verb: Verb) -> frozenset[str]:
    """Every clause that a verb may have."""
    more = {"on"} if verb.does.over_heat else set()
    return frozenset((*verb.may, *ALWAYS, *more)) & frozenset(CLAUSES)
