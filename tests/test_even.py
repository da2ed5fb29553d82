"""Even places along a wall and round a room: worked example, cases by hand, and every legal set on short lines."""

import os
import subprocess
import sys
from collections.abc import Iterator
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.setout.even import Even, TooMany, spread_line, spread_round
from estimator.setout.even_chain import Part, _lowest, closest, stretches_of

Intervals = list[tuple[int, int]]
FIXED = settings(max_examples=200, deadline=None, derandomize=True)
CLEARANCES = st.sampled_from([0, 1, 2, 3, 5, 8, 13])

# The worked example of the design, section 6.


def legal_centres(length: int, doors: Intervals) -> Intervals:
    """Centres of a 135 mm box, every mm tried: 5 mm from 38 mm studs, 150 mm from corners, 100 mm from openings."""
    studs = [(0, 38), (length - 38, length)] + [(c - 19, c + 19) for c in range(600, length, 600)]
    studs += [(a - 38, a) for a, _ in doors] + [(b, b + 38) for _, b in doors]
    # all doubled, so that half a millimetre of the box stays whole
    bars = [(2 * a - 10, 2 * b + 10) for a, b in studs] + [(2 * a - 200, 2 * b + 200) for a, b in doors]
    bars += [(-300, 300), (2 * length - 300, 2 * length + 300)]
    good = [x for x in range(length + 1) if all(2 * x + 135 <= a or b <= 2 * x - 135 for a, b in bars)]
    return joined(good)


def joined(places: list[int]) -> Intervals:
    runs: Intervals = []
    for x in places:
        if runs and runs[-1][1] == x - 1:
            runs[-1] = (runs[-1][0], x)
        else:
            runs.append((x, x))
    return runs


def room(walls: list[int], doors: dict[int, Intervals]) -> tuple[int, Intervals, Intervals]:
    at = 0
    legal: Intervals = []
    faces: Intervals = []
    for i, length in enumerate(walls):
        legal += [(at + a, at + b) for a, b in legal_centres(length, doors.get(i, []))]
        faces.append((at, at + length))
        at += length
    return at, legal, faces


def along(even: Even, faces: Intervals) -> list[list[int]]:
    return [[p - start for p in even.places if start <= p < end] for start, end in faces]


def test_twelve_boxes_in_six_by_four_metres_start_at_333_and_move_2602() -> None:
    # published: design, section 6 (box 135 mm, studs 38 mm at 600, door in front 0.6 to 1.5 m)
    length, legal, faces = room([6000, 4000, 6000, 4000], {2: [(600, 1500)]})
    even = spread_round(length, 12, legal, 145, faces)
    assert isinstance(even, Even)
    assert (even.start, even.total) == (333, 2602)
    long, short = [333, 2000, 3692, 5308], [1000, 2666]
    assert [long, short, long, short] == along(even, faces)


def test_evens_of_the_worked_example_are_start_and_sixteen_hundred_and_sixty_six_and_two_thirds() -> None:
    # hand: 333 + k x 20000 / 12, so .67 goes up and .33 down
    length, legal, faces = room([6000, 4000, 6000, 4000], {2: [(600, 1500)]})
    even = spread_round(length, 12, legal, 145, faces)
    assert isinstance(even, Even)
    assert even.evens == (333, 2000, 3666, 5333, 7000, 8666, 10333, 12000, 13666, 15333, 17000, 18666)


def test_a_room_alike_on_both_sides_gets_alike_sides() -> None:
    # hand: without a door the room looks the same turned by half, and 14 is even, so the places do too
    length, legal, faces = room([6000, 4000, 6000, 4000], {})
    even = spread_round(length, 14, legal, 145, faces)
    assert isinstance(even, Even)
    back, right, front, left = along(even, faces)
    assert (back, right) == (front, left)


def test_a_square_room_gets_one_place_a_wall_at_the_first_legal_spot() -> None:
    # hand: corner 150 + half a box 67.5 = 217.5, so 218 is the least start at which nothing moves
    length, legal, faces = room([3000] * 4, {})
    assert Even(218, 0, (218, 3218, 6218, 9218), (218, 3218, 6218, 9218)) == spread_round(length, 4, legal, 145, faces)


# By hand.


def test_three_on_a_free_wall_stand_at_a_sixth_a_half_and_five_sixths() -> None:
    # hand: (k - 1/2) x 6000 / 3
    assert Even(None, 0, (1000, 3000, 5000), (1000, 3000, 5000)) == spread_line(6000, 3, [(0, 6000)], 145)


def test_half_a_millimetre_goes_up_on_a_wall() -> None:
    # hand: 9 / 2 = 4.5
    assert Even(None, 0, (5,), (5,)) == spread_line(9, 1, [(0, 9)], 1)


def test_half_a_millimetre_goes_up_round_the_room() -> None:
    # hand: 0, 2.5, 5, 7.5
    assert Even(0, 0, (0, 3, 5, 8), (0, 3, 5, 8)) == spread_round(10, 4, [(0, 9)], 1, [(0, 10)])


def test_of_two_sides_of_a_stud_the_left_is_taken() -> None:
    # hand: 45 and 55 are both 5 from 50
    assert Even(None, 25, (45,), (50,)) == spread_line(100, 1, [(0, 45), (55, 100)], 1)


def test_clearance_pushes_two_places_apart_by_the_same() -> None:
    # hand: 25 and 75 must be 60 apart: 5 each
    assert Even(None, 50, (20, 80), (25, 75)) == spread_line(100, 2, [(0, 100)], 60)


def test_of_two_equal_pushes_the_list_that_comes_first_is_taken() -> None:
    # hand: 24 and 75 or 25 and 76, both 1
    assert Even(None, 1, (24, 75), (25, 75)) == spread_line(100, 2, [(0, 100)], 51)


def test_clearance_is_kept_across_a_stud() -> None:
    # hand: even 17, 50, 83; 50 goes to 40 or 60, then 23 from 17 or 83, and 24 is asked: that one moves by 1
    legal = [(0, 40), (60, 100)]
    assert Even(None, 101, (16, 40, 83), (17, 50, 83)) == spread_line(100, 3, legal, 24)


def test_a_place_may_move_across_the_start_of_the_line() -> None:
    # hand: 1 and 40 of 100; from 45 and 95 they move -5 and +6, sum 61; 46 and 96 give 61 too and come later
    assert Even(45, 61, (1, 40), (95, 45)) == spread_round(100, 2, [(1, 1), (40, 40)], 1, [(0, 50), (50, 100)])


def test_of_two_sides_of_the_lines_start_the_list_that_comes_first_is_taken() -> None:
    # hand: 15 goes to 14 or, across the start, to 0; starts 0, 1 and 2 need 2, 2 and 3
    legal = [(0, 0), (3, 4), (7, 7), (9, 9), (11, 11), (13, 14)]
    even = Even(3, 1, (0, 3, 7, 11), (15, 3, 7, 11))
    assert even == spread_round(16, 4, legal, 3, [(0, 1), (1, 11), (11, 16)])


def test_of_two_sides_of_the_lines_start_the_first_list_is_taken_where_clearance_rules_out_better_starts() -> None:
    # hand: 0 goes to 1 or, across the start, to 9; start 2 would move nothing, but 2 and 7 are too near on one wall
    faces = [(0, 1), (1, 2), (2, 9), (9, 10)]
    assert Even(0, 1, (1, 5), (0, 5)) == spread_round(10, 2, [(1, 2), (5, 5), (7, 9)], 8, faces)


def test_clearance_does_not_bind_round_a_corner() -> None:
    # hand: 9 and 10 on two walls; even places 5 and 15, or 4 and 14 (25 + 16), 41 at best, 4 first
    assert Even(4, 41, (9, 10), (4, 14)) == spread_round(20, 2, [(9, 10)], 5, [(0, 10), (10, 20)])


def test_clearance_binds_on_one_wall_of_the_same_line() -> None:
    assert TooMany(1) == spread_round(20, 2, [(9, 10)], 5, [(0, 20)])  # hand: 9 and 10 are 1 apart


def test_no_legal_place_at_all_fits_none() -> None:
    assert TooMany(0) == spread_line(1000, 1, [], 100)
    assert TooMany(0) == spread_round(1000, 1, [], 100, [(0, 1000)])


def test_too_many_says_how_many_fit() -> None:
    # hand: 0, 100 and 200 in the first, 300 and 400 in the second
    assert TooMany(5) == spread_line(1000, 6, [(0, 250), (290, 410)], 100)


def test_exactly_as_many_as_fit_are_placed() -> None:
    # hand: one set only: 0, 100, 200, 300, 400; even 100, 300, 500, 700, 900: 100^2 + ... + 500^2
    assert Even(None, 550000, (0, 100, 200, 300, 400), (100, 300, 500, 700, 900)) == spread_line(
        1000, 5, [(0, 200), (300, 300), (400, 400)], 100
    )


def test_places_never_coincide_without_a_clearance() -> None:
    # hand: even 25 and 75; 49 and 50 are nearest
    assert Even(None, 1201, (49, 50), (25, 75)) == spread_line(100, 2, [(49, 50)], 0)


@pytest.mark.parametrize(
    ("n", "legal", "faces"),
    [
        (0, [(0, 9)], [(0, 10)]),
        (1, [(5, 4)], [(0, 10)]),
        (1, [(0, 5), (5, 6)], [(0, 10)]),
        (1, [(-1, 5)], [(0, 10)]),
        (1, [(0, 10)], [(0, 10)]),
        (1, [(0, 9)], [(0, 5), (6, 10)]),
        (1, [(0, 9)], [(0, 9)]),
        (1, [(0, 9)], [(0, 0), (0, 10)]),
        (1, [(0, 9)], []),
    ],
)
def test_input_out_of_order_is_refused(n: int, legal: Intervals, faces: Intervals) -> None:
    with pytest.raises(ValueError, match=r"at least 1|out of order|end to end"):
        spread_round(10, n, legal, 1, faces)


def test_a_legal_place_past_the_wall_is_refused() -> None:
    with pytest.raises(ValueError, match="out of order or not within 0 to 10"):
        spread_line(10, 1, [(0, 11)], 1)


def test_the_result_is_the_same_under_any_hash_seed() -> None:
    code = (
        "from estimator.setout.even import spread_round\n"
        "legal = [(i * 330 + 50, i * 330 + 60 + i * 37 % 200) for i in range(60)]\n"
        "print(spread_round(20000, 50, legal, 145, [(0, 6000), (6000, 10000), (10000, 16000), (16000, 20000)]))"
    )
    said = [
        subprocess.run(
            [sys.executable, "-c", code], env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in ("0", "1")
    ]
    assert said[0].startswith(b"Even(start=")
    assert said[0] == said[1]


# Every legal set on short lines: expected values are found by trying everything (hand, by the rule as written).


def half_up(top: int, bottom: int) -> int:
    whole, rest = divmod(top, bottom)
    return whole + (2 * rest >= bottom)


def wall_of(place: int, faces: Intervals) -> int:
    return next(i for i, (start, end) in enumerate(faces) if start <= place < end)


def legal_sets(legal: Intervals, n: int, apart: int, faces: Intervals) -> Iterator[tuple[int, ...]]:
    for chosen in combinations([x for low, high in legal for x in range(low, high + 1)], n):
        pairs = [(a, b) for a, b in combinations(chosen, 2) if wall_of(a, faces) == wall_of(b, faces)]
        if all(b - a >= apart for a, b in pairs):
            yield chosen


def most_that_fit(legal: Intervals, apart: int, faces: Intervals) -> int:
    n = 0
    while next(legal_sets(legal, n + 1, apart, faces), None) is not None:
        n += 1
    return n


def short_way(a: int, b: int, length: int) -> int:
    return min((a - b) % length, (b - a) % length)


def moves(places: tuple[int, ...], evens: tuple[int, ...], length: int) -> int:
    return sum(short_way(a, b, length) ** 2 for a, b in zip(places, evens, strict=True))


def even_places(length: int, n: int, start: int) -> tuple[int, ...]:
    return tuple(half_up(start * n + k * length, n) % length for k in range(n))


def turned(evens: tuple[int, ...]) -> list[tuple[int, ...]]:
    return [evens[i:] + evens[:i] for i in range(len(evens))]


@st.composite
def lines(draw: st.DrawFn, longest: int, most_legal: int) -> tuple[int, Intervals, Intervals]:
    """Length, legal intervals, faces; the legal places are spread over the line or crowded into a part of it."""
    length = draw(st.integers(8, longest))
    corners = sorted(draw(st.sets(st.integers(1, length - 1), max_size=3)))
    many = draw(st.integers(1, min(most_legal, length)))
    first = draw(st.integers(0, length - many))
    last = draw(st.sampled_from([length - 1, min(first + 2 * many, length - 1)]))
    many = min(many, last - first + 1)
    spots = draw(st.sets(st.integers(first, last), min_size=many, max_size=many))
    return length, joined(sorted(spots)), list(zip([0, *corners], [*corners, length], strict=True))


@FIXED
@given(lines(60, 11), st.integers(1, 4), CLEARANCES)
def test_round_a_short_line_nothing_is_better(line: tuple[int, Intervals, Intervals], n: int, apart: int) -> None:
    length, legal, faces = line
    sets = list(legal_sets(legal, n, apart, faces))
    found = spread_round(length, n, legal, apart, faces)
    if not sets:
        assert TooMany(most_that_fit(legal, apart, faces)) == found
        return
    best = min(
        (moves(places, evens, length), start, places)
        for start in range(length // n + 1)
        for evens in turned(even_places(length, n, start))
        for places in sets
    )
    assert isinstance(found, Even)
    assert best == (found.total, found.start, found.places)
    assert found.evens in turned(even_places(length, n, best[1]))
    assert best[0] == moves(found.places, found.evens, length)


@FIXED
@given(lines(60, 14), st.integers(1, 4), CLEARANCES)
def test_on_a_short_wall_nothing_is_better(line: tuple[int, Intervals, Intervals], n: int, apart: int) -> None:
    length, legal = line[0] - 1, line[1]
    evens = tuple(half_up((2 * k - 1) * length, 2 * n) for k in range(1, n + 1))
    sets = list(legal_sets(legal, n, apart, [(0, length + 1)]))
    found = spread_line(length, n, legal, apart)
    if not sets:
        assert TooMany(most_that_fit(legal, apart, [(0, length + 1)])) == found
        return
    total, places = min((sum((a - b) ** 2 for a, b in zip(p, evens, strict=True)), p) for p in sets)
    assert Even(None, total, places, evens) == found


def closest_by_trying(evens: list[int], legal: Intervals, gap: int, faces: Intervals) -> tuple[int, ...] | None:
    sets = legal_sets(legal, len(evens), gap, faces)
    rows = [(sum((a - b) ** 2 for a, b in zip(places, evens, strict=True)), places) for places in sets]
    return min(rows)[1] if rows else None


@FIXED
@given(lines(60, 13), st.lists(st.integers(-20, 80), min_size=1, max_size=4), st.integers(1, 13))
def test_for_any_even_places_nothing_is_closer(
    line: tuple[int, Intervals, Intervals], spots: list[int], gap: int
) -> None:
    _, legal, faces = line
    evens = sorted(spots)
    best = closest_by_trying(evens, legal, gap, faces)
    if best is None:
        with pytest.raises(ValueError, match=f"{len(evens)} places asked for, {most_that_fit(legal, gap, faces)} fit"):
            closest(evens, stretches_of(legal, faces), gap)
    else:
        assert best == closest(evens, stretches_of(legal, faces), gap)


def test_a_row_pushed_along_may_gain_by_going_on_to_the_next_wall() -> None:
    # hand: 14 stays, 36 is 22 further on, 42 is the first on the next wall and free of it: 0 + 100 + 196
    legal = [(14, 19), (23, 23), (29, 30), (34, 36), (39, 44), (47, 47), (51, 54)]
    faces = [(0, 4), (4, 42), (42, 68)]
    assert closest([14, 26, 28], stretches_of(legal, faces), 22) == (14, 36, 42)
    assert closest_by_trying([14, 26, 28], legal, 22, faces) == (14, 36, 42)


def test_a_place_is_not_kept_where_one_further_on_costs_less() -> None:
    # hand: at x to 10 the row costs 400 + x^2, at 20 it costs 7 + 400: from 3 on, going on to 20 is cheaper
    kept = _lowest(0, iter([Part(20, 20, 0, 0, 7), Part(0, 10, 0, 0, 400)]))
    assert kept == [Part(20, 20, 1, 0, 7), Part(3, 19, 0, 0, 407), Part(0, 2, 1, 0, 400)]


def test_a_sum_above_the_most_allowed_is_no_row() -> None:
    # hand: 25 and 75 pushed to 20 and 80, 60 apart, need 25 + 25
    wall = stretches_of([(0, 100)], [(0, 101)])
    assert closest([25, 75], wall, 60, 50) == (20, 80)
    assert closest([25, 75], wall, 60, 49) is None


# A second, plain way for longer lines: place by place over every legal mm, every start, every turn.

Best = tuple[int, tuple[int, ...]] | None


def plainly(spots: list[int], follows: list[int], evens: tuple[int, ...], length: int) -> Best:
    """The best set for given even places: for each place from the last back, the best rest from every spot on."""
    rest: list[Best] = [(0, ())] * (len(spots) + 1)
    for even in reversed(evens):
        here: list[Best] = [None] * (len(spots) + 1)
        for i in range(len(spots) - 1, -1, -1):
            after = rest[follows[i]]
            known = here[i + 1]
            if after is not None:
                this = (after[0] + short_way(spots[i], even, length) ** 2, (spots[i], *after[1]))
                known = this if known is None else min(known, this)
            here[i] = known
        rest = here
    return rest[0]


def first_free(spots: list[int], apart: int, faces: Intervals) -> list[int]:
    walls = [wall_of(x, faces) for x in spots]
    return [
        next((j for j in range(i + 1, len(spots)) if walls[j] != walls[i] or spots[j] - spots[i] >= apart), len(spots))
        for i in range(len(spots))
    ]


@settings(FIXED, max_examples=250)
@given(lines(100, 50), st.integers(0, 3), CLEARANCES)
def test_round_a_longer_line_nearly_full_a_plain_search_finds_no_better(
    line: tuple[int, Intervals, Intervals], fewer: int, apart: int
) -> None:
    length, legal, faces = line
    full = spread_round(length, length + 1, legal, apart, faces)
    assert isinstance(full, TooMany)
    n = min(max(full.fits - fewer, 1), 9)
    spots = [x for low, high in legal for x in range(low, high + 1)]
    follows = first_free(spots, apart, faces)
    tries = [(f, evens) for f in range(length // n + 1) for evens in turned(even_places(length, n, f))]
    rows = [(f, plainly(spots, follows, evens, length)) for f, evens in tries]
    best = min((row[0], f, row[1]) for f, row in rows if row is not None)
    found = spread_round(length, n, legal, apart, faces)
    assert isinstance(found, Even)
    assert best == (found.total, found.start, found.places)


@FIXED
@given(lines(60, 30), st.integers(1, 5), CLEARANCES)
def test_a_wall_seen_in_a_mirror_needs_the_same_moves(
    line: tuple[int, Intervals, Intervals], n: int, apart: int
) -> None:
    length = line[0] * 2 * n  # so that no even place is rounded, which would not mirror
    legal = [(low * n, high * n + n - 1) for low, high in line[1]]
    one = spread_line(length, n, legal, apart)
    other = spread_line(length, n, [(length - high, length - low) for low, high in reversed(legal)], apart)
    if isinstance(one, TooMany) or isinstance(other, TooMany):
        assert one == other
    else:
        assert one.total == other.total


@FIXED
@given(lines(60, 30), st.integers(1, 6), CLEARANCES)
def test_as_many_as_are_said_to_fit_do(line: tuple[int, Intervals, Intervals], n: int, apart: int) -> None:
    length, legal, faces = line
    over = spread_round(length, length + 1, legal, apart, faces)
    assert isinstance(over, TooMany)
    assert isinstance(spread_round(length, over.fits, legal, apart, faces), Even)
    assert TooMany(over.fits) == spread_round(length, over.fits + n, legal, apart, faces)
