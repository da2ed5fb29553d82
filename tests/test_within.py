"""A spending limit: the choice against every other choice, against another solver, and plans priced by the whole engine."""

from collections.abc import Iterator
from decimal import Decimal
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import read_catalogue
from estimator.compare.changes import Changes, changed
from estimator.compare.choice import ALL_OF, Kept, Thing, best_within
from estimator.compare.leaving_out import leaving_out
from estimator.compare.variants import variant
from estimator.compare.within import within
from estimator.documents.compare_words import within_words
from estimator.estimate import estimate
from estimator.job.read import job_tree, read_tree
from estimator.job.starter import starter_files
from estimator.job.text import read_text
from estimator.job.tree import Tree
from estimator.problems import Place, Refused
from estimator.result import Estimate

D = Decimal
EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
TYPED = Place("--within")

things = st.lists(st.tuples(st.integers(1, 3), st.integers(1, 6)), min_size=1, max_size=7).map(
    lambda rows: [Thing(f"G{number:02}", *row) for number, row in enumerate(rows)]
)


def subsets(these: list[Thing]) -> Iterator[Kept]:
    names = [thing.name for thing in these]
    for size in range(len(names) + 1):
        yield from (frozenset(some) for some in combinations(names, size))


def worth(these: list[Thing], kept: Kept) -> tuple[int, ...]:
    return tuple(sum(t.points for t in these if t.priority == p and t.name in kept) for p in (1, 2, 3))


@settings(max_examples=60)
@given(these=things, seed=st.integers(0, 10**6), limit=st.integers(0, 400))
def test_the_choice_is_the_best_of_all_choices_whatever_they_cost(these: list[Thing], seed: int, limit: int) -> None:
    def price(kept: Kept) -> Decimal | None:
        # prices that do not add up, some choices impossible
        mixed = sum((ord(name[-1]) * 7919 + seed) % 97 for name in sorted(kept)) + (seed * (len(kept) + 1)) % 53
        return None if mixed % 11 == 0 else D(mixed)

    found = best_within(these, price, D(limit))
    had = [kept for kept in subsets(these) if (total := price(kept)) is not None and total <= limit]
    if not had:
        assert found is None
        return
    assert found is not None
    best = max(worth(these, kept) for kept in had)
    assert best == worth(these, found.kept)
    assert min(price(kept) or D(0) for kept in had if worth(these, kept) == best) == found.total
    assert found.proven


def test_a_larger_choice_is_as_good_as_another_solver_s() -> None:
    # OR-Tools CP-SAT as an oracle: prices that add up, twelve things of two priorities; hand: weights 1000 and 1
    from ortools.sat.python import cp_model

    these = [Thing(f"G{number:02}", 1 + number % 2, 1 + (number * 5) % 7) for number in range(12)]
    costs = {thing.name: 20 + (number * 37) % 61 for number, thing in enumerate(these)}
    for limit in (0, 60, 150, 320, 800):
        model = cp_model.CpModel()
        keep = {thing.name: model.new_bool_var(thing.name) for thing in these}
        model.add(sum(costs[name] * keep[name] for name in keep) <= limit)
        model.maximize(sum((1000 if t.priority == 1 else 1) * t.points * keep[t.name] for t in these))
        solver = cp_model.CpSolver()
        assert cp_model.OPTIMAL == solver.solve(model)
        found = best_within(these, lambda kept: D(sum(costs[name] for name in kept)), D(limit))
        assert found is not None
        assert (round(solver.objective_value)) == sum(
            (1000 if t.priority == 1 else 1) * t.points for t in these if t.name in found.kept
        )
        assert not found.proven
        assert len(these) > ALL_OF


def test_more_things_than_can_be_looked_through_are_refused() -> None:
    with pytest.raises(ValueError, match="more than 16"):
        best_within([Thing(f"G{number}", 1, 1) for number in range(17)], lambda _: D(0), D(0))


# ---- With the engine -----------------------------------------------------------------------------------------------


@cache
def catalogue(example: str) -> Catalogue:
    return read_catalogue(EXAMPLES / example)


@cache
def base(example: str) -> Estimate:
    found = variant(job_tree(EXAMPLES / example)[0], catalogue(example), "", Changes()).estimate
    assert found is not None
    return found


@pytest.mark.slow
@pytest.mark.parametrize("example", ["pottery-studio", "two-storey-house"])
def test_most_groups_can_be_left_out_whole(example: str) -> None:
    whole = base(example)
    refused = []
    for group in whole.job.groups:
        changes = leaving_out(whole.job, whole.setout, [group.name], TYPED)
        one = variant(job_tree(EXAMPLES / example)[0], catalogue(example), group.name, changes)
        if one.estimate is None:
            refused.append((group.name, str(one.problems[0])))
        else:
            assert group.name not in {point.group for point in one.estimate.setout.points}
            assert one.estimate.budget.total < whole.budget.total
    # what cannot go by itself is a switch that lights go by, or the far end of what feeds another group
    reasons = ("switched_by", "is on no circuit, run or control")
    assert [] == [row for row in refused if not any(reason in row[1] for reason in reasons)]


def with_priorities(*rows: tuple[str, int]) -> Tree:
    tree = job_tree(EXAMPLES / "pottery-studio")[0]
    return changed(tree, Changes(change=tuple((f"points.{name}.priority", number) for name, number in rows)))


def worked(tree: Tree) -> Estimate:
    found = variant(tree, catalogue("pottery-studio"), "", Changes()).estimate
    assert found is not None
    return found


def test_what_is_left_out_goes_by_the_priorities_of_the_user() -> None:
    names = [group.name for group in base("pottery-studio").job.groups if group.kind != "switch"][:3]
    tree = with_priorities(*((name, number) for number, name in enumerate(names, 1)))
    whole = worked(tree)
    everything = within(tree, catalogue("pottery-studio"), whole, whole.budget.total, TYPED)
    assert ((), whole.budget.total) == (everything.left_out, everything.plan and total(everything.plan.estimate))
    less = within(tree, catalogue("pottery-studio"), whole, whole.budget.total - D("0.01"), TYPED)
    assert less.plan is not None
    assert total(less.plan.estimate) < whole.budget.total
    assert [names[-1]] == [out.group for out in less.left_out]  # a penny short: what matters least goes first
    assert whole.budget.total == less.left_out[0].with_it
    nothing = within(tree, catalogue("pottery-studio"), whole, D(1), TYPED)
    assert (None, ()) == (nothing.plan, nothing.kept)
    assert nothing.least is not None


def total(estimate: Estimate | None) -> Decimal:
    assert estimate is not None
    return estimate.budget.total


def test_a_job_without_priorities_is_told_what_to_write() -> None:
    tree = job_tree(EXAMPLES / "pottery-studio")[0]
    data = [{key: value for key, value in group.items() if key != "priority"} for group in tree.data["points"]]  # type: ignore[attr-defined]
    plain = changed(tree, Changes(change=(("points", data),)))
    with pytest.raises(Refused) as refused:
        within(plain, catalogue("pottery-studio"), worked(plain), D(900), TYPED)
    assert "no group has a priority; write priority = 1, 2, 3 ..." in str(refused.value)


def test_a_group_that_is_no_job_by_itself_says_why_and_with_what_it_would_be_one() -> None:
    text = starter_files()["job.toml"].replace('wiring = "radial"', 'wiring = "ring"', 1)
    text = text.replace("on      = { left = 1, front = 1 }", "on      = { left = 1 }\npriority = 1")
    text = text.replace("on      = { back = 4 }", "on      = { back = 4 }\npriority = 2")
    tree, catalogue = read_text(text, "job.toml"), read_catalogue(None)
    job, _ = read_tree(tree, catalogue)
    base = estimate(job, catalogue)
    # what the job comes to without either: both go, and S alone would be a ring of one point
    least = within(tree, catalogue, base, base.budget.total - 1, TYPED).least
    assert least is not None
    found = within(tree, catalogue, base, least, TYPED)
    one, other = found.left_out
    assert (("S", ("B",), None), ("B", (), True)) == (
        (one.group, one.needs, one.with_it),
        (other.group, other.needs, other.with_it is not None),
    )
    told = within_words(found, "GBP")[1]
    assert told == (
        "Left out: S (1 point, priority 1); it cannot be had without B, which is left out too (circuit.sockets.wiring: a ring "
        'goes round two points or more, and S1 is its only one; to have it alone write wiring = "radial")'
    )
