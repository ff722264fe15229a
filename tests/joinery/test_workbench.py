"""A bench that is copied has all that the first one has, and nothing in common with it."""

from dataclasses import MISSING, fields

from kerfwind.joinery import MarkingRule, SecondSheet, Workbench
from kerfwind.solids import Placement, X, Y, Z

T = 0.018


def a_full_bench() -> Workbench:
    """A bench on which no field is as it begins."""
    bench = Workbench(
        T,
        MarkingRule(0.001, "mm"),
        SecondSheet("thin", 0.012, 2.44, 1.22, frozenset({"rail"})),
        "pocket hole",
        {"side": "upper"},
    )
    bench.panel("side", 0.6, 0.4, {"left side": Placement((0, 0, 0), Z, Y, X)})
    bench.panel("shelf", 0.5, 0.4, {"shelf": Placement((T, 0, 0.3), X, Y, Z)})
    bench.join("left side", "shelf", carries=True)
    for each in fields(bench):
        begins = each.default if each.default_factory is MISSING else each.default_factory()
        assert getattr(bench, each.name) != begins, f"{each.name} is not filled in by this test"
    return bench


def test_a_copied_bench_has_every_field() -> None:
    bench = a_full_bench()
    copied = bench.copied()
    for each in fields(bench):
        assert getattr(copied, each.name) == getattr(bench, each.name), each.name


def test_what_is_done_on_a_copy_stays_there() -> None:
    bench, before = a_full_bench(), a_full_bench()
    copied = bench.copied()
    copied.wish = "screwed butt"
    copied.panel("rail", 0.5, 0.1, {"rail": Placement((T, 0.3, 0.2), X, Z, Y)})
    copied.join("left side", "rail", carries=True)
    assert len(copied.joints) == 2
    assert bench == before
    for each in fields(bench):
        mine, its = getattr(bench, each.name), getattr(copied, each.name)
        assert not isinstance(mine, (dict, list)) or mine is not its, each.name


def test_one_length_of_screw_serves_where_nothing_is_in_its_way() -> None:
    bench = Workbench(T, MarkingRule(0.001, "mm"))
    bench.panel("side", 0.6, 0.4, {"left side": Placement((0, 0, 0), Z, Y, X)})
    bench.panel("shelf", 0.5, 0.4, {"shelf": Placement((T, 0, 0.3), X, Y, Z)})
    bench.panel("lipping", 0.2, 0.06, {"lipping": Placement((T + 0.2, -T, 0.3), X, Z, Y)})
    bench.join("left side", "shelf", carries=True)
    bench.join("lipping", "shelf", carries=False)
    carries, lips = ({s.hardware for s in joint.screws} for joint in bench.joints)
    assert carries != lips
    fewer = bench.fewer_kinds()
    assert [{s.hardware for s in joint.screws} for joint in fewer.joints] == [carries, carries]
    assert set(fewer.screws) == carries
    assert fewer.screws[carries.pop()].quantity == sum(len(j.screws) for j in fewer.joints)
