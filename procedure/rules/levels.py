"""The workshop's levels: rules that a collection takes more or less to heart."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from procedure.findings import LEVELS, Finding, Says, say
from procedure.quantity.record import TYPE_CHECKING, NamedTuple
from procedure.rules.allowing import AT_THE_STEP, NEVER_LIGHTER, NEVER_SILENT
from procedure.rules.rule import Rule
from procedure.vocabulary import near

if TYPE_CHECKING:
    from procedure.collection.workshop import LevelSaid, WorkshopFault

HIDDEN = "hidden"
# From the heaviest to the lightest.
WEIGHTS = (*LEVELS, HIDDEN)
# A line that cannot be read, or a workshop file that cannot be followed, is not judged at
# all, so its finding cannot be made lighter.
FIXED = frozenset(("cannot-read", "faulty-workshop-file", *NEVER_LIGHTER, *AT_THE_STEP))


class Weight(NamedTuple):
    """The level that the workshop gives a rule, and its reason where it needs one."""

    level: str
    because: str = ""


WHERE_RULES_ARE = "The command “vatwright why” lists the rules."


def levels_of(
    said: Iterable[LevelSaid], rules: tuple[Rule, ...]
) -> tuple[dict[str, Weight], list[WorkshopFault]]:
    """The levels that a workshop file gives to rules by name, and what is amiss with them.

    A faulty level is left out: its rule weighs what it weighs everywhere.
    """
    levels: dict[str, Weight] = {}
    faults: list[WorkshopFault] = []
    said = tuple(said)
    by_name = {rule.name: rule for rule in rules} if said else {}  # most workshops say nothing
    for one in said:
        rule = by_name.get(one.rule.text)
        wrong = _no_rule(one.rule.text, by_name) if rule is None else _not_this_level(one, rule)
        if wrong is None:
            levels[one.rule.text] = Weight(one.level, one.because)
        else:
            from procedure.collection.workshop import WorkshopFault

            faults.append(WorkshopFault(one.rule.place, *wrong))
    return levels, faults


def _no_rule(name: str, rules: Mapping[str, Rule]) -> tuple[Says, Says | str]:
    meant = near(name, list(rules))
    hint = say("Did you mean “{meant}”?", meant=meant) if meant else WHERE_RULES_ARE
    return say("“{name}” means nothing here.", name=name), hint


def _not_this_level(said: LevelSaid, rule: Rule) -> tuple[Says, Says | str] | None:
    """Why a rule cannot have the level that is said, with the remedy; None where it can."""
    name, level = rule.name, said.level
    if level not in WEIGHTS:
        remedy = say(
            "The level of {name} is one of “error”, “warning”, “note” or “hidden”, in quotation "
            "marks.",
            name=name,
        )
        return say("{name} has no level that I know.", name=name), remedy
    if not lighter(level, rule.level):
        return None
    if name in FIXED:
        if name in NEVER_LIGHTER:
            why = say("{name} cannot weigh less: it is about what kills.", name=name)
        elif name in AT_THE_STEP:
            why = say("{name} cannot weigh less: gas, fire or burns may follow.", name=name)
        else:
            why = say("{name} cannot weigh less: such a line is not judged at all.", name=name)
        return why, "Remove the line."
    if rule.family not in NEVER_SILENT:
        return None
    if level == HIDDEN:
        return (
            say(
                "{name} is about safety, so it can be a note and never hidden: others read the "
                "procedure too.",
                name=name,
            ),
            say("Write {name} = {level}.", name=name, level='{ level = "note", because = "..." }'),
        )
    if not said.because:
        return (
            say("{name} is about safety, so it weighs less only with a reason.", name=name),
            say(
                "Write {name} = {begin}{level}{end}.",
                name=name,
                begin='{ level = "',
                level=level,
                end='", because = "..." }',
            ),
        )
    return None


def lighter(level: str, other: str) -> bool:
    """True where a level weighs less than another."""
    return WEIGHTS.index(level) > WEIGHTS.index(other)


def weighed(
    findings: list[Finding], levels: Mapping[str, Weight], rules: tuple[Rule, ...]
) -> list[Finding]:
    """The findings with the workshop's levels.

    A rule may speak of lighter and of heavier things. A level below the rule's own is
    the most that its findings weigh, and one above it is the least. A finding of the
    safety family is never hidden: someone else's child may read the procedure.
    """
    if not levels:
        return findings
    by_name = {rule.name: rule for rule in rules}
    return [kept for finding in findings for kept in _one(finding, levels, by_name)]


def _one(
    finding: Finding, levels: Mapping[str, Weight], rules: Mapping[str, Rule]
) -> Iterator[Finding]:
    weight, rule = levels.get(finding.rule), rules.get(finding.rule)
    if weight is None or rule is None:
        yield finding
        return
    if lighter(weight.level, rule.level):
        level = max(weight.level, finding.level, key=WEIGHTS.index)
        if level == HIDDEN and rule.family in NEVER_SILENT:
            level = "note"
    elif finding.allowed:  # the writer's reason has the last word
        level = finding.level
    else:
        level = min(weight.level, finding.level, key=WEIGHTS.index)
    if level != HIDDEN:
        because = weight.because if lighter(level, finding.level) else ""
        yield finding._replace(level=level, allowed=finding.allowed or because)
