"""A price that no merchant has given fills a gap and never beats one that a merchant has named: worked cases, and drawn ones."""

from collections import Counter
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimator.buying.margins import margins
from estimator.buying.model import Order
from estimator.buying.order import order
from estimator.buying.purchase.check import order_faults
from estimator.catalogue.model import Catalogue, Price
from estimator.checks.prices import not_chosen
from estimator.job.model import InHand, Job
from estimator.problems import Refused
from estimator.rounding import money
from estimator.takeoff.model import TakeOff
from tests.small_purchases import FIRST, catalogue, drawn, job, least, needs, part, price, terms

D = Decimal
SEEDS = st.integers(0, 1_000_000)
ANY = terms("any")


def packs(bought: Order) -> dict[tuple[str, str, str], int]:
    """Packs by part, merchant and size."""
    return {(line.part, line.merchant, f"{line.pack:f}"): line.packs for line in bought.lines}


def test_a_named_price_stands_and_one_of_nobody_fills_the_gap() -> None:
    rows = [price("lamp", "any", "1", "1.00"), price("lamp", "A", "1", "10.00"), price("wire", "any", "1", "2.00")]
    shop = catalogue([part("lamp"), part("wire")], rows, [terms("A", "5"), ANY])
    bought = order(job(), shop, needs(("lamp", FIRST, "3"), ("wire", FIRST, "4")))
    # hand: 3 x 10.00 at A, 5.00 of delivery, 4 x 2.00 of nobody: 43.00, x 1.2; the lamps at 1.00 are nobody's
    assert ({("lamp", "A", "1"): 3, ("wire", "any", "1"): 4}, D("51.60"), True) == (
        packs(bought),
        bought.cost,
        bought.proven,
    )
    assert [
        "1 of 2 parts in this order has no merchant yet, and a price that none has given: it stands under “merchant not chosen "
        "yet”. Ask for prices with a list of everything (studbay list JOB --blank)."
    ] == [finding.message for finding in not_chosen(bought)]


def test_where_nobody_has_named_a_price_all_are_told_and_where_all_have_nothing_is() -> None:
    rows = [price("lamp", "any", "1", "1.00")]
    alone = order(job(), catalogue([part("lamp")], rows, [ANY]), needs(("lamp", FIRST, "3")))
    assert (["note"], True) == (
        [one.level for one in not_chosen(alone)],
        not_chosen(alone)[0].message.startswith("1 of 1 parts"),
    )
    shop = catalogue([part("lamp")], [*rows, price("lamp", "A", "1", "9.00")], [terms("A"), ANY])
    assert () == not_chosen(order(job(), shop, needs(("lamp", FIRST, "3"))))


BOARD = [part("board", group="g"), part("breaker", group="g")]
NOBODYS = [price("board", "any", "1", "5.00", match="X"), price("breaker", "any", "1", "1.00", match="X")]
BOTH = needs(("board", FIRST, "1"), ("breaker", FIRST, "4"))


def test_a_make_that_merchants_sell_whole_between_them_stands_before_a_cheaper_one_of_nobody() -> None:
    rows = [price("board", "A", "1", "50.00", match="Y"), price("breaker", "B", "1", "3.00", match="Y")]
    bought = order(job(), catalogue(BOARD, [*NOBODYS, *rows], [terms("A"), terms("B"), ANY]), BOTH)
    # hand: 50 + 4 x 3 = 62, x 1.2
    assert (D("74.40"), {"A", "B"}, ()) == (bought.cost, {line.merchant for line in bought.lines}, bought.findings)


def test_a_make_that_merchants_sell_in_part_is_made_whole_by_prices_of_nobody_and_told() -> None:
    rows = [price("board", "A", "1", "50.00", match="X"), price("breaker", "A", "1", "3.00", match="Y")]
    bought = order(job(), catalogue(BOARD, [*NOBODYS, *rows], [terms("A"), ANY]), BOTH)
    # hand: make X: A's board 50 stands before the 5 of nobody, breakers 4 x 1: 54, x 1.2
    assert (D("64.80"), {("board", "A"), ("breaker", "any")}) == (
        bought.cost,
        {(line.part, line.merchant) for line in bought.lines},
    )
    assert [
        (
            "note",
            "In no one make have merchants priced all parts of a board. Make X lacks breaker. Make Y lacks board. Parts of one "
            "board must be of one make, so prices that no merchant has given fill it up or stand for all of it: ask for the rest.",
        )
    ] == [(one.level, one.message) for one in bought.findings]


def test_of_makes_with_gaps_those_with_the_fewest_count() -> None:
    other = [price("board", "any", "1", "5.00", match="Y"), price("breaker", "any", "1", "1.00", match="Y")]
    rows = [price("board", "A", "1", "50.00", match="Y")]
    bought = order(job(), catalogue(BOARD, [*NOBODYS, *other, *rows], [terms("A"), ANY]), BOTH)
    # hand: make X is all of nobody (two gaps), Y has one: 50 + 4 x 1 = 54, x 1.2, though X would be 9
    assert (D("64.80"), {"A", "any"}) == (bought.cost, {line.merchant for line in bought.lines})


def test_a_make_of_nobody_alone_stands_where_the_merchants_make_cannot_be_filled_up() -> None:
    rows = [price("board", "A", "1", "50.00", match="A")]
    bought = order(job(), catalogue(BOARD, [*NOBODYS, *rows], [terms("A"), ANY]), BOTH)
    # hand: 5 + 4 x 1 = 9, x 1.2
    assert (D("10.80"), {"any"}, ["one-make"]) == (
        bought.cost,
        {line.merchant for line in bought.lines},
        [one.check for one in bought.findings],
    )


def test_a_length_longer_than_merchants_sell_is_bought_of_nobody_and_no_shorter_one_is() -> None:
    rows = [
        price("cable", "A", "50", "60.00"),
        price("cable", "any", "25", "1.00"),
        price("cable", "any", "50", "2.00"),
        price("cable", "any", "100", "90.00"),
    ]
    shop = catalogue([part("cable", "length")], rows, [terms("A"), ANY])
    short = order(job(), shop, needs(pieces={"cable": [40_000, 20_000]}))
    long = order(job(), shop, needs(pieces={"cable": [60_000, 20_000, 45_000]}))
    # hand: two drums of A; a drum of 100 m takes 60 + 20, and 45 m wants one more, of A
    assert (D("144.00"), D("180.00")) == (short.cost, long.cost)
    assert {("cable", "any", "100"): 1, ("cable", "A", "50"): 1} == packs(long)


def test_a_merchant_not_chosen_yet_is_none_of_those_that_the_job_may_count() -> None:
    rows = [price("lamp", "A", "1", "10.00"), price("wire", "any", "1", "2.00"), price("clip", "B", "1", "1.00")]
    parts = [part("clip"), part("lamp"), part("wire")]
    shop = catalogue(parts, rows, [terms("A"), terms("B"), ANY])
    two = needs(("lamp", FIRST, "1"), ("wire", FIRST, "1"))
    assert {"A", "any"} == {line.merchant for line in order(job(1), shop, two).lines}
    with pytest.raises(Refused) as refused:
        order(job(1), shop, needs(("lamp", FIRST, "1"), ("wire", FIRST, "1"), ("clip", FIRST, "1")))
    assert [
        "job.toml:9: buying.max_merchants: no single merchant sells everything; these parts are left: clip; "
        "write 2, the fewest that would do, or add prices for these parts"
    ] == [str(problem) for problem in refused.value.problems]


def test_what_is_all_in_hand_lets_no_merchant_more_in() -> None:
    rows = [price("lamp", "A", "1", "9.00"), price("wire", "A", "1", "9.00"), price("wire", "B", "1", "2.00")]
    rows += [price("clip", "any", "1", "1.00"), price("cord", "any", "25", "9.00")]
    parts = [part("clip"), part("cord", "length"), part("lamp"), part("wire")]
    shop = catalogue(parts, rows, [terms("A"), terms("B"), ANY])
    hand = (InHand("clip", None, 5, None), InHand("cord", 9000, 1, None))
    takeoff = needs(("clip", FIRST, "5"), ("lamp", FIRST, "1"), ("wire", FIRST, "1"), pieces={"cord": [8000]})
    bought = order(job(1, in_hand=hand), shop, takeoff)
    # hand: all at A, 18.00 x 1.2; wire at B would take a second merchant
    assert (D("21.60"), {"A"}) == (bought.cost, {line.merchant for line in bought.lines})


def test_what_nobody_sells_and_is_all_in_hand_is_no_problem() -> None:
    shop = catalogue([part("clip"), part("lamp")], [price("lamp", "A", "1", "9.00")], [terms("A")])
    takeoff = needs(("clip", FIRST, "5"), ("lamp", FIRST, "1"))
    of = job(in_hand=(InHand("clip", None, 5, None),))
    bought = order(of, shop, takeoff)
    assert (D("10.80"), {"clip": D(5), "lamp": D(0)}) == (bought.cost, {of.part: of.in_hand for of in bought.bought})
    assert D(0) == next(one.spare for one in margins(of, shop, takeoff, bought) if one.part == "clip")
    with pytest.raises(Refused):
        order(job(in_hand=(InHand("clip", None, 4, None),)), shop, takeoff)


def test_named_merchants_that_lack_parts_are_one_problem_that_tells_all_of_them() -> None:
    parts = [
        part("clip"),
        part("lamp"),
        replace(part("wire"), section="Cable", trade_name="wire, 1 mm2"),
    ]
    rows = [price("lamp", "A", "1", "10.00"), *(price(name, "any", "1", "1.00") for name in ("clip", "lamp", "wire"))]
    shop = catalogue(parts, rows, [terms("A"), terms("B"), ANY])
    of = job()
    of = replace(of, buying=replace(of.buying, merchants=("A", "B")))
    with pytest.raises(Refused) as refused:
        order(of, shop, needs(("clip", FIRST, "1"), ("lamp", FIRST, "1"), ("wire", FIRST, "1")))
    assert [
        "job.toml:9: buying.merchants: A and B sell nothing for 2 parts of this job: Cable: wire (wire, 1 mm2); Parts: "
        'clip (clip); write their prices into prices.csv, or merchants = ["any"]: then every merchant of merchants.csv '
        "counts, and prices without a merchant fill what is left"
    ] == [str(problem) for problem in refused.value.problems]


def test_a_saving_that_only_a_price_of_nobody_would_make_is_not_told() -> None:
    rows = [price("clip", "A", "100", "8.00"), price("clip", "any", "50", "1.00"), price("wire", "any", "1", "2.00")]
    shop = catalogue([part("clip"), part("wire")], rows, [terms("A"), ANY])
    takeoff = needs(("clip", FIRST, "60"), ("wire", FIRST, "1"))
    found = {of.part: of for of in margins(job(), shop, takeoff, order(job(), shop, takeoff))}
    # hand: a bag of 100 for 8.00 + VAT; only without any clips would it be less
    assert (D(60), D("9.60")) == (found["clip"].less, found["clip"].saves)


def test_units_in_hand_are_taken_first_and_packs_are_of_the_smallest_size_on_the_list() -> None:
    rows = [price("lamp", "A", "1", "10.00"), price("clip", "A", "100", "3.00"), price("clip", "A", "20", "1.00")]
    shop = catalogue([part("lamp"), part("clip")], rows, [terms("A")])
    hand = (InHand("lamp", None, 7, None), InHand("clip", None, 15, None), InHand("clip", None, 0, D(2)))
    takeoff = needs(("lamp", FIRST, "9"), ("clip", FIRST, "160"))
    bought = order(job(in_hand=hand), shop, takeoff)
    # hand: 9 - 7 lamps = 20.00; 160 - 15 - 2 x 20 = 105 clips: 100 + 20 for 4.00; 24.00 x 1.2
    assert (D("28.80"), {"clip": D(55), "lamp": D(7)}) == (bought.cost, {of.part: of.in_hand for of in bought.bought})
    spare = {of.part: of.spare for of in margins(job(in_hand=hand), shop, takeoff, bought)}
    assert {"clip": D(15), "lamp": D(0)} == spare
    all_there = order(job(in_hand=(InHand("lamp", None, 20, None),)), shop, needs(("lamp", FIRST, "9")))
    assert (D(0), D(9)) == (all_there.cost, all_there.bought[0].in_hand)


def test_a_fault_of_ours_would_be_found() -> None:
    rows = [price("lamp", "any", "1", "1.00"), price("lamp", "A", "1", "10.00")]
    shop, takeoff = catalogue([part("lamp")], rows, [terms("A"), ANY]), needs(("lamp", FIRST, "1"))
    right = order(job(), shop, takeoff)
    wrong = replace(right, lines=(replace(right.lines[0], merchant="any", price=D("1.00")),))
    assert ((), ()) == (order_faults(job(), shop, takeoff, right), right.findings)
    assert "lamp: at no merchant, though a merchant sells it" in order_faults(job(), shop, takeoff, wrong)


def nameless(seed: int) -> tuple[Job, Catalogue, TakeOff]:
    """A drawn purchase whose second merchant is nobody, and which may be bought at any number of merchants."""
    of, shop, takeoff = drawn(seed)
    rows = [replace(row, merchant="any" if row.merchant == "B" else row.merchant) for row in shop.prices]
    # A sells everything: of every third part it does not, so that there are gaps
    gone = {name for at, name in enumerate(shop.parts) if (at + seed) % 3 == 0}
    rows = [row for row in rows if row.part not in gone or row.merchant == "any"]
    merchants = [replace(one, merchant="any" if name == "B" else name) for name, one in shop.merchants.items()]
    buying = replace(of.buying, max_merchants=None)
    return replace(of, buying=buying), catalogue(list(shop.parts.values()), rows, merchants), takeoff


def those_that_count(shop: Catalogue, takeoff: TakeOff) -> list[Price]:
    """The rule by hand, for parts that need not match: named prices, else the others; of lengths the longer ones too."""
    rows = []
    for name in shop.parts:
        named = [row for row in shop.prices if row.part == name and row.merchant != "any"]
        longest = max((piece.length_mm for piece in takeoff.pieces if piece.part == name), default=D(0)) / 1000
        enough = any(row.pack >= longest or row.pack == 1 for row in named)
        over = max((row.pack for row in named), default=D(0)) if shop.parts[name].sold_as == "length" else D(0)
        for row in shop.prices:
            fills = not enough and (row.pack > over or row.pack == 1)
            if row.part == name and (row.merchant != "any" or fills):
                rows.append(row)
    return rows


@settings(max_examples=60, deadline=None, derandomize=True)
@given(SEEDS)
def test_an_independent_solver_that_is_given_only_what_counts_finds_the_same(seed: int) -> None:
    of, shop, takeoff = nameless(seed)
    assume(not any(one.match_group for one in shop.parts.values()))
    try:
        bought = order(of, shop, takeoff)
    except Refused:
        assume(False)
        raise
    filtered = catalogue(list(shop.parts.values()), those_that_count(shop, takeoff), list(shop.merchants.values()))
    best = least(of, filtered, takeoff)
    if best is None:
        best = least(of, filtered, takeoff, minimums=False)
    assert best is not None
    assert bought.bound <= money(best) <= bought.cost
    if bought.proven:
        assert money(best) == bought.cost


@settings(max_examples=40, deadline=None, derandomize=True)
@given(SEEDS)
def test_prices_of_nobody_change_nothing_where_merchants_sell_everything(seed: int) -> None:
    of, shop, takeoff = drawn(seed)
    try:
        before = order(of, shop, takeoff)
    except Refused:
        assume(False)
        raise
    cheap = [
        replace(row, merchant="any", price=row.price / 2)
        for row in shop.prices
        if row.merchant == "A" and not shop.parts[row.part].match_group
    ]
    with_any = catalogue(list(shop.parts.values()), [*shop.prices, *cheap], [*shop.merchants.values(), ANY])
    after = order(of, with_any, takeoff)
    if before.proven and after.proven:
        assert (before.cost, Counter(before.lines)) == (after.cost, Counter(after.lines))
    assert "any" not in {line.merchant for line in after.lines}


def test_a_fault_in_a_make_would_be_found_too() -> None:
    rows = [price("board", "A", "1", "50.00", match="Y"), price("breaker", "A", "1", "3.00", match="Y")]
    shop = catalogue(BOARD, [*NOBODYS, *rows], [terms("A"), ANY])
    right = order(job(), shop, BOTH)
    cheap = {"board": D("5.00"), "breaker": D("1.00")}
    lines = tuple(replace(line, merchant="any", price=cheap[line.part]) for line in right.lines)
    assert () == order_faults(job(), shop, BOTH, right)
    assert {"board: at no merchant, though merchants sell a make whole"} <= set(
        order_faults(job(), shop, BOTH, replace(right, lines=lines))
    )


def test_what_is_bought_later_is_bought_at_a_named_price_where_there_is_one() -> None:
    from fractions import Fraction

    from estimator.compare.later_things import _alone

    rows = [price("lamp", "any", "1", "1.00"), price("lamp", "A", "1", "10.00"), price("wire", "any", "1", "2.00")]
    shop = catalogue([part("lamp"), part("wire")], rows, [terms("A"), ANY])
    # hand: 2 x 10.00 x 1.2; 2 x 2.00 x 1.2
    assert [Fraction(24), Fraction("4.8")] == [_alone(job(), shop, name, Fraction(2)) for name in ("lamp", "wire")]
