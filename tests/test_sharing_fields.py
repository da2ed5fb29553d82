"""Estimates that share a memory against the same estimates by themselves: equal in every field, places among them."""

from collections.abc import Iterable, Sequence
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import read_catalogue
from estimator.compare.changes import Changes, changed
from estimator.compare.compare import EACH, Asked, compare
from estimator.compare.each import Sweep, each
from estimator.compare.variants import Variant, Wanted, variant
from estimator.compare.within import within
from estimator.estimate import estimate
from estimator.job.read import job_tree, read_tree
from estimator.job.tree import Tree
from estimator.memory import NOTHING, Memory, Same
from estimator.problems import Place

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
STUDIO, HOUSE = "pottery-studio", "two-storey-house"
TYPED = Place("typed", 1, 2)
ELSEWHERE = Place("typed", 7, 9)


@cache
def tree(example: str) -> Tree:
    return job_tree(EXAMPLES / example)[0]


@cache
def catalogue(example: str) -> Catalogue:
    return read_catalogue(EXAMPLES / example)


def unlike(one: object, other: object, at: str, seen: set[tuple[int, int]]) -> list[str]:
    """Where two values differ in any field, those that do not count for equality among them."""
    if one is other or (id(one), id(other)) in seen:
        return []
    seen.add((id(one), id(other)))
    if type(one) is not type(other):
        return [f"{at}: {type(one).__name__}, {type(other).__name__}"]
    if is_dataclass(one):
        pairs = [(field.name, getattr(one, field.name), getattr(other, field.name)) for field in fields(one)]
    elif isinstance(one, tuple | list) and isinstance(other, tuple | list):
        if len(one) != len(other):
            return [f"{at}: {len(one)} items, {len(other)} items"]
        pairs = [(str(place), a, b) for place, (a, b) in enumerate(zip(one, other, strict=True))]
    elif hasattr(one, "items") and hasattr(other, "items"):
        if list(one) != list(other):  # type: ignore[call-overload]  # both are mappings
            return [f"{at}: other keys"]
        pairs = [(str(key), one[key], other[key]) for key in one]  # type: ignore[index, attr-defined]  # likewise
    else:
        return [] if repr(one) == repr(other) else [f"{at}: {one!r}, {other!r}"]
    return [told for name, a, b in pairs for told in unlike(a, b, f"{at}.{name}", seen)]


def same(shared: object, alone: object) -> None:
    """Equal in every field; `repr` tells 1 from 1.0 and 2.50 from 2.5."""
    assert [] == unlike(alone, shared, "", set())[:5]


def both(example: str, memory: Memory, asked: Changes) -> tuple[Variant, Variant]:
    """The variant with the memory and without any."""
    return (
        variant(tree(example), catalogue(example), "it", asked, memory),
        variant(tree(example), catalogue(example), "it", asked, NOTHING),
    )


def test_two_values_that_differ_in_nothing_but_a_place_are_told_apart() -> None:
    """The test of the test: places do not count for equality, and must count here."""
    one = read_tree(tree(STUDIO))[0]
    other = replace(one, groups=(*one.groups[:-1], replace(one.groups[-1], place=ELSEWHERE)))
    assert one == other
    assert 3 == len(unlike(one, other, "", set()))  # file, line and column
    assert unlike(one, other, "", set())[0].startswith(f".groups.{len(one.groups) - 1}.place")


SOCKET = {
    "name": "X", "kind": "single-socket", "circuit": "bench sockets", "room": "studio", "height": "300 mm",
    "at": [{"wall": "left", "along": "2.2 m"}],
}  # fmt: skip

one_change = st.one_of(
    st.tuples(st.just("points.S.spread"), st.integers(7, 13)),
    st.tuples(st.just("points.DL.columns"), st.integers(3, 5)),
    st.tuples(st.just("points.SL.spread"), st.integers(4, 7)),
    st.tuples(st.just("points.S.height"), st.sampled_from(["1.1 m", "1.05 m"])),
    st.tuples(st.just("room.studio.height"), st.sampled_from(["2.5 m", "2.4 m"])),
    st.tuples(st.just("allowances.contingency"), st.sampled_from(["5 %", "12 %"])),
    st.tuples(st.just("allowances.cable_waste"), st.sampled_from(["0 %", "8 %"])),
    st.tuples(st.just("allowances.kerf"), st.sampled_from(["3 mm", "5 mm"])),
    st.tuples(st.just("buying.max_merchants"), st.integers(1, 3)),
    st.tuples(st.just("buying.trips"), st.integers(1, 2)),
    st.tuples(st.just("buying.in_hand"), st.just([])),
)
some_changes = st.builds(
    Changes,
    change=st.lists(one_change, min_size=1, max_size=2, unique_by=lambda pair: pair[0]).map(tuple),
    remove=st.sampled_from([(), ("points.FA",), ("points.D", "run.data link")]),
    add=st.sampled_from([(), (("points", SOCKET),)]),
    place=st.sampled_from([TYPED, ELSEWHERE]),
)


@settings(max_examples=5, deadline=None)
@given(asked=st.lists(some_changes, min_size=2, max_size=3))
def test_variants_of_the_studio_that_share_are_what_they_are_alone(asked: Sequence[Changes]) -> None:
    memory = Memory()
    for changes in (*asked, asked[0]):
        shared, alone = both(STUDIO, memory, changes)
        same(shared, alone)


def test_a_change_written_elsewhere_tells_its_own_place() -> None:
    memory = Memory()
    for place in (TYPED, ELSEWHERE):
        for changes in (
            Changes(change=(("points.S.spread", 12),), place=place),
            Changes(change=(("points.S", tree(STUDIO).data["points"][0]),), place=place),  # type: ignore[index]  # a list
            Changes(change=(("points", tree(STUDIO).data["points"]),), place=place),
            Changes(change=(("room.studio.height", "2.5 m"), ("buying", tree(STUDIO).data["buying"])), place=place),
            Changes(add=(("points", SOCKET),), place=place),
            Changes(remove=("points.FA",), place=place),
        ):
            shared, alone = both(STUDIO, memory, changes)
            assert alone.estimate is not None, alone.problems
            same(shared, alone)


ONE_AFTER_ANOTHER = {
    "metres counted for waste": ("allowances.cable_waste", "5 %", "30 %"),
    "metres counted for each leg": ("allowances.leg_extra", "300 mm", "1 m"),
    "tails": ("allowances.tails.box", "200 mm", "900 mm"),
    "saw cuts": ("allowances.kerf", "3 mm", "60 mm"),
    "timber in hand": ("buying.in_hand", [{"part": "timber-38x89", "length": "1.2 m", "count": 4}], []),
    "who may be bought from": ("buying.max_merchants", 3, 1),
    "trips": ("buying.trips", 1, 2),
    "studs": ("frame.centres", "600 mm", "400 mm"),
    "wiring of a circuit": ("circuit.bench sockets.wiring", "radial", "ring"),
}


@pytest.mark.parametrize(("address", "one", "other"), ONE_AFTER_ANOTHER.values(), ids=ONE_AFTER_ANOTHER.keys())
def test_a_value_that_counts_is_not_taken_for_another(address: str, one: object, other: object) -> None:
    memory = Memory()
    first, _ = both(STUDIO, memory, Changes(change=((address, one),), place=TYPED))
    shared, alone = both(STUDIO, memory, Changes(change=((address, other),), place=TYPED))
    assert first.estimate is not None
    assert alone.estimate is not None, alone.problems
    same(shared, alone)
    assert unlike(first.estimate.order, alone.estimate.order, "", set())  # else the value would not count


def test_money_on_a_finer_scale_is_not_taken_for_money_on_a_coarser() -> None:
    """All money of a purchase is whole numbers of one unit, and a part that is left out may have asked for a finer one."""
    without = Changes(remove=("points.FA",), place=TYPED)
    plain, fewer = (variant(tree(STUDIO), catalogue(STUDIO), "", of).estimate for of in (Changes(), without))
    assert plain is not None
    assert fewer is not None
    only = {of.part for of in plain.order.bought} - {of.part for of in fewer.order.bought}
    assert only  # the fan's own parts
    rows = tuple(
        replace(row, price=row.price + Decimal("0.0001")) if row.part in only else row for row in plain.catalogue.prices
    )
    finer, memory = replace(plain.catalogue, prices=rows), Memory()
    for changes in (Changes(), without, Changes()):
        same(variant(tree(STUDIO), finer, "", changes, memory), variant(tree(STUDIO), finer, "", changes))


@pytest.mark.slow
@pytest.mark.parametrize(
    "changes",
    [
        Changes(change=(("points.MS.spread", 5),), place=TYPED),
        Changes(change=(("points.MS.spread", 5), ("allowances.contingency", "0 %")), place=ELSEWHERE),
        Changes(remove=("points.LS",), place=TYPED),
    ],
)
def test_variants_of_the_house_that_share_are_what_they_are_alone(changes: Changes) -> None:
    memory = Memory()
    variant(tree(HOUSE), catalogue(HOUSE), "as it is", Changes(), memory)
    shared, alone = both(HOUSE, memory, changes)
    assert alone.estimate is not None, alone.problems
    same(shared, alone)


def dearer(of: Catalogue) -> Catalogue:
    """The same catalogue with every price ten times as high."""
    return replace(of, prices=tuple(replace(row, price=row.price * 10) for row in of.prices))


def wasteful(of: Catalogue) -> Catalogue:
    """The same catalogue with half as much again of every part lost."""
    return replace(
        of, parts={name: replace(part, waste=part.waste + Decimal("0.5")) for name, part in of.parts.items()}
    )


def moved(of: Catalogue) -> Catalogue:
    """The same catalogue with every price row written elsewhere: equal to it, but for places."""
    return replace(of, prices=tuple(replace(row, place=ELSEWHERE) for row in of.prices))


def test_another_catalogue_never_meets_what_is_remembered_of_the_first() -> None:
    first, memory = catalogue(STUDIO), Memory()
    job, _ = read_tree(tree(STUDIO))
    totals = []
    for of in (first, dearer(first), wasteful(first), moved(first), first):
        shared = estimate(job, of, memory)
        same(shared, estimate(job, of))
        assert shared.catalogue is of
        totals.append(shared.budget.total)
    assert totals[0] == totals[3] == totals[4]
    assert totals[0] < totals[2] < totals[1]


def test_a_sweep_gives_what_each_value_gives_by_itself() -> None:
    sweep = Sweep("points.S.spread", 8, 14)
    memory = Memory()
    first = each(tree(STUDIO), catalogue(STUDIO), sweep, EACH, memory)
    same(each(tree(STUDIO), catalogue(STUDIO), sweep, EACH, memory), first)  # all of it remembered
    same(first, each(tree(STUDIO), catalogue(STUDIO), sweep, EACH, NOTHING))
    assert list(range(8, 15)) == [step.value for step in first]


def ranked(names: Iterable[str]) -> Tree:
    """The studio with a priority on some groups."""
    changes = tuple((f"points.{name}.priority", rank) for rank, name in enumerate(names, 1))
    return changed(tree(STUDIO), Changes(change=changes))


def test_a_limit_chooses_the_same_with_a_memory_and_without() -> None:
    wished = ranked(("DL", "FA", "OS"))
    job, _ = read_tree(wished, catalogue(STUDIO))
    base = estimate(job, catalogue(STUDIO))
    limit = base.budget.total - Decimal(60)
    alone = within(wished, catalogue(STUDIO), base, limit, TYPED, NOTHING)
    assert alone.left_out  # there is something to choose
    same(within(wished, catalogue(STUDIO), base, limit, TYPED), alone)


def test_a_comparison_is_made_of_what_each_scenario_gives_by_itself() -> None:
    wished = (
        Wanted("more", Changes(change=(("points.S.spread", 13),), place=TYPED)),
        Wanted("fewer merchants", Changes(change=(("buying.max_merchants", 1),), place=TYPED)),
        Wanted("none such", Changes(change=(("points.nothing.spread", 13),), place=TYPED)),
    )
    job, _ = read_tree(tree(STUDIO), catalogue(STUDIO))
    base = estimate(job, catalogue(STUDIO))
    found = compare(tree(STUDIO), catalogue(STUDIO), base, Asked(wished, (Sweep("points.S.spread", 12, 13),)))
    for column, one in zip(found.columns, wished, strict=True):
        same(column.variant, variant(tree(STUDIO), catalogue(STUDIO), one.name, one.changes))
    for step in found.swept[0].steps:
        changes = Changes(change=(("points.S.spread", step.value),), place=EACH)
        same(step.variant, variant(tree(STUDIO), catalogue(STUDIO), str(step.value), changes))


def test_what_does_not_count_for_a_stage_leaves_its_result_the_very_object() -> None:
    memory = Memory()
    first, _ = both(STUDIO, memory, Changes())
    money, _ = both(STUDIO, memory, Changes(change=(("allowances.contingency", "20 %"),), place=TYPED))
    points, _ = both(STUDIO, memory, Changes(change=(("points.S.spread", 13),), place=TYPED))
    assert first.estimate is not None
    assert money.estimate is not None
    assert points.estimate is not None
    assert first.estimate.routes is money.estimate.routes
    assert first.estimate.order is money.estimate.order
    assert first.estimate.budget.total < money.estimate.budget.total
    assert first.estimate.routes is not points.estimate.routes
    assert first.estimate.building is points.estimate.building


def test_a_memory_asks_once_for_a_key_and_nothing_asks_every_time() -> None:
    for memory, times in ((Memory(), 1), (NOTHING, 2)):
        asked: list[int] = []
        for _ in range(2):
            assert 7 == memory.recall(("seven", 1), lambda asked=asked: asked.append(1) or 7)  # type: ignore[misc]
        assert times == len(asked)
    assert Same("a" * 3) != Same("".join(["a"] * 3))


def test_what_fails_is_asked_for_again() -> None:
    memory = Memory()
    with pytest.raises(ZeroDivisionError):
        memory.recall(("a", 1), lambda: 1 // 0)
    assert 5 == memory.recall(("a", 1), lambda: 5)
