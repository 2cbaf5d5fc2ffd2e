"""``allow``: findings that the writer accepts with a reason."""

from collections.abc import Iterator

from procedure.facts.study import Study
from procedure.findings import Finding, Says, say
from procedure.model import Allow, Block, Procedure, Step
from procedure.quantity.record import NamedTuple
from procedure.rules.judging import finding_of
from procedure.rules.names_and_order.one_name_each import no_such_rule
from procedure.rules.rule import Found, Rule, rule

SOURCE = "the language reference"
FAMILY = "allowing"
# Families whose errors stay visible as notes even when allowed.
NEVER_SILENT = frozenset(("safety",))
# What kills stays an error whatever reason is written beside it: only the whole of the work
# in order makes it lighter.
NEVER_LIGHTER = frozenset(("deadly-plant",))
# Where gas, fire or burns may follow, an error is allowed at its very step and nowhere else: a
# line of the header would make the next one quiet too, which nobody has looked at.
AT_THE_STEP = frozenset(
    ("must-not-meet", "meet-in-the-waste", "wrong-order-of-pouring", "spirit-on-the-heat")
)


class _Reach(NamedTuple):
    """An allow and the lines of its file that it speaks for."""

    procedure: Procedure
    allow: Allow
    first: int
    last: int
    of_step: bool = False


def allowed(study: Study, findings: list[Finding], rules: tuple[Rule, ...]) -> list[Finding]:
    """The findings that no ``allow`` silences, and what is to be said of the allows.

    An allowed error of the safety family stays as a note with the writer's reason; one after
    which gas, fire or burns may follow, only where it is allowed at its step. What kills stays
    an error whatever is written.
    """
    reaches = [reach for procedure in study.procedures for reach in _reaches(procedure)]
    if not reaches:
        return findings
    by_name = {rule.name: rule for rule in rules}
    used: set[int] = set()
    too_wide: set[int] = set()
    firm: set[int] = set()
    kept: list[Finding] = []
    for finding in findings:
        said = _allow_for(reaches, finding)
        if said is None or not reaches[said].allow.reason:
            kept.append(finding)
            continue
        used.add(said)
        wide = finding.level == "error" and not reaches[said].of_step
        if finding.rule in AT_THE_STEP and wide:
            too_wide.add(said)
        if finding.firm:
            firm.add(said)
        heavy = finding.firm or (said in too_wide and finding.level == "error")
        if heavy or finding.rule in NEVER_LIGHTER:
            kept.append(finding)
            continue
        rule = by_name[finding.rule]
        if rule.family in NEVER_SILENT and finding.level == "error":
            reason = reaches[said].allow.reason
            kept.append(finding._replace(level="note", allowed=reason))
    about = _about(reaches, used, by_name)
    wide_ones = (_too_wide(reaches[number]) for number in sorted(too_wide - firm))
    return [*kept, *about, *wide_ones, *(_stays(reaches[number]) for number in sorted(firm))]


def _allow_for(reaches: list[_Reach], finding: Finding) -> int | None:
    """The allow that speaks for a finding: the narrowest one."""
    fitting = [
        (reach.last - reach.first, number)
        for number, reach in enumerate(reaches)
        if reach.allow.rule.text == finding.rule
        and reach.procedure.key == finding.key
        and reach.first <= finding.line <= reach.last
    ]
    return min(fitting)[1] if fitting else None


def _about(reaches: list[_Reach], used: set[int], rules: dict[str, Rule]) -> Iterator[Finding]:
    for number, reach in enumerate(reaches):
        name = reach.allow.rule
        if name.text not in rules:
            sentence, remedy = no_such_rule(name, list(rules))
            yield _finding(no_such_rule_allowed, reach, sentence, remedy)
        elif not reach.allow.reason:
            sentence = say("“{text}” is allowed without a reason.", text=name.text)
            yield _finding(allow_without_reason, reach, sentence, "Give the reason.")
        elif number not in used:
            sentence = say(
                "“{text}” is allowed here, but there is nothing to allow.", text=name.text
            )
            yield _finding(nothing_to_allow, reach, sentence, "Remove it.")


def _too_wide(reach: _Reach) -> Finding:
    """What is said of an allow that asks for quiet about gas, fire or burns from afar."""
    return _finding(
        nothing_to_allow,
        reach,
        say(
            "“{text}” is allowed here for more than one step, and gas, fire or burns may follow: "
            "it stays an error.",
            text=reach.allow.rule.text,
        ),
        "Change the step. Who must do it writes the allow at that step, with the reason.",
        "warning",
    )


def _stays(reach: _Reach) -> Finding:
    """What is said of an allow that asks for quiet about what kills, or burns in one bucket."""
    return _finding(
        nothing_to_allow,
        reach,
        say(
            "“{text}” is allowed here, and what may follow kills or burns: it stays an error.",
            text=reach.allow.rule.text,
        ),
        "Change the step: no reason beside it makes it safe.",
        "warning",
    )


def _finding(
    rule: Rule, reach: _Reach, sentence: Says | str, remedy: Says | str, level: str = ""
) -> Finding:
    found = Found(reach.procedure, reach.allow.place, sentence, remedy)
    return finding_of(rule, found._replace(level=level) if level else found)


def _reaches(procedure: Procedure) -> Iterator[_Reach]:
    whole = (1, max(procedure.line_count, 1))
    for allow in procedure.allows:
        yield _Reach(procedure, allow, *whole)
    for section, allows in procedure.section_allows.items():
        for allow in allows:
            yield _Reach(procedure, allow, *procedure.section_lines[section])
    starts = sorted(
        {step.place.line for step in _steps(procedure.body)}
        | {
            thing.line
            for group in (procedure.lots, procedure.equipment, procedure.materials)
            for thing in group.values()
        }
        | {first for first, _ in procedure.section_lines.values()}
    )
    following = dict(zip(starts, [*starts[1:], whole[1] + 1], strict=True)) if starts else {}

    def reach(line: int, allows: tuple[Allow, ...], of_step: bool = False) -> Iterator[_Reach]:
        for allow in allows:
            last = max(allow.place.line, following.get(line, line + 1) - 1)
            yield _Reach(procedure, allow, line, last, of_step)

    for step in _steps(procedure.body):
        if isinstance(step, Step) and step.allows:
            yield from reach(step.place.line, step.allows, of_step=True)
    for group in (procedure.lots, procedure.equipment, procedure.materials):
        for thing in group.values():
            yield from reach(thing.line, thing.allows)


def _steps(body: tuple[Step | Block, ...]) -> Iterator[Step | Block]:
    for step in body:
        yield step
        if isinstance(step, Block):
            yield from _steps(step.body)


# The rules on allows themselves. What they find is known only when all the other rules
# have spoken, so it comes from ``allowed`` above, and their own checks find nothing.


@rule("no-such-rule", level="error", family=FAMILY, source=SOURCE)
def no_such_rule_allowed(study: Study) -> Iterator[Found]:
    """An allow with the name of a rule that there is not.

    It silences nothing, and the reader takes it for a known exception.

    Trips:
        bowl: prepare in kettle with water 3 L allow bath-left-ovr because "it is tipped out"
    Cure:
        bowl: prepare in kettle with water 3 L allow bath-left-over because "it is tipped out"
    """
    yield from ()


@rule("allow-without-reason", level="error", family=FAMILY, source=SOURCE)
def allow_without_reason(study: Study) -> Iterator[Found]:
    """An allow whose reason is empty.

    A second person cannot tell whether the reason holds for them.

    Trips:
        bowl: prepare in kettle with water 3 L allow bath-left-over because " "
    Cure:
        bowl: prepare in kettle with water 3 L allow bath-left-over because "it is tipped out"
    """
    yield from ()


@rule("nothing-to-allow", level="note", family=FAMILY, source=SOURCE)
def nothing_to_allow(study: Study) -> Iterator[Found]:
    """An allow that silences nothing.

    The fault it spoke of is gone, or is elsewhere; left there, it would hide the
    next one. It is a warning where gas, fire or burns may follow: that is allowed at the
    very step alone, and what kills not even there.

    Trips:
        wet out yarn in tub with water 5 L for 1 h allow bath-left-over because "it is a trial"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    yield from ()


RULES = (no_such_rule_allowed, allow_without_reason, nothing_to_allow)
