"""What the hookup room answers with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ..finding import Finding
from ..shop import End, Fitting
from .fits import Fit
from .reducer import Reducer

Origin = Literal["owned", "buy", "cut", "print"]
Stays = Literal["on the tool", "on the hose", "on the unit", "shared"]


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
    """

    air_per_kpa: float = 4.0
    change: float = 2.0
    hang_per_m: float = 15.0
    doubt: float = 20.0
    second_hose: float = 6.0


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
    def upstream(self) -> End:
        """The end that faces the tool."""
        return self.fitting.end_b if self.turned else self.fitting.end_a

    @property
    def downstream(self) -> End:
        """The end that faces the unit."""
        return self.fitting.end_a if self.turned else self.fitting.end_b


@dataclass(frozen=True)
class Joint:
    """Where two ends meet. ``remade``: pulled apart at every change of tool."""

    upstream: str
    downstream: str
    upstream_end: End
    downstream_end: End
    fit: Fit
    remade: bool


@dataclass(frozen=True)
class Plate:
    """A plate with a bored hole, for a tool without a port."""

    tool: str
    side_m: float
    thickness_m: float
    hole_m: float


@dataclass(frozen=True)
class Chain:
    """From one end to another, in the direction of the air.

    Attributes
    ----------
    start, finish
        Such as ``Planer port`` and ``big hose``.
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

    start: str
    finish: str
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


@dataclass(frozen=True)
class SizeCheck:
    """What an end must measure in the store: ``low_m`` to ``high_m`` inside or outside."""

    end: str
    side: Literal["inside", "outside"]
    low_m: float
    high_m: float


@dataclass(frozen=True)
class Purchase:
    """One kind of fitting to buy."""

    name: str
    count: int
    price: float
    used_by: tuple[str, ...]
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
    """Another whole answer: its weight, its cost and what differs from the best."""

    weight: float
    cost: float
    differs: tuple[str, ...]


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
        No answer can weigh less than this; equal to ``weight`` when proven optimal.
    runner_up
        The second-best answer; None when there is no other.
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
