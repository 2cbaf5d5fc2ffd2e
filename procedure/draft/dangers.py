"""What can hurt and stands in a comment of a draft alone: the checker is asked of it all the same.

No rule looks at a comment. What the draft made no step of is therefore read as a dyer's own words
(``do "..."``), sentence by sentence, behind the steps of the draft, and what the rules of safety
say of those words is told by the sentence. Nothing of it is written into the draft's steps.
"""

from __future__ import annotations

import re

from procedure import pipeline
from procedure.draft.drafting import Draft
from procedure.draft.lexicon import meanings
from procedure.draft.sentences import Sentence
from procedure.findings import Finding, Says, Word, at_least
from procedure.model.harm import plants_in
from procedure.model.substances import grave, put_in, substances_named
from procedure.model.types import Procedure
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary

SAFETY = "safety"
NOT_IN_A_LINE = "  # not "
WORD = re.compile(r"[A-Za-z]+")
QUOTED = re.compile(r"“([^”]*)”")
EDGES = re.compile(r"^[^\w]+|[^\w]+$")


class Harm(NamedTuple):
    """What a rule of safety finds in the words of a sentence that no step of the draft has.

    ``says`` is what it found, with the sentence's own words where it quotes them.
    """

    sentence: int
    says: str
    finding: Finding


def dangers(draft: Draft, judged: Judged) -> list[Harm]:
    """What harms by the words of ``draft`` that it made no step of, in the order of the prose.

    ``judged`` is the draft as the checker reads it: what that tells of is not told again.
    """
    lines = draft.text.rstrip("\n").split("\n")
    asked = [one for one in draft.sentences if _has_more(draft, lines, one)]
    if not asked:
        return []
    plain = [_plain(one) for one in asked]
    in_steps = _in_steps(judged.model)
    doings = [
        f'  do "{" ".join(words)}{_named_alone(draft, one, words, in_steps)}"'
        for one, words in zip(asked, plain, strict=True)
    ]
    read = pipeline.read("\n".join([*lines, *doings]) + "\n", judged.file)
    return [
        Harm(asked[at].number, _quoted(one.sentence, plain[at], _words(asked[at])), one)
        for one in read.findings
        if 0 <= (at := one.line - len(lines) - 1) < len(asked)
        and one.family == SAFETY
        and at_least(one.level, "warning")
        and _only_in_words(one) not in in_steps
    ]


def _has_more(draft: Draft, lines: list[str], sentence: Sentence) -> bool:
    """Whether something of a sentence is in a comment alone, or a material of it in no line."""
    made = [lines[line - 1] for line, of in draft.origin.items() if of == sentence.number]
    if any(line.startswith(NOT_IN_A_LINE) for line in made):
        return True
    code = " ".join(line.partition("#")[0] for line in made)
    return any(
        thing.kind == "material" and thing.name.replace(" ", "-") not in code
        for part in sentence.parts
        for thing in part.things
    )


def _words(sentence: Sentence) -> list[str]:
    """The words of a sentence as they can stand between quotation marks."""
    return sentence.words.replace('"', "'").replace("#", " ").split()


def _plain(sentence: Sentence) -> list[str]:
    """The same words, each verb as it stands in an order, which is how the rules know it."""
    forms = meanings("plain form")
    return [
        WORD.sub(lambda word: forms.get(word[0].lower(), word[0]), one) for one in _words(sentence)
    ]


def _named_alone(draft: Draft, sentence: Sentence, plain: list[str], in_steps: set[str]) -> str:
    """What hurts badly and is only named or measured in a sentence: it is in hand too.

    “Bleach shifts the stain”, “the secret was half an ounce of bichromate”.
    """
    words = " ".join(plain)
    left = [sentence.of[one.start] for one in draft.left if one.start in sentence.of]
    measured = [vocabulary().material(thing.name) for thing in left]
    # The bare name of a metal is that of a pot or a colour as well.
    named = [one for one, _ in substances_named(words) if not one.facts.get("metal")]
    harms = {one.name for one in (*named, *measured) if one is not None and grave(one)}
    moved = {one.name for one in put_in(words)} | in_steps
    return "".join(f"; add {name}" for name in sorted(harms - moved))


def _quoted(says: str, plain: list[str], words: list[str]) -> str:
    """What was found with the words of the prose in place of those that the rule was asked of."""
    quote = QUOTED.search(says)
    said = quote[1].split() if quote is not None else []
    for at in range(len(plain) - len(said) + 1 if said else 0):
        if EDGES.sub("", " ".join(plain[at : at + len(said)]).lower()) == " ".join(said).lower():
            own = EDGES.sub("", " ".join(words[at : at + len(said)]))
            return says.replace(f"“{quote[1]}”", f"“{own}”", 1) if quote is not None else says
    return says


def _in_steps(model: Procedure) -> set[str]:
    """What the steps of a draft use, by its name in the vocabulary: the checker tells of that."""
    used = {written.item.text for written in model.written if written.item is not None}
    made = [made for name, made in model.materials.items() if name in used]
    plants = {plant.name for one in made for plant in plants_in(one)}
    return plants | {one.entry.name for one in made if one.entry is not None}


def _only_in_words(finding: Finding) -> str:
    """The substance or plant of which is found that only free words name it; or empty."""
    if finding.rule != "danger-in-free-words" or finding.fact is None:
        return ""
    thing = finding.fact.values.get("thing", finding.fact.values.get("plant"))
    if isinstance(thing, Says):  # a plant by its name and its Latin name
        thing = dict(thing.values).get("name")
    return thing.text if isinstance(thing, Word) else ""
