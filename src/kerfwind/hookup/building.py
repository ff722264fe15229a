"""From the candidates chosen to chains, joints and shopping, judged on the whole draw."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from ..facts import Fact, Listing, Statement, Term, state
from ..quantity import Draw
from ..shop import End, Shop
from ..sources import fact
from .chains import Candidate, Route
from .fits import Fit, fit, known_fit
from .loss import fitting_pa, hose_pa, step_pa
from .made import Made
from .model import Alternative, Chain, Coupling, Joint, Piece, Plate, Purchase, Stays
from .part_costs import Choice, Task
from .reducer import Reducer
from .shopping import size_checks
from .wood import designed, mouth


class Builder:
    """Builds what a choice means for one shop."""

    def __init__(self, shop: Shop, task: Task, draw: Draw) -> None:
        self.shop, self.parts, self.task, self.draw = shop, task.parts, task, draw
        #: Two answers have most of their chains in common.
        self._known: dict[tuple[object, ...], Chain] = {}

    def chains(self, choice: Choice) -> tuple[Chain, ...]:
        """Every chain of a choice, tools first, in the order of the file."""
        taken = list(choice.taken)
        order = {t.name: i for i, t in enumerate(self.shop.tools)}
        last = len(order)
        taken.sort(key=lambda c: (order.get(self._route(c).tool, last), c.route))
        left = {p: part.owned for p, part in enumerate(self.parts)}
        return tuple(self._chain(c, choice, left) for c in taken)

    def _route(self, candidate: Candidate) -> Route:
        return self.task.routes[candidate.route]

    def _chain(self, candidate: Candidate, choice: Choice, left: dict[int, int]) -> Chain:
        pieces = self._pieces(candidate, choice, left)
        told = tuple((id(p.fitting), p.turned, p.origin, p.stays) for p in pieces)
        key = (candidate.route, candidate.unreached, id(candidate.made), told)
        if key not in self._known:
            self._known[key] = self._joined(candidate, pieces)
        return self._known[key]

    def _joined(self, candidate: Candidate, pieces: tuple[Piece, ...]) -> Chain:
        """The chain of a candidate with these pieces."""
        route = self._route(candidate)
        plate = self._plate(route, candidate, pieces)
        joints = self._joints(route, candidate, pieces, plate)
        holds = np.ones(self.draw.count, dtype=bool)
        for joint in joints:
            holds &= joint.fit.holds
        hang = sum(p.fitting.length.best_si for p in pieces if p.stays == "tool")
        loss = hose_pa(self.shop.hoses[route.hose]) if route.tool else 0.0
        loss += sum(fitting_pa(p.fitting, p.turned) for p in pieces)
        loss += sum(
            step_pa(j.upstream_end.inside.best_si, j.downstream_end.inside.best_si)
            for j in joints
            if j.upstream_end is not j.downstream_end
        )
        return Chain(
            start=route.start,
            finish=route.finish,
            tool=route.tool,
            hose=self.shop.hoses[route.hose].name,
            pieces=pieces,
            joints=joints,
            holds=holds & (not candidate.unreached),
            likelihood=0.0 if candidate.unreached else float(np.mean(holds)),
            reached=not candidate.unreached,
            hang_m=hang,
            loss_pa=loss,
            cost=_own_cost(pieces, joints),
            changes=1 + sum(p.stays == "shared" for p in pieces) if route.tool else 0,
            plate=plate,
        )

    def _plate(self, route: Route, candidate: Candidate, pieces: tuple[Piece, ...]) -> Plate | None:
        """What is made of plywood at the tool, with all its sizes."""
        if candidate.made is None or candidate.made.plate is None:
            return None
        tool = next(t for t in self.shop.tools if t.name == route.tool)
        end = pieces[0].upstream if pieces else route.downstream
        return designed(candidate.made.plate, tool, end, self.shop.wishes.measures == "metric")

    def _pieces(
        self, candidate: Candidate, choice: Choice, left: dict[int, int]
    ) -> tuple[Piece, ...]:
        route = self._route(candidate)
        rest: Stays = "tool" if route.tool else "unit"
        if candidate.made is not None and candidate.made.fitting is not None:
            made = candidate.made
            origin = "print" if made.how == "print" else "cut"
            pieces = [Piece(made.fitting, False, origin, rest, made.price, made.reducer)]  # type: ignore[arg-type]
        else:
            pieces = []
        borrowed = Counter({p: n for (r, p), n in choice.borrowed.items() if r == candidate.route})
        for part, turned in candidate.pieces:
            stays: Stays = rest
            if borrowed[part]:
                borrowed[part] -= 1
                stays = "shared"
            pieces.append(self._piece(part, turned, stays, left))
        if candidate.head is not None:
            pieces.append(self._piece(*candidate.head, "hose", left))
        return tuple(pieces)

    def _piece(self, part: int, turned: bool, stays: Stays, left: dict[int, int]) -> Piece:
        kind = self.parts[part]
        owned = kind.owned > 0 and (kind.price is None or left[part] > 0)
        if owned and stays not in ("shared", "hose"):
            left[part] -= 1
        return Piece(kind.fitting, turned, "owned" if owned else "buy", stays, kind.price or 0.0)

    def _joints(
        self, route: Route, candidate: Candidate, pieces: tuple[Piece, ...], plate: Plate | None
    ) -> tuple[Joint, ...]:
        made = candidate.made
        owners = [route.start, *(p.called for p in pieces), route.finish]
        downs = [route.upstream, *(p.downstream for p in pieces)]
        ups = [*(p.upstream for p in pieces), route.downstream]
        if plate is not None:
            owners[0], downs[0] = plate.called, mouth(plate, ups[0])
        fixed = sum(p.stays == "tool" for p in pieces)
        joints = []
        for i, (down, up) in enumerate(zip(downs, ups, strict=True)):
            how = self._fit(down, up, made, i)
            remade = bool(route.tool) and (i == fixed or self._loose(pieces, i))
            joints.append(Joint(owners[i], owners[i + 1], down, up, how, remade))
        return tuple(joints)

    @staticmethod
    def _loose(pieces: tuple[Piece, ...], joint: int) -> bool:
        near = pieces[max(0, joint - 1) : joint + 1]
        return any(p.stays == "shared" for p in near)

    def _fit(self, down: End, up: End, made: Made | None, index: int) -> Fit:
        if made is not None and made.plate is not None and index == 0:
            # Only the hole is made to measure; the ends beyond it are what they are.
            return _to_measure(fit(down, up, self.draw))
        how = known_fit(down, up, self.draw)
        # A piece made to measure is made after the mating end is measured.
        measured = made is not None and made.plate is None and index in (0, 1)
        return _to_measure(how) if measured else how

    def cost(self, choice: Choice, chains: tuple[Chain, ...]) -> float:
        """Money for the whole choice, whose chains are known."""
        parts = sum((self.parts[p].price or 0.0) * n for p, n in choice.bought.items())
        # The wood of plates and boxes is paid for with the sheets they are cut from.
        made = sum(c.made.price for c in choice.taken if c.made and c.made.plate is None)
        fixing = sum(fixing_price(j.fit) for _, j in _once(chains))
        return parts + made + fixing

    def couplings(self, choice: Choice, chains: tuple[Chain, ...]) -> tuple[Coupling, ...]:
        """Pieces that stay on a hose."""
        couplings = []
        for hose, (part, turned) in choice.heads.items():
            name = self.shop.hoses[hose].name
            tools = tuple(
                c.tool
                for c in chains
                if c.hose == name and c.pieces and c.pieces[-1].stays == "hose"
            )
            kind = self.parts[part]
            piece = Piece(kind.fitting, turned, kind.origin, "hose", kind.price or 0.0)
            if tools:
                couplings.append(Coupling(name, piece, tools))
        return tuple(couplings)

    def to_get(
        self, choice: Choice, chains: tuple[Chain, ...]
    ) -> tuple[tuple[Purchase, ...], tuple[Reducer, ...], tuple[Plate, ...]]:
        """What to buy, to print and to make."""
        bought = []
        for part, count in sorted(choice.bought.items()):
            fitting = self.parts[part].fitting
            with_it = [c for c in chains if any(p.fitting is fitting for p in c.pieces)]
            bought.append(
                Purchase(
                    fitting.called,
                    count,
                    self.parts[part].price or 0.0,
                    tuple(dict.fromkeys(c.about for c in with_it)),
                    size_checks(fitting, with_it),
                )
            )
        for chain in chains:
            for piece in chain.pieces:
                if piece.origin == "cut":
                    bought.append(Purchase(piece.called, 1, piece.price, (chain.about,)))
        clamped = [c for c, j in _once(chains) if j.fit.kind == "needs clamp"]
        if clamped:
            price = fact("hookup.clamp_price").value
            users = tuple(dict.fromkeys(c.about for c in clamped))
            bought.append(Purchase(Term("fitting", "band clamp"), len(clamped), price, users))
        printed = tuple(p.reducer for c in chains for p in c.pieces if p.reducer)
        plates = tuple(c.plate for c in chains if c.plate)
        return tuple(bought), printed, plates

    @staticmethod
    def alternative(
        weight: float, cost: float, before: tuple[Chain, ...], after: tuple[Chain, ...]
    ) -> Alternative:
        """Another answer, and what its chains do differently."""
        differs = []
        then = {c.about: c for c in before}
        for chain in after:
            old = then.get(chain.about)
            if old is None or _parts_of(old) != _parts_of(chain) or old.hose != chain.hose:
                differs.append(_way(chain))
        return Alternative(weight, cost, tuple(differs))


def _own_cost(pieces: Sequence[Piece], joints: Sequence[Joint]) -> float:
    """Money for what a chain alone needs: pieces that stay on its tool or unit, and clamps."""
    bought = sum(p.price for p in pieces if p.stays in ("tool", "unit") and p.origin != "owned")
    return bought + sum(fixing_price(j.fit) for j in joints)


def _once(chains: Sequence[Chain]) -> Iterator[tuple[Chain, Joint]]:
    """Every joint; that of a hose to what stays on it once, though many chains end in it."""
    heads_seen: set[str] = set()
    for chain in chains:
        for joint in chain.joints[:-1]:
            yield chain, joint
        headed = bool(chain.pieces) and chain.pieces[-1].stays == "hose"
        if not headed or chain.hose not in heads_seen:
            yield chain, chain.joints[-1]
        if headed:
            heads_seen.add(chain.hose)


def _parts_of(chain: Chain) -> tuple[tuple[object, ...], ...]:
    return tuple((p.called, p.turned, p.stays) for p in chain.pieces)


def _way(chain: Chain) -> Statement:
    """What a chain is for, and all that follows up to its hose or inlet."""
    if not chain.reached:
        return state("hookup.way.apart", about=chain.about)
    pieces = Listing((*pieces_of(chain), chain.finish), "then")
    return state("hookup.way", about=chain.about, pieces=pieces)


def pieces_of(chain: Chain) -> tuple[Fact, ...]:
    """The pieces of a chain, the plate or box at the tool first."""
    pieces = tuple(p.called for p in chain.pieces)
    return (
        pieces if chain.plate is None else (state("hookup.bored", made=chain.plate.kind), *pieces)
    )


def fixing_price(how: Fit) -> float:
    """Price of the clamp or tape that a joint needs."""
    if how.kind == "needs clamp":
        return fact("hookup.clamp_price").value
    return fact("hookup.tape_price").value if how.kind == "needs tape" else 0.0


def _to_measure(how: Fit) -> Fit:
    """The same joint with a part that follows the other's true size, whatever that is."""
    nominal = how.kind if how.likelihood >= 0.5 else "slip"
    count = len(how.play_m)
    from .fits import KINDS

    code = KINDS.index(nominal)
    mating = tuple(
        q for q in how.rests_on if q.path and not q.path.startswith(("cut[", "printed["))
    )
    return replace(
        how,
        kind=nominal,
        likelihood=1.0,
        likelihoods={nominal: 1.0},
        kinds=np.full(count, code, dtype=np.int8),
        miss_m=np.zeros(count),
        decides="to measure",
        rests_on=mating,
    )
