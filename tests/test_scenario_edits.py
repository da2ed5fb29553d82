"""What to write to make a scenario part of the job: pasted as told, the job is the scenario; and where options put things."""

import html
import json
import re
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import read_catalogue
from estimator.compare.changes import Changes, changed
from estimator.compare.compare import Asked, compare
from estimator.compare.edits import Edit, edits_of, toml
from estimator.compare.model import Column, Comparison
from estimator.compare.options import options_for
from estimator.compare.puts import Put
from estimator.compare.variants import Wanted, changes_of
from estimator.documents.compare_data import as_data
from estimator.documents.compare_edits import edit_words
from estimator.documents.compare_page import render_comparison_page
from estimator.documents.compare_says import put_words
from estimator.documents.compare_text import as_text
from estimator.estimate import estimate
from estimator.job.measured import with_measured
from estimator.job.model import Scenario
from estimator.job.read import parse_job, read_tree
from estimator.job.text import read_text
from estimator.job.tree import Tree
from estimator.problems import Place
from tests.shed import STUDIO, shipped, sockets

HOUSE = STUDIO.parent / "two-storey-house"
OPTIONS = tuple(shipped().options)


@cache
def catalogue(example: Path) -> Catalogue:
    return read_catalogue(example)


@cache
def text_of(example: Path) -> str:
    return (example / "job.toml").read_text(encoding="utf-8")


@cache
def tree_of(example: Path) -> Tree:
    return read_text(text_of(example), "job.toml")


@cache
def all_options(example: Path) -> Comparison:
    """Every option of an example that applies, as a scenario of its own."""
    rows, tree = catalogue(example), tree_of(example)
    base = estimate(read_tree(tree, rows)[0], rows)
    found = options_for(base)
    scenarios = [
        Wanted(one.name, changes_of(Scenario(one.name, option=one.name), found), one)
        for one in found
        if one.changes is not None
    ]
    return compare(tree, rows, base, Asked(tuple(scenarios)))


def pasted(text: str, edits: tuple[Edit, ...]) -> str:
    """A text with edits made one after another, as a person would: by line, with nothing known of the job."""
    lines = text.splitlines()
    for edit in edits:
        at, column = edit.place.line - 1, edit.place.column - 1
        if edit.does == "append" and not edit.table:
            lines += ["", *edit.lines]
        elif edit.does == "replace":
            key = edit.old.partition(" = ")[0]
            rest = re.sub(
                rf"^{re.escape(key)}\s*=\s*(\"[^\"]*\"|[^,}}#\s]+)", edit.lines[0], lines[at][column:], count=1
            )
            assert rest != lines[at][column:]
            lines[at] = lines[at][:column] + rest
        elif edit.does == "write":
            lines[at + 1 : at + 1] = edit.lines
        elif edit.does == "take-out" and edit.old:
            assert lines[at].strip().replace(" ", "").startswith(edit.old.replace(" ", ""))
            del lines[at]
        elif edit.does == "take-out":
            end = next((n for n in range(at + 1, len(lines)) if lines[n].startswith("[")), len(lines))
            del lines[at:end]
        else:
            raise AssertionError(edit)
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("example", [STUDIO, pytest.param(HOUSE, marks=pytest.mark.slow)])
def test_what_is_pasted_for_an_option_makes_the_job_that_was_priced(example: Path) -> None:
    columns = all_options(example).columns
    assert len(columns) >= 12
    for column in columns:
        gone = tuple(edit for edit in column.edits if "[[scenario]]" not in edit.table)
        assert len(gone) == len(column.edits) - 1
        job, _ = parse_job(pasted(text_of(example), gone), "job.toml", catalogue(example))
        assert column.variant.estimate is not None
        assert column.variant.estimate.job == job, column.variant.name


def test_lines_to_paste_are_told_from_the_end_of_the_file_up() -> None:
    for column in all_options(STUDIO).columns:
        lines = [edit.place.line or 10**6 for edit in column.edits]
        assert sorted(lines, reverse=True) == lines


def column(name: str, example: Path = STUDIO) -> Column:
    return next(one for one in all_options(example).columns if one.variant.name == name)


def test_an_option_says_where_its_points_are_as_they_are_in_the_job() -> None:
    for one in all_options(STUDIO).columns:
        assert one.variant.estimate is not None
        places = {point.id: point for point in one.variant.estimate.setout.points}
        for put in one.puts:
            point = places[put.point]
            assert (point.room, point.wall, point.along_mm, point.height_mm) == (
                put.room, put.wall, put.along_mm, put.height_mm,
            )  # fmt: skip
    # hand: the studio's door reaches from 600 to 1500 mm; 250 mm to the right of it, 2 m up (options.csv)
    (put,) = column("door-light").puts
    assert (
        "EL1, outside light: studio, wall front, outside, 1.75 m from its left end, 2 m above the floor"
        == put_words(catalogue(STUDIO), put)
    )
    assert () == column("feed-size-up").puts


def test_a_point_on_a_ceiling_is_told_from_the_lowest_corner() -> None:
    put = Put("CA1", "heat-alarm", "kitchen", "ceiling", None, None, None, (2400, 1500))
    words = "CA1, heat alarm: kitchen, ceiling, 2.4 m along x and 1.5 m along y from its lowest corner"
    assert words == put_words(catalogue(STUDIO), put)


def says(change: Changes, text: str) -> list[tuple[str, tuple[str, ...]]]:
    found = edits_of(read_text(text, "folder/job.toml"), change)
    return [(one.says, one.lines) for one in edit_words(found)]


SHED = sockets(6)


def line_of(text: str, what: str) -> int:
    return text[: text.index(what)].count("\n") + 1


@pytest.mark.parametrize(
    ("change", "at", "told"),
    [
        (
            Changes(change=(("points.S.spread", 8),)),
            "spread = 6",
            ('job.toml, line {}, in [[points]] "S": in place of spread = 6 write', ("spread = 8",)),
        ),
        (
            Changes(change=(("points.S.load", "2 kW"),)),
            "[[points]]",
            ('job.toml, line {}, in [[points]] "S": write below that line', ('load = "2 kW"',)),
        ),
        (
            Changes(change=(("room.shed.ceiling.insulation", "100 mm"),)),
            "{ joist",
            ('job.toml, line {}, in [[room]] "shed", ceiling: write into the braces', ('insulation = "100 mm"',)),
        ),
        (
            Changes(change=(("room.shed.ceiling.centres", "600 mm"),)),
            '"400 mm"',
            (
                'job.toml, line {}, in [[room]] "shed", ceiling: in place of centres = "400 mm" write',
                ('centres = "600 mm"',),
            ),
        ),
        (
            Changes(change=(("frame.outside", ["11 mm sheathing"]),)),
            "outside = [",
            (
                'job.toml, line {}, in [frame]: in place of outside = ["11 mm sheathing", "20 mm cladding"] write',
                ('outside = ["11 mm sheathing"]',),
            ),
        ),
        (Changes(remove=("points.S",)), "[[points]]", ('job.toml, line {}: take out [[points]] "S"', ())),
        (
            Changes(remove=("room.shed.opening[1]",)),
            "[[room.opening]]",
            ('job.toml, line {}: take out [[room]] "shed", opening, item 1', ()),
        ),
        (
            Changes(remove=("frame.insulation",)),
            'insulation = "none"',
            ('job.toml, line {}, in [frame]: take out insulation = "none"', ()),
        ),
        (
            Changes(add=(("room.shed.opening", {"kind": "window"}),)),
            "[[room]]",
            ('job.toml, line {}, [[room]] "shed": write at the end of it', ("[[room.opening]]", 'kind = "window"')),
        ),
    ],
)
def test_each_sort_of_change_is_told_by_its_line(change: Changes, at: str, told: tuple[str, tuple[str, ...]]) -> None:
    assert [(told[0].format(line_of(SHED, at)), told[1])] == says(change, SHED)
    changed(read_text(SHED, "job.toml"), change)  # and it is one that can be made


def test_a_list_in_brackets_is_joined() -> None:
    text = f'sum = [{{ name = "a", kind = "fee", amount = "1", vat = "none" }}]\n{SHED}'
    more = Changes(add=(("sum", [{"name": "b", "kind": "fee", "amount": "2", "vat": "none"}]),))
    told = (
        "job.toml, line 1, the list [[sum]]: write into it",
        ('{ name = "b", kind = "fee", amount = "2", vat = "none" },',),
    )
    assert [told] == says(more, text)


def test_a_scenario_of_the_job_file_goes_when_it_is_done() -> None:
    change = Changes(change=(("points.S.spread", 8),), place=Place("job.toml", 90, 1), where='scenario."1.5 m more"')
    assert 'job.toml, line 90: take out [[scenario]] "1.5 m more"' == says(change, SHED)[0][0]


@pytest.mark.parametrize(
    "value", [True, 16, 'a "b" \\ ½ \t', ["a", 1], {"low": "£1", "a b": [{"x": False}]}, {}, [], "\x7f"]
)
def test_a_value_comes_back_as_it_was_written(value: object) -> None:
    assert {"key": value} == read_text(f"key = {toml(value)}\n", "x").data


def test_what_has_no_toml_is_our_own_mistake() -> None:
    with pytest.raises(TypeError):
        toml(object())


def test_a_measured_length_beside_the_job_is_told_by_its_row_and_column(tmp_path: Path) -> None:
    (tmp_path / "as-built.csv").write_text("from,to,length\nCU,S1,3 m\n", encoding="utf-8")
    tree, problems = with_measured(read_text(SHED, str(tmp_path / "job.toml")), tmp_path / "as-built.csv")
    assert () == problems
    (edit,) = edits_of(tree, Changes(change=(("as_built[1].circuit", "sockets"),)))
    (told,) = edit_words((edit,))
    assert ("as-built.csv, line 2: write into the column circuit", ("sockets",)) == (told.says, told.lines)


@cache
def limited(limit: str, first: Changes | None = None) -> Comparison:
    tree, rows = tree_of(STUDIO), catalogue(STUDIO)
    base = estimate(read_tree(tree, rows)[0], rows)
    return compare(tree, rows, base, Asked(limit=Decimal(limit), first=first))


def test_what_is_pasted_for_a_limit_makes_the_job_that_it_buys() -> None:
    found = limited("2100").within
    assert found is not None
    assert found.plan is not None
    assert found.plan.estimate is not None
    assert found.left_out
    job, _ = parse_job(pasted(text_of(STUDIO), found.edits), "job.toml", catalogue(STUDIO))
    # Leaving groups out takes lines away, so what stays stands on other lines: the money is the same.
    assert found.plan.estimate.budget.total == estimate(job, catalogue(STUDIO)).budget.total


def test_the_page_the_text_and_the_data_tell_what_to_write_for_a_limit() -> None:
    of = limited("2100")
    page = render_comparison_page(of)
    assert of.within is not None
    told = edit_words(of.within.edits)
    assert told
    section = page.partition('<h2 id="write">')[2].partition("<h2")[0]
    assert '<h3 class="free">Within £2,100.00</h3>' in section
    assert all(html.escape(one.says, quote=False) in html.unescape(section) for one in told)
    assert '<a href="#write">' in page.partition('<h2 id="limit">')[2].partition("<h2")[0]
    assert "To make it part of the job:" in as_text(of)
    assert len(told) == len(json.loads(as_data(of))["within"]["write"])


def test_a_limit_that_starts_from_a_change_or_leaves_nothing_out_has_nothing_to_write() -> None:
    first = Changes(change=(("points.S.spread", 14),), place=Place("--change"))
    started, enough = limited("2150", first), limited("9000")
    for of in (started, enough):
        assert of.within is not None
        assert () == of.within.edits
        assert 'id="write"' not in render_comparison_page(of)
    assert started.within is not None
    assert started.within.left_out
    assert "Make that part of the job first" in render_comparison_page(started)
    assert "Make that part of the job first" not in render_comparison_page(enough)
