"""``follow``: another procedure is done in place, and told what its names are here."""

from __future__ import annotations

from procedure.flow.following import KINDS, Want, other_fibre, other_part, wants
from procedure.flow.graph import WATER, Call
from procedure.flow.names import declare, kind_of, resolve
from procedure.flow.places import GONE
from procedure.flow.scope import Scope
from procedure.flow.through_blocks import Body, Thing, end, start
from procedure.flow.walk import DEEPEST_FOLLOW, Here
from procedure.model import Item, Lot, Name, Procedure, Step
from procedure.vocabulary import near


def follow(here: Here, step: Step, body: Body) -> None:
    """Walk the steps of the procedure that a step follows, with names of its own."""
    walk, scope, node = here
    found = _found(here, step)
    if found is None:
        return
    stem = step.label.text if step.label else f"{found.file.rsplit('/', 1)[-1]}:{node.id}"
    prefix = f"{scope.prefix}{stem}."
    inner = Scope(found, prefix, (*scope.calls, Call(scope.procedure, step)), root=prefix)
    if not _bind(here, step, inner):
        return
    things: list[Thing] = [(t, "lot") for t in inner.names.values() if t in here.flow.lots]
    things += [(t, "bath") for t in inner.names.values() if t in here.flow.baths]
    start(here, things)
    changed = walk.last.watch()
    key = (scope.prefix, walk.way, step.number)
    if walk.again and key in walk.scopes:
        body(found.body, walk.scopes[key])
        walk.last.unwatch(changed)
        return
    walk.scopes[key] = inner
    here.flow.called.setdefault(found.key, inner.calls)
    declare(walk, inner)
    node.inner = body(found.body, inner)
    for name, thing in inner.names.items():  # what it made is seen as label.name
        scope.names.setdefault(f"{stem}.{name}", thing)
    end(here, changed, things)


def _found(here: Here, step: Step) -> Procedure | None:
    """The procedure that a step names; None, with a slip, where it cannot be followed."""
    walk, scope, _ = here
    assert step.words is not None
    for item in step.using:
        if item.name is None:
            here.slip("told no name", item.words or Name("this", item.place))
    found = walk.find(step.words.text, scope.procedure)
    here.flow.follows[scope.procedure.key, step.words.text] = found
    if isinstance(found, str):
        here.slip(f"follow {found}", step.words)
        return None
    above = [*(call.procedure for call in scope.calls), scope.procedure]
    start_of_circle = next((i for i, one in enumerate(above) if one.key == found.key), None)
    if start_of_circle is not None or len(scope.calls) >= DEEPEST_FOLLOW:
        circle = ", then ".join(_file(one) for one in above[start_of_circle or 0 :])
        here.slip("follow circle", step.words, wanted=circle)
        return None
    if walk.too_long:
        here.slip("too much written out", step.words)
        return None
    return found


def _file(procedure: Procedure) -> str:
    """A file as its readers call it."""
    return procedure.file.replace("\\", "/").rsplit("/", 1)[-1]


# ------------------------------------------------------------------ what is what


def _bind(here: Here, step: Step, inner: Scope) -> bool:
    """Tell the followed procedure what its names are here; False where it cannot work."""
    assert step.words is not None
    wanted = wants(inner.procedure)
    given: dict[str, Name] = {}
    tried: set[str] = set()
    for item in step.using:
        if item.name is not None:
            tried.add(item.name.text)
            _tell(here, item, item.name, inner, wanted, given)
    _share_pots(here, inner, wanted)
    missing = [want for name, want in wanted.items() if want.must and name not in inner.names]
    untold = [want for want in missing if want.name.text not in tried]
    if untold:
        told = ", and ".join(want.told for want in untold)
        other = (inner.procedure, untold[0].name)
        here.slip("follow unbound", step.words, other, wanted=told)
    return not any(want.kind == "lot" for want in missing)


def _tell(
    here: Here,
    item: Item,
    theirs: Name,
    inner: Scope,
    wanted: dict[str, Want],
    given: dict[str, Name],
) -> None:
    """Bind one name of the followed procedure; a slip where it cannot be bound."""
    ours = item.given or theirs
    want = wanted.get(theirs.text)
    file = _file(inner.procedure)
    if want is None:
        meant = near(theirs.text, list(wanted))
        here.slip("follow unknown", theirs, wanted=file, near_word=meant)
        return
    if theirs.text in inner.names:
        here.slip("follow told twice", theirs, wanted=file)
        return
    thing = resolve(here, ours, KINDS[want.kind])
    if thing is None or not _fits(here, want, ours, thing, inner.procedure):
        return
    if want.kind == "lot" and thing in given:
        here.slip("passed twice", ours, (here.scope.procedure, given[thing]))
        return
    given[thing] = ours
    inner.names[theirs.text] = thing


def _share_pots(here: Here, inner: Scope, wanted: dict[str, Want]) -> None:
    """Vessels and tools of the same name are the same, unless the follow says otherwise."""
    for name, want in wanted.items():
        ours = here.scope.names.get(name)
        if want.kind not in ("pot", "tool") or name in inner.names or ours is None:
            continue
        if ours in here.flow.pots:
            inner.names[name] = ours
            here.walk.used.add(ours)


def _fits(here: Here, want: Want, ours: Name, thing: str, callee: Procedure) -> bool:
    """True where what is given to a followed procedure is of the kind that it needs."""
    kind = kind_of(here.flow, thing)
    other = (callee, want.name)
    if kind != want.kind:
        here.slip("follow wrong kind", ours, other, wanted=want.told)
        return False
    if kind in ("lot", "bath") and not _still_there(here, kind, ours, thing):
        return False
    if kind == "material" and thing != WATER:
        theirs = callee.materials[want.name.text]
        if other_part(theirs, here.flow.materials[thing][0]):
            here.slip("follow other part", ours, other, wanted=want.told)
    if kind == "lot":
        declared = _first_declared(here, thing)
        if declared is not None and other_fibre(callee, want.name.text, declared):
            here.slip("follow other fibre", ours, other, wanted=want.told)
    return True


def _still_there(here: Here, kind: str, ours: Name, thing: str) -> bool:
    """False, with a slip, for a lot or bath that is gone whichever way was taken."""
    live = here.places.live[thing]
    if live.status == GONE:
        gone = "lot gone" if kind == "lot" else "used after emptied"
        here.slip(gone, ours, here.walk.place_of(live.node), live.path)
    return live.partly_there


def _first_declared(here: Here, lot: str) -> Lot | None:
    """The declaration that a lot comes from; None where it was joined of several."""
    origin = here.flow.lots[lot]
    while origin.declared is None and len(origin.parts) == 1:
        origin = here.flow.lots[origin.parts[0]]
    return origin.declared
