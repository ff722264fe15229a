"""What to say of each chain."""

from __future__ import annotations

import numpy as np

from ..finding import Finding, Level
from ..quantity import Draw, Quantity, UnitChoice, show
from ..shop import Shop
from .model import Chain, Compared, HosesByReach, Joint

SURE = 0.9


def chain_findings(shop: Shop, chains: tuple[Chain, ...], draw: Draw) -> tuple[Finding, ...]:
    """One finding a chain, and one for what the shop lacks altogether."""
    findings = [_of(chain, draw, shop.shop.units) for chain in chains]
    if not any(h.use == "tool" for h in shop.hoses):
        findings.append(_missing("tool", "tools", "No hose goes to the tools."))
    if shop.separator.in_use and shop.link is None:
        findings.append(_missing("link", "separator", "No hose links separator and vacuum."))
    return tuple(findings)


def reach_findings(by_reach: HosesByReach | None) -> tuple[Finding, ...]:
    """What the places on the floor map did to the choice of hoses."""
    if by_reach is None:
        return ()
    findings: list[Finding] = []
    if by_reach.out_of_reach:
        left = "; ".join(
            f"{', '.join(hoses)} at the {tool}" for tool, hoses in by_reach.out_of_reach
        )
        findings.append(_hoses(f"Not chosen from, since no free spot lets them reach: {left}."))
    if by_reach.other_spots is None:
        return tuple(findings)
    names = ", ".join(f"{tool} ({other})" for tool, _, other in by_reach.changed)
    spots, other = (
        f"{n} spot{'' if n == 1 else 's'}" for n in (by_reach.spots, by_reach.other_spots)
    )
    if by_reach.other_spots < by_reach.spots:
        answer = (
            f"On other hoses, {names}, {other} would do in place of {spots}; but that adds more in "
            "fittings, air and bother than the moves are worth."
        )
    else:
        answer = f"Chosen by reach: {spots} to park at, where {other} would be needed with {names}."
    return (*findings, _hoses(answer))


def _hoses(answer: str) -> Finding:
    return Finding(
        "hookup.hoses",
        "hookup",
        "hoses",
        "which hose for each tool",
        "good",
        answer,
        sources=("hookup.hose_slack",),
    )


def in_air_findings(compared: Compared | None, units: UnitChoice) -> tuple[Finding, ...]:
    """What the full solution says of the program's two best answers, where it says anything."""
    if compared is None or not (compared.turned or compared.other_better):
        return ()
    tools = ", ".join(
        f"{t.tool} {show(t.taken_m3_s, 'airflow', units)}, by the other "
        f"{show(t.other_m3_s, 'airflow', units)}"
        for t in compared.tools
    )
    if compared.turned:
        answer = (
            f"Solved in full, what came second by rough losses is better, and is taken: {tools}."
        )
        return (
            Finding(
                "hookup.in_air", "hookup", "fittings", "the best chains in air", "good", answer
            ),
        )
    return (
        Finding(
            "hookup.in_air",
            "hookup",
            "fittings",
            "the best chains in air",
            "advice",
            f"The second-best answer is better in air: {tools}.",
            do="Take it if that air is worth its price and bother to you; the plan shows both.",
        ),
    )


def _missing(use: str, about: str, answer: str) -> Finding:
    return Finding(
        "hookup.chain",
        "hookup",
        about,
        "can be joined",
        "problem",
        answer,
        do=f'Add a [[hoses]] with use = "{use}" and its two ends.',
    )


def _of(chain: Chain, draw: Draw, units: str) -> Finding:
    about = chain.tool or chain.start
    check = f"{chain.start} joins {chain.finish}"
    likelihood = chain.likelihood
    if not chain.reached:
        return _apart(chain, about, check, units)
    worst = min(chain.joints, key=lambda j: j.fit.likelihood)
    unmeasured = _unmeasured(chain, draw)
    in_store = _in_store(chain)
    sources = tuple(dict.fromkeys(j.fit.source for j in chain.joints))
    level: Level
    answer = _good(chain)
    do = ""
    measure: tuple[str, ...] = ()
    if unmeasured:
        level = "unknown"
        names = " and ".join(_plain(q) for q in unmeasured[:2])
        answer = f"{answer} But this rests on sizes nobody has measured: {names}."
        do = f"Measure {names} before you buy or print anything."
        measure = tuple(q.path for q in unmeasured[:3])
    elif likelihood >= SURE:
        level = "good"
    elif in_store:
        level = "advice"
        do = "Take the size with you to the store: the name on the shelf is no measurement."
    elif likelihood >= 0.5:
        level = "advice"
        do = f"Measure {_plain(worst.fit.rests_on[0])} and {_plain(worst.fit.rests_on[-1])} more closely."
    else:
        level = "problem"
        answer = f"{worst.upstream} on {worst.downstream}: {worst.fit.kind}, {_miss(worst, units)}."
        do = "Measure both ends again, or print a reducer."
    return Finding(
        "hookup.chain",
        "hookup",
        about,
        check,
        level,
        answer,
        likelihood=None if likelihood == 1.0 and not unmeasured else likelihood,
        sources=sources,
        do=do,
        measure=measure,
    )


def _good(chain: Chain) -> str:
    if not chain.pieces and chain.plate is None:
        return f"It goes straight on ({chain.joints[0].fit.kind})."
    names = [p.fitting.name for p in chain.pieces]
    if chain.plate:
        names.insert(0, f"a {chain.plate.kind} with a bored hole")
    return f"Joined by {', then '.join(names)}."


def _apart(chain: Chain, about: str, check: str, units: str) -> Finding:
    joint = chain.joints[0]
    assumed = [q for q in joint.fit.rests_on if q.assumed and q.shape != "exact"]
    return Finding(
        "hookup.chain",
        "hookup",
        about,
        check,
        "unknown" if assumed else "problem",
        f"Nothing owned, on sale or printed joins them: {_miss(joint, units)}.",
        likelihood=0.0,
        sources=(joint.fit.source,),
        do="Measure both ends again; a thread or lock needs its own mate.",
        measure=tuple(q.path for q in assumed),
    )


def _miss(joint: Joint, units: str) -> str:
    """How far the two ends are from holding, in words."""
    miss = joint.fit.miss_m
    if np.all(np.isnan(miss)):
        return f"no size would mend it ({joint.fit.rule})"
    middle = float(np.nanmedian(miss))
    if middle == 0:
        middle = float(miss[np.nanargmax(np.abs(miss))])
    way = "too wide" if middle > 0 else "too tight"
    text = f"{abs(middle) * 1e3:.1f} mm"
    if units != "mm":
        text += f" ({abs(middle) / 0.0254:.2f} in)"
    return f"the nearest miss is {text} {way}"


def _unmeasured(chain: Chain, draw: Draw) -> list[Quantity]:
    """Assumed diameters of the shop that the answer turns on, most telling first."""
    swings: list[tuple[float, Quantity]] = []
    for joint in chain.joints:
        for quantity in joint.fit.rests_on:
            if not quantity.assumed or quantity.shape == "exact":
                continue
            if quantity.path.startswith(("catalogue[", "cut[", "printed[")):
                continue
            made = joint.fit.rule.startswith("made to")
            if made or draw.nominal:
                swings.append((1.0, quantity))
            elif joint.fit.likelihood < 0.995:
                swings.append((1 - joint.fit.likelihood, quantity))
    swings.sort(key=lambda s: -s[0])
    return list({q.path: q for _, q in swings}.values())


def _in_store(chain: Chain) -> bool:
    """Whether only parts not yet bought leave doubt."""
    return all(
        j.fit.likelihood >= SURE or any(q.path.startswith("catalogue[") for q in j.fit.rests_on)
        for j in chain.joints
    )


def _plain(quantity: Quantity) -> str:
    """``tools[Planer].port.inside`` in words: ``the inside diameter of the Planer's port``."""
    head, _, side = quantity.path.rpartition(".")
    owner, _, end = head.rpartition(".")
    room, _, name = owner.removesuffix("]").partition("[")
    return f"the {side} diameter of the {name or room.partition('.')[0]}'s {end.replace('_', ' ')}"
