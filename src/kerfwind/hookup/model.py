"""What the hookup room answers with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..facts import Fact, Ref, Statement, Term, state
from ..finding import Finding
from ..shop import End, Fitting, Worth
from .fits import Fit
from .made_fitting import MadeFitting
from .reducer import Reducer

#: A difference in airflow below this part of it is within the roughness of both.
TELLING = 0.005

Origin = Literal["owned", "buy", "cut", "print"]
Stays = Literal["tool", "hose", "unit", "shared"]
#: What is at an end of a chain, to be said: a port, an end of a hose, an inlet.
ChainEnd = Statement | Term


@dataclass(frozen=True)
class Weights:
    """What each thing is worth in money, so that one sum can weigh them.

    Attributes
    ----------
    air_per_kpa
        A kilopascal lost at the reference airflow.
    change
        Finding and fitting one more shared piece at every change of tool.
    hang_per_m
        A metre of fittings hanging off a tool.
    doubt
        Each factor e by which a joint is less than certain to hold.
    second_hose
        Each hose beyond none that is kept in use.
    move
        Rolling the unit on to one more spot in a session.
    """

    air_per_kpa: float = 4.0
    change: float = 2.0
    hang_per_m: float = 15.0
    doubt: float = 20.0
    second_hose: float = 6.0
    move: float = 4.0

    @classmethod
    def of(cls, worth: Worth) -> Weights:
        """As the shop file has them."""
        return cls(worth.air, worth.change, worth.hanging, worth.doubt, worth.hose, worth.move)


@dataclass(frozen=True)
class Piece:
    """One fitting in a chain. ``turned``: its ``end_b`` faces upstream, towards the tool."""

    fitting: Fitting
    turned: bool
    origin: Origin
    stays: Stays
    price: float
    reducer: Reducer | None = None

    @property
    def called(self) -> Fact:
        """What to say for it."""
        return self.fitting.called

    @property
    def in_short(self) -> Fact:
        """What to say for it where the ends that it joins are shown beside it."""
        fitting = self.fitting
        return fitting.in_short if isinstance(fitting, MadeFitting) else fitting.called

    @property
    def upstream(self) -> End:
        """The end that faces the tool."""
        return self.fitting.end_b if self.turned else self.fitting.end_a

    @property
    def downstream(self) -> End:
        """The end that faces the unit."""
        return self.fitting.end_a if self.turned else self.fitting.end_b


@dataclass(frozen=True)
class Joint:
    """Where two ends meet, each with what it belongs to.

    ``remade``: pulled apart at every change of tool.
    """

    upstream: Fact
    downstream: Fact
    upstream_end: End
    downstream_end: End
    fit: Fit
    remade: bool


@dataclass(frozen=True)
class Plate:
    """Plywood with a bored hole, for a tool without a port: a plate, or an open box.

    Attributes
    ----------
    hole_m
        Its diameter, from the end that goes in.
    opening_m
        What it must cover, along and across; None where nothing is said.
    face_m
        The plate itself, or the box's open face inside its walls.
    depth_m
        Of the box, inside; 0 for a plate.
    """

    tool: str
    hole_m: float
    kind: Literal["plate", "hood box"] = "plate"
    opening_m: tuple[float, float] | None = None
    face_m: tuple[float, float] = (0.0, 0.0)
    depth_m: float = 0.0
    bored: Literal["back", "side"] = "back"

    @property
    def name(self) -> str:
        """Tells it from all others, and so its panels."""
        return f"{self.tool} {self.kind}"

    @property
    def called(self) -> Statement:
        """What to say for it."""
        return state("hookup.board", tool=Ref("tool", self.tool), made=self.kind)

    @property
    def face_m2(self) -> float:
        """Area of the box's open face [m²]."""
        return self.face_m[0] * self.face_m[1]


@dataclass(frozen=True)
class Chain:
    """From one end to another, in the direction of the air.

    Attributes
    ----------
    start, finish
        Such as the planer's port and the big hose's tool end.
    tool
        The tool it serves; empty for a joint of the unit itself.
    hose
        The hose it belongs to.
    pieces, joints
        In order; always one joint more than pieces (a plate counts as the start).
    holds
        Whether every joint holds, along the sample axis; its mean is ``likelihood``.
    reached
        False when nothing owned, sold or printed joins the two ends; then ``pieces`` is
        empty and the one joint shows how the bare ends miss.
    hang_m
        Length of fittings hanging off the tool.
    loss_pa
        Rough loss at the reference airflow, hose included.
    cost
        Price of what is bought or made for this chain alone, clamps and tape too.
    changes
        Joints to make each time the tool is hooked up.
    """

    start: ChainEnd
    finish: ChainEnd
    tool: str
    hose: str
    pieces: tuple[Piece, ...]
    joints: tuple[Joint, ...]
    holds: NDArray[np.bool_]
    likelihood: float
    reached: bool
    hang_m: float
    loss_pa: float
    cost: float
    changes: int
    plate: Plate | None = None

    @property
    def about(self) -> Ref | ChainEnd:
        """The tool it serves, or the end of the unit that it begins at."""
        return Ref("tool", self.tool) if self.tool else self.start


@dataclass(frozen=True)
class SizeCheck:
    """What an end must measure in the store: ``low_m`` to ``high_m`` inside or outside."""

    end: Literal["end_a", "end_b"]
    side: Literal["inside", "outside"]
    low_m: float
    high_m: float


@dataclass(frozen=True)
class Purchase:
    """One kind of fitting to buy, and the tools, or ends of the unit, that it is for."""

    what: Fact
    count: int
    price: float
    used_by: tuple[Fact, ...]
    checks: tuple[SizeCheck, ...] = ()

    @property
    def cost(self) -> float:
        """Price of all of them."""
        return self.price * self.count


@dataclass(frozen=True)
class Coupling:
    """A piece that stays on a hose, so that every tool on it takes the same quick joint."""

    hose: str
    piece: Piece
    tools: tuple[str, ...]


@dataclass(frozen=True)
class Alternative:
    """Another whole answer: its weight, its cost and the chains that differ from the best's."""

    weight: float
    cost: float
    differs: tuple[Statement, ...]


@dataclass(frozen=True)
class ComparedTool:
    """One tool whose chains differ: its airflow by the answer taken and by the other [m³/s]."""

    tool: str
    taken_m3_s: float
    other_m3_s: float


@dataclass(frozen=True)
class Compared:
    """The two answers in full.

    Attributes
    ----------
    tools
        Where they differ and the air tells.
    weight, other_weight
        Of the answer taken and of the other; the program's second with the full losses in
        place of the rough ones, against its first.
    turned
        Whether the program had them the other way round: the air made its second the first.
    """

    tools: tuple[ComparedTool, ...]
    weight: float
    other_weight: float
    turned: bool

    @property
    def told(self) -> tuple[ComparedTool, ...]:
        """Tools at which the difference is beyond the roughness of both."""
        return tuple(
            t for t in self.tools if abs(t.other_m3_s - t.taken_m3_s) > TELLING * t.taken_m3_s
        )

    @property
    def other_better(self) -> bool:
        """Whether the other answer moves more air over all tools, by more than the roughness."""
        taken = sum(t.taken_m3_s for t in self.tools)
        return sum(t.other_m3_s for t in self.tools) > taken * (1 + TELLING)


@dataclass(frozen=True)
class HosesByReach:
    """What the floor map says of the hoses.

    Attributes
    ----------
    spots
        The fewest spots with each tool on its hose.
    other_spots, other_adds
        With the hoses that were weighed against them, and what those would add to the
        answer beside the moves; None where no other hoses were worth weighing.
    changed
        Tools whose hose differs between the two, with the hose taken and the other.
    out_of_reach
        By tool, hoses that no spot lets reach it, left out of the choice.
    """

    spots: int
    other_spots: int | None
    other_adds: float | None
    changed: tuple[tuple[str, str, str], ...]
    out_of_reach: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True)
class Hookups:
    """The chains of the whole shop, and what to get for them.

    Attributes
    ----------
    tools, unit
        Chains of the tools in the file's order, and the unit's own joints.
    purchases, printed, plates
        What to buy, print and make.
    cost
        Money for all of it.
    weight
        The sum that was made least: money and all that `Weights` turns into money.
    bound
        No answer can weigh less than this; equal to ``weight`` when proven optimal. With
        places on the floor map it holds for the hoses that the tools are on.
    runner_up
        The second-best answer; None when there is no other.
    in_air
        Both answers with their air solved in full; None where it was not.
    by_reach
        What the floor map says of the hoses; None where no tool has a place.
    """

    tools: tuple[Chain, ...]
    unit: tuple[Chain, ...]
    purchases: tuple[Purchase, ...]
    printed: tuple[Reducer, ...]
    plates: tuple[Plate, ...]
    couplings: tuple[Coupling, ...]
    cost: float
    weight: float
    bound: float
    runner_up: Alternative | None
    findings: tuple[Finding, ...]
    in_air: Compared | None = None
    by_reach: HosesByReach | None = None

    @property
    def proven(self) -> bool:
        """Whether no answer is better by more than a ten-thousandth."""
        return self.weight - self.bound <= 1e-4 * max(1.0, abs(self.weight))

    def chain(self, tool: str) -> Chain:
        """The chain of one tool; KeyError when there is none."""
        for each in self.tools:
            if each.tool == tool:
                return each
        raise KeyError(tool)
