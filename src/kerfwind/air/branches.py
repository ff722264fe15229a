"""A branched system: fixed runs with wyes and gates, any set of them open."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from ..facts import Band, Listing, Name, Ref, Statement, Term, state
from ..faults import refusal
from ..finding import Finding
from ..quantity import Draw, Quantity
from ..shop import Branch, Shop, Tool
from ..shop.catalogue.needs import need
from ..sources import fact
from . import losses, verdict
from .curve import SuctionCurve
from .errors import NetworkError
from .network import Duct, NetworkFlow, compile_tree, solve
from .path import Link, WayBuilder, relief_valve, unit
from .properties import GAS_CONSTANT_J_KG_K, STANDARD_DENSITY_KG_M3, RoomAir, density, room_air
from .series import Element, Valve
from .vacuum import suction_curve
from .verdict import Narrowest, RunAir, Verdict

Array = NDArray[np.float64]

WYE_ROUNDS = 25
VALVE_ROUNDS = 24


@dataclass(frozen=True)
class BranchRun:
    """One run as solved; arrays have samples on the last axis.

    ``airflow_m3_s`` is as the room's air, ``velocity_m_s`` where the run begins,
    ``suction_pa`` (total pressure) where it ends.
    """

    name: str
    open: bool
    bore_m: Array
    airflow_m3_s: Array
    standard_airflow_m3_s: Array
    velocity_m_s: Array
    density_kg_m3: Array
    suction_pa: Array


@dataclass(frozen=True)
class BranchTool:
    """A tool at an open end, with its verdicts while the same gates stay open."""

    tool: str
    branch: str
    airflow_m3_s: Array
    chips: Verdict
    caught: Verdict

    @property
    def told_airflow(self) -> Band:
        """Its airflow as its finding has it, with what the reckoning itself may be off."""
        told = self.caught.finding.value
        assert told is not None
        return told

    @property
    def standing(self) -> Statement:
        """The tool where it stands on the branch, for a sentence to say."""
        return _standing(self.tool, self.branch)


def _standing(tool: str, branch: str) -> Statement:
    return state("air.on_branch", tool=Ref("tool", tool), branch=Ref("branch", branch))


@dataclass(frozen=True)
class BranchAir:
    """The whole tree with one set of gates open.

    ``mass_balance`` is the largest gap between air into and out of a run's beginning, as a
    part of all the air; ``settled`` whether the wyes' coefficients agree with the flows.
    """

    runs: tuple[BranchRun, ...]
    tools: tuple[BranchTool, ...]
    vacuum_airflow_m3_s: Array
    vacuum_suction_pa: Array
    mass_balance: float
    settled: bool

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Those of all tools with an open gate."""
        return tuple(f for t in self.tools for f in (t.caught.finding, t.chips.finding))


def branch_air(
    shop: Shop,
    draw: Draw,
    *,
    link: Link | None = None,
    open_branches: Collection[str] | None = None,
    curve: SuctionCurve | None = None,
) -> BranchAir:
    """Solve the shop's branched system with a set of its gates open.

    Parameters
    ----------
    open_branches
        Names of the branches whose gates are open; without it, as the shop file has them.
        A branch without a gate is always open.

    Raises
    ------
    NetworkError
        No branch, a name that is none, or no gate open.
    """
    if not shop.branches:
        raise NetworkError(refusal("air.branches.none", "branches"))
    known = {b.name for b in shop.branches}
    for name in open_branches or ():
        if name not in known:
            raise NetworkError(
                refusal(
                    "air.branches.no_gate",
                    "branches",
                    gate=Name(name),
                    known=Listing(tuple(Ref("branch", b) for b in sorted(known)), "commas"),
                )
            )
    room = room_air(shop.room.altitude, shop.room.temperature, draw)
    curve = curve or suction_curve(shop, draw, room)
    system = _System(shop, draw, open_branches)
    if not any(system.passes(b) for b in shop.branches if b.name not in system.joined):
        raise NetworkError(refusal("air.branches.all_shut", "branches"))
    ducts = system.ducts(link)
    flow, ducts, settled = _with_wyes(system, ducts, curve, room)
    valve = relief_valve(shop, draw)
    if valve is not None:
        flow, ducts, settled = _with_valve(system, link, curve, room, valve, flow, ducts, settled)
    worse: BranchAir | None = None
    if verdict.guesses_filter(shop):
        vacuum = shop.vacuum.model_copy(update={"filter": "clogged"})
        worse = branch_air(
            shop.model_copy(update={"vacuum": vacuum}),
            draw,
            link=link,
            open_branches=open_branches,
            curve=curve,
        )
    return _report(system, ducts, flow, curve, room, settled, worse)


class _System:
    """The shop's branches as ducts."""

    def __init__(self, shop: Shop, draw: Draw, open_branches: Collection[str] | None) -> None:
        self.shop = shop
        self.draw = draw
        self.by_name = {b.name: b for b in shop.branches}
        self.joined = {b.to for b in shop.branches}
        self.tools = {t.name: t for t in shop.tools}
        self.chosen = open_branches
        self.rests_on: list[Quantity] = []
        self.valve_after = 0
        self.at_valve = ""

    def is_open(self, branch: Branch) -> bool:
        if branch.gate == "none":
            return True
        return branch.gate == "open" if self.chosen is None else branch.name in self.chosen

    def passes(self, branch: Branch) -> bool:
        """Open, and everything downstream of it too."""
        while self.is_open(branch):
            if branch.to == "unit":
                return True
            branch = self.by_name[branch.to]
        return False

    def mates(self, branch: Branch) -> list[Branch]:
        """All that join where ``branch`` does."""
        return [b for b in self.shop.branches if b.to == branch.to]

    def unit_mouth(self) -> tuple[Term, Array]:
        """The unit's own inlet and its bore."""
        separator = self.shop.separator
        inlet = separator.cyclone.inlet if separator.in_use else self.shop.vacuum.inlet
        return Term("part", "separator" if separator.in_use else "vacuum"), self.draw.of(
            inlet.inside
        )

    def ducts(self, link: Link | None, valve_m2: Array | float = 0.0) -> list[Duct]:
        """One duct for each branch, then the unit's own as a chain split at its leaks.

        ``valve_m2`` is how far a relief valve stands open.
        """
        tail = WayBuilder(self.shop, self.draw)
        inlet = (
            self.shop.separator.cyclone.inlet
            if self.shop.separator.in_use
            else (self.shop.vacuum.inlet)
        )
        mouth = tail.of(inlet.inside)
        tail.bore = mouth
        tail.elements.append(Element(Term("part", "unit"), "inlet", mouth))
        unit(tail, 1, link)
        chain: list[list[Element]] = [[]]
        leaks: list[Array | float] = []
        for e in tail.elements:
            chain[-1].append(e)
            if e.leaks:
                leaks.append(e.leak_area_m2 + (valve_m2 if e.valve is not None else 0.0))
                if e.valve is not None:
                    self.valve_after = len(chain) - 1
                chain.append([])
        leaks.append(0.0)
        last = len(chain) - 1
        ends = ["unit", *(f"unit, part {i + 1}" for i in range(1, last + 1)), ""]
        self.at_valve = ends[self.valve_after]
        made = [
            Duct(ends[i], ends[i + 1], tuple(part), joint_leak_m2=leaks[i], enters=False)
            for i, part in enumerate(chain)
        ]
        self.rests_on += tail.rests_on
        return [*(self._duct(b, mouth) for b in self.shop.branches), *made]

    def _duct(self, branch: Branch, mouth: Array) -> Duct:
        b = WayBuilder(self.shop, self.draw)
        bore = b.of(branch.bore)
        part = Ref("branch", branch.name)
        if branch.name not in self.joined:
            self._open_end(b, branch, bore)
        b.bore = bore if b.bore is None else b.bore
        b.step_to(part, bore)
        ribbed = branch.wall == "ribbed"
        b.wall(part, bore, b.of(branch.length), ribbed=ribbed)
        b.lying_bends(part, bore, float(branch.bends), ribbed=ribbed)
        after = mouth if branch.to == "unit" else b.of(self.by_name[branch.to].bore)
        if len(self.mates(branch)) > 1:
            entry = losses.branch_entry(b.of(branch.angle)) * b.spread("branch_spread")
            b.elements.append(Element(part, "wye", bore, entry))
        b.step_to(part, after)
        self.rests_on += b.rests_on
        return Duct(
            branch.name,
            branch.to,
            tuple(b.elements),
            open=self.is_open(branch),
            gate_leak_m2=b.spread("leak.gate"),
            joint_leak_m2=b.spread("leak.joint"),
            enters=None if branch.name not in self.joined else False,
        )

    def _open_end(self, b: WayBuilder, branch: Branch, bore: Array) -> None:
        if branch.tool:
            tool = self.tools[branch.tool]
            b.entry(tool, *need(tool.hood, tool.operation).entry.span)
            return
        key = "air.entry.nozzle" if branch.sweep else "air.entry_loss.plain"
        k = self.draw.between(*fact(key).span, key)
        what = "floor sweep" if branch.sweep else "open end"
        b.elements.append(Element(Ref("branch", branch.name), what, bore, k))


def _with_valve(
    system: _System,
    link: Link | None,
    curve: SuctionCurve,
    room: RoomAir,
    valve: Valve,
    flow: NetworkFlow,
    ducts: list[Duct],
    settled: bool,
) -> tuple[NetworkFlow, list[Duct], bool]:
    """The tree with its relief valve as far open as the suction behind it lifts it.

    The further it stands open, the less the suction: one opening is right, found between shut
    and what it would be at the suction without it.
    """
    p0 = np.asarray(room.pressure_pa)
    rt = GAS_CONSTANT_J_KG_K * room.temperature_k

    def wanted(flow: NetworkFlow) -> tuple[Array, Array]:
        u = flow.u_pa2[flow.names.index(system.at_valve)]
        mass = valve.lets_in(p0 - np.sqrt(p0**2 - u))
        return mass, mass / np.sqrt(np.maximum(u, 1.0) / rt)

    mass, high = wanted(flow)
    if not np.any(mass > 0):
        return flow, ducts, settled
    low = np.zeros(system.draw.count)
    for _ in range(VALVE_ROUNDS):
        area = (low + high) / 2
        flow, ducts, settled = _with_wyes(system, system.ducts(link, area), curve, room)
        more = wanted(flow)[1] > area
        low, high = np.where(more, area, low), np.where(more, high, area)
    return flow, ducts, settled


def _with_wyes(
    system: _System, ducts: list[Duct], curve: SuctionCurve, room: RoomAir
) -> tuple[NetworkFlow, list[Duct], bool]:
    """Solve, then let each wye's loss follow from the flows that meet in it.

    With given coefficients the tree always has one answer. Crane's coefficients for a
    converging wye hang on how the flow is shared, so they are put in again until the
    flows stay; below zero, where one stream draws the other along, they count as
    nothing. Where they do not stay, the handbook's fixed entry losses are kept.
    """
    flow = solve(compile_tree(ducts, room), curve, room)
    fixed = (flow, ducts)
    wyes = [b for b in system.shop.branches if len(system.mates(b)) == 2]
    if not wyes:
        return flow, ducts, True
    spread = system.draw.between(*fact("air.branch_spread").span, "air.branch_spread")
    held: dict[str, Array] = {}
    for _ in range(WYE_ROUNDS):
        for b in wyes:
            fresh = _wye_factor(system, b, flow) * spread
            held[b.name] = fresh if b.name not in held else (held[b.name] + fresh) / 2
        ducts = [_put_wye(d, held) for d in ducts]
        before = flow
        flow = solve(compile_tree(ducts, room), curve, room)
        moved = np.max(np.abs(flow.mass_kg_s - before.mass_kg_s)) / np.max(flow.mass_kg_s)
        if moved < 1e-6:
            return flow, ducts, True
    return (*fixed, False)


def _wye_factor(system: _System, branch: Branch, flow: NetworkFlow) -> Array:
    """Crane's factor of one way through a wye, on the branch's own velocity, not below zero."""
    other = next(b for b in system.mates(branch) if b.name != branch.name)
    own, rest = flow.of(branch.name), flow.of(other.name)
    if not np.all(own > 0) or not np.all(rest > 0):
        return np.zeros(system.draw.count)
    draw = system.draw
    # The straighter of the two is the main; its bore stands for the joined one.
    straight = branch.angle.best_si < other.angle.best_si or (
        branch.angle.best_si == other.angle.best_si and branch.bore.best_si > other.bore.best_si
    )
    main, side = (branch, other) if straight else (other, branch)
    main_m, side_m = draw.of(main.bore), draw.of(side.bore)
    angle = np.maximum(draw.of(side.angle), np.pi / 6)
    share = (rest if straight else own) / (own + rest)
    factor = losses.wye_run if straight else losses.wye_branch
    k_joined = np.maximum(factor(main_m, np.minimum(side_m, main_m), share, angle), 0.0)
    own_m = main_m if straight else side_m
    # From the joined flow's velocity to the branch's own: (Q_joined/A_main)² over (q/A_own)².
    return np.asarray(k_joined * ((own + rest) / own * (own_m / main_m) ** 2) ** 2)


def _put_wye(duct: Duct, factors: dict[str, Array]) -> Duct:
    if duct.name not in factors:
        return duct
    elements = tuple(
        replace(e, factor=factors[duct.name]) if e.what == "wye" else e for e in duct.elements
    )
    return replace(duct, elements=elements)


def _report(
    system: _System,
    ducts: list[Duct],
    flow: NetworkFlow,
    curve: SuctionCurve,
    room: RoomAir,
    settled: bool,
    worse: BranchAir | None,
) -> BranchAir:
    draw, shop = system.draw, system.shop
    rho, p0 = room.density_kg_m3, np.asarray(room.pressure_pa)
    ends = {name: i for i, name in enumerate(flow.names)}
    heads: dict[str, list[str]] = {}
    for d in ducts:
        heads.setdefault(d.to, []).append(d.name)

    def u_at_start(name: str) -> Array:
        ups = [n for n in heads.get(name, ()) if n in ends]
        return flow.u_pa2[ends[ups[0]]] if ups else np.zeros(draw.count)

    runs: dict[str, BranchRun] = {}
    for b in shop.branches:
        bore = draw.of(b.bore)
        mass = flow.of(b.name)
        begin = density(np.sqrt(p0**2 - u_at_start(b.name)), room.temperature_k)
        end = flow.u_pa2[ends[b.name]] if b.name in ends else np.zeros(draw.count)
        runs[b.name] = BranchRun(
            b.name,
            system.passes(b),
            bore,
            mass / rho,
            mass / STANDARD_DENSITY_KG_M3,
            mass / (begin * np.pi / 4 * bore**2),
            begin,
            p0 - np.sqrt(p0**2 - end),
        )
    total = sum(flow.mass_kg_s[ends[n]] for n in heads[""] if n in ends)
    rests_on = tuple(dict.fromkeys((*system.rests_on, *curve.rests_on, *room.rests_on)))
    tools = []
    for b in shop.branches:
        if not b.tool or not system.passes(b):
            continue
        tools.append(_tool(system, system.tools[b.tool], b, runs, curve, rests_on, worse))
    at_vacuum = flow.u_pa2[ends[heads[""][0]]]
    return BranchAir(
        tuple(runs.values()),
        tuple(tools),
        np.asarray(total / rho),
        p0 - np.sqrt(p0**2 - at_vacuum),
        _balance(ducts, flow),
        settled,
    )


def _tool(
    system: _System,
    tool: Tool,
    branch: Branch,
    runs: dict[str, BranchRun],
    curve: SuctionCurve,
    rests_on: tuple[Quantity, ...],
    worse: BranchAir | None,
) -> BranchTool:
    draw = system.draw
    way = _way_of(system, tool, branch, runs)
    airflow = runs[branch.name].airflow_m3_s
    port = (Ref("tool", tool.name), draw.of(tool.port.inside))
    bores = [(Ref("branch", r.name), r.bore_m) for r in way]
    narrowest = Narrowest.of([port, *bores, system.unit_mouth()])
    behind = {r.name: r for r in worse.runs} if worse else {}
    chips = verdict.chips(
        system.shop,
        tool,
        way,
        narrowest,
        draw,
        rests_on,
        clogged=_way_of(system, tool, branch, behind) if behind else (),
    )
    caught = verdict.caught(
        system.shop,
        tool,
        airflow,
        curve,
        draw,
        rests_on,
        chips,
        clogged_m3_s=behind[branch.name].airflow_m3_s if behind else None,
    )
    standing = _standing(tool.name, branch.name)
    return BranchTool(
        tool.name,
        branch.name,
        airflow,
        replace(chips, finding=replace(chips.finding, about=standing)),
        replace(caught, finding=replace(caught.finding, about=standing)),
    )


def _way_of(
    system: _System, tool: Tool, branch: Branch, runs: dict[str, BranchRun]
) -> list[RunAir]:
    """The runs from a tool to the unit; its rise is in the first."""
    draw = system.draw
    way: list[RunAir] = []
    here: Branch | None = branch
    while here is not None:
        r = runs[here.name]
        rise = draw.of(tool.rise) if here is branch else np.zeros(draw.count)
        way.append(
            RunAir(
                r.name,
                r.bore_m,
                draw.of(here.length),
                rise,
                r.velocity_m_s,
                r.density_kg_m3,
                kind="branch",
            )
        )
        here = system.by_name.get(here.to)
    return way


def _balance(ducts: list[Duct], flow: NetworkFlow) -> float:
    worst = 0.0
    top = float(np.max(flow.mass_kg_s))
    for d in ducts:
        ups = [e.name for e in ducts if e.to == d.name]
        inflow = [flow.of(n) for n in ups] + [flow.of(f"{n} leak") for n in ups]
        if ups and d.name in flow.names:
            worst = max(worst, float(np.max(np.abs(flow.of(d.name) - sum(inflow)))) / top)
    return worst
