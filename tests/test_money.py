"""Baskets, rates, running totals and VAT, against worked examples."""

from datetime import date
from decimal import Decimal as D
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.buying.baskets import fill_baskets
from estimator.buying.model import OrderLine
from estimator.buying.order import order
from estimator.catalogue.model import Catalogue, Merchant, Part, Price
from estimator.costing.budget import budget
from estimator.costing.model import Budget, Range, TaskHours
from estimator.job.model import Allowances, Buying, Job, Sum
from estimator.problems import Place, Refused
from estimator.rounding import money
from estimator.takeoff.model import CutPiece, Made, Quantity, TakeOff, Task

TWENTY = D("0.20")


def part(name: str, section: str, sold_as: str = "piece", unit: str = "nr") -> Part:
    return Part(name, name, name, section, unit, sold_as, D(0), TWENTY, "electrical", "", "")  # type: ignore[arg-type]


def price(name: str, merchant: str, pack: str, amount: str, basis: str) -> Price:
    return Price(name, merchant, D(pack), D(amount), basis, date(2026, 10, 1), "", "", "invented")  # type: ignore[arg-type]


def catalogue(parts: list[Part], prices: list[Price], delivery: dict[str, str] | None = None) -> Catalogue:
    names = sorted({of.merchant for of in prices})
    merchants = {
        name: Merchant(name, D((delivery or {}).get(name, "0")), None, None, "GBP", "ex", TWENTY) for name in names
    }
    return Catalogue({of.part: of for of in parts}, tuple(prices), merchants, {}, {}, {}, {}, {}, {}, {}, {}, (), ())


def job(sums: tuple[Sum, ...] = (), contingency: str = "0") -> Job:
    allowances = Allowances(D(0), 0, D(contingency), TWENTY, D(3), ())
    bare = ((), (), (), (), (), (), ())
    buying = Buying(("any",), ())
    return Job("Test", "uk", "GBP", date(2026, 10, 1), None, allowances, None, *bare, sums, None, buying)


def quantity(name: str, stage: str, amount: str) -> Quantity:
    return Quantity(name, stage, D(amount), D(amount), (Made("S1", "studio", D(amount)),), (Place("job.toml", 1),))  # type: ignore[arg-type]


# published: the worked example of the project's design, "Money" (20 %), which any stage must reproduce to the penny.
SOCKET, CLIP, CABLE = part("socket", "Second fix"), part("clip", "First fix"), part("cable", "Wiring", "length", "m")
PRICES = [
    price("socket", "A", "1", "7.99", "inc"),
    price("clip", "A", "100", "3.19", "inc"),
    price("cable", "B", "100", "48.00", "ex"),
    price("cable", "B", "50", "26.50", "ex"),
]
PIECES = tuple(CutPiece("cable", "first-fix", f"leg {i}", D(length)) for i, length in enumerate((60000, 38000, 23400)))
WORKED = TakeOff(
    (
        quantity("cable", "first-fix", "121.4"),
        quantity("clip", "first-fix", "40"),
        quantity("clip", "second-fix", "25"),
        quantity("socket", "second-fix", "6"),
    ),
    PIECES,
    (),
)


def worked(sums: tuple[Sum, ...] = (), contingency: str = "0") -> Budget:
    shop = catalogue([SOCKET, CLIP, CABLE], PRICES)
    of = job(sums, contingency)
    return budget(of, shop, WORKED, order(of, shop, WORKED))


def test_the_baskets_of_the_worked_example_equal_the_tills() -> None:
    shop = catalogue([SOCKET, CLIP, CABLE], PRICES)
    bought = order(job(), shop, WORKED)
    # published (design, Money): A inc 51.13, VAT 8.52, net 42.61; B ex 74.50, VAT 14.90
    assert [("A", D("51.13"), D("42.61"), D("8.52")), ("B", D("74.50"), D("74.50"), D("14.90"))] == [
        (of.merchant, of.sum, of.net, of.vat) for of in bought.baskets
    ]
    nets = {line.part: line.net for line in bought.lines if line.merchant == "A"}
    # published: 42.61 = 39.95 + 2.66, shared out in part order, clips before sockets
    assert nets == {"clip": D("2.66"), "socket": D("39.95")}


def test_the_bill_of_the_worked_example_adds_up_to_the_penny() -> None:
    money_of = worked()
    # published: sockets 39.95; clips 40 first fix 1.06, 25 second fix 0.67; cable 121.4 m 60.30
    assert {
        ("socket", "second-fix"): D("39.95"),
        ("clip", "first-fix"): D("1.06"),
        ("clip", "second-fix"): D("0.67"),
        ("cable", "first-fix"): D("60.30"),
    } == {(line.part, line.stage): line.amount for line in money_of.bill}
    # published: bill 101.98 + left over (0.93 + 14.20) = 117.11; total 140.53 = 51.13 + 89.40 at the tills
    assert sum(line.amount for line in money_of.bill) == D("101.98")
    assert dict(money_of.left_over) == {"First fix": D("0.93"), "Wiring": D("14.20")}
    assert (money_of.materials, money_of.total) == (D("117.11"), D("140.53"))
    assert money_of.materials_only


def test_six_packs_at_7_99_inc_are_47_94_at_the_till() -> None:
    # published (check values 39): 6 x 7.99 inc = 47.94 of which 7.99 VAT; per-unit rounding gives 47.95 and is wrong
    line = OrderLine("socket", "A", D(1), 6, D("7.99"), "inc", TWENTY, D("47.94"), D(0), "second-fix", Place(""))
    lines, baskets = fill_baskets([line])
    assert (baskets[0].sum, baskets[0].vat, baskets[0].net) == (D("47.94"), D("7.99"), D("39.95"))
    assert lines[0].net == D("39.95")


def test_sums_contingency_and_labour_are_added_in_the_fixed_order() -> None:
    sums = (
        Sum("quote", "quote", D(400), D(480), D(600), "none", "second-fix"),
        Sum("hire", "hire", D(150), D(150), D(150), "inc", "supply"),
        Sum("fee", "fee", D("99.99"), D("99.99"), D("99.99"), "ex", None),
    )
    of = worked(sums=sums, contingency="0.1")
    # hand: 150.00 inc holds 25.00 VAT, net 125.00; sums 480 + 125 + 99.99 = 704.99
    assert of.sums_total == D("704.99")
    # hand: 10 % of (117.11 + 0 + 0 + 704.99) = 82.21
    assert of.contingency == D("82.21")
    # hand: 117.11 + 704.99 + 82.21 = 904.31; VAT 8.52 + 14.90 + 25.00 + 20.00 (99.99 at 20 %) + 16.44 = 84.86
    assert (of.ex_vat, of.vat[0].amount, of.total) == (D("904.31"), D("84.86"), D("989.17"))
    assert not of.materials_only


def test_labour_is_priced_only_where_a_rate_is_given() -> None:
    tasks = (
        Task("test", "electrician", "second-fix", D(2), D(30), D(50), D(80), D(45), TWENTY),
        Task("pull", "self", "first-fix", D(9), D(60), D(90), D(120), None, D(0)),
    )
    shop = catalogue([SOCKET, CLIP, CABLE], PRICES)
    of = TakeOff(WORKED.quantities, PIECES, tasks)
    money_of = budget(job(), shop, of, order(job(), shop, of))
    # hand: 50 min at 45 an hour = 37.50, VAT 7.50; hours 1.5 of one's own
    assert (money_of.labour, money_of.labour_priced, money_of.hours_self.likely) == (D("37.50"), True, D("1.5"))
    assert money_of.total == D("140.53") + D("45.00")


def test_hours_are_told_by_task_by_stage_ones_own_first_whatever_it_is_done_for() -> None:
    tasks = (
        Task("test", "electrician", "second-fix", D(2), D(30), D(50), D(80), D(45), TWENTY),
        Task("seal: flat-4", "self", "first-fix", D(9), D(60), D(90), D(120), None, D(0), "flat-4"),
        Task("seal: flat-6", "self", "first-fix", D(1), D(6), D(9), D(12), None, D(0), "flat-6"),
        Task("seal: flat-6", "electrician", "first-fix", D(1), D(6), D(9), D(12), None, D(0), "flat-6"),
        Task("dig", "self", "supply", D(1), D(15), D(30), D(45), None, D(0)),
    )
    shop = catalogue([SOCKET, CLIP, CABLE], PRICES)
    of = TakeOff(WORKED.quantities, PIECES, tasks)
    found = budget(job(), shop, of, order(job(), shop, of))
    # hand: minutes by 60; 60 + 6, 90 + 9 and 120 + 12 minutes of sealing are 1.1, 1.65 and 2.2 hours
    assert [
        TaskHours("dig", "self", "supply", Range(D("0.25"), D("0.5"), D("0.75"))),
        TaskHours("seal", "self", "first-fix", Range(D("1.1"), D("1.65"), D("2.2"))),
        TaskHours("seal", "electrician", "first-fix", Range(D("0.1"), D("0.15"), D("0.2"))),
    ] == list(found.tasks[:3])
    assert found.hours_self.likely == sum(of.hours.likely for of in found.tasks if of.who == "self")


def test_delivery_is_told_apart_and_joins_its_merchants_basket() -> None:
    shop = catalogue([SOCKET, CLIP, CABLE], PRICES, {"B": "9.50"})
    money_of = budget(job(), shop, WORKED, order(job(), shop, WORKED))
    # hand: 140.53 + 9.50 + VAT: (74.50 + 9.50) x 20 % = 16.80 instead of 14.90
    assert (money_of.materials, money_of.delivery, money_of.total) == (D("117.11"), D("9.50"), D("151.93"))


def test_a_part_nobody_sells_is_refused_with_the_place_that_wants_it() -> None:
    shop = catalogue([SOCKET, CLIP, CABLE], [of for of in PRICES if of.part != "clip"])
    with pytest.raises(Refused) as refused:
        order(job(), shop, WORKED)
    assert [str(of) for of in refused.value.problems] == [
        'job.toml:1: nobody sells "clip" (clip); add a price for it to prices.csv at one of: A, B'
    ]


def test_a_leg_longer_than_any_drum_is_refused() -> None:
    pieces = (CutPiece("cable", "first-fix", "lights: CU to L1", D(120000)),)
    of = TakeOff((quantity("cable", "first-fix", "120"),), pieces, ())
    with pytest.raises(Refused) as refused:
        order(job(), catalogue([CABLE], PRICES[2:]), of)
    assert [str(of) for of in refused.value.problems] == [
        'job.toml:1: "lights: CU to L1" wants 120 m of cable in one length, and nothing that long is for sale; '
        "add a drum or length of 120 m or more to prices.csv, or split the run"
    ]


@given(
    st.lists(st.tuples(st.integers(1, 40), st.integers(1, 9999)), min_size=1, max_size=12),
    st.sampled_from(["ex", "inc"]),
)
def test_an_inc_basket_equals_the_till_and_nets_add_up(rows: list[tuple[int, int]], basis: str) -> None:
    lines = [
        OrderLine(f"p{i:02}", "A", D(1), packs, D(pence).scaleb(-2), basis, TWENTY, D(0), D(0), "supply", Place(""))  # type: ignore[arg-type]
        for i, (packs, pence) in enumerate(rows)
    ]
    filled, (basket,) = fill_baskets(lines)
    till = sum(D(packs * pence).scaleb(-2) for packs, pence in rows)
    assert till == basket.sum
    assert sum(line.net for line in filled) == basket.net
    rate = Fraction(1, 5)
    # published: HMRC manual VATREC12030, half a penny or more up; VAT fraction of a gross amount is r / (1 + r)
    expected = money(Fraction(till) * rate) if basis == "ex" else money(Fraction(till) * rate / (1 + rate))
    assert expected == basket.vat
    assert (basket.net + basket.vat == till) or basis == "ex"


def labour_only(*rates: str | None) -> Budget:
    """A job of 20 % with an hour of work at 45.00 for each VAT rate given."""
    tasks = tuple(
        Task(
            f"test {i}",
            "electrician",
            "second-fix",
            D(1),
            D(60),
            D(60),
            D(60),
            D(45),
            None if rate is None else D(rate),
        )
        for i, rate in enumerate(rates)
    )
    shop = catalogue([SOCKET, CLIP, CABLE], PRICES)
    of = TakeOff(WORKED.quantities, PIECES, tasks)
    return budget(job(), shop, of, order(job(), shop, of))


def test_labour_bears_the_vat_of_the_job_unless_its_row_says_another() -> None:
    # hand: materials of the worked example 140.53 inc VAT; 45.00 and 20 % of it, 9.00
    assert (D("140.53") + D("54.00"), (TWENTY,)) == ((one := labour_only(None)).total, one.labour_vat)
    # hand: at 0 % the 45.00 alone, at 5 % 2.25 besides
    assert (D("140.53") + D("45.00"), (D(0),)) == ((one := labour_only("0")).total, one.labour_vat)
    assert D("140.53") + D("47.25") == labour_only("0.05").total
    # hand: 90.00 at 20 % is 18.00, rounded once for the rate; 45.00 bears none
    both = labour_only(None, TWENTY.to_eng_string(), "0")
    assert (D("140.53") + D("153.00"), (D(0), TWENTY)) == (both.total, both.labour_vat)
