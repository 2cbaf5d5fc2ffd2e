"""The steps of the short handout: those that a person does in one go are told in one sentence."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from procedure.flow import FlowNode
from procedure.handout.numbered_steps import NumberedStep, gap_cards
from procedure.handout.phrasebook import Telling
from procedure.handout.prose import COVERED, LID_ON, SAID_OF_THIS, WITHIN, step_parts
from procedure.model import Step
from procedure.paper.blocks import StepCard
from procedure.paper.pieces import Blank, Phrase, Words, phrase, plain_text, sentence, sentences
from procedure.vocabulary.troubles import KnowHow, know_how

# So many steps, and letters of text, are told together at the most (the project's choice).
MOST, LONGEST = 3, 230


class Short:
    """Tells steps; what has been said once of how a thing is done is not said again."""

    def __init__(self, telling: Telling) -> None:
        self.telling = telling
        self.flow = telling.plan.flow
        self.unsaid: list[KnowHow] = list(know_how())
        self.last_main = ""

    def cards(self, told: tuple[NumberedStep, ...]) -> tuple[StepCard, ...]:
        """The steps as cards, several together where they are one piece of work."""
        made: list[StepCard] = []
        at = 0
        while at < len(told):
            group = self._group(told, at)
            made += gap_cards(group[0].before)
            made.append(self._card(group))
            made += gap_cards(group[-1].behind)
            at += len(group)
        return tuple(made)

    # ------------------------------------------------------------ what is told together

    def _group(self, told: tuple[NumberedStep, ...], first: int) -> list[NumberedStep]:
        group = [told[first]]
        while len(group) < MOST and first + len(group) < len(told):
            following = told[first + len(group)]
            if not self._goes_on(group[-1], following):
                break
            if len(plain_text(self._text([*group, following]), self.telling.voice)) > LONGEST:
                break
            group.append(following)
        return group

    def _goes_on(self, one: NumberedStep, other: NumberedStep) -> bool:
        """True where the second step is the same hands' next move on the same thing."""
        a, b = self.flow.nodes[one.node], self.flow.nodes[other.node]
        if one.inner or other.inner or one.notes or one.turn != other.turn or other.before:
            return False
        if not _plain(a.step) or not _plain(b.step) or not self._one_sentence(one):
            return False
        shared = self._shared([one, other])
        if any(how not in shared and how[0] not in WITHIN for how in self._parts(one, ())[1]):
            return False  # its manner cannot be said within its own half of a sentence
        if b.cleaned:
            return a.does.empties or bool(a.cleaned)
        if a.lots or b.lots:
            same = a.lots == b.lots
            return same and (b.does.in_air or b.does.takes_out or b.does.washes_out)
        return bool(a.bath) and a.bath == b.bath and (b.does.round_fibre or b.does.strains)

    def _one_sentence(self, told: NumberedStep) -> bool:
        said, _ = self._parts(told, ())
        return ". " not in plain_text(said, self.telling.voice)

    # ------------------------------------------------------------ text

    def _parts(
        self, told: NumberedStep, known: tuple[str, ...]
    ) -> tuple[Phrase, tuple[Phrase, ...]]:
        telling = replace(self.telling, turn=told.turn, known=known)
        return step_parts(telling, self.flow.nodes[told.node])

    def _text(self, group: list[NumberedStep]) -> Phrase:
        if len(group) == 1 and (group[0].inner or not self._leaf(group[0])):
            return group[0].text
        said: Phrase = ()
        before: FlowNode | None = None
        parts: list[tuple[Phrase, tuple[Phrase, ...]]] = []
        for told in group:
            node = self.flow.nodes[told.node]
            parts.append(self._parts(told, self._named_before(before, node)))
            before = node
        shared = self._shared(group)
        last: tuple[Phrase, ...] = ()
        late: list[Phrase] = []  # how a step before the last is done that no half sentence can say
        for main, besides in parts:
            late += [how for how in last if how[0] not in WITHIN and not _lids((how,)) & shared]
            said = phrase(_opened(said), _how(last, shared), "; ", _lowered(main)) if said else main
            last = besides
        if len(group) > 1:
            own = {how: SAID_OF_THIS[how[0]] for how in last if how[0] in SAID_OF_THIS}
            own = {how: word for how, word in own.items() if how not in shared}
            said = phrase(_opened(said), *(f", {word}" for word in own.values()))
            last = tuple(how for how in last if how not in own)
        return sentences(sentence(said), *dict.fromkeys((*late, *last)))

    def _named_before(self, before: FlowNode | None, node: FlowNode) -> tuple[str, ...]:
        """What the step before spoke of last: “it” is nothing else."""
        if before is None or node.cleaned or self._of_another(before):
            return ()
        if node.lots:
            return node.lots
        return (node.bath,) if node.bath else ()

    def _of_another(self, node: FlowNode) -> bool:
        """True where a step moves something that may be taken for what it is moved in or out of."""
        does = node.does
        if does.bags or does.lifts_matter or does.throws_matter_out or does.presses_plants:
            return True
        if does.draws_off or node.poured:
            return True
        return does.adds and any(thing in self.flow.baths for thing, _ in node.moved)

    def _shared(self, group: list[NumberedStep]) -> frozenset[Phrase]:
        """How every step of a group is done: said once, after them all."""
        return frozenset.intersection(*(_lids(self._parts(told, ())[1]) for told in group))

    def _leaf(self, told: NumberedStep) -> bool:
        return isinstance(self.flow.nodes[told.node].step, Step) and bool(told.number)

    # ------------------------------------------------------------ cards

    def _card(self, group: list[NumberedStep]) -> StepCard:
        first, last = group[0], group[-1]
        number = first.number
        if first is not last:
            number += f"–{last.number.rsplit('.', 1)[-1]}"
        notes = [sentence(Words(note)) for told in group for note in told.notes]
        for told in group:
            notes += self._how(told)
        blank = next((one for told in group for one in self._blank(told)), None)
        return StepCard(
            number=number,
            text=self._text(group),
            notes=tuple(dict.fromkeys(notes)),
            blanks=(blank,) if blank is not None else (),
            boxes=max(told.boxes for told in group),
            inner=self.cards(first.inner),
        )

    def _blank(self, told: NumberedStep) -> Iterator[Blank]:
        """The heat that a bath of mordant or colour really had: that is what colours hang on."""
        node = self.flow.nodes[told.node]
        if told.inner or not node.lots or not node.does.main or not node.does.meets_bath:
            return
        if any(blank.unit == self.telling.voice.heat_unit for blank in told.blanks):
            yield Blank("it was", self.telling.voice.heat_unit)

    # ------------------------------------------------------------ know-how

    def _how(self, told: NumberedStep) -> list[Phrase]:
        node = self.flow.nodes[told.node]
        if told.inner or not isinstance(node.step, Step):
            return []
        found = [one for one in self.unsaid if self._belongs(one, node)]
        self.unsaid = [one for one in self.unsaid if one not in found]
        if node.does.main and node.step.verb is not None:
            self.last_main = node.step.verb.name
        it, its = ("them", "their") if self.telling.many(node.lots) else ("it", "its")
        manners = (word.text for word in node.step.manners)
        written = " ".join((*told.notes, *manners))
        says = (one.beside(written) for one in found)
        return [
            *((care,) for care in told.care),
            *((said.format(it=it, its=its),) for said in says if said),
        ]

    def _until_a_bath(self, node: FlowNode) -> Iterator[FlowNode]:
        """What is done to the lots of a step until they go into a bath again."""
        for later in self.flow.nodes[node.id + 1 :]:
            if {*later.lots} & {*node.lots}:
                if later.does.puts_fibre_in:
                    return
                yield later

    def _belongs(self, one: KnowHow, node: FlowNode) -> bool:
        if one.kind == "effect":
            if one.what != node.effect:
                return False
            if one.unless in {each.effect for each in self._until_a_bath(node)}:
                return False
            return one.at in (node.does.name, self.last_main)
        if one.at != node.effect:
            return False
        moments = self.telling.moments.get(node.id, [])
        if one.kind == "material":
            things = [thing for moment in moments for thing, _, _ in moment.amounts]
            column = "name"
        else:
            baths = [moment.bath_before or moment.bath_after for moment in moments]
            things = [thing for bath in baths if bath is not None for thing in bath.contents]
            column = "dye_class"
        for thing in things:
            found = self.flow.materials.get(thing)
            entry = found[0].entry if found is not None else None
            if entry is not None:
                value = entry.name if column == "name" else entry.facts.get(column, "")
                if value == one.what:
                    return True
        return False


def _lids(besides: tuple[Phrase, ...]) -> frozenset[Phrase]:
    """How a step is done; a lid on and a cover are the same lid of the same bath."""
    return frozenset((LID_ON,) if how == (COVERED,) else how for how in besides)


def _how(besides: tuple[Phrase, ...], shared: frozenset[Phrase]) -> Phrase:
    """How the step is done of which a sentence has just spoken, but for what all steps share."""
    own = [how[0] for how in besides if not _lids((how,)) & shared]
    return tuple(f", {WITHIN[word]}" for word in own if isinstance(word, str) and word in WITHIN)


def _plain(step: object) -> bool:
    return isinstance(step, Step) and step.verb is not None and not step.after


def _opened(said: Phrase) -> Phrase:
    """A sentence without its stop."""
    last = said[-1]
    if isinstance(last, str):
        return phrase(said[:-1], last.removesuffix("."))
    return said


def _lowered(said: Phrase) -> Phrase:
    first = said[0]
    if isinstance(first, str):
        return phrase(first[:1].lower() + first[1:], _opened(said[1:]) if len(said) > 1 else ())
    return said
