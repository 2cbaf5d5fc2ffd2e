"""``python -m procedure`` is the ``vatwright`` command."""

from procedure.command.main import from_a_shell

from_a_shell()
