"""Vatwright: read, check, draw and work out dye procedures.

The Python interface is as plain as the command::

    import procedure

    plan = procedure.load("tansy.dye")      # or procedure.read(text)
    for finding in plan.findings:
        print(finding.line, finding.level, finding.sentence)
    plan.model        # what the words mean
    plan.graph        # the flow as a networkx MultiDiGraph
    plan.chart("tansy.svg")

Everything below this module is imported when it is first asked for.
"""

# Nothing is imported before this but what is in Python itself: Ctrl-C may come at any moment.
import sys

if sys.argv[:1] == ["-m"] or "".join(sys.argv[:1]).endswith(("/vatwright", "vatwright.exe")):
    # This is the command, still on its way: until it can answer Ctrl-C itself, it ends at once.
    import _signal  # type: ignore[import-not-found]

    if _signal.getsignal(_signal.SIGINT) is _signal.default_int_handler:  # else it is ignored
        _signal.signal(_signal.SIGINT, _signal.SIG_DFL)

TYPE_CHECKING = False  # as typing has it, which takes a thirtieth of a check to import
if TYPE_CHECKING:
    from typing import Any

    from procedure.findings import Edit as Edit
    from procedure.findings import Finding as Finding
    from procedure.findings import Related as Related
    from procedure.pipeline import NotText as NotText
    from procedure.plan import Plan as Plan
    from procedure.plan import load as load
    from procedure.plan import read as read

__version__ = "0.1.0"
__all__ = ["Edit", "Finding", "NotText", "Plan", "Related", "load", "read"]

_ROOMS = {
    "Edit": "findings",
    "Finding": "findings",
    "Related": "findings",
    "NotText": "pipeline",
    "Plan": "plan",
    "load": "plan",
    "read": "plan",
}


def __getattr__(name: str) -> "Any":
    if name not in _ROOMS:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f"procedure.{_ROOMS[name]}"), name)
