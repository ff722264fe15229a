"""What is found of each chain."""

from __future__ import annotations

import numpy as np

from ..facts import Amount, Fact, Listing, Name, Ref, Statement, Term, facts, state
from ..finding import Finding, finding
from ..quantity import Draw, Quantity
from ..shop import Shop
from .building import pieces_of
from .model import Chain, Compared, HosesByReach, Joint

SURE = 0.9


def chain_findings(shop: Shop, chains: tuple[Chain, ...], draw: Draw) -> tuple[Finding, ...]:
    """One finding a chain, and one for what the shop lacks altogether."""
    findings = [_of(chain, draw) for chain in chains]
    if not any(h.use == "tool" for h in shop.hoses):
        findings.append(finding("hookup.no_hose", "tool", "problem", Term("part", "tools")))
    if shop.separator.in_use and shop.link is None:
        findings.append(finding("hookup.no_hose", "link", "problem", Term("part", "separator")))
    return tuple(findings)


def reach_findings(by_reach: HosesByReach | None) -> tuple[Finding, ...]:
    """What the places on the floor map did to the choice of hoses."""
    if by_reach is None:
        return ()
    findings: list[Finding] = []
    about, sources = Term("part", "hoses"), ("hookup.hose_slack",)
    if by_reach.out_of_reach:
        left = tuple(
            state(
                "hookup.hoses_at",
                hoses=Listing(tuple(Ref("hose", h) for h in hoses), "commas"),
                tool=Ref("tool", tool),
            )
            for tool, hoses in by_reach.out_of_reach
        )
        findings.append(
            finding(
                "hookup.hoses",
                "out_of_reach",
                "good",
                about,
                facts=facts(left=Listing(left, "semicolons")),
                sources=sources,
            )
        )
    if by_reach.other_spots is None:
        return tuple(findings)
    others = tuple(
        state("hookup.hose_for", tool=Ref("tool", tool), hose=Ref("hose", other))
        for tool, _, other in by_reach.changed
    )
    chosen = finding(
        "hookup.hoses",
        "more_moves" if by_reach.other_spots < by_reach.spots else "fewest_moves",
        "good",
        about,
        facts=facts(
            spots=by_reach.spots, other_spots=by_reach.other_spots, others=Listing(others, "commas")
        ),
        sources=sources,
    )
    return (*findings, chosen)


def in_air_findings(compared: Compared | None) -> tuple[Finding, ...]:
    """What the full solution says of the program's two best answers, where it says anything."""
    if compared is None or not (compared.turned or compared.other_better):
        return ()
    tools = tuple(
        state(
            "hookup.air_at",
            tool=Ref("tool", t.tool),
            taken=Amount(t.taken_m3_s, "airflow"),
            other=Amount(t.other_m3_s, "airflow"),
        )
        for t in compared.tools
    )
    return (
        finding(
            "hookup.in_air",
            "turned" if compared.turned else "other_better",
            "good" if compared.turned else "advice",
            Term("part", "fittings"),
            facts=facts(tools=Listing(tools, "commas")),
        ),
    )


def _of(chain: Chain, draw: Draw) -> Finding:
    if not chain.reached:
        return _apart(chain)
    about, start, finish = chain.about, chain.start, chain.finish
    worst = min(chain.joints, key=lambda j: j.fit.likelihood)
    likelihood = chain.likelihood
    sources = tuple(dict.fromkeys(j.fit.source for j in chain.joints))
    unmeasured = _unmeasured(chain, draw)
    if unmeasured:
        return finding(
            "hookup.chain",
            "unmeasured",
            "unknown",
            about,
            facts=facts(
                start=start,
                finish=finish,
                joined=_joined(chain),
                sizes=Listing(tuple(size_of(q) for q in unmeasured[:2]), "and"),
            ),
            likelihood=likelihood,
            sources=sources,
            measure=tuple(q.path for q in unmeasured[:3]),
        )
    settled = None if likelihood == 1.0 else likelihood
    if likelihood >= SURE or _in_store(chain):
        return finding(
            "hookup.chain",
            "good" if likelihood >= SURE else "in_store",
            "good" if likelihood >= SURE else "advice",
            about,
            facts=facts(start=start, finish=finish, joined=_joined(chain)),
            likelihood=settled,
            sources=sources,
        )
    if likelihood >= 0.5:
        return finding(
            "hookup.chain",
            "close",
            "advice",
            about,
            facts=facts(
                start=start,
                finish=finish,
                joined=_joined(chain),
                one=size_of(worst.fit.rests_on[0]),
                other=size_of(worst.fit.rests_on[-1]),
            ),
            likelihood=settled,
            sources=sources,
        )
    return finding(
        "hookup.chain",
        "misses",
        "problem",
        about,
        facts=facts(
            start=start,
            finish=finish,
            one=worst.upstream,
            other=worst.downstream,
            fit=Term("fit", worst.fit.kind),
            miss=_miss(worst),
        ),
        likelihood=settled,
        sources=sources,
    )


def _joined(chain: Chain) -> Statement:
    """What joins the two ends."""
    if not chain.pieces and chain.plate is None:
        return state("hookup.joined.straight", fit=Term("fit", chain.joints[0].fit.kind))
    return state("hookup.joined", pieces=Listing(pieces_of(chain), "then"))


def _apart(chain: Chain) -> Finding:
    joint = chain.joints[0]
    assumed = [q for q in joint.fit.rests_on if q.assumed and q.shape != "exact"]
    return finding(
        "hookup.chain",
        "apart",
        "unknown" if assumed else "problem",
        chain.about,
        facts=facts(start=chain.start, finish=chain.finish, miss=_miss(joint)),
        likelihood=0.0,
        sources=(joint.fit.source,),
        measure=tuple(q.path for q in assumed if q.at_hand),
    )


def _miss(joint: Joint) -> Statement:
    """How far the two ends are from holding."""
    miss = joint.fit.miss_m
    if np.all(np.isnan(miss)):
        return state("hookup.miss.no_size", decides=joint.fit.decides)
    middle = float(np.nanmedian(miss))
    if middle == 0:
        middle = float(miss[np.nanargmax(np.abs(miss))])
    return state(
        "hookup.miss",
        way="wide" if middle > 0 else "tight",
        by=Amount(abs(middle), "length", "caliper"),
    )


def _unmeasured(chain: Chain, draw: Draw) -> list[Quantity]:
    """Assumed diameters of the shop that the answer turns on, most telling first."""
    swings: list[tuple[float, Quantity]] = []
    for joint in chain.joints:
        for quantity in joint.fit.rests_on:
            if not quantity.assumed or quantity.shape == "exact" or not quantity.at_hand:
                continue
            if joint.fit.decides == "to measure" or draw.nominal:
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


def size_of(quantity: Quantity) -> Statement:
    """Which diameter of which end it is that ``tools[planer].port.inside`` names."""
    head, _, side = quantity.path.rpartition(".")
    owner, _, end = head.rpartition(".")
    return state("hookup.size", side=side, end=end, owner=_owner(owner))


def _owner(path: str) -> Fact:
    section, _, name = path.removesuffix("]").partition("[")
    if section == "tools":
        return Ref("tool", name)
    if section == "hoses":
        return Ref("hose", name)
    if section == "fittings":
        return Ref("fitting", name)
    if name:
        return Term("fitting", name)
    if section == "separator.cyclone":
        return Term("part", "separator")
    return Term("part", "vacuum") if section == "vacuum" else Name(section)
