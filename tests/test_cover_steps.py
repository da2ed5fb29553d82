"""The least weight that covers so many cells, kept as steps, against trying every number of every thing."""

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from estimator.buying.bounds import NEVER, _Stairs

LAST = 30
things = st.lists(st.tuples(st.integers(0, 12), st.integers(1, 20), st.sampled_from([1, 3, None])), max_size=3)


def every_way(these: list[tuple[int, int, int | None]], cell: int) -> int:
    """The lightest of all numbers of these (step, weight, most; None: any number) that cover so many cells."""
    ranges = [range((LAST if most is None else most) + 1) if step else range(1) for step, _, most in these]
    return min(
        (
            sum(count * weight for count, (_, weight, _) in zip(counts, these, strict=True))
            for counts in product(*ranges)
            if sum(count * step for count, (step, _, _) in zip(counts, these, strict=True)) >= cell
        ),
        default=NEVER,
    )


@given(these=things, cell=st.integers(0, LAST))
def test_steps_give_the_lightest_of_all_ways(these: list[tuple[int, int, int | None]], cell: int) -> None:
    row = _Stairs([0], [0])
    for step, weight, most in these:
        if most is None:
            row = row.with_any_number(step, weight, LAST)
        for _ in range(most or 0):
            row = row.with_one(step, weight, LAST)
    assert every_way(these, cell) == row.least(cell)


@given(these=things)
def test_steps_rise_and_none_covers_less_for_as_much(these: list[tuple[int, int, int | None]]) -> None:
    row = _Stairs([0], [0])
    for step, weight, _ in these:
        row = row.with_any_number(step, weight, LAST)
    assert sorted(set(row.cells)) == row.cells
    assert sorted(set(row.weights)) == row.weights
