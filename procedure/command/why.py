"""``vatwright why``: what the rules look for, and why."""

from __future__ import annotations

import argparse
from textwrap import fill, indent

from procedure.command.main import CannotRun
from procedure.rules import FAMILIES, RULES, Rule, rule_named
from procedure.vocabulary import near

WIDTH = 80


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``why``."""
    parser.add_argument("rule", nargs="?", metavar="RULE", help="the name of a rule; none for all")


def run(arguments: argparse.Namespace) -> int:
    """Print a rule's page, or the list of all rules by family."""
    if arguments.rule is None:
        print(catalogue())
        return 0
    rule = rule_named(arguments.rule)
    if rule is None:
        meant = near(arguments.rule, [known.name for known in RULES])
        hint = f" Did you mean “{meant}”?" if meant else " “vatwright why” lists them."
        raise CannotRun(f"there is no rule “{arguments.rule[:60]}”.{hint}")
    print(page(rule))
    return 0


def page(rule: Rule) -> str:
    """All that is said about a rule."""
    said = [
        f"{rule.name} ({rule.level}; {rule.family})",
        fill(rule.what, WIDTH),
        fill(rule.why, WIDTH),
        "This trips it:",
        indent(rule.trips, "    "),
        "This puts it right:",
        indent(rule.cure, "    "),
        f"Source: {rule.source}.",
    ]
    return "\n\n".join(said)


def catalogue() -> str:
    """Every rule by family, a line each."""
    width = max(len(rule.name) for rule in RULES)
    parts = []
    for family in FAMILIES:
        rules = [rule for rule in RULES if rule.family == family]
        lines = [f"  {rule.name:<{width}}  {rule.level:<7}  {rule.what}" for rule in rules]
        parts.append("\n".join([family.capitalize(), *lines]))
    return "\n\n".join(parts)
