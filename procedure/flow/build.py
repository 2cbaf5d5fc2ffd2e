"""Walks the steps in the order of the text and draws the edges.

One walk answers every question of names and order: which version of a lot, bath
or pot a step takes, what it makes, and what is amiss. What things *are* (wet,
hot, mordanted) is for the trace.
"""

from __future__ import annotations

from typing import NamedTuple

from procedure.collection.files import Collection
from procedure.flow.following import KEPT_BATH, KINDS, Want, other_fibre, other_part, wants
from procedure.flow.graph import WATER, Call, Edge, Flow, FlowNode, LotOrigin, Slip
from procedure.flow.scope import Scope, makers
from procedure.flow.undo_log import Watched
from procedure.model import Block, Item, Lot, Name, Procedure, Step
from procedure.vocabulary import near

DEEPEST_FOLLOW = 20
# A few lines of "for each" and follow, one inside the other, can ask for millions of
# steps; a plan that people can do stays far below this.
MOST_WRITTEN_OUT = 5_000


class Live(NamedTuple):
    """The present version of a lot or a bath: in use, gone (by which node), or kept.

    ``path`` says on which way through an ``if`` it is so, and is empty where always.
    """

    status: str
    node: int
    path: str
    home: str


def build(procedure: Procedure, collection: Collection) -> Flow:
    """The flow graph of a procedure, with what it follows traced in place."""
    collection.keep(procedure)
    walker = _Walker(procedure, collection)
    walker.main()
    return walker.flow


# Effects whose fibre is out of any bath afterwards.
_OUT_AFTER = frozenset("wet scour lift dip air rinse wash squeeze dry rest split join".split())
_OWN_WATER = frozenset("wet scour rinse wash".split())


class _Walker:
    def __init__(self, procedure: Procedure, collection: Collection) -> None:
        self.flow = Flow(procedure)
        self.collection = collection
        if collection.main is not None:  # a circle of follows may come back to it
            collection.kept[collection.main] = procedure
        self.followed: dict[tuple[object, ...], Scope] = {}
        self.live: Watched[Live] = Watched()
        self.where: Watched[str] = Watched()  # lot -> bath it is in, or ""
        self.inside: dict[str, dict[str, None]] = {}  # bath -> lots in it
        self.standing: dict[str, list[str]] = {}  # pot -> baths that were put into it
        self.branches = 0
        self.last: Watched[int] = Watched()
        self.labels: dict[str, int] = {}
        self.after: list[tuple[Scope, Name, FlowNode]] = []
        self.used: set[str] = set()
        self.found: dict[tuple[object, ...], FlowNode] = {}
        self.told: set[tuple[object, ...]] = set()
        self.again = False
        self.way: tuple[object, ...] = ()
        self.written_out = 0

    # ------------------------------------------------------------ the whole

    def main(self) -> None:
        procedure = self.flow.procedure
        scope = Scope(procedure, "", ())
        self.declare(scope)
        self.flow.top = self.body(procedure.body, scope)
        self.orders()
        self.ends(scope)
        self.never_used(scope)
        self.find_cycle()

    def declare(self, scope: Scope) -> None:
        """Enter a file's declarations under the plan's names, unless the caller bound them."""
        procedure = scope.procedure
        self.flow.procedures.append(procedure)
        scope.makers = makers(procedure.body)
        for lot in procedure.lots.values():
            if lot.name.text not in scope.names:
                self.new_lot(
                    scope, lot.name.text, LotOrigin("", "", lot, None, (), None, procedure)
                )
        for pot in procedure.equipment.values():
            if pot.name.text not in scope.names:
                name = self.own(scope, pot.name.text)
                if scope.prefix and pot.name.text in procedure.brought:
                    # The house has one, and all the files that are followed share it.
                    name = scope.names[pot.name.text] = f"house.{pot.name.text}"
                self.flow.pots.setdefault(name, (pot, procedure))
        for material in procedure.materials.values():
            if material.name.text not in scope.names:
                name = self.own(scope, material.name.text)
                self.flow.materials[name] = (material, procedure)
                if KEPT_BATH in material.roles:
                    self.flow.baths[name] = -1
                    self.live[name] = Live("kept", -1, "", "")

    def own(self, scope: Scope, name: str) -> str:
        """The plan's name for something that this file brings itself."""
        scope.names[name] = scope.prefix + name
        return scope.prefix + name

    def new_lot(self, scope: Scope, name: str, origin: LotOrigin) -> str:
        made = self.own(scope, name)
        self.flow.lots[made] = origin._replace(id=made, name=scope.stem + name)
        node = origin.node if origin.node is not None else -1
        self.live[made] = Live("in use", node, "", "")
        self.where[made] = ""
        if origin.node is not None:
            self.last[made] = origin.node
        return made

    # ------------------------------------------------------------ slips

    def slip(
        self,
        kind: str,
        scope: Scope,
        name: Name,
        node: FlowNode | None = None,
        other: tuple[Procedure, Name] | None = None,
        path: str = "",
        wanted: str = "",
        near_word: str | None = None,
    ) -> None:
        key = (kind, scope.procedure.file, name.place, scope.prefix)
        if key not in self.told:
            self.told.add(key)
            self.flow.slips.append(
                Slip(kind, scope.procedure, name, node, scope.calls, other, path, wanted, near_word)
            )

    def place_of(self, number: int) -> tuple[Procedure, Name] | None:
        """Where the step of a node stands, to point at."""
        if number < 0:
            return None
        node = self.flow.nodes[number]
        step = node.step
        words = step.label.text if step.label else _said(step)
        return node.procedure, Name(words, step.place)

    # ------------------------------------------------------------ bodies

    def body(self, body: tuple[Step | Block, ...], scope: Scope) -> list[FlowNode]:
        return [self.visit(step, scope) for step in body]

    def node(self, kind: str, step: Step | Block, scope: Scope, end: bool = False) -> FlowNode:
        key = (scope.prefix, self.way, step.number, end)
        known = self.found.get(key)
        if known is not None:
            return known
        made = FlowNode(len(self.flow.nodes), kind, step, scope.procedure, scope.calls)
        self.written_out += bool(self.way or scope.calls)
        self.flow.nodes.append(made)
        self.found[key] = made
        return made

    def visit(self, step: Step | Block, scope: Scope) -> FlowNode:
        if isinstance(step, Block):
            node = self.node(step.kind, step, scope)
            self.label(step.label, scope, node)
            if step.kind == "repeat":
                self.repeat(step, scope, node)
            elif step.kind == "if":
                self.choice(step, scope, node)
            else:
                self.each(step, scope, node)
            return node
        kind = "follow" if step.kind == "follow" else "do" if step.kind == "do" else "step"
        node = self.node(kind, step, scope)
        self.label(step.label, scope, node)
        for name in step.after:
            if not self.again:
                self.after.append((scope, name, node))
        if kind == "follow":
            self.follow(step, scope, node)
        elif kind == "do":
            self.do(step, scope, node)
        else:
            self.step(step, scope, node)
        return node

    def label(self, label: Name | None, scope: Scope, node: FlowNode) -> None:
        if label is None or self.again or scope.procedure is None:
            return
        key = scope.prefix + label.text
        earlier = self.labels.get(key)
        if earlier is not None and self.flow.nodes[earlier].step is not node.step:
            other = self.place_of(earlier)
            assert other is not None
            first = self.flow.nodes[earlier].step.label
            assert first is not None
            self.slip("declared twice", scope, label, node, (other[0], first))
            return
        declared = scope.procedure.declared(label.text)
        makes_bath = isinstance(node.step, Step) and node.step.effect in (
            "prepare",
            "dissolve",
            "soak",
        )
        if declared is not None and makes_bath:
            self.slip("declared twice", scope, label, node, (scope.procedure, declared.name))
        self.labels[key] = node.id

    def edge(self, node: FlowNode, kind: str, *things: str) -> None:
        """Take the present version of things, and give the next."""
        if self.again:
            return
        for thing in things:
            before = self.last.get(thing)
            if before is not None and before != node.id:
                self.flow.edges.append(Edge(before, node.id, kind, thing))
            self.last[thing] = node.id

    # ------------------------------------------------------------ blocks

    def block_things(self, body: tuple[Step | Block, ...], scope: Scope) -> list[tuple[str, str]]:
        """The things that exist before a block and are named in it, with their edge kinds."""
        names: dict[str, None] = {}

        def gather(steps: tuple[Step | Block, ...]) -> None:
            for step in steps:
                if isinstance(step, Block):
                    gather(step.body)
                    continue
                for item in (*step.objects, step.within, *step.into, step.source, step.to):
                    if item is not None and item.name is not None:
                        names.setdefault(item.name.text)
                    if item is not None and item.quantity is not None and item.quantity.base:
                        names.setdefault(item.quantity.base)
                for item in step.using:
                    for name in (item.name, item.given):
                        if name is not None:
                            names.setdefault(name.text)

        gather(body)
        found: list[tuple[str, str]] = []
        for name in names:
            thing = scope.names.get(name)
            if thing in self.flow.lots:
                found.append((thing, "lot"))
            elif thing in self.flow.baths:
                found.append((thing, "bath"))
            elif thing in self.flow.pots and thing is not None:
                bath = self.occupant(thing)
                if bath:
                    found.append((bath, "bath"))
        return found

    def end_of(self, node: FlowNode, scope: Scope, things: list[tuple[str, str]]) -> None:
        end = self.node("end", node.step, scope, end=True)
        node.inner.append(end) if end not in node.inner else None
        if self.again:
            return
        before = len(self.flow.edges)
        for thing, kind in things:
            if thing in self.last:
                self.edge(end, kind, thing)
        if len(self.flow.edges) == before:
            last = node.inner[-2].id if len(node.inner) > 1 else node.id
            self.flow.edges.append(Edge(last, end.id, "block", ""))

    def start_of(self, node: FlowNode, things: list[tuple[str, str]]) -> None:
        for thing, kind in things:
            self.edge(node, kind, thing)

    def touched(
        self, changed: dict[str, int | None], things: list[tuple[str, str]]
    ) -> list[tuple[str, str]]:
        """Those things, and what a block made or used besides."""
        self.last.unwatch(changed)
        kinds = dict(things)
        for thing in changed:
            if thing not in kinds and thing in self.flow.lots:
                kinds[thing] = "lot"
            elif thing not in kinds and thing in self.flow.baths:
                kinds[thing] = "bath"
        return list(kinds.items())

    def repeat(self, block: Block, scope: Scope, node: FlowNode) -> None:
        things = self.block_things(block.body, scope)
        self.start_of(node, things)
        changed = self.last.watch()
        inner = self.body(block.body, scope)
        if not self.again:
            node.inner = inner
            self.again = True
            self.body(block.body, scope)
            self.again = False
        self.end_of(node, scope, self.touched(changed, things))

    def choice(self, block: Block, scope: Scope, node: FlowNode) -> None:
        things = self.block_things(block.body, scope)
        self.start_of(node, things)
        changed = self.last.watch()
        live, where = self.live.watch(), self.where.watch()
        self.branches += 1
        inner = self.body(block.body, scope)
        self.branches -= 1
        if not self.again:
            node.inner = inner
        taken = f"when “{block.condition}” holds"
        passed = f"when “{block.condition}” does not hold"
        self.live.unwatch(live)
        self.where.unwatch(where)
        for thing, two in live.items():
            one = self.live[thing]
            if two is None:
                self.live[thing] = one._replace(path=one.path or taken)
            elif one.status != two.status:
                gone, path = (one, taken) if one.status != "in use" else (two, passed)
                self.live[thing] = gone._replace(path=gone.path or path)
            elif one.home != two.home and two.home:
                self.live[thing] = one._replace(path=one.path or taken)
        for lot, bath in where.items():
            if bath and not self.where.get(lot):
                self.put(lot, bath)
        self.end_of(node, scope, self.touched(changed, things))

    def each(self, block: Block, scope: Scope, node: FlowNode) -> None:
        things = self.block_things(block.body, scope)
        assert block.variable is not None
        self.start_of(node, things)
        changed = self.last.watch()
        inner: list[FlowNode] = []
        seen: dict[str, Name] = {}
        way = self.way
        for value in block.values:
            if value.name is None:
                place = Name(value.words.text if value.words else "", value.place)
                self.slip("wrong kind", scope, place, node, wanted="a name")
                continue
            if value.name.text in seen:
                other = (scope.procedure, seen[value.name.text])
                self.slip("passed twice", scope, value.name, node, other)
                continue
            seen[value.name.text] = value.name
            if self.written_out > MOST_WRITTEN_OUT:
                self.slip("too much written out", scope, value.name, node)
                break
            meant = self.resolve(scope, value.name, node, "a lot, pot or material")
            if meant is None:
                continue
            self.way = (*way, block.number, value.name.text)
            within = scope.inner(block.variable.text, meant, f"{value.name.text}.")
            inner += self.body(block.body, within)
            for name, thing in within.names.items():  # what it made is seen as value.name
                if name != block.variable.text and thing not in scope.names.values():
                    scope.names.setdefault(f"{value.name.text}.{name}", thing)
        self.way = way
        if not self.again:
            node.inner = inner
        self.end_of(node, scope, self.touched(changed, things))

    # ------------------------------------------------------------ following

    def follow(self, step: Step, scope: Scope, node: FlowNode) -> None:
        assert step.words is not None
        for item in step.using:
            if item.name is None:
                words = item.words or Name("this", item.place)
                self.slip("told no name", scope, words, node)
        found = self.collection.find(step.words.text, scope.procedure.file)
        if isinstance(found, str):
            self.slip(f"follow {found}", scope, step.words, node)
            return
        above = [*(call.procedure for call in scope.calls), scope.procedure]
        if any(one is found for one in above) or len(scope.calls) >= DEEPEST_FOLLOW:
            start = next((i for i, one in enumerate(above) if one is found), 0)
            round_ = ", then ".join(_file(one) for one in above[start:])
            self.slip("follow circle", scope, step.words, node, wanted=round_)
            return
        if self.written_out > MOST_WRITTEN_OUT:
            self.slip("too much written out", scope, step.words, node)
            return
        stem = step.label.text if step.label else f"{found.file.rsplit('/', 1)[-1]}:{node.id}"
        prefix = f"{scope.prefix}{stem}."
        inner = Scope(found, prefix, (*scope.calls, Call(scope.procedure, step)), root=prefix)
        if not self.bind(step, scope, inner, node):
            return
        things = [(t, "lot") for t in inner.names.values() if t in self.flow.lots]
        things += [(t, "bath") for t in inner.names.values() if t in self.flow.baths]
        self.start_of(node, things)
        changed = self.last.watch()
        key = (scope.prefix, self.way, step.number)
        if self.again and key in self.followed:
            self.body(found.body, self.followed[key])
            self.last.unwatch(changed)
            return
        self.followed[key] = inner
        self.flow.called.setdefault(id(found), inner.calls)
        self.declare(inner)
        node.inner = self.body(found.body, inner)
        for name, thing in inner.names.items():  # what it made is seen as label.name
            scope.names.setdefault(f"{stem}.{name}", thing)
        self.end_of(node, scope, self.touched(changed, things))

    def bind(self, step: Step, scope: Scope, inner: Scope, node: FlowNode) -> bool:
        """Tell the followed procedure what its names are here; False where it cannot work."""
        assert step.words is not None
        callee = inner.procedure
        wanted = wants(callee)
        given: dict[str, Name] = {}
        tried: set[str] = set()
        for item in step.using:
            if item.name is None:
                continue
            theirs, ours = item.name, item.given or item.name
            tried.add(theirs.text)
            want = wanted.get(theirs.text)
            if want is None:
                self.slip(
                    "follow unknown",
                    scope,
                    theirs,
                    node,
                    wanted=_file(callee),
                    near_word=near(theirs.text, list(wanted)),
                )
                continue
            if theirs.text in inner.names:
                self.slip("follow told twice", scope, theirs, node, wanted=_file(callee))
                continue
            meant = self.resolve(scope, ours, node, KINDS[want.kind])
            if meant is None or not self.fitting(scope, want, ours, meant, inner, node):
                continue
            if want.kind == "lot" and meant in given:
                self.slip("passed twice", scope, ours, node, (scope.procedure, given[meant]))
                continue
            given[meant] = ours
            inner.names[theirs.text] = meant
        for name, want in wanted.items():
            ours_named = scope.names.get(name)
            shared = want.kind in ("pot", "tool") and name not in inner.names
            if shared and ours_named is not None and ours_named in self.flow.pots:
                inner.names[name] = ours_named
                self.used.add(ours_named)
        missing = [want for name, want in wanted.items() if want.must and name not in inner.names]
        untold = [want for want in missing if want.name.text not in tried]
        if untold:
            told = ", and ".join(want.told for want in untold)
            self.slip(
                "follow unbound", scope, step.words, node, (callee, untold[0].name), wanted=told
            )
        return not any(want.kind == "lot" for want in missing)

    def fitting(
        self, scope: Scope, want: Want, ours: Name, meant: str, inner: Scope, node: FlowNode
    ) -> bool:
        """True where what is given to a followed procedure is of the kind that it needs."""
        callee = inner.procedure
        kind = _kind_of(self.flow, meant)
        if kind != want.kind:
            self.slip("follow wrong kind", scope, ours, node, (callee, want.name), wanted=want.told)
            return False
        if kind in ("lot", "bath"):
            live = self.live[meant]
            if live.status == "gone":
                gone = "lot gone" if kind == "lot" else "used after emptied"
                self.slip(gone, scope, ours, node, self.place_of(live.node), live.path)
                if not live.path:
                    return False
        if kind == "material" and meant != WATER:
            theirs, other = callee.materials[want.name.text], self.flow.materials[meant][0]
            if other_part(theirs, other):
                self.slip(
                    "follow other part", scope, ours, node, (callee, want.name), wanted=want.told
                )
        if kind == "lot":
            declared = self.first_declared(meant)
            if declared is not None and other_fibre(callee, want.name.text, declared):
                self.slip(
                    "follow other fibre", scope, ours, node, (callee, want.name), wanted=want.told
                )
        return True

    def first_declared(self, lot: str) -> Lot | None:
        """The declaration that a lot comes from; None where it was joined of several."""
        origin = self.flow.lots[lot]
        while origin.declared is None and len(origin.parts) == 1:
            origin = self.flow.lots[origin.parts[0]]
        return origin.declared

    # ------------------------------------------------------------ names

    def resolve(self, scope: Scope, name: Name, node: FlowNode, wanted: str) -> str | None:
        """The plan's name for a name of the file; a slip where it has none."""
        thing = scope.names.get(name.text)
        if thing is not None:
            self.used.add(thing)
            return thing
        if name.text == WATER:
            return WATER
        if name.text in scope.procedure.unread:
            return None
        maker = scope.makers.get(name.text)
        if maker is not None:
            where = maker.label or Name(name.text, maker.place)
            self.slip("used before made", scope, name, node, (scope.procedure, where))
            return None
        known = [*scope.names, *scope.makers, WATER]
        household = scope.procedure.household
        if household is not None:
            known += [*household.equipment, *household.materials]
        self.slip(
            "not declared", scope, name, node, wanted=wanted, near_word=near(name.text, known)
        )
        return None

    def lot(self, scope: Scope, item: Item, node: FlowNode) -> str | None:
        """The lot an item names, if it is one and is still there."""
        if item.name is None:
            text = item.quantity.text if item.quantity else item.words.text if item.words else ""
            self.slip("wrong kind", scope, Name(text, item.place), node, wanted="a lot of fibre")
            return None
        thing = self.resolve(scope, item.name, node, "a lot of fibre")
        if thing is None:
            return None
        if thing not in self.flow.lots:
            self.slip("wrong kind", scope, item.name, node, wanted="a lot of fibre")
            return None
        live = self.live[thing]
        if live.status != "in use":
            other = self.place_of(live.node)
            if node.effect == "split" and self.flow.nodes[live.node].effect == "split":
                parts = [self.flow.lots[part].name for part in self.flow.nodes[live.node].makes]
                self.slip(
                    "split again",
                    scope,
                    item.name,
                    node,
                    other,
                    live.path,
                    wanted=", ".join(f"“{part}”" for part in parts),
                )
                return None
            self.slip("lot gone", scope, item.name, node, other, live.path)
            return None if not live.path else thing
        return thing

    def bath(self, scope: Scope, name: Name, node: FlowNode, wanted: str) -> tuple[str, str] | None:
        """The bath and pot that a name means: a bath by its name or by its pot."""
        thing = self.resolve(scope, name, node, wanted)
        if thing is None:
            return None
        if thing in self.flow.pots:
            return self.occupant(thing), thing
        if thing not in self.flow.baths:
            self.slip("wrong kind", scope, name, node, wanted=wanted)
            return None
        live = self.live[thing]
        if live.status == "gone":
            self.slip("used after emptied", scope, name, node, self.place_of(live.node), live.path)
            if not live.path:
                return None
        elif live.path and live.status == "in use":
            self.slip("made on one way", scope, name, node, self.place_of(live.node), live.path)
        return thing, live.home

    def occupant(self, pot: str) -> str:
        """The bath in a pot, or an empty text."""
        standing = self.standing.get(pot)
        while standing:
            live = self.live.get(standing[-1])
            if live is not None and live.home == pot and (live.status != "gone" or live.path):
                return standing[-1]
            if self.branches:  # on the other way through an if it may still be there
                break
            standing.pop()
        for bath in reversed(standing or ()):
            live = self.live.get(bath)
            if live is not None and live.home == pot and (live.status != "gone" or live.path):
                return bath
        return ""

    def house(self, bath: str, live: Live) -> None:
        """Give a bath its present version, and note the pot that it stands in."""
        self.live[bath] = live
        if live.home:
            self.standing.setdefault(live.home, []).append(bath)

    # ------------------------------------------------------------ steps

    def step(self, step: Step, scope: Scope, node: FlowNode) -> None:
        assert step.verb is not None
        node.names = scope.names
        node.left = {}
        group, effect = step.verb.group, step.verb.effect
        self.materials(step, scope, node)
        if group == "fibre":
            self.fibre_step(step, scope, node, effect)
        elif group == "bath":
            self.bath_step(step, scope, node, effect)
        elif group == "material":
            self.material_step(step, scope, node, effect)
        else:
            self.clean(step, scope, node)
        for name in (step.on, step.through):
            if name is not None:
                self.resolve(scope, name, node, "a piece of equipment")
        if node.bath:
            inside = self.inside.get(node.bath, {})
            node.present = tuple(dict.fromkeys((*inside, *node.lots)))

    def materials(self, step: Step, scope: Scope, node: FlowNode) -> None:
        """What a step brings with ``with``; and the names that amounts are measured of."""
        found: list[tuple[str, Item]] = []
        for item in step.using:
            if item.name is None:
                if item.quantity is not None and item.quantity.base:
                    words = item.quantity.base
                    place = item.quantity.base_place or item.place
                    moved = self.resolve(scope, Name(words, place), node, "a material")
                    if moved is not None:
                        found.append((moved, item))
                elif item.words is None:
                    text = item.quantity.text if item.quantity else ""
                    self.slip(
                        "wrong kind", scope, Name(text, item.place), node, wanted="a material"
                    )
                continue
            thing = self.resolve(scope, item.name, node, "a material")
            if thing is not None:
                if thing in self.flow.lots or (thing in self.flow.pots and step.verb is not None):
                    if thing in self.flow.lots or self.flow.pots[thing][0].holds:
                        self.slip("wrong kind", scope, item.name, node, wanted="a material")
                    continue
                if thing in self.flow.baths:
                    self.bath(scope, item.name, node, "a bath")
                    self.edge(node, "bath", thing)
                elif thing != WATER:
                    self.edge(node, "material", thing)
                found.append((thing, item))
        node.materials = tuple(found)
        for item in (*step.objects, *step.using, *step.into):
            if item.quantity is not None and item.quantity.base:
                where = item.quantity.base_place or item.place
                self.resolve(scope, Name(item.quantity.base, where), node, "a lot, bath or pot")

    def fibre_step(self, step: Step, scope: Scope, node: FlowNode, effect: str) -> None:
        lots: list[str] = []
        if not step.objects:
            self.slip(
                "missing object",
                scope,
                Name(_said(step), step.verb_place),
                node,
                wanted="the fibre",
            )
        for item in step.objects:
            lot = self.lot(scope, item, node)
            if lot is None:
                continue
            if lot in lots:
                assert item.name is not None
                self.slip("lot twice", scope, item.name, node)
                continue
            lots.append(lot)
        node.lots = tuple(lots)
        into = step.within or (step.into[0] if effect in ("enter", "dip") and step.into else None)
        if effect == "lift" and step.into:
            into = None
        if into is not None and into.name is not None:
            found = self.bath(scope, into.name, node, "a bath or a pot")
            if found is not None:
                node.bath, node.pot = found
                own = effect in _OWN_WATER
                if node.bath and own and scope.names.get(into.name.text) in self.flow.pots:
                    maker = self.place_of(self.flow.baths[node.bath])
                    path = self.live[node.bath].path
                    self.slip("pot full", scope, into.name, node, maker, path)
                    node.bath = ""
                node.own_water = not node.bath
                if not node.bath and not own and effect != "lift":
                    self.temporary(step, scope, node, into.name)
        elif into is not None and into.words is None:
            text = into.quantity.text if into.quantity else ""
            self.slip("wrong kind", scope, Name(text, into.place), node, wanted="a bath or a pot")
        elif into is None and step.verb is not None:
            self.missing_clauses(step, scope, node)
        self.edge(node, "lot", *lots)
        if node.bath:
            self.edge(node, "bath", node.bath)
            for lot in lots:
                treats = self.flow.treats.setdefault(node.bath, [])
                if lot not in treats:
                    treats.append(lot)
        elif node.pot:
            self.edge(node, "pot", node.pot)
        for lot in lots:
            if effect in _OUT_AFTER and not (effect == "rest" and node.bath):
                self.leave(lot, node)
            elif node.bath:
                if self.where.get(lot, "") not in ("", node.bath):
                    self.leave(lot, node)
                self.put(lot, node.bath)
        if effect == "split":
            self.split(step, scope, node)
        elif effect == "join":
            self.join(step, scope, node)

    def leave(self, lot: str, node: FlowNode) -> None:
        """The lot comes out of the bath it was in; that bath gives its next version."""
        bath = self.where.get(lot, "")
        if bath and bath != node.bath:
            self.edge(node, "bath", bath)
        if bath:
            node.left = {**node.left, lot: bath}
        self.put(lot, "")

    def put(self, lot: str, bath: str) -> None:
        """The lot is in that bath from here on, or in none."""
        earlier = self.where.get(lot, "")
        if earlier:
            self.inside[earlier].pop(lot, None)
        if bath:
            self.inside.setdefault(bath, {})[lot] = None
        self.where[lot] = bath

    def temporary(self, step: Step, scope: Scope, node: FlowNode, pot: Name) -> None:
        """Fibre goes into a pot with nothing in it: the step makes the bath itself."""
        name = step.label.text if step.label else f"{pot.text} bath"
        if not any(thing == WATER for thing, _ in node.materials):
            self.slip("empty pot", scope, pot, node)
            return
        self.new_bath(scope, name, node)
        node.makes = (node.bath,)

    def new_bath(self, scope: Scope, name: str, node: FlowNode) -> None:
        bath = self.own(scope, name)
        self.used.add(bath)
        live = self.live.get(bath)
        standing = live is not None and live.status == "in use" and bath in self.flow.baths
        if live is not None and standing and (not self.again or live.home == node.pot):
            where = self.place_of(self.flow.baths[bath])
            label = Name(name, node.step.place)
            self.slip("pot full", scope, label, node, where, live.path)
        self.flow.baths.pop(bath, None)
        self.flow.baths[bath] = node.id
        self.house(bath, Live("in use", node.id, "", node.pot))
        node.bath = bath
        if not self.again and node.pot:
            self.edge(node, "pot", node.pot)
        if not self.again:
            self.last[bath] = node.id

    def missing_clauses(self, step: Step, scope: Scope, node: FlowNode) -> None:
        assert step.verb is not None
        for need in step.verb.needs:
            options = need.split("|")
            if not any(_has(step, option) for option in options):
                self.slip(
                    "missing clause",
                    scope,
                    Name(_said(step), step.verb_place),
                    node,
                    wanted=" or ".join(options),
                )

    def split(self, step: Step, scope: Scope, node: FlowNode) -> None:
        self.missing_clauses(step, scope, node)
        if len(node.lots) != 1:
            return
        parent = node.lots[0]
        made: list[str] = []
        for item in step.into:
            if item.name is None:
                text = item.quantity.text if item.quantity else ""
                self.slip(
                    "wrong kind",
                    scope,
                    Name(text, item.place),
                    node,
                    wanted="a new name with its weight",
                )
                continue
            taken = scope.names.get(item.name.text)
            if taken is not None and not self.again and taken in self.flow.lots:
                first = self.flow.lots[taken]
                where = first.declared.name if first.declared else Name(taken, step.place)
                if first.node is not None:
                    where = Name(taken, self.flow.nodes[first.node].step.place)
                self.slip("declared twice", scope, item.name, node, (first.procedure, where))
                continue
            if not self.again:
                origin = LotOrigin("", "", None, node.id, (parent,), item.quantity, scope.procedure)
                made.append(self.new_lot(scope, item.name.text, origin))
        if made:
            node.makes = tuple(made)
        self.live[parent] = Live("gone", node.id, "", "")

    def join(self, step: Step, scope: Scope, node: FlowNode) -> None:
        name = step.named or (step.into[0].name if step.into else None)
        if name is None:
            self.missing_clauses(step, scope, node)
            return
        for lot in node.lots:
            self.live[lot] = Live("gone", node.id, "", "")
        if not self.again:
            origin = LotOrigin("", "", None, node.id, node.lots, None, scope.procedure)
            node.makes = (self.new_lot(scope, name.text, origin),)

    def pot_for(self, scope: Scope, item: Item | None, node: FlowNode) -> str:
        """The free pot that a step names."""
        if item is None or item.name is None:
            return ""
        thing = self.resolve(scope, item.name, node, "a pot")
        if thing is None:
            return ""
        if thing not in self.flow.pots:
            self.slip("wrong kind", scope, item.name, node, wanted="a pot")
            return ""
        full = self.occupant(thing)
        if full:
            maker = self.place_of(self.flow.baths[full])
            self.slip("pot full", scope, item.name, node, maker, self.live[full].path)
        return thing

    def bath_step(self, step: Step, scope: Scope, node: FlowNode, effect: str) -> None:
        self.missing_clauses(step, scope, node)
        if effect == "prepare":
            node.pot = self.pot_for(scope, step.within, node)
            name = step.label.text if step.label else None
            if name is None:
                name = f"{step.within.name.text if step.within and step.within.name else ''} bath"
            self.new_bath(scope, name.strip(), node)
            node.makes = (node.bath,)
            return
        if effect == "add":
            self.add(step, scope, node)
            return
        if not step.objects:
            self.slip(
                "missing object", scope, Name(_said(step), step.verb_place), node, wanted="the bath"
            )
            return
        item = step.objects[0]
        for more in step.objects[1:]:
            self.slip(
                "wrong kind",
                scope,
                Name(more.name.text if more.name else "", more.place),
                node,
                wanted="one bath for each step",
            )
        name_said = item.name
        if name_said is None and item.quantity is not None and item.quantity.base:
            name_said = Name(item.quantity.base, item.quantity.base_place or item.place)
        if name_said is None:
            text = item.words.text if item.words else item.quantity.text if item.quantity else ""
            self.slip("wrong kind", scope, Name(text, item.place), node, wanted="a bath")
            return
        found = self.bath(scope, name_said, node, "a bath")
        if found is None:
            return
        node.bath, node.pot = found
        if not node.bath:
            self.slip("empty pot", scope, name_said, node)
            return
        self.edge(node, "bath", node.bath)
        self.move_bath(step, scope, node, effect, item)

    def move_bath(self, step: Step, scope: Scope, node: FlowNode, effect: str, item: Item) -> None:
        """What a bath verb does with the bath as a whole."""
        live = self.live[node.bath]
        if effect == "discard" and item.quantity is None:
            for lot, bath in self.where.items():
                if bath == node.bath and self.live[lot].status == "in use":
                    name = item.name or Name("", item.place)
                    other = self.place_of(self.last.get(lot, -1))
                    wanted = self.flow.lots[lot].name
                    self.slip("fibre thrown away", scope, name, node, other, wanted=wanted)
            self.live[node.bath] = Live("gone", node.id, "", live.home)
            if live.home:  # the pot is free from here
                self.last[live.home] = node.id
            self.lent(scope, item.name or Name("", item.place), node, node.bath)
        elif effect == "strain" and step.into:
            node.to_pot = self.pot_for(scope, step.into[0], node)
            if node.to_pot:
                self.edge(node, "pot", node.to_pot)
                self.last[node.pot] = node.id
                self.house(node.bath, live._replace(home=node.to_pot))
        elif effect == "draw off" and (step.named or step.into):
            place = step.into[0] if step.into else None
            node.to_pot = self.pot_for(scope, place, node)
            if step.named is not None:
                old, pot = node.bath, node.pot
                node.pot = node.to_pot
                self.new_bath(scope, step.named.text, node)
                node.makes, node.bath, node.pot = (node.bath,), old, pot
        elif effect == "keep":
            store = step.within or (step.into[0] if step.into else None)
            if store is None and step.to is not None and step.to.name is not None:
                store = step.to
            home = live.home
            if store is not None:
                node.to_pot = home = self.pot_for(scope, store, node)
                self.last[node.pot] = node.id
            self.house(node.bath, Live("kept", node.id, "", home))
            if step.named is not None:
                scope.names[step.named.text] = node.bath

    def lent(self, scope: Scope, name: Name, node: FlowNode, bath: str) -> None:
        """A followed procedure empties a bath that was only lent to it."""
        if scope.root and not bath.startswith(scope.root):
            self.slip("lent bath emptied", scope, name, node, wanted=bath)

    def add(self, step: Step, scope: Scope, node: FlowNode) -> None:
        moved: list[tuple[str, Item]] = []
        lots: list[str] = []
        if not step.objects:
            self.slip(
                "missing object",
                scope,
                Name(_said(step), step.verb_place),
                node,
                wanted="what is added",
            )
        for item in step.objects:
            name = item.name
            if name is None and item.quantity is not None and item.quantity.base:
                name = Name(item.quantity.base, item.quantity.base_place or item.place)
            if name is None:
                if item.words is None:
                    text = item.quantity.text if item.quantity else ""
                    self.slip(
                        "wrong kind", scope, Name(text, item.place), node, wanted="a material"
                    )
                continue
            thing = self.resolve(scope, name, node, "a material, water or a bath")
            if thing is None:
                continue
            if thing in self.flow.lots:
                lot = self.lot(scope, item, node)
                if lot is not None:
                    lots.append(lot)
            elif thing in self.flow.baths or thing in self.flow.pots:
                found = self.bath(scope, name, node, "a bath")
                if found is not None and found[0]:
                    moved.append((found[0], item))
                    self.edge(node, "bath", found[0])
                    if item.quantity is None:
                        self.live[found[0]] = Live("gone", node.id, "", found[1])
                        self.lent(scope, name, node, found[0])
                        if found[1]:
                            self.last[found[1]] = node.id
            else:
                moved.append((thing, item))
                if thing != WATER:
                    self.edge(node, "material", thing)
        node.moved, node.lots = tuple(moved), tuple(lots)
        if step.to is None or step.to.name is None:
            return
        found = self.bath(scope, step.to.name, node, "a bath")
        if found is None:
            return
        node.bath, node.pot = found
        if not node.bath:
            self.slip("empty pot", scope, step.to.name, node)
            return
        self.edge(node, "bath", node.bath)
        self.edge(node, "lot", *lots)
        for lot in lots:
            self.leave(lot, node)
            self.put(lot, node.bath)
            self.flow.treats.setdefault(node.bath, []).append(lot)

    def material_step(self, step: Step, scope: Scope, node: FlowNode, effect: str) -> None:
        self.missing_clauses(step, scope, node)
        found: list[tuple[str, Item]] = []
        if not step.objects:
            self.slip(
                "missing object",
                scope,
                Name(_said(step), step.verb_place),
                node,
                wanted="the material",
            )
        for item in step.objects:
            if item.name is None:
                text = item.quantity.text if item.quantity else ""
                self.slip("wrong kind", scope, Name(text, item.place), node, wanted="a material")
                continue
            thing = self.resolve(scope, item.name, node, "a material")
            if thing is None:
                continue
            if thing not in self.flow.materials:
                self.slip("wrong kind", scope, item.name, node, wanted="a material")
                continue
            self.edge(node, "material", thing)
            found.append((thing, item))
        node.moved = tuple(found)
        if step.within is not None and effect in ("soak", "dissolve"):
            node.pot = self.pot_for(scope, step.within, node)
            if step.label is not None:
                self.new_bath(scope, step.label.text, node)
                node.makes = (node.bath,)
            elif node.pot:
                self.edge(node, "pot", node.pot)

    def clean(self, step: Step, scope: Scope, node: FlowNode) -> None:
        cleaned: list[str] = []
        if not step.objects:
            self.slip(
                "missing object", scope, Name(_said(step), step.verb_place), node, wanted="the pot"
            )
        for item in step.objects:
            if item.name is None:
                self.slip("wrong kind", scope, Name("", item.place), node, wanted="a pot or tool")
                continue
            thing = self.resolve(scope, item.name, node, "a pot or tool")
            if thing is None:
                continue
            if thing not in self.flow.pots:
                self.slip("wrong kind", scope, item.name, node, wanted="a pot or tool")
                continue
            full = self.occupant(thing)
            if full:
                maker = self.place_of(self.flow.baths[full])
                self.slip("pot full", scope, item.name, node, maker, self.live[full].path)
            self.edge(node, "pot", thing)
            cleaned.append(thing)
        node.cleaned = tuple(cleaned)

    def do(self, step: Step, scope: Scope, node: FlowNode) -> None:
        things = [*step.using, *step.into]
        things += [item for item in (step.within, step.source, step.to) if item is not None]
        lots: list[str] = []
        for item in things:
            if item.name is None:
                continue
            thing = self.resolve(scope, item.name, node, "a name of this procedure")
            if thing in self.flow.lots and thing is not None:
                lots.append(thing)
                self.edge(node, "lot", thing)
            elif thing in self.flow.baths and thing is not None:
                self.bath(scope, item.name, node, "a bath")
                self.edge(node, "bath", thing)
        node.lots = tuple(lots)

    # ------------------------------------------------------------ the end

    def orders(self) -> None:
        """Orders added by hand with ``after``."""
        for scope, name, node in self.after:
            target = self.labels.get(scope.prefix + name.text)
            if target is None and name.text in scope.procedure.unread:
                continue
            if target is None:
                known = [key.removeprefix(scope.prefix) for key in self.labels]
                self.slip(
                    "not declared",
                    scope,
                    name,
                    node,
                    wanted="the label of a step",
                    near_word=near(name.text, known),
                )
                continue
            block = self.flow.nodes[target]
            last = block.inner[-1].id if block.inner else target
            self.flow.edges.append(Edge(last, node.id, "order", name.text))

    def ends(self, scope: Scope) -> None:
        """What is still in use when the plan ends."""
        for lot, bath in self.where.items():
            if bath and self.live[lot].status == "in use" and bath in self.flow.baths:
                other = self.place_of(self.last.get(lot, -1))
                if other is not None:
                    node = self.flow.nodes[self.last[lot]]
                    here = Scope(node.procedure, "", node.calls)
                    self.slip(
                        "left in bath",
                        here,
                        Name(self.flow.lots[lot].name, other[1].place),
                        node,
                        wanted=bath,
                    )
        for bath, maker in self.flow.baths.items():
            live = self.live[bath]
            partly = live.status != "in use" and live.path
            if live.status == "in use" or partly:
                node = self.flow.nodes[maker]
                here = Scope(node.procedure, "", node.calls)
                label = node.step.label
                name = label or Name(bath, node.step.place)
                # Where it is gone on one way only, it is left over on the other.
                path = _other_way(live.path) if partly else live.path
                self.slip("bath left over", here, name, node, path=path)

    def never_used(self, scope: Scope) -> None:
        procedure = scope.procedure
        for group in (procedure.lots, procedure.equipment, procedure.materials):
            for declared in group.values():
                if scope.names.get(declared.name.text) not in self.used:
                    equipment = declared.name.text in procedure.equipment
                    if declared.name.text in procedure.brought:
                        continue
                    if equipment and not procedure.equipment[declared.name.text].holds:
                        continue  # a spoon or a hob serves without being named
                    self.slip("never used", scope, declared.name)

    def find_cycle(self) -> None:
        """A circle is only possible where an order was added by hand."""
        if not any(edge.kind == "order" for edge in self.flow.edges):
            return
        import networkx

        graph = self.flow.networkx()
        try:
            circle = networkx.find_cycle(graph)
        except networkx.NetworkXNoCycle:
            return
        self.flow.cycle = tuple(self.flow.nodes[edge[0]] for edge in circle)


def _other_way(path: str) -> str:
    """The other way through the ``if`` that a path names."""
    passed = path.removesuffix(" does not hold")
    return f"{passed} holds" if passed != path else f"{path.removesuffix(' holds')} does not hold"


def _said(step: Step | Block) -> str:
    if isinstance(step, Block):
        return step.kind
    return step.verb.name if step.verb else step.kind


def _has(step: Step, clause: str) -> bool:
    fields = {
        "in": step.within,
        "into": step.into,
        "from": step.source,
        "with": step.using,
        "at": step.at,
        "to": step.to,
        "over": step.over,
        "for": step.lasting or _waits(step),
        "until": step.until,
        "as": step.named,
        "on": step.on,
        "through": step.through,
    }
    return bool(fields[clause])


def _waits(step: Step) -> bool:
    return "overnight" in step.manner or "until-next-day" in step.manner


def _kind_of(flow: Flow, thing: str) -> str:
    if thing in flow.lots:
        return "lot"
    if thing in flow.baths:
        return "bath"
    if thing in flow.pots:
        return "pot" if flow.pots[thing][0].holds else "tool"
    return "material"


def _file(procedure: Procedure) -> str:
    """A file as its readers call it."""
    return procedure.file.replace("\\", "/").rsplit("/", 1)[-1]
