"""Holes in joists: which are at the very end and which outside the drilling zones, by hand, and what is told of them."""

from dataclasses import replace
from decimal import Decimal as D

import pytest

from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.documents.data_routes import drilling_data
from estimator.documents.sheets.drilling import ASKED
from estimator.routing.model import Drilled
from tests import jobs as j
from tests.test_drilling import passage, rows, through
from tests.test_drilling_places import joist, placed
from tests.test_workbook import pottery_studio, told

CHECK = "hole-zone"

# The room is 6000 x 4000 mm; joists lie along y, so each is 4000 mm from wall to wall.
# published (LABC, holes in solid timber joists; NHBC Standards 6.4.18 Table 6): 0.25 to 0.40 of the span from either end
# hand: 0.25 x 4000 = 1000, 0.40 x 4000 = 1600, so 1000 to 1600 and 2400 to 3000 mm along it


def asked(*along: int, x: int = 800, table: Catalogue | None = None) -> tuple[list[str], list[Finding]]:
    """What is marked on holes so far along one joist, one cable of 2.5 mm2 (a bit of 16, as in the tests of places) through each."""
    laid = [(str(y), "te-2.5", through(joist(x, y, depth="220"))) for y in along]
    holes, found = placed(laid, table=table)
    return [hole.ask_first for hole in holes], [one for one in found if one.check == CHECK]


@pytest.mark.parametrize(
    ("mark", "along"),
    [
        ("end", 0),
        ("end", 7),  # hand: 16 / 2 = 8, so its edge would be 1 mm behind the end
        ("zone", 8),
        ("zone", 999),
        ("", 1000),
        ("", 1600),
        ("zone", 1601),
        ("zone", 2399),
        ("", 2400),
        ("", 3000),
        ("zone", 3001),
        ("zone", 3992),
        ("end", 3993),
        ("end", 4000),
    ],
)
def test_a_hole_is_asked_about_at_the_end_of_its_joist_and_outside_its_zones(mark: str, along: int) -> None:
    assert [mark] == asked(along)[0]


def test_a_void_has_one_finding_with_its_figures_and_the_farthest_place() -> None:
    # hand: of 0, 500, 1200 and 2000 the third is in a zone; 0 is 1000 from 1000, 500 is 500, 2000 is 400 from 1600
    marks, found = asked(0, 500, 1200, 2000)
    assert ["end", "zone", "", "zone"] == marks
    assert [("ask", "studio, ceiling", D(0), D(1000), "mm")] == [
        (one.level, one.subject, one.value, one.limit, one.unit) for one in found
    ]
    assert found[0].message == (
        "3 of 4 holes in joists lie outside the part where holes belong, 0.25 to 0.4 of the length from either end; 1 of them "
        "is at the very end, at the wall, where none can be drilled. Farthest off is the joist at x = 800 mm, 0 mm along it: "
        "here holes belong 1000 to 1600 mm from either end (4000 mm from wall to wall). Where else may these cables cross, and "
        "what does the frame's designer say?"
    )
    assert found[0].source == rows().rules[j.RULESET, "joist-hole-zone-from"].source


def test_one_hole_too_near_the_middle_is_told_against_the_far_edge_of_its_zone() -> None:
    _, found = asked(2100)
    assert (D(1900), D(1600)) == (found[0].value, found[0].limit)  # hand: 4000 - 2100 = 1900, at most 1600
    assert found[0].message.startswith("1 of 1 hole in joists lies outside the part where holes belong")
    assert found[0].message.endswith("Can these cables cross elsewhere, or does the frame's designer agree?")


def test_holes_where_they_belong_are_not_told() -> None:
    assert ([""] * 2, []) == asked(1200, 2800)


def test_without_zones_in_the_rules_that_is_unchecked_and_ends_are_told_all_the_same() -> None:
    table = rows()
    kept = {key: rule for key, rule in table.rules.items() if key[1] != "joist-hole-zone-from"}
    marks, found = asked(0, 500, table=replace(table, rules=kept))
    assert ["end", ""] == marks
    assert ["unchecked", "ask"] == [one.level for one in found]
    assert '"joist-hole-zone-from"' in found[0].message
    assert "1 of 2 holes is at the very end, at the wall" in found[1].message


def test_a_hole_in_a_stud_is_not_asked_about_here() -> None:
    holes, found = placed([("a", "te-2.5", through(passage(600, height=20)))])
    assert [""] == [hole.ask_first for hole in holes]
    assert [] == [one for one in found if one.check == CHECK]


def test_the_data_and_the_drilling_list_mark_what_the_studio_has_to_ask_first() -> None:
    # hand: joists of the studio are 4000 mm, zones 1000 to 1600 and 2400 to 3000; at 0 and 4000 a hole is at the very end
    estimate = pottery_studio()
    joists = [hole for hole in estimate.routes.drilled if hole.passage.kind == "joist"]
    assert joists
    data = [drilling_data(hole)["ask_first"] for hole in joists]
    assert [_by_hand(hole) for hole in joists] == data
    members = [str(row[1]) for row in told(estimate, "Drilling") if str(row[1]).startswith("joist ")]
    expected = [ASKED[hole.ask_first] if hole.ask_first else None for hole in joists]
    assert expected == [next((line for line in of.split("\n") if line.startswith("ASK FIRST")), None) for of in members]


def _by_hand(hole: Drilled) -> str | None:
    from_end = min(hole.on_member_mm, 4000 - hole.on_member_mm)
    if from_end * 2 < (hole.bit_mm or 0) or from_end <= 0:
        return "end"
    return None if 1000 <= from_end <= 1600 else "zone"
