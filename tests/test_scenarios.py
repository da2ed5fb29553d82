"""Scenarios: addresses, changes to a job's tree, and totals equal to those of the job with the change written into it."""

import re
from decimal import Decimal
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import read_catalogue
from estimator.compare.address import Found, find
from estimator.compare.changes import Changes, changed, value_of
from estimator.compare.differences import differences
from estimator.compare.each import Sweep, each, sweep_of
from estimator.compare.variants import changes_of, variant
from estimator.estimate import estimate
from estimator.job.read import job_tree, parse_job, read_tree
from estimator.job.text import read_text
from estimator.problems import Place, Problem, Refused
from estimator.quantities import Wrong
from tests.job_texts import POTTERY

D = Decimal
STUDIO = Path(__file__).resolve().parent.parent / "examples" / "pottery-studio"
TYPED = Place("--change")


@cache
def catalogue() -> Catalogue:
    return read_catalogue(STUDIO)


# ---- Addresses -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("address", "path"),
    [
        ("title", ("title",)),
        ("points.S.spread", ("points", 0, "spread")),
        ('circuit."bench sockets".cable', ("circuit", 1, "cable")),
        ("circuit.bench sockets.cable", ("circuit", 1, "cable")),
        ("room.studio.opening[1].width", ("room", 0, "opening", 0, "width")),
        ("trench.lawn.stretches[1].depth", ("trench", 0, "stretches", 0, "depth")),
        ("allowances.tails.box", ("allowances", "tails", "box")),
    ],
)
def test_an_address_leads_where_messages_say(address: str, path: tuple[str | int, ...]) -> None:
    assert Found(path, True) == find(read_text(POTTERY, "job.toml"), address)


def test_the_last_part_of_an_address_may_be_a_key_that_is_not_written_yet() -> None:
    assert Found(("points", 0, "load"), False) == find(read_text(POTTERY, "job.toml"), "points.S.load")


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("points.SS.spread", '"points.SS.spread" names nothing: there is no "SS" in points; did you mean "S"?'),
        ("point.S.spread", '"point.S.spread" names nothing: there is no "point" at the top of the job; did you mean "points"?'),
        ("room.studio.opening[7].width", '"room.studio.opening[7].width" names nothing: there is no item 7 in room.studio.opening; '
         "its items are numbered: [1] to [1]"),
        ("title.x.y", '"title.x.y" names nothing: there is no "x" in title; a value stands there, with nothing inside it'),
        ("points..S", '"points..S" is no address; write for example points.S.spread or circuit."my ring".cable'),
        ("", "the address is empty; write for example points.S.spread"),
    ],
)  # fmt: skip
def test_an_address_that_names_nothing_is_told_with_the_nearest(address: str, words: str) -> None:
    wrong = find(read_text(POTTERY, "job.toml"), address)
    assert isinstance(wrong, Wrong)
    assert words == f"{wrong.found}; {wrong.write}"


# ---- Changes -------------------------------------------------------------------------------------------------------


def test_a_value_that_is_set_stands_where_the_change_was_written() -> None:
    tree = changed(read_text(POTTERY, "job.toml"), Changes(change=(("points.S.spread", "many"),), place=TYPED))
    with pytest.raises(Refused) as refused:
        read_tree(tree)
    assert '--change: points.S.spread: "many" is not a whole number' in str(refused.value)


def test_what_is_taken_out_is_gone_and_the_rest_keeps_its_places() -> None:
    before = read_text(POTTERY, "job.toml")
    after = changed(before, Changes(remove=("points.DL",)))
    names = [group["name"] for group in after.data["points"]]  # type: ignore[attr-defined]  # a list of tables
    assert ["S", "W", "ES", "GO"] == names
    assert before.place(("points", 2)) == after.place(("points", 1))
    assert "spread" not in changed(before, Changes(remove=("points.S.spread",))).data["points"][0]  # type: ignore[index]


def test_what_is_added_joins_the_list() -> None:
    more = {"name": "X", "kind": "double-socket", "room": "studio", "circuit": "none", "height": "1 m", "spread": 2}
    after = changed(read_text(POTTERY, "job.toml"), Changes(add=(("points", more),)))
    job, _ = read_tree(after)
    assert "X" == job.groups[-1].name


def test_every_address_that_names_nothing_is_told_at_once() -> None:
    wrong = Changes(change=(("points.Q.spread", 3),), remove=("circuit.none",), place=TYPED, where="scenario.more")
    with pytest.raises(Refused) as refused:
        changed(read_text(POTTERY, "job.toml"), wrong)
    assert ["scenario.more.change", "scenario.more.remove"] == [one.where for one in refused.value.problems]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("16", 16),
        ("te-2.5", "te-2.5"),
        ('"4 mm"', "4 mm"),
        ("4 mm", "4 mm"),
        ("true", True),
        ('["a"]', ["a"]),
        ("x'", "x'"),
    ],
)
def test_a_typed_value_is_read_as_the_job_file_has_it_or_as_text(text: str, value: object) -> None:
    assert value == value_of(text)


def test_a_change_leaves_the_tree_it_was_made_from_alone() -> None:
    tree = read_text(POTTERY, "job.toml")
    changed(tree, Changes(change=(("points.S.spread", 3),), remove=("points.DL",)))
    assert read_text(POTTERY, "job.toml") == tree


# ---- Totals --------------------------------------------------------------------------------------------------------

CHANGES: dict[str, tuple[str, str]] = {
    "spread   = 12": ("points.S.spread", "spread   = {}"),
    'cable_waste = "5 %"': ("allowances.cable_waste", "cable_waste = {}"),
    'centres    = "600 mm"': ("frame.centres", "centres    = {}"),
}


def written(text: str, address: str, value: object) -> str:
    """The job with a value written into the line that has it."""
    key = address.split(".")[-1]
    shown = f'"{value}"' if isinstance(value, str) else str(value)
    block = {"points.S.spread": r'(name\s*=\s*"S"\n(?:.*\n)*?spread\s*=\s*)[^\n#]+'}.get(
        address, rf"(\n\s*{key}\s*=\s*)[^\n#]+"
    )
    changed_text, count = re.subn(block, lambda found: f"{found[1]}{shown}", text, count=1)
    assert 1 == count
    return changed_text


@settings(max_examples=8, deadline=None)
@given(
    spread=st.integers(4, 20),
    waste=st.sampled_from(["0 %", "5 %", "12 %"]),
    contingency=st.sampled_from(["0 %", "10 %", "15 %"]),
)
def test_a_scenario_comes_to_what_the_job_does_with_the_change_written_into_it(
    spread: int, waste: str, contingency: str
) -> None:
    changes = {"points.S.spread": spread, "allowances.cable_waste": waste, "allowances.contingency": contingency}
    text = (STUDIO / "job.toml").read_text(encoding="utf-8")
    for address, value in changes.items():
        text = written(text, address, value)
    job, _ = parse_job(text, "job.toml", catalogue())
    whole = estimate(job, catalogue())
    one = variant(job_tree(STUDIO)[0], catalogue(), "some", Changes(change=tuple(changes.items())))
    assert one.estimate is not None
    assert whole.budget.total == one.estimate.budget.total
    assert whole.order.lines == one.estimate.order.lines


def test_a_scenario_of_the_job_file_says_where_it_stands() -> None:
    job, _ = parse_job(POTTERY)
    (scenario,) = job.scenarios
    assert (("points.S.spread", 16),) == changes_of(scenario, ()).change
    assert "scenario.sixteen sockets" == changes_of(scenario, ()).where


def test_an_impossible_scenario_is_told_and_has_no_estimate() -> None:
    one = variant(job_tree(STUDIO)[0], catalogue(), "crowd", Changes(change=(("points.S.spread", 300),), place=TYPED))
    assert one.estimate is None
    assert one.problems


def test_differences_of_a_job_with_itself_are_none() -> None:
    job, _ = parse_job((STUDIO / "job.toml").read_text(encoding="utf-8"), "job.toml", catalogue())
    whole = estimate(job, catalogue())
    same = differences(whole, whole)
    assert D(0) == same.total
    assert ((), (), (), (), (), (), (), ()) == (
        same.packs, same.metres, same.points, same.holes, same.hours, same.appear, same.gone, same.reworded,
    )  # fmt: skip


# ---- The price of the next one -------------------------------------------------------------------------------------


def test_each_step_costs_the_difference_of_two_totals() -> None:
    steps = each(job_tree(STUDIO)[0], catalogue(), Sweep("points.S.spread", 11, 13), TYPED)
    totals = [step.total for step in steps]
    assert [None, *(b - a for a, b in pairwise(totals) if a and b)] == [step.price for step in steps]
    assert [11, 12, 13] == [step.value for step in steps]
    (row,) = steps[1].since.points if steps[1].since else ()
    assert ("double-socket", D(11), D(12)) == (row.name, row.before, row.after)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("points.S.spread=8..", '--each: points.S.spread: the range "8.." has no end; write 8..24'),
        ("points.S.spread=9..8", "--each: points.S.spread: the range ends before it starts (9..8); write 8..9"),
        ("points.S.spread=1..900", "--each: points.S.spread: 900 values are too many; ask for 200 or fewer"),
        ("points.S.spread", '--each: "points.S.spread" has no address; write an address and a range of whole numbers: '
         "points.S.spread=8..24"),
        ("points.S.spread=few", '--each: points.S.spread: "few" is no range; write an address and a range of whole numbers: '
         "points.S.spread=8..24"),
    ],
)  # fmt: skip
def test_a_range_that_is_none_is_told(text: str, words: str) -> None:
    found = sweep_of(text, Place("--each"))
    assert isinstance(found, Problem)
    assert words == str(found)
