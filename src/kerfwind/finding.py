"""The one shape of an answer to a check, and the one place where levels are decided."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from .facts import Band, Facts, Fix, Ref, Statement, Term
from .quantity import Draw, Quantity
from .sources import fact

Level = Literal["good", "advice", "problem", "stop", "unknown"]
Must = Literal["at least", "at most"]

#: Worst first, as a person should read them.
LEVELS: tuple[Level, ...] = ("stop", "problem", "unknown", "advice", "good")
#: Keys of what prevents building: all else is of no use before it is mended.
PREVENTING = ("cart.cannot_build", "cutting.cannot_nest")


@dataclass(frozen=True)
class Finding:
    """What was checked, how it came out, and what mends it: kinds and facts, no words.

    Attributes
    ----------
    key
        Names the check: ``cart.tilt.sideways``, ``air.dust_caught``. Its message says what
        was checked, as a phrase.
    about
        The tool, panel or part it is about; None for the whole unit. A tool on a fixed branch is a
        statement, for it may hang on a hose as well.
    level
        ``good``, ``advice``, ``problem``, ``stop`` (do not build or run it so) or
        ``unknown`` (an assumption could turn the answer).
    outcome
        The kind of answer: ``good``, or one of those that the check can have. Its message,
        ``air.dust_caught.wrong_machine``, is a sentence a person can act on.
    facts
        What the messages of check, answer and remedy need, by name.
    otherwise
        The outcome that is feared where ``good`` is no more than likely: its remedy is said.
    value, limit, must
        The value, what it is held against and which way it must lie.
    likelihood
        How likely the check is passed, 0 to 1; None where nothing was uncertain.
    sources
        Keys of the facts or sources behind the limit.
    measure
        Places in the shop file whose measurement would settle it, most telling first.
    fixes
        Changes of the shop file that were tried, what each brings, cheapest first.
    """

    key: str
    outcome: str
    level: Level
    about: Ref | Term | Statement | None = None
    value: Band | None = None
    limit: Band | None = None
    must: Must | None = None
    likelihood: float | None = None
    sources: tuple[str, ...] = ()
    measure: tuple[str, ...] = ()
    facts: Facts = ()
    otherwise: str = ""
    fixes: tuple[Fix, ...] = ()

    @property
    def room(self) -> str:
        """The room that checked it."""
        return self.key.partition(".")[0]

    @property
    def leaning(self) -> Literal["even", "likely"]:
        """How far an answer that is not settled leans to what it says."""
        if self.likelihood is None:
            return "likely"
        chance = self.likelihood if self.outcome == "good" else 1 - self.likelihood
        return "even" if chance < fact("general.likely").value else "likely"


def finding(
    key: str, outcome: str, level: Level, about: Ref | Term | Statement | None = None, **more: Any
) -> Finding:
    """A finding that was decided without samples; ``more`` are fields of `Finding`."""
    return Finding(key, outcome, level, about, **more)


@lru_cache(maxsize=1024)
def _slices(
    quantity: Quantity, draw: Draw
) -> tuple[NDArray[np.intp], NDArray[np.intp], NDArray[np.intp]]:
    """Order of the input's samples, where its ten slices start, and their sizes."""
    sizes = np.array(
        [len(part) for part in np.array_split(np.arange(draw.count), min(10, draw.count))]
    )
    order = np.argsort(draw.of(quantity), kind="stable")
    return order, np.concatenate([[0], np.cumsum(sizes)[:-1]]), sizes


def turning_inputs(
    passed: NDArray[np.bool_], draw: Draw, rests_on: Sequence[Quantity]
) -> list[tuple[float, Quantity]]:
    """Assumed inputs, each with how far it moves the chance of passing, most first.

    The chance is compared among ten equal slices of the input's own samples; inputs
    whose effect is within the noise of that comparison are left out.
    """
    ranked: list[tuple[float, Quantity]] = []
    overall = float(np.mean(passed))
    if overall in (0.0, 1.0):
        return []
    for quantity in rests_on:
        if not quantity.assumed or quantity.shape == "exact" or draw.nominal:
            continue
        slices = _slices(quantity, draw)
        rates = np.add.reduceat(passed[slices[0]], slices[1], dtype=float) / slices[2]
        swing = float(rates.max() - rates.min())
        # The range of ten slices passes six standard deviations once in a thousand by chance;
        # four it would pass once in nine.
        noise = 6.0 * np.sqrt(max(overall * (1 - overall), 1e-4) * 10 / len(passed))
        if swing > noise:
            ranked.append((swing, quantity))
    return sorted(ranked, key=lambda pair: -pair[0])


def _together(margin: NDArray[np.float64], draw: Draw, assumed: Sequence[Quantity]) -> list[str]:
    """Paths of assumed inputs that between them stand behind a tenth of the margin's variance.

    Each alone may turn too little to be seen; together they still could. Most telling
    first; empty where they stand behind less.
    """
    ranged = [q for q in assumed if q.shape != "exact"]
    finite = np.isfinite(margin)
    if not ranged or draw.nominal or not finite.all() or np.ptp(margin) == 0:
        return []
    columns = np.stack([draw.of(q) for q in ranged], axis=-1)
    spread = columns.std(axis=0)
    columns = (columns - columns.mean(axis=0)) / np.where(spread > 0, spread, 1.0)
    centred = margin - margin.mean()
    # The inputs are drawn apart from each other, so their products are as good as they are.
    weights = np.linalg.lstsq(columns.T @ columns, columns.T @ centred, rcond=None)[0]
    share = float(np.var(columns @ weights) / np.var(margin))
    if share < 0.1:
        return []
    return [ranged[i].path for i in np.argsort(-np.abs(weights))]


def judge(
    *,
    key: str,
    about: Ref | Term | Statement | None,
    value: ArrayLike,
    limit: ArrayLike,
    must: Must,
    dimension: str,
    draw: Draw,
    rests_on: Sequence[Quantity] = (),
    unresolved: Sequence[str] = (),
    sources: Sequence[str] = (),
    outcome: str,
    facts: Facts = (),
    fail: Level = "problem",
    sure: float = 0.9,
    bands: tuple[Band, Band] | None = None,
) -> Finding:
    """Decide a check from samples of the value and of its limit.

    Parameters
    ----------
    value, limit
        Samples in SI on the last axis, or plain numbers; NaN counts as not passed.
    rests_on
        The shop's quantities that went into the value. Assumed ones among them that
        could turn the answer make it ``unknown``.
    unresolved
        Places in the shop file of assumed *choices* (not ranges) the answer hangs on.
    outcome
        The kind of answer where the check is not passed; ``good`` where it is, or leans to it.
    facts
        What the messages of check, answer and remedy need.
    fail
        The level of a check that is not passed.
    sure
        The likelihood from which the answer is taken as settled; its complement
        settles the other way. Where an assumed input turns it, 99.5 %.
    bands
        Those of value and limit, all samples of which are finite, where they are known.
    """
    shape = (draw.count,)
    values = np.broadcast_to(np.asarray(value, dtype=float), shape)
    limits = np.broadcast_to(np.asarray(limit, dtype=float), shape)
    passed = values >= limits if must == "at least" else values <= limits
    likelihood = float(np.mean(passed))
    turning = [q.path for _, q in turning_inputs(passed, draw, rests_on)]
    assumed = [q for q in rests_on if q.assumed]
    # An assumption must leave next to nothing on the wrong side to be called good;
    # to be called bad, a fortieth may lie on the right side.
    settled_good, settled_bad = (max(sure, 0.995), 0.025) if assumed else (sure, 1 - sure)
    if draw.nominal and any(q.shape != "exact" for q in assumed):
        turning = [q.path for q in assumed]
        settled_good, settled_bad = 2.0, -1.0
    if not turning and settled_bad < likelihood < settled_good:
        turning = _together(values - limits, draw, assumed)
    measure: tuple[str, ...] = ()
    level: Level
    if unresolved or (turning and settled_bad < likelihood < settled_good):
        level = "unknown"
        absent = {q.path for q in rests_on if not q.at_hand}
        measure = tuple(p for p in dict.fromkeys((*unresolved, *turning)) if p not in absent)[:3]
    elif likelihood >= sure:
        level = "good"
    elif likelihood >= 0.5 and fail != "stop":
        level = "advice"
    else:
        level = fail
    if bands is None:
        finite = values[np.isfinite(values)]
        reading = Band.of(finite, dimension) if finite.size else None
        least = Band.of(limits, dimension)
    else:
        reading, least = bands
    certain = not draw.nominal and bool(np.ptp(values) == 0 and np.ptp(limits) == 0)
    return Finding(
        key=key,
        about=about,
        level=level,
        outcome="good" if level == "good" or likelihood >= 0.5 else outcome,
        otherwise=outcome,
        facts=facts,
        value=reading,
        limit=least,
        must=must,
        likelihood=None if certain else likelihood,
        sources=tuple(sources),
        measure=measure,
    )


def ordered(findings: Sequence[Finding]) -> list[Finding]:
    """Worst first; within a level what keeps the cart from being built, then as they were."""
    return sorted(findings, key=lambda f: (LEVELS.index(f.level), f.key not in PREVENTING))


def as_before(findings: Iterable[Finding], before: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings; each that is equal to one of ``before`` as that same object."""
    known: dict[tuple[str, object], list[Finding]] = {}
    for each in before:
        known.setdefault((each.key, each.about), []).append(each)
    return tuple(
        next((old for old in known.get((f.key, f.about), ()) if old == f), f) for f in findings
    )


def as_record(finding: Finding) -> dict[str, Any]:
    """Plain data for JSON."""
    from dataclasses import asdict

    return {k: v for k, v in asdict(finding).items() if v not in (None, "", ())}
