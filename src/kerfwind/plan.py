"""The order in which the rooms are asked, and the whole result."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import NDArray

from . import __version__
from . import stage_reads as reads
from .air import (
    Afterwards,
    BranchAir,
    BranchTool,
    Connection,
    FaceAir,
    Link,
    RoomAir,
    ToolAir,
    after_building,
    branch_air,
    curve_finding,
    face_air,
    gauge_finding,
    home_test_gauge_pa,
    power_finding,
    tool_air,
    tools_apart,
)
from .air.verdict import catch_need
from .breathing import Breathing, HoodAir, SessionResult, breathing
from .breathing.separator import cyclone_cut_m
from .cart import Work, work
from .checks import CheckedCart, FitRange, fit_range_of, strength
from .cutting import CutStep, Nest
from .facts import Fact, Fix, Name, Place, Ref, Statement, Term, facts, state
from .finding import Finding, as_record, finding, ordered
from .hookup import Hookups, InLine, WallChart, in_line, wall_chart
from .hookup.choosing import Solve, solve_shop
from .hookup.model import Weights
from .hookup.placing import Allowed
from .hookup.reach import FloorMap, floor_map
from .hookup.solving import Solved
from .joinery import Board, CutPanel, Step
from .kept import Kept
from .memory import give_back
from .one_cart import one_cart, with_second_sheet
from .options import FORMS
from .plan_json import as_plain
from .power import circuit_findings
from .quantity import MANY_TOOLS, Draw, Quantity, UnitChoice, samples_for
from .search.air_help import Change, gates_that_help, try_changes
from .search.air_measure import Measurement, measured_for_catch
from .search.bucket_guard import bucket_boards, bucket_in_air
from .search.cart_stages import footprint_in_stages
from .search.cut_already import single_findings
from .search.filter_loading import Loading, filter_loading
from .search.hand_hose import hand_hoses
from .search.hookup_air import as_made, hookups_in_air, pieces_of
from .search.hookup_gain import FittingGain, next_fittings
from .search.other_kinds import (
    Kind,
    falls_short,
    free_forms,
    free_holds,
    holds_for,
    kinds_tried,
    makeable,
    of_kind,
    of_shop,
    offered,
    remedy_that_passes,
    with_offers,
)
from .search.sheet_choice import (
    SHEET,
    Build,
    NoBuild,
    board_findings,
    cheapest_build,
    nest_finding,
    second_group,
    sheet_groups,
    wanted_boards,
    with_boards,
)
from .shop import Sheet, Shop, ShopFile, Tool
from .shop.catalogue.hoods import HAND_HELD
from .shop.sections import cut_down, only_fields
from .shopping import ShoppingLine, shopping
from .stages import Stages
from .unit_steps import unit_steps

#: Samples for ranking changes: a gain is that of the change against the same samples.
HELP_SAMPLES = 128

#: A check that is passed this likely is called good.
SURE = 0.9

#: A change that does not pass is named with a finding where it gains this share of the air.
LEAST_GAIN = 0.05

#: Of how many plans the air at each tool is kept.
_PLANS_KEPT = 3

OnStage = Callable[[Statement], None]


@dataclass(frozen=True)
class ToolHelp:
    """What would help one tool most, and what is most worth measuring for it.

    ``caught_before`` is how likely its dust is caught as it is, on the samples that the
    changes were tried on.
    """

    tool: str
    caught_before: float
    changes: tuple[Change, ...]
    measurements: tuple[Measurement, ...]


@dataclass(frozen=True)
class BranchPlan:
    """The fixed branches with the gates as the file has them, and which gate to close."""

    air: BranchAir
    gates: tuple[tuple[str, tuple[Change, ...]], ...]


@dataclass(frozen=True)
class Plan:
    """Everything computed for one shop file.

    Attributes
    ----------
    breathing, loadings
        What the shop's sessions mean for lungs, ears and bucket, and how each loads the filter.
    air, apart
        The air at each tool, and the tools whose airflows lie apart enough to be compared.
    branches
        None where the shop has no fixed ones.
    afterwards
        None where nothing was measured after building.
    floor
        None where no tool has a place on the map.
    build
        None where no cart can be, and with it `work` and `fits`.
    work, fits
        What building the cart takes, and which other vacuums and buckets it carries.
    lines
        Each tool's chain as it lies in line, by the tool's name.
    wall
        The wall chart, with the fittings' places on the cart.
    steps
        All steps of the unit, the cart's and then those of its hoses and fittings; none where
        no cart can be.
    """

    file: ShopFile
    draw: Draw
    hookups: Hookups
    air: tuple[ToolAir, ...]
    faces: tuple[FaceAir, ...]
    helps: tuple[ToolHelp, ...]
    branches: BranchPlan | None
    afterwards: Afterwards | None
    floor: FloorMap | None
    gains: tuple[FittingGain, ...]
    build: Build | None
    work: Work | None
    fits: FitRange | None
    shopping: tuple[ShoppingLine, ...]
    findings: tuple[Finding, ...]
    breathing: Breathing
    loadings: tuple[Loading, ...]
    apart: tuple[str, ...]
    lines: dict[str, tuple[InLine, ...]]
    wall: WallChart
    steps: tuple[Step, ...]

    @property
    def shop(self) -> Shop:
        """The shop it was made for."""
        return self.file.shop

    @property
    def title(self) -> str:
        """What to call it."""
        return self.shop.about.name

    @property
    def units(self) -> UnitChoice:
        """Units to print in."""
        return self.shop.about.units

    @property
    def cart(self) -> CheckedCart | None:
        """The cart, where one can be built."""
        return self.build.cart if self.build else None

    @property
    def nest(self) -> Nest | None:
        """Its panels on sheets."""
        return self.build.nest if self.build else None

    @property
    def panels(self) -> tuple[CutPanel, ...]:
        """Everything that is cut: the cart's panels, then those of plates and boxes."""
        return self.build.panels if self.build else ()

    @property
    def boards(self) -> tuple[Board, ...]:
        """Plates and boxes made of the same sheets."""
        return self.build.boards if self.build else ()

    @property
    def cuts(self) -> tuple[CutStep, ...]:
        """The order of cuts."""
        return self.build.cuts if self.build else ()


def make_plan(
    file: ShopFile,
    *,
    samples: int | None = None,
    seed: int = 20,
    stages: Stages | None = None,
    on_stage: OnStage = lambda stage: None,
    begun: Callable[[], Build | NoBuild] | None = None,
    when_built: Callable[[Build], None] = lambda build: None,
    first: bool = False,
) -> Plan:
    """Plan the whole unit.

    The same file, samples and seed give the same plan.

    Parameters
    ----------
    samples
        None for as many as a shop with so many tools is usually planned on.
    stages
        Kept by the caller between two plans, it spares the stages whose inputs are
        unchanged.
    on_stage
        Called with each stage as it begins, for a person who waits.
    begun
        Gives the cart, where `begin_build` began it for this shop and these samples.
    when_built
        Called with the cart and its nest as soon as there are any, long before the plan is
        whole, so that drawing them can begin.
    first
        Only what answers first: no strength of the cart, nor what else it carries, no circuits,
        no breathing, no changes that would help. What it says is a part of the whole plan, made
        from the same stages.

    Examples
    --------
    Airflow at the first tool [m³/s], the middle of the samples:

    >>> import kerfwind as kw
    >>> plan = kw.make_plan(kw.read_shop("examples/garage.toml"), samples=64)
    >>> round(float(np.median(plan.air[0].airflow_m3_s)), 2)
    0.04
    """
    if stages is None:
        # Another form of cart asks for the same chains again: the lightest, and those of fewer moves.
        stages = Stages(keep=0, even_so={"ways": 2})
    shop = file.shop
    if samples is None:
        samples = samples_for(len(shop.tools))
    draw = Draw(samples, seed)
    groups = sheet_groups(shop)
    on_stage(state("plan.stage.fittings"))
    hookups = stages.run(
        "hookup",
        partial(hookups_in_air, solve=_kept_ways(stages)),
        only_fields(shop, reads.HOOKUP),
        draw,
        _footprint(shop, groups, stages),
    )
    if len(shop.tools) > MANY_TOOLS:
        # To choose their fittings takes hundreds of megabytes.
        give_back()
    on_stage(state("plan.stage.cart"))
    wanted = (*wanted_boards(hookups.plates), *bucket_boards(shop))
    cart_shop = one_cart(shop, hookups)
    build = (
        begun()
        if begun is not None and not wanted
        else cheapest_build(cart_shop, groups, shop.saw, draw, stages, wanted, second_group(shop))
    )
    if other := _other_kind(shop, build, groups, stages, cart_shop, draw):
        return make_plan(
            _of_kind(file, other),
            samples=samples,
            seed=seed,
            stages=stages,
            on_stage=on_stage,
            when_built=when_built,
            first=first,
        )
    cart = build.cart if isinstance(build, Build) else None
    strength_findings: Callable[[], tuple[Finding, ...]] = tuple
    if cart is not None and not first:
        loading = only_fields(shop, reads.LOADING)
        strength_findings = stages.start("strength", strength, loading, _unsaid(cart), draw)
    if isinstance(build, Build):
        when_built(build)
    offers = [] if first else _offers(shop, build, groups, stages, cart_shop)
    on_stage(state("plan.stage.air"))
    view = reads.air_view(shop)
    link = _link(shop, cart)
    _connections.hold(_PLANS_KEPT * len(shop.tools))
    connections = [_connection(view, shop, tool, hookups, link) for tool in shop.tools]
    # A few plans' worth of each tool; of the tools' names nothing is kept.
    stages.keep_of("air", _PLANS_KEPT * len(connections))
    stages.keep_of("help", _PLANS_KEPT * len(connections))
    air = tuple(stages.run("air", tool_air, s, draw, told_by_key=True) for s in connections)
    faces = tuple(
        f
        for s, each in zip(connections, air, strict=True)
        if (f := face_air(s.tool, each)) is not None
    )
    on_stage(state("plan.stage.help"))
    few = Draw(min(HELP_SAMPLES, samples), seed)
    hoods = _hood_air(shop, air, hookups, draw)
    gains: tuple[FittingGain, ...] = ()
    helps: tuple[ToolHelp, ...] = ()
    breathing_in: Callable[[], Breathing] = partial(Breathing, (), ())
    # The first answer begins nothing beside it, that would only hold it up.
    if not first:
        view_of_gains = only_fields(shop, reads.NEXT_FITTING)
        gaining = stages.start("next fitting", next_fittings, view_of_gains, hookups, few)
        breathing_in = stages.start("breathing", breathing, _breathing_view(shop), hoods, draw)
        helping = [
            stages.start("help", _help, s, draw)
            for s, each in zip(connections, air, strict=True)
            if _could_turn(each)
        ]
        # From the end that the second process comes to last.
        helps = tuple([help_() for help_ in reversed(helping)][::-1])
        gains = gaining()
    branches = (
        stages.run(
            "branches", _branches, _as_made(only_fields(shop, reads.BRANCHES), hookups), link, draw
        )
        if shop.branches
        else None
    )
    afterwards = after_building(shop, air, draw)
    floor = stages.run(
        "floor map",
        _floor,
        only_fields(shop, reads.FLOOR),
        {c.tool: c.hose for c in hookups.tools if c.hose},
        (cart.sizes.length_m, cart.sizes.width_m) if cart else None,
        draw,
    )
    bucket = (
        []
        if first
        else stages.run(
            "bucket",
            bucket_in_air,
            only_fields(shop, reads.BUCKET),
            air[0].curve,
            air,
            draw,
            cart.thickness_m if cart else None,
        )
    )
    on_stage(state("plan.stage.circuits"))
    power = (
        () if first else stages.run("power", circuit_findings, only_fields(shop, reads.POWER), draw)
    )
    on_stage(state("plan.stage.breathing"))
    breathed = breathing_in()
    loadings = tuple(
        stages.run(
            "filter loading",
            filter_loading,
            result.air.name,
            busiest,
            result.air.to_filter_kg,
            result.air.made_kg - result.air.past_hood_kg,
            few,
        )
        for result in breathed.results
        if (busiest := _busiest(result, connections, hoods)) is not None
    )
    hand_held = (
        []
        if first
        else stages.run(
            "hand hoses", hand_hoses, only_fields(shop, reads.HAND_HOSES), _held(connections), few
        )
    )
    findings = [
        *_with_fixes(air, helps),
        *([curve_finding(shop, air[0].curve)] if air else []),
        *(
            [coarse]
            if (coarse := gauge_finding(shop, air, home_test_gauge_pa(shop, air[0].curve)))
            else []
        ),
        *([fed] if air and (fed := power_finding(shop, air[0].curve, draw)) else []),
        *(branches.air.findings if branches else ()),
        *_served_twice(shop, hookups),
        *(afterwards.findings if afterwards else ()),
        *hookups.findings,
        *hand_held,
        *(floor.findings if floor else ()),
        *with_offers(
            build.cart.findings
            if isinstance(build, Build)
            else _refused(build, () if first else _that_pass(build, groups, stages, cart_shop)),
            offers,
        ),
        *strength_findings(),
        *bucket,
        *([nest_finding(build)] if isinstance(build, Build) else []),
        *(board_findings(build) if isinstance(build, Build) else []),
        *(single_findings(build.cut_already) if isinstance(build, Build) else []),
        *power,
        *breathed.findings,
        *(f for each in loadings for f in each.findings),
    ]
    built = build if isinstance(build, Build) else None
    effort = (
        stages.run("work", _work, only_fields(shop, reads.WORK), _unsaid(built.cart), built.boards)
        if built
        else None
    )
    return Plan(
        file,
        draw,
        hookups,
        air,
        faces,
        helps,
        branches,
        afterwards,
        floor,
        gains,
        built,
        effort,
        stages.run("fit range", fit_range_of, reads.fit_range_sections(shop), _unsaid(built.cart))
        if built and not first
        else None,
        shopping(
            hookups,
            built.hardware if built else (),
            built.nest if built else None,
            link_m=_link_m(shop),
            own_printer=shop.wishes.printer,
            assumed_sheets=_assumed_sheets(file),
            taped=_taped(hookups),
            paint_l=effort.finish.paint_l.likely if effort else 0.0,
            edging_m=effort.finish.edges_m2 / built.cart.thickness_m if effort and built else 0.0,
            currency=shop.about.currency,
        ),
        tuple(ordered(findings)),
        breathed,
        loadings,
        tools_apart(air),
        {c.tool: in_line(c, shop.hose(c.hose)) for c in hookups.tools if c.reached},
        wall_chart(hookups, shop.fittings, [h.place for h in cart.homes] if cart else ()),
        unit_steps(shop, built.cart, hookups, built.boards) if built else (),
    )


def _assumed_sheets(file: ShopFile) -> set[str]:
    """Names of the sheets whose price was only assumed."""
    assumed = {a.path for a in file.assumptions}
    return {s.name for s in file.shop.sheets if f"sheets[{s.name}].price" in assumed}


def _link_m(shop: Shop) -> float:
    """How long the link hose is that is owned [m]; 0 where it was only assumed."""
    link = shop.link
    return 0.0 if link is None or link.length.assumed else link.length.best_si


def _kept_ways(stages: Stages) -> Solve:
    """The choice of chains, kept from plan to plan: wherever tools stand it may be the same."""

    def solve(shop: Shop, draw: Draw, weights: Weights, allowed: Allowed) -> Solved:
        return stages.run("ways", _ways, reads.ways_view(shop), draw, weights, dict(allowed))

    return solve


def _ways(shop: Shop, draw: Draw, weights: Weights, allowed: Allowed) -> Solved:
    return solve_shop(shop, draw, weights, allowed=allowed)


def _footprint(shop: Shop, groups: list[list[Sheet]], stages: Stages) -> tuple[float, float] | None:
    """Length and width of the unit, where a floor map asks for it and one can be built.

    Of the bare form: what its options hold is known only when the chains are chosen.
    """
    if not groups or all(t.place is None for t in shop.tools):
        return None
    bare = with_second_sheet(reads.bare_sections(shop), shop)
    return footprint_in_stages(bare, cut_down(groups[0][0], SHEET), stages)


def _other_kind(
    shop: Shop,
    build: Build | NoBuild,
    groups: list[list[Sheet]],
    stages: Stages,
    cart_shop: Shop,
    draw: Draw,
) -> Kind | None:
    """A form and hold that nobody wished for and that do better; None where there are none."""
    forms, holds = free_forms(shop), free_holds(shop)
    if len(forms) * len(holds) == 1:
        return None
    if shop.built:
        # What was cut already was cut for the cart as it was planned.
        cart_shop = cart_shop.model_copy(update={"built": ()})
        second = second_group(shop)
        build = cheapest_build(cart_shop, groups, shop.saw, draw, stages, (), second)
    if not falls_short(build):
        return None
    kinds = stages.run("kinds", kinds_tried, cart_shop, groups, forms, holds)
    own = of_shop(shop, kinds)
    better = kinds and (own is None or kinds[0].rank[:2] < own.rank[:2])
    return kinds[0] if better else None


def _offers(
    shop: Shop, build: Build | NoBuild, groups: list[list[Sheet]], stages: Stages, cart_shop: Shop
) -> list[tuple[Fix, Kind]]:
    """Changes of form and hold that were wished for, where another does what this does not."""
    if shop.built or not falls_short(build):
        return []
    kinds = stages.run("kinds", kinds_tried, cart_shop, groups, tuple(FORMS), holds_for(shop))
    return offered(shop, kinds)


def _of_kind(file: ShopFile, kind: Kind) -> ShopFile:
    """The file as if its form and hold had been wished for, with why they were taken."""
    was, shop = file.shop.wishes, of_kind(file.shop, kind.form, kind.hold)
    taken: dict[str, Fact] = {}
    if kind.form != was.form:
        taken["wishes.form"] = Name(kind.form)
    if kind.hold != was.hold_bucket:
        taken["wishes.hold_bucket"] = Name(kind.hold)
    if shop.wishes.largest_width is not was.largest_width:
        taken["wishes.largest_width"] = shop.wishes.largest_width
    why = state("assumed.kind_that_passes")
    rows = tuple(
        replace(a, value=taken[a.path], why=why) if a.path in taken else a for a in file.assumptions
    )
    return replace(file, shop=shop, assumptions=rows)


_breathing_views: Kept[Shop] = Kept(8)


def _breathing_view(shop: Shop) -> Shop:
    """What breathing depends on: whose limits count, and of the tools those that are worked with."""
    view, rules = only_fields(shop, reads.BREATHING), shop.about.rules
    used = _worked_with(shop)

    def narrowed() -> Shop:
        tools = tuple(t for t in view.tools if t.name in used)
        about = view.about.model_copy(update={"rules": rules})
        return view.model_copy(update={"about": about, "tools": tools})

    return _breathing_views.of((view,), rules, narrowed)


def _worked_with(shop: Shop) -> set[str | None]:
    """Names of the tools that the shop's sessions use."""
    return {task.tool for session in shop.sessions for task in session.operations}


_carts: Kept[CheckedCart] = Kept(8)


def _unsaid(cart: CheckedCart) -> CheckedCart:
    """A cart without what its checks say: a wish that it only has to meet leaves it as it is."""
    return _carts.of(
        (cart,), None, lambda: replace(cart, findings=(), measure_first=(), wheel_loads=())
    )


def _work(shop: Shop, cart: CheckedCart, made: Sequence[Board]) -> Work:
    return work(shop, with_boards(cart, made))


_connections: Kept[Connection] = Kept(_PLANS_KEPT)


def _connection(
    view: Shop, shop: Shop, tool: Tool, hookups: Hookups, link: Link | None
) -> Connection:
    """All that the air at one tool depends on, and nothing else."""
    chain = hookups.chain(tool.name)
    own = cut_down(tool, reads.TOOL_IN_AIR)
    hose = cut_down(shop.hose(chain.hose), reads.HOSE_IN_AIR)
    return _connections.of(
        (view, own, hose, chain, link),
        None,
        lambda: Connection(view, as_made(own, chain), hose, pieces_of(chain), link),
    )


def _held(connections: Sequence[Connection]) -> list[Connection]:
    """Those of tools that a hand holds."""
    return [c for c in connections if c.tool.hood in HAND_HELD]


_links: Kept[Link] = Kept(8)


def _link(shop: Shop, cart: CheckedCart | None) -> Link | None:
    """The link hose as it lies on the cart."""
    if shop.link is None:
        return None
    hose = cut_down(shop.link, reads.HOSE_IN_AIR)
    path = cart.hose if cart else None
    if path is None:
        return _links.of((hose,), None, lambda: Link(hose))
    return _links.of(
        (hose, path), None, lambda: Link(hose, path.length_m, path.turn_rad / (math.pi / 2))
    )


def _as_made(shop: Shop, hookups: Hookups) -> Shop:
    """The shop with every tool as what is made for it leaves it."""
    if not hookups.plates:
        return shop
    tools = tuple(as_made(t, hookups.chain(t.name)) for t in shop.tools)
    return shop.model_copy(update={"tools": tools})


def _could_turn(air: ToolAir) -> bool:
    """Whether any single change could alter what is said of the tool.

    Not where there is air to spare and chips are carried, nor where even the vacuum's open
    airflow falls short.
    """
    if air.caught.word == "strong" and air.chips.word not in ("weak", "starved"):
        return False
    need = air.caught.finding.limit
    hopeless = need is not None and air.curve.hardly_more_m3_s < need.low
    return (air.caught.word != "strong" and not hopeless) or air.chips.word in ("weak", "starved")


def _help(connection: Connection, draw: Draw) -> ToolHelp:
    few = Draw(min(HELP_SAMPLES, draw.count), draw.seed)
    tried = try_changes(connection, few)
    return ToolHelp(
        connection.tool.name,
        tried.now.air.caught,
        tried.changes,
        measured_for_catch(connection.tool, tried, few),
    )


_hoods: Kept[HoodAir] = Kept(32)


def _hood_air(
    shop: Shop, airs: Sequence[ToolAir], hookups: Hookups, draw: Draw
) -> dict[str, HoodAir]:
    """The air at each tool of a session that a hose reaches."""
    used = _worked_with(shop)
    tools = {t.name: t for t in shop.tools}
    body = shop.separator.cyclone.body_diameter
    found = {}
    for air in airs:
        if air.tool in used and hookups.chain(air.tool).reached:
            # Of the air no more is held than is read: all of it is large.
            read = air.airflow_m3_s, air.series.room, air.way.rests_on, tools[air.tool], body
            found[air.tool] = _hoods.of(read, draw, partial(_at_hood, *read, draw))
    return found


def _at_hood(
    airflow_m3_s: NDArray[np.float64],
    room: RoomAir,
    rests_on: tuple[Quantity, ...],
    tool: Tool,
    body: Quantity,
    draw: Draw,
) -> HoodAir:
    # Aerodynamic sizes are of grains as dense as water.
    cut = cyclone_cut_m(
        draw.of(body),
        np.maximum(airflow_m3_s, 1e-6),
        1000.0,
        room.density_kg_m3,
        room.viscosity_pa_s,
    )
    return HoodAir(airflow_m3_s, catch_need(tool, draw), cut, rests_on)


def _busiest(
    result: SessionResult, connections: Sequence[Connection], hoods: dict[str, HoodAir]
) -> Connection | None:
    """The tool of a session that sends most to the filter's side; None where none is on a hose."""
    caught: dict[str, float] = {}
    for task in result.air.tasks:
        if task.tool in hoods:
            mass = float(np.median(task.made_kg * task.caught))
            caught[task.tool] = caught.get(task.tool, 0.0) + mass
    if not caught:
        return None
    most = max(caught, key=lambda name: caught[name])
    return next(c for c in connections if c.tool.name == most)


def _branches(shop: Shop, link: Link | None, draw: Draw) -> BranchPlan:
    air = branch_air(shop, draw, link=link)
    few = Draw(min(HELP_SAMPLES, draw.count), draw.seed)
    gates = gates_that_help(shop, few, link=link)
    return BranchPlan(air, tuple((t.tool, gates[t.tool]) for t in air.tools))


_fixed: Kept[Finding] = Kept(64)


def _with_fixes(air: Sequence[ToolAir], helps: Sequence[ToolHelp]) -> list[Finding]:
    """What is said of each tool's air, with the changes of the shop file that were tried for it."""
    by_tool = {help_.tool: help_ for help_ in helps}
    found = []
    for each in air:
        tried = by_tool.get(each.tool)
        for f in each.findings:
            mended = f.key in ("air.dust_caught", "air.chips_carried") and f.level != "good"
            if tried is None or not mended:
                found.append(f)
            else:
                # The same again where nothing changed, so that what was said of it holds.
                found.append(_fixed.of((f, tried), None, partial(_fixed_by, f, tried)))
    return found


def _fixed_by(found: Finding, tried: ToolHelp) -> Finding:
    return replace(found, fixes=_tried(found.key, tried.changes))


def _taped(hookups: Hookups) -> tuple[Fact, ...]:
    """What has a joint that wants a turn of tape."""
    return tuple(
        dict.fromkeys(
            chain.about
            for chain in (*hookups.tools, *hookups.unit)
            for joint in chain.joints
            if joint.fit.kind == "needs tape"
        )
    )


def _tried(key: str, changes: Sequence[Change]) -> tuple[Fix, ...]:
    """The changes tried that a check passes with, the cheapest first; or that bring it closer."""
    fixes = [
        replace(c.fix, passes=c.fix.passes if key == "air.dust_caught" else c.chips >= SURE)
        for c in sorted(changes, key=lambda c: c.cost_high)
        # Without a separator the filter clogs and takes the gain away again: that mends nothing.
        if c.fix is not None and c.key != "bypass"
    ]
    costs = {c.fix.place: c.cost_high for c in changes if c.fix is not None}
    gains = {c.fix.place: c.share for c in changes if c.fix is not None}
    kept = [
        replace(fix, costs=costs[fix.place])
        for fix in fixes
        if fix.passes or (key == "air.dust_caught" and gains[fix.place] >= LEAST_GAIN)
    ]
    return tuple(sorted(kept, key=lambda fix: not fix.passes))


def _served_twice(shop: Shop, hookups: Hookups) -> list[Finding]:
    """Tools on a fixed branch for which a hose is planned as well, with pieces to get."""
    bought = {c.tool for c in hookups.tools if any(p.origin != "owned" for p in c.pieces)}
    return [
        finding(
            "hookup.served_twice",
            "pieces_listed",
            "advice",
            Ref("tool", branch.tool),
            facts=facts(branch=Ref("branch", branch.name)),
        )
        for branch in shop.branches
        if branch.tool and branch.tool in bought
    ]


def _floor(
    shop: Shop, hoses: dict[str, str], footprint_m: tuple[float, float] | None, draw: Draw
) -> FloorMap | None:
    """Where to park, each tool with the hose of its own chain."""
    used = {tool: shop.hose(hose) for tool, hose in hoses.items()}
    return floor_map(shop, used, draw, footprint_m=footprint_m)


def _that_pass(
    reason: NoBuild, groups: list[list[Sheet]], stages: Stages, cart_shop: Shop
) -> tuple[Fix, ...]:
    """The changes of what stands against a cart with which one can be built that stands, as one."""
    fixes = tuple({f.place: f for u in reason.unmet for f in u.fixes}.values())
    if not makeable(fixes):
        return ()
    passing = stages.run("remedy", remedy_that_passes, cart_shop, groups[0][0], fixes)
    return (Fix.together(passing),) if passing else ()


def _refused(reason: NoBuild, passing: tuple[Fix, ...] = ()) -> list[Finding]:
    return [
        finding(
            "cart.cannot_build",
            "refused",
            "stop",
            Term("part", "cart"),
            facts=facts(
                wish=Place(u.place),
                found=u.stated("found"),
                allowed=u.stated("allowed"),
                mend=u.stated("mend"),
            ),
            fixes=passing,
        )
        for u in reason.unmet
    ] + [
        finding(
            "cutting.cannot_nest",
            "refused",
            "stop",
            Term("cutting", "sheets"),
            facts=facts(sheet=Ref("sheet", sheet), problem=Statement(why.kind, why.facts)),
        )
        for sheet, why in reason.problems
    ]


# What an airflow was solved with; it follows from the rest of the record.
_INNER = ("curve", "series", "way", "said_of_capture")


def plan_record(plan: Plan) -> dict[str, Any]:
    """The whole plan as plain data in SI, for `plan.json`."""
    body = {
        "kerfwind": __version__,
        "samples": plan.draw.count,
        "seed": plan.draw.seed,
        "shop": plan.shop,
        "assumptions": plan.file.assumptions,
        "hookups": plan.hookups,
        "air": [
            {f.name: getattr(a, f.name) for f in fields(a) if f.name not in _INNER}
            for a in plan.air
        ],
        "faces": plan.faces,
        "helps": plan.helps,
        "branches": plan.branches,
        "afterwards": plan.afterwards,
        "floor": plan.floor,
        "gains": plan.gains,
        "build": plan.build,
        "work": plan.work,
        "fits": plan.fits,
        "shopping": plan.shopping,
        "breathing": plan.breathing.results,
        "loadings": plan.loadings,
        "apart": plan.apart,
        "lines": plan.lines,
        "wall": plan.wall,
    }
    plain = as_plain(body, plan.draw.count)
    # One airflow is told of a tool everywhere, that of its finding.
    tools: list[ToolAir | BranchTool] = [*plan.air]
    tools += plan.branches.air.tools if plan.branches else ()
    rows = [*plain["air"], *(plain["branches"]["air"]["tools"] if plan.branches else ())]
    for row, tool in zip(rows, tools, strict=True):
        told = tool.told_airflow
        row["airflow_m3_s"] = as_plain({"median": told.best, "low": told.low, "high": told.high}, 1)
    return {**plain, "findings": [as_record(f) for f in plan.findings]}
