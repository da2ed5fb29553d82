"""Cutting: rules that any cutter must keep, families of price lists, and the second look at a finished plan."""

import random
import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.buying.cutting import cut
from estimator.buying.fill import fitted
from estimator.buying.stock import Bin, CutSale, Piece, Plan, Stock
from estimator.buying.task import task_of
from estimator.buying.verify import plan_faults


def pieces(*lengths: int) -> list[Piece]:
    return [Piece(f"p{number:03}", length) for number, length in enumerate(lengths)]


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


@settings(max_examples=30, deadline=None, derandomize=True)
@given(st.integers(0, 10**6), st.integers(1, 20), st.integers(1, 9))
def test_trim_is_the_plain_task_with_all_stocks_shorter_by_it(seed: int, count: int, trim: int) -> None:
    trimmed = cut(legs(count, seed), DRUMS, trim=trim)
    plain = cut(legs(count, seed), [Stock(s.key, s.length - trim, s.price) for s in DRUMS])
    assert (plain.cost, plain.proven) == (trimmed.cost, trimmed.proven)


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
