"""The last steps of the whole unit: hoses and fittings put on, and what is not in use put away.

The cart's own steps know nothing of what was chosen for its ports; here both come together.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from .cart import Cart
from .facts import Amount, Fact, Listing, Ref, Statement, Term, state
from .hookup import Chain, Hookups, Joint, Piece
from .joinery import Board, Step, Taken
from .options.spool import bulkiest
from .shop import Hose, Shop

#: Vinyl tape as it is sold for insulating, one layer of it (common practice, no source) [m].
_TAPE_M = 0.00018
_CLAMP_KEY = "buy:band clamp"
_CLAMP = Term("fitting", "band clamp")


def unit_steps(
    shop: Shop, cart: Cart, hookups: Hookups, boards: Sequence[Board] = ()
) -> tuple[Step, ...]:
    """The cart's steps, with the hoses' joints in them, and the steps that follow.

    Every fitting that is bought or printed, every hose and every owned fitting that a chain
    uses is in just one of them. ``boards`` are made beside the cart; those of the bucket go on
    before its lid does.
    """
    link = shop.link
    links = [c for c in hookups.unit if link is not None and c.hose == link.name]
    steps = [
        _with_joints(_from_owned(step, cart, link), links) if "link hose" in step.new else step
        for step in cart.steps
    ]
    used = [h.name for h in shop.hoses if any(c.hose == h.name for c in hookups.tools)]
    of_bucket = tuple(b.called for b in boards if not b.wanted.tool)
    if of_bucket:
        first = state("unit.say.bucket_boards", boards=Listing(of_bucket))
        steps = [replace(s, says=(first, *s.says)) if "cyclone" in s.new else s for s in steps]
    # The cart's own keep their numbers, which stand under their pictures.
    tied = any("hose anchor" in s.new for s in cart.steps)
    steps += [_hose(name, hookups, tied, used[:i][-1:]) for i, name in enumerate(used)]
    tools = _tools(hookups, steps)
    steps += [tools] if tools is not None else []
    steps.append(_away(shop, cart, used))
    return tuple(replace(step, number=number) for number, step in enumerate(steps, 1))


def _from_owned(step: Step, cart: Cart, link: Hose | None) -> Step:
    """A step that cuts its hose from the one that is owned, where that is long enough."""
    if link is None or cart.hose is None or link.length.assumed:
        return step
    if link.length.best_si < cart.hose.cut_m:
        return step
    what = state(
        "unit.owned_hose", hose=Ref("hose", link.name), cut=Amount(cart.hose.cut_m, "length")
    )
    takes = tuple(replace(t, what=what) if t.key == "link-hose" else t for t in step.takes)
    return replace(step, takes=takes)


def _with_joints(step: Step, chains: Sequence[Chain]) -> Step:
    """A step with all joints of some chains in it."""
    says = _said(chains)
    return replace(
        step, says=(*step.says, *says), takes=(*step.takes, *_pieces(chains), *_clamps(chains))
    )


def _said(chains: Sequence[Chain]) -> list[Statement]:
    """What to do for some chains of the unit: what is cut first, then each joint in order."""
    return [
        says
        for chain in chains
        for says in (
            *(
                state("unit.say.cut", piece=piece.called)
                for piece in chain.pieces
                if piece.origin == "cut"
            ),
            *(said for joint in chain.joints for said in joint_says(joint)),
        )
    ]


def joint_says(joint: Joint) -> list[Statement]:
    """How two ends are put together, and what keeps them so."""
    way = {"a": "into", "b": "over", "": "to"}[joint.fit.inner]
    push = state("unit.say.push", upstream=joint.upstream, downstream=joint.downstream, way=way)
    if joint.fit.kind == "needs tape":
        return [*_fixing(joint), push]
    if joint.fit.kind == "needs clamp":
        return [push, state("unit.say.clamp")]
    if joint.fit.kind == "slip":
        return [push, state("unit.say.slip")]
    return [push]


def _fixing(joint: Joint) -> list[Statement]:
    """Tape or clamp that a joint needs, and how much of it where."""
    if joint.fit.kind == "needs clamp":
        return [state("unit.say.clamp_at", upstream=joint.upstream, downstream=joint.downstream)]
    if joint.fit.kind != "needs tape":
        return []
    pairs = (joint.upstream_end, joint.downstream_end)
    inner, outer = pairs if joint.fit.inner == "a" else pairs[::-1]
    play = max(outer.inside.best_si - inner.outside.best_si, 0.0)
    return [
        state(
            "unit.say.tape",
            inner=joint.upstream if joint.fit.inner == "a" else joint.downstream,
            across=Amount(inner.outside.best_si + play, "length", "caliper"),
            thick=Amount(play / 2, "length", "caliper"),
            turns=max(1, math.ceil(play / 2 / _TAPE_M - 1e-9)),
        )
    ]


def _pieces(chains: Iterable[Chain]) -> list[Taken]:
    return [_taken(chain, piece) for chain in chains for piece in chain.pieces]


def _taken(chain: Chain, piece: Piece) -> Taken:
    what = state("hookup.piece", piece=piece.called, origin=piece.origin)
    # What is made for one port is no other's, though it may be called the same.
    made = f" for {chain.tool or chain.hose}" if piece.origin in ("cut", "print") else ""
    return Taken(f"{piece.origin}:{piece.fitting.name}{made}", 1, what)


def _clamps(chains: Iterable[Chain]) -> list[Taken]:
    count = sum(j.fit.kind == "needs clamp" for c in chains for j in c.joints)
    return [Taken(_CLAMP_KEY, count, _CLAMP)] if count else []


def _hose(name: str, hookups: Hookups, tied: bool, before: Sequence[str]) -> Step:
    """The step that puts a tool hose on the unit, and on it what stays at its other end.

    It takes the place of the hose ``before`` it, where there is one: the unit has one inlet.
    """
    chains = [c for c in hookups.unit if c.hose == name]
    says = [state("unit.say.instead", other=Ref("hose", other)) for other in before]
    says += _said(chains)
    takes = [Taken(f"hose:{name}", 1, Ref("hose", name)), *_pieces(chains), *_clamps(chains)]
    for coupling in (c for c in hookups.couplings if c.hose == name):
        chain = hookups.chain(coupling.tools[0])
        says.append(state("unit.say.coupling", piece=coupling.piece.called))
        says += joint_says(chain.joints[-1])
        takes.append(_taken(chain, coupling.piece))
        if chain.joints[-1].fit.kind == "needs clamp":
            takes.append(Taken(_CLAMP_KEY, 1, _CLAMP))
    return Step(
        0,
        state("unit.title.hose", hose=Ref("hose", name)),
        (*says, *([state("cart.say.tie_hose")] if tied else [])),
        (state("unit.mind.hose"), *([state("cart.mind.anchor")] if tied else [])),
        (),
        (),
        takes=tuple(takes),
    )


def _tools(hookups: Hookups, before: Sequence[Step]) -> Step | None:
    """The step that brings to each tool what stays on it, and what the tools share."""
    says: list[Fact] = []
    takes: dict[str, Taken] = {}
    for chain in hookups.tools:
        mine = [p for p in chain.pieces if p.stays != "hose"]
        if mine:
            pieces = Listing(tuple(p.called for p in mine), "then")
            says.append(state("unit.say.tool", tool=Ref("tool", chain.tool), pieces=pieces))
        says += [said for joint in chain.joints for said in _fixing(joint)]
        for piece in mine:
            row = _taken(chain, piece)
            had = takes.get(row.key)
            if had is None or piece.stays != "shared":
                takes[row.key] = replace(row, count=1 + (had.count if had else 0))
    _bought_more(hookups, before, takes)
    clamps = sum(
        joint.fit.kind == "needs clamp"
        for chain in hookups.tools
        for joint in (chain.joints[:-1] if _headed(chain) else chain.joints)
    )
    if clamps:
        takes[_CLAMP_KEY] = Taken(_CLAMP_KEY, clamps, _CLAMP)
    if not takes:
        return None
    return Step(
        0,
        state("unit.title.tools"),
        (*says, state("unit.say.chart")),
        (state("unit.mind.tools"),),
        (),
        (),
        takes=tuple(takes.values()),
    )


def _bought_more(hookups: Hookups, before: Sequence[Step], takes: dict[str, Taken]) -> None:
    """Of what tools share so many are bought as have to be out at once."""
    had = Counter[str]()
    for taken in (t for step in before for t in step.takes):
        had[taken.key] += taken.count
    counts = {purchase.what: purchase.count for purchase in hookups.purchases}
    for chain, piece in ((c, p) for c in hookups.tools for p in c.pieces):
        row = _taken(chain, piece)
        if piece.origin == "buy" and piece.called in counts and row.key in takes:
            takes[row.key] = replace(row, count=counts[piece.called] - had[row.key])


def _headed(chain: Chain) -> bool:
    return bool(chain.pieces) and chain.pieces[-1].stays == "hose"


def _away(shop: Shop, cart: Cart, used: Sequence[str]) -> Step:
    """Where cord and hoses go while they are not in use."""
    kept = bulkiest(shop) if any(b.coiled for b in cart.bodies) else None
    loose = [h for h in shop.hoses if h.use == "tool" and (kept is None or h.name != kept.name)]
    says: list[Statement] = [
        state("unit.say.cord", wrap="cord wrap" if "cord wrap" in shop.wishes.options else "none")
    ]
    says += [
        state(
            "unit.say.hang",
            hose=Ref("hose", h.name),
            across=Amount(2 * h.smallest_bend.high_si, "length"),
        )
        for h in loose
    ]
    unused = [h.name for h in shop.hoses if h.use == "tool" and h.name not in used]
    return Step(
        0,
        state("unit.title.away"),
        tuple(says),
        (state("unit.mind.away"),),
        (),
        (),
        takes=tuple(Taken(f"hose:{name}", 1, Ref("hose", name)) for name in unused),
    )
