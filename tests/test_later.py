"""What an extra costs once the walls are closed, by hand from the rows of labour.csv; and the chance it is worth it for."""

from decimal import Decimal
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import read_catalogue
from estimator.compare.changes import Changes
from estimator.compare.later import Later, LaterLine, as_said, extra_of, later, one_in, without_reserve
from estimator.compare.later_alone import later_of
from estimator.compare.variants import variant
from estimator.costing.model import Range
from estimator.job.read import job_tree
from estimator.memory import Memory
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
    (visit,) = [line for line in found.lines if line.unit == "visit"]
    by_name = {line.what: line.cost for line in (*found.lines, *visit.of)}
    # hand: 60, 90, 180 minutes at 45 an hour; 60, 120, 240 at 35; 30, 45, 90 at 45
    assert Range(D("45.00"), D("67.50"), D("135.00")) == by_name["Open the lining, bring the cable in, fix and connect"]
    assert Range(D("35.00"), D("70.00"), D("140.00")) == by_name["Make good the lining"]
    assert Range(D("22.50"), D("33.75"), D("67.50")) == by_name["Test what was altered and write the paper for it"]
    # hand: the electrician's least charge is 120, 240, 240 minutes at 45: 90, 180, 180; what is done comes to 67.50, 101.25,
    # 202.50, which is more at the high end alone
    assert Range(D("90.00"), D("180.00"), D("202.50")) == visit.cost
    assert "Least charge for a visit" == visit.what
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
    _, found = with_change(Changes(change=(("points.S.spread", 15),)))
    (opened,) = [line for line in found.lines if line.unit == "point"]
    # hand: three times 60, 90, 180 minutes at 45: with the paper it is more than a visit at every end, and stands by itself
    assert LaterLine(opened.what, D(3), "point", Range(D("135.00"), D("202.50"), D("405.00"))) == opened


@pytest.mark.parametrize("spread", [13, 14, 15, 20])
def test_low_is_never_above_likely_nor_that_above_high(spread: int) -> None:
    _, found = with_change(Changes(change=(("points.S.spread", spread),)))
    for line in found.lines:
        assert line.cost.low <= line.cost.likely <= line.cost.high
        for one in line.of:
            assert one.cost.low <= one.cost.likely <= one.cost.high
    assert found.cost.low <= found.cost.likely <= found.cost.high


# ---- what adds and takes out ---------------------------------------------------------------------------------------

DIGGER = 'sum."Mini digger with driver, half a day"'


def of_scenario(changes: Changes) -> Later:
    tree, memory = job_tree(STUDIO)[0], Memory()
    found = later_of(tree, catalogue(), base(), variant(tree, catalogue(), "", changes, memory), memory)
    assert found is not None
    return found


def test_what_is_taken_out_is_no_part_of_the_price_of_what_is_added() -> None:
    more = ("points.S.spread", 13)
    alone = of_scenario(Changes(change=(more,)))
    both = of_scenario(Changes(change=(more,), remove=(DIGGER,)))
    # hand: the hire of the digger is a sum by itself, 150 inc VAT; without it the socket costs what it costs with it
    assert (alone.now, alone.cost, alone.one_in) == (both.now, both.cost, both.one_in)
    assert (D("0"), D("150.00")) == (alone.saved, both.saved)
    assert not both.netted
    after = worked(Changes(change=(more,), remove=(DIGGER,)))
    assert both.now - both.saved == without_reserve(after) - without_reserve(base())


def test_a_value_that_goes_down_is_taken_out_too() -> None:
    fewer, more = ("points.DL.columns", 3), ("points.S.spread", 13)
    found = of_scenario(Changes(change=(fewer, more)))
    # hand: first the lights go, which saves the difference of two whole jobs; then the socket is added to what is left
    less = worked(Changes(change=(fewer,)))
    assert without_reserve(base()) - without_reserve(less) == found.saved > 0
    assert without_reserve(worked(Changes(change=(fewer, more)))) - without_reserve(less) == found.now > 0
    assert 1 == next(line.count for line in found.lines if line.unit == "wall")


def test_a_thing_that_takes_another_s_place_is_a_difference() -> None:
    found = of_scenario(Changes(change=(("run.feed.cable", "swa-3c-16"),)))
    assert (D(0), False) == (found.saved, found.netted)
    # the feed goes and another comes: without it there is no job that the new one could be priced beside
    feed = next(run for run in job_tree(STUDIO)[0].data["run"] if run["name"] == "feed")  # type: ignore[attr-defined]
    swapped = Changes(add=(("run", {**feed, "cable": "swa-3c-16"}),), remove=("run.feed",))
    assert (found.now, True) == (of_scenario(swapped).now, of_scenario(swapped).netted)


def test_the_chance_is_exact_beside_the_one_that_is_said() -> None:
    found = of_scenario(Changes(change=(("points.S.spread", 13),)))
    assert found.chance == Fraction(found.now) / Fraction(found.cost.likely)
    assert found.one_in == as_said(int(1 / found.chance))


@pytest.mark.parametrize(("number", "said"), [(1, 1), (12, 12), (13, 10), (35, 30), (99, 90), (100, 100), (2345, 2000)])
def test_a_chance_is_said_no_finer_than_anyone_knows_it(number: int, said: int) -> None:
    assert said == as_said(number)
