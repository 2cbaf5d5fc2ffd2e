"""``vatwright completion``: what makes a shell finish the words that somebody begins to type."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

from procedure.command.main import CannotRun

SHELLS = ("bash", "zsh", "fish")
# What each shell reads when it starts, and how it takes the words in.
_HOW = {
    "bash": 'add this line to .bashrc in your home folder: eval "$(vatwright completion bash)"',
    "zsh": 'add this line to .zshrc in your home folder: eval "$(vatwright completion zsh)"',
    "fish": "type this once: vatwright completion fish > ~/.config/fish/completions/vatwright.fish",
}
# More than this is read for the sake of a name at nobody's wish.
LARGEST = 200_000


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of ``completion``."""
    how = "; ".join(f"{shell}: {said}" for shell, said in _HOW.items())
    parser.add_argument(
        "shell",
        choices=SHELLS,
        help=f"the program that reads what you type in your terminal. {how}. From the next "
        "terminal on the key Tab finishes commands, choices, file names, and the names of lots "
        "and materials in the file that you named",
    )


def run(arguments: argparse.Namespace) -> int:
    """Print the words for a shell."""
    try:
        from argcomplete.shell_integration import shellcode
    except ImportError:
        raise CannotRun(
            "argcomplete is not installed; “pip install argcomplete” brings it."
        ) from None
    sys.stdout.write(shellcode(["vatwright"], shell=arguments.shell))
    return 0


def complete() -> None:
    """Answer a shell that asks for the ends of a word; it ends the program.

    The shell says in the environment what was typed; see argcomplete's own documentation.
    """
    import argcomplete

    argcomplete.autocomplete(_parser(), always_complete_options=False)


def _parser() -> argparse.ArgumentParser:
    """The commands with the arguments of the one that was typed, if any."""
    import os
    from importlib import import_module

    from procedure.command.main import COMMANDS

    whole = argparse.ArgumentParser(prog="vatwright")
    typed = os.environ.get("COMP_LINE", "").split()
    every = whole.add_subparsers()
    for name, said in COMMANDS.items():
        parser = every.add_parser(name, help=said)
        if name in typed[1:2]:
            import_module(f"procedure.command.{name.replace('-', '_')}").add_arguments(parser)
            for action in parser._actions:
                _give_names(action)
    return whole


def _give_names(action: argparse.Action) -> None:
    """Say where the words for an argument come from: the file at hand, or the vocabulary."""
    from argcomplete.completers import FilesCompleter

    found = {
        "--only": lots,
        "--fibre": lots_weighed,
        "--skeins": lots_weighed,
        "--have": materials,
        "--swap": materials,
        "--from": labels,
        "--to": labels,
        "--curve": labels,
        "--done": labels_done,
        "rule": rules,
        "word": words,
    }
    for name in (*action.option_strings, action.dest):
        if name in found:
            action.completer = found[name]  # type: ignore[attr-defined]
            return
    if action.metavar and "FILE" in str(action.metavar) and not action.option_strings:
        action.completer = FilesCompleter(("dye", "batch"))  # type: ignore[attr-defined]


def _model(arguments: argparse.Namespace) -> Any:
    """The procedure of the file that was typed already; None where there is none to read."""
    from procedure.language import read
    from procedure.model import build

    said = getattr(arguments, "file", None) or getattr(arguments, "files", None)
    path = Path(said[0] if isinstance(said, list) and said else str(said or ""))
    if not path.is_file() or path.stat().st_size > LARGEST:
        return None
    return build(read(path.read_text("utf-8", errors="replace")), str(path))


def lots(prefix: str, parsed_args: argparse.Namespace, **rest: Any) -> list[str]:
    """The names of the lots of the file at hand, those that its steps make among them."""
    from procedure.model.everyday_sense import made_by

    model = _model(parsed_args)
    return [] if model is None else [*model.lots, *sorted(made_by(model.body)[1])]


def lots_weighed(prefix: str, parsed_args: argparse.Namespace, **rest: Any) -> list[str]:
    """The declared lots with the sign after which their weight goes."""
    model = _model(parsed_args)
    return [] if model is None else [f"{name}=" for name in model.lots]


def materials(prefix: str, parsed_args: argparse.Namespace, **rest: Any) -> list[str]:
    """The materials of the file at hand, likewise."""
    model = _model(parsed_args)
    return [] if model is None else [f"{name}=" for name in model.materials]


def labels(prefix: str, parsed_args: argparse.Namespace, **rest: Any) -> list[str]:
    """The labels of the steps of the file at hand."""
    from procedure.model import Block

    found: list[str] = []
    model = _model(parsed_args)
    todo = [] if model is None else list(model.body)
    while todo:
        step = todo.pop(0)
        if step.label is not None:
            found.append(step.label.text)
        if isinstance(step, Block):
            todo += step.body
    return found


def labels_done(prefix: str, parsed_args: argparse.Namespace, **rest: Any) -> list[str]:
    """The labels, with the sign after which the time goes."""
    return [f"{name}=" for name in labels(prefix, parsed_args)]


def rules(prefix: str, **rest: Any) -> list[str]:
    """The names of the rules."""
    from procedure.rules import RULES

    return [rule.name for rule in RULES]


def words(prefix: str, **rest: Any) -> list[str]:
    """The names of dyestuffs, mordants and fibres."""
    from procedure.vocabulary import vocabulary

    return vocabulary().names("dyestuffs", "mordants", "fibres")
