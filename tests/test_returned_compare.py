"""Returned lists of several merchants beside each other: line by line, each alone, and the cheapest of all together."""

from dataclasses import replace
from functools import cache

import pytest

from estimator.catalogue.read import read_catalogue
from estimator.documents.returned import as_text
from estimator.documents.returned_data import as_data
from estimator.estimate import estimate
from estimator.job.read import read_job
from estimator.result import Estimate
from estimator.returned.asked import asked_lists
from estimator.returned.compare import compare_returned
from estimator.returned.model import Returned
from estimator.returned.prices import known_prices, with_prices
from estimator.returned.read import Given, Wishes, read_returned
from estimator.returned.run import Options, run
from tests import shed
from tests.test_returned_lists import D


@cache
def worked() -> Estimate:
    """A shed with two sockets, bought from nobody in particular, ex VAT."""
    return shed.worked(shed.sockets(2))


def prices(each: dict[str, str] | None = None, times: str = "1", leave: tuple[str, ...] = ()) -> bytes:
    """Every line of the list as typed: the price list's own figure times something; `each` by part; `leave` are not sold."""
    known = known_prices(worked().catalogue)
    out = ["vat: ex"]
    for line in asked_lists(worked())[0].lines:
        assert line.pack is not None
        row = known[line.part, "any", D(1) if line.cut else line.pack]
        price = row.price * (line.pack if line.cut else 1) * D(times)
        out.append(f"{line.number} {'n/a' if line.part in leave else (each or {}).get(line.part, price.normalize())}")
    return "\n".join(out).encode()


def returned(name: str, data: bytes) -> Returned:
    of = read_returned(worked(), Given(f"{name}.txt", data, name), Wishes(of="any", priced_on="2026-11-02"))
    assert () == of.problems
    return of


def test_a_held_line_has_no_bid_until_it_is_accepted_for_that_merchant() -> None:
    socket = next(line for line in asked_lists(worked())[0].lines if line.part == "socket-2g-dp")
    lists = [
        Given("north.txt", prices({"socket-2g-dp": "8.00; metal clad"}), "North Yard"),
        Given("south.txt", prices({"socket-2g-dp": "9.00"}), "South Yard"),
    ]

    def bids(*accept: str) -> list[tuple[str, bool]]:
        outcome = run(worked(), lists, Options(Wishes(of="any", priced_on="2026-11-02"), (), accept), {})
        assert outcome.comparison is not None
        line = next(line for line in outcome.comparison.lines if line.number == socket.number)
        return [(bid.status, bid.money is not None) for bid in line.bids]

    assert [("held", False), ("priced", True)] == bids()
    assert [("held", False), ("priced", True)] == bids(f"South Yard={socket.number}")
    assert [("priced", True), ("priced", True)] == bids(f"north yard={socket.number}")


def test_with_prices_adds_rows_and_merchants_and_replaces_none_of_others() -> None:
    before = worked().catalogue
    after = with_prices(before, [returned("North", prices())])

    assert set(known_prices(before)) < set(known_prices(after))
    assert {"any", "North"} == set(after.merchants)
    assert [row for row in after.prices if row.merchant == "any"] == list(before.prices)
    assert len(after.prices) - len(before.prices) == len(
        {(line.part, line.pack) for line in returned("North", prices()).lines}
    )
    assert list(after.prices) == sorted(after.prices, key=lambda row: (row.part, row.merchant, row.pack))


def test_returned_prices_can_be_bought_at() -> None:
    after = with_prices(worked().catalogue, [returned("North", prices(times="0.5"))])
    job = replace(worked().job, buying=replace(worked().job.buying, merchants=("North",)))

    # hand: every price is half, so the goods are; rounding once at the end may differ by a penny.
    assert abs(estimate(job, after).order.cost - worked().order.cost / 2) <= D("0.01")


def test_two_merchants_are_compared_line_by_line_and_whole() -> None:
    socket = next(line for line in asked_lists(worked())[0].lines if line.part == "socket-2g-dp")
    price = known_prices(worked().catalogue)["socket-2g-dp", "any", D(1)].price
    north, south = (
        returned("North", prices()),
        returned("South", prices(times="1.5", each={"socket-2g-dp": str(price / 2)})),
    )
    found = compare_returned(worked(), [south, north])

    assert ("North", "South") == found.merchants
    beside = next(line for line in found.lines if line.number == socket.number)
    # hand: two sockets, ex VAT at 20 %.
    assert [price * 2 * D("1.2"), price * D("1.2")] == [bid.money for bid in beside.bids]
    assert ("South",) == beside.cheapest
    assert all(line.cheapest == ("North",) for line in found.lines if line.number != socket.number)
    north_alone, south_alone, both = found.ways
    whole = sum((basket.net + basket.vat for basket in worked().order.baskets), D(0))
    assert whole == north_alone.total
    assert south_alone.total is not None
    assert both.total is not None
    # hand: the order of North alone, with the sockets at half: one price x 1.2 less.
    assert whole - price * D("1.2") == both.total
    assert [("South", "socket-2g-dp", 2)] == [
        (one.merchant, one.part, one.packs) for one in both.packs if one.merchant == "South"
    ]
    assert found.common_lines == len(found.lines)
    assert ("North", "South") == found.delivery_unknown


def test_who_lacks_a_line_cannot_sell_the_whole_but_joins_in_the_split() -> None:
    north, south = returned("North", prices()), returned("South", prices(times="0.5", leave=("socket-2g-dp",)))
    found = compare_returned(worked(), [north, south])

    _, south_alone, both = found.ways
    assert (None, ("socket-2g-dp",)) == (south_alone.total, south_alone.lacking)
    assert ["socket-2g-dp"] == sorted({one.part for one in both.packs if one.merchant == "North"})
    assert found.common_lines == len(found.lines) - 1


def test_what_nobody_sells_stays_at_the_price_list() -> None:
    left = ("socket-2g-dp",)
    found = compare_returned(
        worked(), [returned("North", prices(leave=left)), returned("South", prices(times="0.5", leave=left))]
    )

    both = found.ways[-1]
    assert left == both.filled
    assert [("any", "socket-2g-dp")] == [
        (one.merchant, one.part) for one in both.packs if one.merchant not in ("North", "South")
    ]


@pytest.mark.slow
def test_merchants_that_nobody_asked_stay_as_they_are() -> None:
    catalogue = read_catalogue(shed.STUDIO)
    job, _ = read_job(shed.STUDIO, catalogue)
    studio = estimate(job, catalogue)
    lists = [
        read_returned(studio, Given(f"{name}.txt", f"vat: inc\n{prices}\n".encode(), name), Wishes(of="sample-timber"))
        for name, prices in (("North", "1 4.19\n2 5.49"), ("South", "1 4.39\n2 5.79"))
    ]
    assert [(), ()] == [one.problems for one in lists]
    found = compare_returned(studio, lists)

    assert {("any", "sample-electrical")} == {way.others for way in found.ways}
    whole = sum((basket.net + basket.vat for basket in studio.order.baskets), D(0))
    was = sum((line.price * line.packs for line in studio.order.lines if line.merchant == "sample-timber"), D(0))
    # hand: three lengths and two packs of screws, at prices inc VAT as those of the example are
    assert [whole - was + D("4.19") * 3 + D("5.49") * 2, whole - was + D("4.39") * 3 + D("5.79") * 2] == [
        way.total for way in found.ways[:2]
    ]
    assert found.ways[0].total == found.ways[2].total


def test_delivery_of_a_merchant_counts_once() -> None:
    catalogue = with_prices(worked().catalogue, [])
    north = returned("North", prices())
    assert north.seller is not None
    charged = replace(north, seller=replace(north.seller, delivery=D(10)), known=True)
    assert catalogue == worked().catalogue

    free = compare_returned(worked(), [north, returned("South", prices(times="2"))])
    paid = compare_returned(worked(), [charged, returned("South", prices(times="2"))])
    assert free.ways[0].total is not None
    # hand: 10.00 ex VAT is 12.00.
    assert (free.ways[0].total + 12, D(12)) == (paid.ways[0].total, paid.ways[0].delivery)


def test_the_text_says_who_is_cheapest_and_what_it_comes_to() -> None:
    given = [Given("n.txt", prices(), "North"), Given("s.txt", prices(times="0.5", leave=("socket-2g-dp",)), "South")]
    outcome = run(worked(), given, Options(Wishes(of="any", priced_on="2026-11-02")), {})
    text = as_text(outcome)

    assert () == outcome.problems
    assert "Side by side: all packs of a line, £ inc VAT; * is the least" in text
    assert "all from South: not possible: no price for socket-2g-dp" in text
    assert "the cheapest of North, South: £" in text
    assert max(len(line) for line in text.splitlines()) <= 110
    assert text == as_text(run(worked(), given, Options(Wishes(of="any", priced_on="2026-11-02")), {}))
    assert '"total_inc": null' in as_data(outcome)


def test_several_lists_need_a_name_each() -> None:
    given = [Given("n.txt", prices()), Given("s.txt", prices(), "South")]
    outcome = run(worked(), given, Options(Wishes(of="any")), {})

    assert (
        'n.txt: nothing says whose prices these are, and to compare them they need a name; write NAME=n.txt, or give --merchant "NAME"'
        in [str(one) for one in outcome.problems]
    )
    assert outcome.comparison is None


def test_lists_for_any_merchant_compare_over_the_whole_job() -> None:
    known = worked().catalogue.prices

    def typed(times: str) -> bytes:
        out = ["vat: ex"]
        for line in asked_lists(worked())[-1].lines:
            rows = [row for row in known if row.part == line.part and (line.pack is None or row.pack in (line.pack, 1))]
            row = max(rows, key=lambda one: one.pack)
            size = f"; pack of {row.pack.normalize():f}" if line.pack is None else ""
            price = row.price * (line.pack if line.cut and row.pack == 1 and line.pack else 1) * D(times)
            out.append(f"{line.number} {price.normalize():f}{size}")
        return "\n".join(out).encode()

    lists = [
        read_returned(worked(), Given(f"{name}.txt", typed(times), name), Wishes(of="to-be-priced"))
        for name, times in (("North", "1"), ("South", "0.9"))
    ]
    assert [(), ()] == [one.problems for one in lists]
    assert {""} == {one.answers for one in lists}
    north, south, both = compare_returned(worked(), lists).ways
    assert north.total is not None
    assert south.total is not None
    assert south.total < north.total
    assert both.total == south.total
    assert () == both.others
