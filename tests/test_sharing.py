"""Work that variants of a job share changes nothing: every file of data, places and all, is the same with and without."""

from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import read_catalogue
from estimator.compare.changes import Changes
from estimator.compare.each import Sweep, each
from estimator.compare.variants import Variant, variant
from estimator.documents.data import render_data
from estimator.job.read import job_tree
from estimator.job.tree import Tree
from estimator.memory import Memory
from estimator.problems import Place

EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
TYPED = Place("--change")


@cache
def catalogue(example: str) -> Catalogue:
    return read_catalogue(EXAMPLES / example)


@cache
def tree(example: str) -> Tree:
    return job_tree(EXAMPLES / example)[0]


SHARED = Memory()
"""One memory for all random changes below, so that any of them may meet what an earlier one left."""


def told(one: Variant) -> bytes:
    """Everything that a variant comes to, the places of bill lines in it; or what is wrong with it."""
    if one.estimate is None:
        return "\n".join(str(problem) for problem in one.problems).encode()
    findings = repr(one.estimate.findings) + repr(one.estimate.order.lines) + repr(one.estimate.takeoff.quantities)
    return render_data(one.estimate) + findings.encode()


@settings(max_examples=12, deadline=None)
@given(
    spread=st.integers(3, 24),
    waste=st.sampled_from(["0 %", "5 %", "9 %"]),
    centres=st.sampled_from(["600 mm", "400 mm"]),
    feed=st.sampled_from(["swa-3c-10", "swa-3c-16", "swa-3c-99"]),
    without=st.sampled_from([(), ("points.OS",), ("allowances.contingency",)]),
)
def test_what_is_shared_is_what_would_be_worked_out(
    spread: int, waste: str, centres: str, feed: str, without: tuple[str, ...]
) -> None:
    values = {
        "points.S.spread": spread,
        "allowances.cable_waste": waste,
        "frame.centres": centres,
        "run.feed.cable": feed,
    }
    changes = Changes(change=tuple(values.items()), remove=without, place=TYPED)
    alone = variant(tree("pottery-studio"), catalogue("pottery-studio"), "", changes)
    shared = variant(tree("pottery-studio"), catalogue("pottery-studio"), "", changes, SHARED)
    assert told(alone) == told(shared)


@pytest.mark.slow
def test_the_house_is_the_same_with_what_is_shared() -> None:
    memory, name = Memory(), "two-storey-house"
    group = next(group["name"] for group in tree(name).data["points"] if "spread" in group)  # type: ignore[attr-defined]  # a list of tables
    for count in (3, 4, 3):
        changes = Changes(change=((f"points.{group}.spread", count),), place=TYPED)
        alone = variant(tree(name), catalogue(name), "", changes)
        assert told(alone) == told(variant(tree(name), catalogue(name), "", changes, memory))


def test_a_range_is_worked_out_alike_with_a_memory_that_knows_other_jobs() -> None:
    sweep = Sweep("points.S.spread", 10, 13)
    fresh = each(tree("pottery-studio"), catalogue("pottery-studio"), sweep, TYPED)
    again = each(tree("pottery-studio"), catalogue("pottery-studio"), sweep, TYPED, SHARED)
    assert [told(step.variant) for step in fresh] == [told(step.variant) for step in again]


def test_another_price_list_never_meets_what_was_kept_for_the_first() -> None:
    memory = Memory()
    plain = variant(tree("pottery-studio"), catalogue("pottery-studio"), "", Changes(), memory)
    other = read_catalogue(EXAMPLES / "two-storey-house")
    alone = variant(tree("pottery-studio"), other, "", Changes())
    assert told(alone) == told(variant(tree("pottery-studio"), other, "", Changes(), memory))
    assert told(alone) != told(plain)
