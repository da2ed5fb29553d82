"""Cutting: published instances, brute force, another solver, and rules that any cutter must keep."""

import random
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.buying.cutting import cut
from estimator.buying.fill import fitted
from estimator.buying.stock import Bin, CutSale, NotEnough, Piece, Plan, Stock, TooLong
from estimator.buying.task import task_of
from estimator.buying.verify import plan_faults


def pieces_of(demand: dict[int, int]) -> list[Piece]:
    return [Piece(f"w{length}", length) for length, count in demand.items() for _ in range(count)]


def pieces(*lengths: int) -> list[Piece]:
    return [Piece(f"p{number:03}", length) for number, length in enumerate(lengths)]


# published: the paper machine with 13 widths of the Wikipedia article "Cutting stock problem"; optimum 73
PAPER = {1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20,
         2000: 10, 2050: 12, 2100: 14, 2140: 16, 2150: 18, 2200: 20}  # fmt: skip
# published data: Gilmore and Gomory, Operations Research 9 (1961), the example with several stock lengths;
# optimum 170 measured (the relaxation is 170 exactly, and this plan meets it)
GILMORE = {2: 20, 3: 10, 4: 20}
GILMORE_STOCK = [Stock("5", 5, 6), Stock("6", 6, 7), Stock("9", 9, 10)]
# published data: Chvatal, Linear Programming (1983), chapter 13; optimum 453 measured (relaxation 452.25)
CHVATAL = {45: 97, 36: 610, 31: 395, 14: 211}
# published: Falkenauer t60_00 of the bin packing collections; optimum 20, with no waste at all
TRIPLETS = (
    "495 474 473 472 466 450 445 444 439 430 419 414 410 395 372 370 366 366 366 363 361 357 355 351 350 350 347"
    " 320 315 307 303 299 298 298 292 288 287 283 275 275 274 273 273 272 272 271 269 269 268 263 262 261 259 258"
    " 255 254 252 252 252 251"
)
# published data: Winston, Operations Research, the lumber yard with 17 ft boards; optimum 19 measured (18.33 by length)
LUMBER = {3: 25, 5: 20, 9: 15}


@pytest.mark.parametrize(
    ("optimum", "needed", "stocks"),
    [
        (73, pieces_of(PAPER), [Stock("master", 5600, 1)]),
        (170, pieces_of(GILMORE), GILMORE_STOCK),
        (453, pieces_of(CHVATAL), [Stock("raw", 100, 1)]),
        (20, pieces(*map(int, TRIPLETS.split())), [Stock("box", 1000, 1)]),
        (19, pieces_of(LUMBER), [Stock("board", 17, 1)]),
    ],
    ids=["thirteen widths", "several stock lengths", "four widths", "triplets", "lumber yard"],
)
def test_published_cutting_sets_are_solved_and_proven(optimum: int, needed: list[Piece], stocks: list[Stock]) -> None:
    plan = cut(needed, stocks)
    assert (optimum, optimum, True) == (plan.cost, plan.bound, plan.proven)
    assert plan_faults(plan, needed, stocks) == ()


def test_first_fit_alone_would_need_82_masters_where_73_do() -> None:
    # measured: first fit decreasing written apart from this one gave 82 as well
    task = task_of(pieces_of(PAPER), [Stock("master", 5600, 1)], 0, ())
    assert max(len(layout) for layout in fitted(task)) == 82


@pytest.mark.parametrize(
    ("lengths", "noggin", "stock"),
    [
        # hand: 4 x 562 + 3 x 3 = 2257 <= 2400, 5 need 2822; 5 in 3000; 8 x 562 + 7 x 3 = 4517 <= 4800
        (4, 562, 2400),
        (3, 562, 3000),
        (2, 562, 4800),
        # hand: 6 x 362 + 5 x 3 = 2187 <= 2400; 8 x 362 + 7 x 3 = 2917 <= 3000; 13 x 362 + 12 x 3 = 4742 <= 4800
        (3, 362, 2400),
        (2, 362, 3000),
        (2, 362, 4800),
    ],
)
def test_fourteen_noggins_with_a_saw_cut_between_them(lengths: int, noggin: int, stock: int) -> None:
    plan = cut(pieces_of({noggin: 14}), [Stock("timber", stock, 500)], kerf=3)
    assert (lengths, 500 * lengths, True) == (len(plan.bins), plan.cost, plan.proven)


def test_the_saw_cut_counts_between_neighbours_only() -> None:
    # hand: 2 x 1198 + 1 x 4 = 2400 just fits; with a cut at the end as well it would not
    assert len(cut(pieces(1198, 1198), [Stock("s", 2400, 1)], kerf=4).bins) == 1
    assert len(cut(pieces(1198, 1199), [Stock("s", 2400, 1)], kerf=4).bins) == 2
    assert cut(pieces(1198, 1198), [Stock("s", 2400, 1)], kerf=4).bins[0].left == 0


def test_cut_to_length_is_one_unbroken_length_of_whole_metres() -> None:
    # hand: 2.4 + 3.3 = 5.7 m in one length of 6 m; two lengths would be 3 + 4 = 7 m
    plan = cut(pieces(24, 33), [], sale=[CutSale("metre", 10, 56)])
    assert Plan((Bin("metre", 60, 336, ("p001", "p000"), 3),), 336, 336, True, "first fit") == plan


def test_a_drum_and_some_metres_cost_less_than_two_drums() -> None:
    # hand: 27 m = 25 m drum 1000 + 2 m at 56 = 1112, against 1900 for 50 m and 27 x 56 = 1512
    plan = cut(pieces(250, 20), [Stock("25", 250, 1000), Stock("50", 500, 1900)], sale=[CutSale("metre", 10, 56)])
    assert [(b.stock, b.length, b.price) for b in plan.bins] == [("25", 250, 1000), ("metre", 20, 112)]
    assert plan.bound == 1112


def test_off_cuts_in_hand_are_used_before_anything_is_bought() -> None:
    # hand: two 1.1 m off-cuts take one 900 each; 900 and 600 are left for one bar; the third off-cut is of no use
    in_hand = [Stock("off-cut 1100", 1100, 0, 2), Stock("off-cut 500", 500, 0, 1)]
    plan = cut(pieces(900, 900, 900, 600), [*in_hand, Stock("2.4", 2400, 430)], kerf=3)
    assert [b.stock for b in plan.bins] == ["2.4", "off-cut 1100", "off-cut 1100"]
    assert (plan.cost, plan.proven) == (430, True)


def test_of_equal_money_the_shorter_length_then_the_fewer_bins_are_bought() -> None:
    # hand: 30 fits into 40 or 50 at one price; 20 + 20 is as much length and money as 40, and one bin more
    assert [b.stock for b in cut(pieces(30), [Stock("50", 50, 9), Stock("40", 40, 9)]).bins] == ["40"]
    assert [b.stock for b in cut(pieces(20, 20), [Stock("20", 20, 4), Stock("40", 40, 8)]).bins] == ["40"]


def test_pieces_that_fit_nothing_are_named_with_the_longest_length_there_is() -> None:
    with pytest.raises(TooLong) as caught:
        cut(pieces(30, 101, 120), [Stock("100", 100, 1), Stock("200", 200, 1, 0)])
    assert (caught.value.keys, caught.value.longest) == (("p001", "p002"), 100)
    with pytest.raises(TooLong) as caught:
        cut(pieces(30), [])
    assert caught.value.longest == 0


def test_limits_that_run_out_are_told_and_told_as_certain() -> None:
    with pytest.raises(NotEnough) as caught:
        cut(pieces(60, 60), [Stock("100", 100, 1, 1)])
    assert caught.value.proven
    with pytest.raises(NotEnough) as caught:  # hand: 180 fits 200 by sum, but 60 + 60 > 100 in each
        cut(pieces(60, 60, 60), [Stock("100", 100, 1, 2)])
    assert caught.value.proven


def test_nothing_needed_is_nothing_bought() -> None:
    assert Plan((), 0, 0, True, "nothing to cut") == cut([], [Stock("100", 100, 1)])


@pytest.mark.parametrize(
    ("needed", "stocks", "kerf"),
    [
        (pieces(0), [Stock("s", 10, 1)], 0),
        (pieces(1), [Stock("s", 10, -1)], 0),
        (pieces(1), [Stock("s", 10, 1, -1)], 0),
        (pieces(1), [Stock("s", 10, 1)], -1),
        (pieces(1), [Stock("s", 10, 1), Stock("s", 20, 2)], 0),
        ([Piece("a", 1), Piece("a", 2)], [Stock("s", 10, 1)], 0),
    ],
)
def test_questions_that_make_no_sense_are_refused(needed: list[Piece], stocks: list[Stock], kerf: int) -> None:
    with pytest.raises(ValueError, match=r"above zero|share a key"):
        cut(needed, stocks, kerf=kerf)


# --- against brute force ---


def partitions(items: list[int]) -> Iterator[list[list[int]]]:
    if not items:
        yield []
        return
    for part in partitions(items[1:]):
        yield [[items[0]], *part]
        for place in range(len(part)):
            yield [*part[:place], [items[0], *part[place]], *part[place + 1 :]]


def brute(lengths: list[int], stocks: list[Stock], kerf: int, sale: list[CutSale]) -> tuple[int, int, int] | None:
    """Least money, then length, then bins, over every way to part the pieces and to buy for each part."""
    best: tuple[int, int, int] | None = None

    def buy(loads: list[int], used: tuple[str, ...], so_far: tuple[int, int, int]) -> None:
        nonlocal best
        if best is not None and so_far >= best:
            return
        if not loads:
            best = so_far
            return
        money, length, bins = so_far
        for stock in stocks:
            free = stock.limit is None or used.count(stock.key) < stock.limit
            if stock.length >= loads[0] and free:
                buy(loads[1:], (*used, stock.key), (money + stock.price, length + stock.length, bins + 1))
        for one in sale:
            units = -(-loads[0] // one.unit)
            buy(loads[1:], used, (money + units * one.price, length + units * one.unit, bins + 1))

    for part in partitions(lengths):
        buy([sum(group) + kerf * (len(group) - 1) for group in part], (), (0, 0, 0))
    return best


stock_lists = st.lists(
    st.tuples(st.integers(5, 60), st.integers(0, 40), st.sampled_from([None, None, None, 0, 1, 2])),
    max_size=4,
).map(lambda rows: [Stock(f"s{number}", *row) for number, row in enumerate(rows)])
sale_lists = st.lists(st.tuples(st.integers(1, 9), st.integers(0, 9)), max_size=2).map(
    lambda rows: [CutSale(f"c{number}", *row) for number, row in enumerate(rows)]
)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(
    st.lists(st.integers(1, 30), min_size=1, max_size=5),
    stock_lists,
    st.sampled_from([0, 0, 1, 2]),
    sale_lists,
)
def test_tiny_tasks_agree_with_brute_force(
    lengths: list[int], stocks: list[Stock], kerf: int, sale: list[CutSale]
) -> None:
    least = brute(lengths, stocks, kerf, sale)
    try:
        plan = cut(pieces(*lengths), stocks, kerf=kerf, sale=sale)
    except (TooLong, NotEnough):
        assert least is None
        return
    assert least is not None
    assert plan.bound <= least[0] <= plan.cost
    assert plan_faults(plan, pieces(*lengths), stocks, kerf=kerf, sale=sale) == ()
    if not (kerf and sale):  # there the saw cuts that several cut lengths spare may leave a gap, told as such
        assert (least, True) == ((plan.cost, sum(b.length for b in plan.bins), len(plan.bins)), plan.proven)


def by_another_solver(lengths: list[int], stocks: list[Stock], kerf: int) -> int:
    """The least cost by an assignment model in CP-SAT: which piece lies in which bin."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    bins = [s for s in stocks for _ in range(len(lengths) if s.limit is None else s.limit)]
    used = [model.new_bool_var("") for _ in bins]
    lies = [[model.new_bool_var("") for _ in bins] for _ in lengths]
    for row in lies:
        model.add_exactly_one(row)
    for place, stock in enumerate(bins):
        load = sum((length + kerf) * row[place] for length, row in zip(lengths, lies, strict=True))
        model.add(load <= (stock.length + kerf) * used[place])
    model.minimize(sum(stock.price * one for stock, one in zip(bins, used, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = 20
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("seed", range(6))
def test_small_tasks_with_several_stocks_agree_with_another_solver(seed: int) -> None:
    chance = random.Random(seed)
    lengths = [chance.randint(80, 240) for _ in range(9)]
    stocks = [
        Stock("25", 250, chance.choice([800, 1000])),
        Stock("50", 500, 1900),
        Stock("100", 1000, 3500),
        Stock("left over", chance.randint(90, 300), 0, 1),
    ]
    kerf = seed % 3
    plan = cut(pieces(*lengths), stocks, kerf=kerf)
    assert (by_another_solver(lengths, stocks, kerf), True) == (plan.cost, plan.proven)


# --- rules that any cutter must keep ---

DRUMS = [Stock("25", 250, 1000), Stock("50", 500, 1900), Stock("100", 1000, 3500)]
METRES = [CutSale("metre", 10, 56)]


def legs(count: int, seed: int, low: int = 8, high: int = 140) -> list[Piece]:
    chance = random.Random(seed)
    return pieces(*(chance.randint(low, high) for _ in range(count)))


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.integers(0, 10**6), st.integers(1, 25))
def test_input_order_never_matters(seed: int, count: int) -> None:
    needed = legs(count, seed)
    shuffled = random.Random(seed + 1).sample(needed, len(needed))
    assert cut(needed, DRUMS, sale=METRES) == cut(shuffled, DRUMS[::-1], sale=METRES)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.integers(0, 10**6), st.integers(1, 25), st.integers(100, 900), st.integers(0, 3000))
def test_one_more_stock_or_off_cut_never_costs_more(seed: int, count: int, length: int, price: int) -> None:
    plan = cut(legs(count, seed), DRUMS)
    more = cut(legs(count, seed), [*DRUMS, Stock("new", length, price)])
    in_hand = cut(legs(count, seed), [*DRUMS, Stock("in hand", length, 0, 1)])
    assert more.bound <= plan.cost
    assert in_hand.bound <= plan.cost
    if plan.proven and more.proven and in_hand.proven:
        assert max(more.cost, in_hand.cost) <= plan.cost


@settings(max_examples=30, deadline=None, derandomize=True)
@given(st.integers(0, 10**6), st.integers(1, 25), st.integers(2, 1000))
def test_other_units_of_length_or_money_change_nothing_but_the_figures(seed: int, count: int, by: int) -> None:
    plan = cut(legs(count, seed), DRUMS, sale=METRES)
    longer = cut(
        [Piece(p.key, p.length * by) for p in legs(count, seed)],
        [Stock(s.key, s.length * by, s.price * 7) for s in DRUMS],
        sale=[CutSale("metre", 10 * by, 56 * 7)],
    )
    bins = tuple(Bin(b.stock, b.length * by, b.price * 7, b.pieces, b.left * by) for b in plan.bins)
    assert (bins, plan.cost * 7, plan.proven) == (longer.bins, longer.cost, longer.proven)


@settings(max_examples=30, deadline=None, derandomize=True)
@given(st.integers(0, 10**6), st.integers(2, 25))
def test_a_longer_piece_never_costs_less_and_first_fit_never_less_than_the_bound(seed: int, count: int) -> None:
    needed = legs(count, seed)
    plan = cut(needed, DRUMS, sale=METRES)
    longer = cut([replace(needed[0], length=needed[0].length + 9), *needed[1:]], DRUMS, sale=METRES)
    assert plan.bound <= longer.cost
    if plan.proven and longer.proven:
        assert plan.cost <= longer.cost
    task = task_of(needed, DRUMS, 0, METRES)
    assert plan.cost <= min(task.weigh(layout) // task.money for layout in fitted(task))


@settings(max_examples=30, deadline=None, derandomize=True)
@given(st.integers(0, 10**6), st.integers(1, 20), st.integers(1, 5))
def test_a_saw_cut_is_the_plain_task_with_all_lengths_grown_by_it(seed: int, count: int, kerf: int) -> None:
    with_kerf = cut(legs(count, seed), DRUMS, kerf=kerf)
    plain = cut(
        [Piece(p.key, p.length + kerf) for p in legs(count, seed)],
        [Stock(s.key, s.length + kerf, s.price) for s in DRUMS],
    )
    assert (plain.cost, plain.proven) == (with_kerf.cost, with_kerf.proven)


@pytest.mark.parametrize("count", [10, 60, 300])
@pytest.mark.parametrize(
    ("stocks", "sale", "low", "high"),
    [
        (DRUMS, METRES, 8, 140),
        ([Stock("25", 250, 800), *DRUMS[1:]], [], 8, 140),
        ([Stock("25", 250, 1000), Stock("50", 500, 2000), Stock("100", 1000, 4000)], [], 8, 140),
        (DRUMS, METRES, 80, 240),
        (
            [Stock("25", 250, 1000), Stock("35", 350, 1330), Stock("50", 500, 1900), Stock("90", 900, 3200)],
            METRES,
            8,
            140,
        ),
    ],
    ids=["ordinary", "offer", "no discount", "long runs", "odd drums"],
)
def test_ordinary_price_lists_are_proven_at_every_size(
    stocks: list[Stock], sale: list[CutSale], low: int, high: int, count: int
) -> None:
    plan = cut(legs(count, count, low, high), stocks, sale=sale)
    assert plan.proven


def test_long_runs_from_cheap_small_drums_are_within_two_in_a_hundred() -> None:
    # regression: the hardest family known to us; the gap is told, and was 0 when this was written
    plan = cut(legs(60, 3, 80, 240), [Stock("25", 250, 800), *DRUMS[1:]])
    assert plan.bound <= plan.cost <= plan.bound * 1.02


def test_an_ordinary_price_list_needs_neither_numpy_nor_a_solver() -> None:
    code = (
        "import sys; from estimator.buying.cutting import cut;"
        "from estimator.buying.stock import CutSale, Piece, Stock;"
        "plan = cut([Piece(str(n), 20 + 7 * n) for n in range(14)], [Stock('25', 250, 1000), Stock('50', 500, 1900)],"
        " sale=[CutSale('m', 10, 56)]);"
        "print(plan.proven, sorted({'numpy', 'highspy', 'scipy', 'ortools'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "True []\n"


def test_two_runs_under_different_hash_seeds_print_the_same_plan() -> None:
    code = (
        "import random; from estimator.buying.cutting import cut;"
        "from estimator.buying.stock import Piece, Stock;"
        "r = random.Random(5); p = [Piece(f'p{i}', r.randint(80, 240)) for i in range(40)];"
        "print(cut(p, [Stock('25', 250, 800), Stock('50', 500, 1900), Stock('100', 1000, 3500)]))"
    )
    outputs = [
        subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            check=True,
            env={"PYTHONHASHSEED": seed},
        ).stdout
        for seed in ("1", "2")
    ]
    assert outputs[0] == outputs[1]
    assert outputs[0].startswith("Plan(")  # and nothing of the solver's own before it


# --- the second look ---


def test_the_second_look_finds_each_kind_of_fault() -> None:
    needed, stocks, sale = pieces(60, 40, 30), [Stock("100", 100, 9, 1)], [CutSale("m", 10, 1)]
    good = cut(needed, stocks, sale=sale)
    first = good.bins[0]
    assert plan_faults(good, needed, stocks, sale=sale) == ()
    wrong = [
        replace(good, cost=good.cost + 1),
        replace(good, bound=good.cost + 1),
        replace(good, bound=good.bound - 1),
        replace(good, bins=good.bins[1:]),
        replace(good, bins=(*good.bins, good.bins[0])),
        replace(good, bins=(replace(first, price=first.price + 1), *good.bins[1:])),
        replace(good, bins=(replace(first, length=first.length + 1), *good.bins[1:])),
        replace(good, bins=(replace(first, left=first.left + 1), *good.bins[1:])),
        replace(good, bins=(replace(first, stock="elsewhere"), *good.bins[1:])),
        Plan((Bin("100", 100, 9, ("p000", "p001", "p002"), -30),), 9, 9, True, ""),
        Plan((Bin("100", 100, 9, ("p000", "p001"), 0), Bin("100", 100, 9, ("p002",), 70)), 18, 18, True, ""),
        Plan((Bin("m", 135, 13, ("p000", "p001", "p002"), 5),), 13, 13, True, ""),
    ]
    assert [plan for plan in wrong if not plan_faults(plan, needed, stocks, sale=sale)] == []
    # hand: 60 + 40 fill 100 exactly, so one saw cut is too much
    assert plan_faults(Plan((Bin("100", 100, 9, ("p000", "p001"), 0),), 9, 9, True, ""), needed[:2], stocks, kerf=1)
