"""What an extra costs once the walls are closed, by hand from the rows of labour.csv; and the chance it is worth it for."""

from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import read_catalogue
from estimator.compare.changes import Changes
from estimator.compare.later import Later, LaterLine, extra_of, later, one_in
from estimator.compare.variants import variant
from estimator.costing.model import Range
from estimator.job.read import job_tree
from estimator.result import Estimate

D = Decimal
STUDIO = Path(__file__).resolve().parent.parent / "examples" / "pottery-studio"


@cache
def catalogue() -> Catalogue:
    return read_catalogue(STUDIO)


@cache
def base() -> Estimate:
    return worked(Changes())


def worked(changes: Changes) -> Estimate:
    found = variant(job_tree(STUDIO)[0], catalogue(), "", changes)
    assert found.estimate is not None, found.problems
    return found.estimate


def with_change(changes: Changes) -> tuple[Estimate, Later]:
    after = worked(changes)
    found = later(base(), after)
    assert found is not None
    return after, found


@pytest.mark.parametrize(
    ("now", "loss", "chance"),
    [
        # published: the cost-loss model's usual example, cost 200, loss 1000: act from a chance of 0.2 on
        # ("Cost-loss analysis for decision thresholds", stored study page; formula C / L in "Cost-loss model")
        ("200", "1000", 5),
        ("8.16", "292.83", 35),  # hand: 292.83 / 8.16 = 35.9
        ("100", "100", 1),
        ("100", "99", None),
        ("0", "50", None),
        ("-3", "50", None),
    ],
)
def test_the_chance_from_which_fitting_now_is_cheaper(now: str, loss: str, chance: int | None) -> None:
    assert chance == one_in(D(now), D(loss))
    if chance:
        # what the chance stands for: at one in `chance` the expected cost of waiting is no less than the cost now
        assert D(loss) / chance >= D(now) > D(loss) / (chance + 1)


def test_one_more_socket_is_a_visit_an_opening_making_good_and_a_paper() -> None:
    after, found = with_change(Changes(change=(("points.S.spread", 13),)))
    extra = extra_of(base(), after)
    assert (1, 1, 1, D(0), D(0)) == (extra.points, extra.walls, extra.circuits, extra.metres, extra.trench_metres)
    by_name = {line.what: line.cost for line in found.lines}
    # hand: 60, 90, 180 minutes at 45 an hour; 60, 120, 240 at 35; 30, 45, 90 at 45
    assert Range(D("45.00"), D("67.50"), D("135.00")) == by_name["Open the lining, bring the cable in, fix and connect"]
    assert Range(D("35.00"), D("70.00"), D("140.00")) == by_name["Make good the lining"]
    assert Range(D("22.50"), D("33.75"), D("67.50")) == by_name["Test what was altered and write the paper for it"]
    # hand: the electrician's least charge is 120, 240, 240 minutes at 45: 90, 180, 180; less 67.50, 101.25, 202.50
    assert Range(D("22.50"), D("78.75"), D("0")) == by_name["Least charge for a visit: what is left of it"]
    # hand: what is set aside bears 20 % VAT and is no part of either figure
    reserve = after.budget.contingency - base().budget.contingency
    assert abs(after.budget.total - base().budget.total - reserve * D("1.2") - found.now) <= D("0.01")
    assert found.cost.likely == sum(line.cost.likely for line in found.lines)
    assert (D(2), D(4), D(6)) == (
        found.hours.low,
        found.hours.likely,
        found.hours.high,
    )  # hand: the wall painted oneself


def test_materials_bought_later_are_in_the_smallest_packs_and_dearer_than_now() -> None:
    _, found = with_change(Changes(change=(("points.S.spread", 13),)))
    (materials,) = [line for line in found.lines if line.what.startswith("Materials")]
    assert materials.cost.low == materials.cost.high > found.now


def test_a_larger_feed_means_the_whole_cable_and_the_trench_again() -> None:
    after, found = with_change(Changes(change=(("run.feed.cable", "swa-3c-16"),)))
    extra = extra_of(base(), after)
    assert (0, D("22.000"), True) == (extra.points, extra.trench_metres, extra.feeds)
    # hand: 22 m dug at 25, 40, 120 and filled at 15, 30, 50 minutes a metre, one's own hours: 880, 1540, 3740 minutes
    assert [D(880), D(1540), D(3740)] == [
        round(hours * 60) for hours in (found.hours.low, found.hours.likely, found.hours.high)
    ]


def test_a_spare_cable_in_the_open_trench_needs_no_visit() -> None:
    spare = {"name": "spare", "cable": "data-cat6-outdoor", "from": "outside: house", "to": "outside: studio",
             "stretches": [{"in": "trench", "trench": "lawn"}]}  # fmt: skip
    _, found = with_change(Changes(add=(("run", spare),)))
    assert ["Materials, in the smallest packs"] == [line.what for line in found.lines]
    assert found.now > 0


def test_taking_something_out_has_no_later() -> None:
    assert later(base(), worked(Changes(change=(("points.S.spread", 11),)))) is None


def test_a_line_keeps_its_unit() -> None:
    _, found = with_change(Changes(change=(("points.S.spread", 14),)))
    (opened,) = [line for line in found.lines if line.unit == "point"]
    assert LaterLine(opened.what, D(2), "point", Range(D("90.00"), D("135.00"), D("270.00"))) == opened  # hand: twice
