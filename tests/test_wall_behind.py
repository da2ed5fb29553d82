"""What is in the wall of the room behind, on the drawing of a wall and in its table. Expected values are `hand`."""

import re
from collections.abc import Sequence
from functools import cache

import pytest

from estimator.documents.wall_zones import render_wall_zones
from estimator.drawings.svg import INK
from estimator.drawings.wall_network import wall_drawing
from estimator.drawings.wall_network_view import View, wall_views
from estimator.result import Estimate
from estimator.routing.zone_findings import Stretch
from tests.shed import HEAD, worked

# The shed is 6 x 4 m; the store behind its right wall 3 x 3 m, with its lowest corner 500 further back and its floor 100
# lower: y = 500 + along of the store's left wall, and along of the shed's right wall is 4000 - y.
STORE = """
[[room]]
name = "store"
size = ["3.0 m", "3.0 m"]
at = ["6089 mm", "0.5 m"]
floor_level = "{level}"
height = "2.4 m"

[[points]]
name = "S"
kind = "double-socket"
circuit = "sockets"
room = "store"
height = "1.1 m"
at = [{{ wall = "left", along = "0.5 m" }}, {{ wall = "left", along = "2.3 m" }}]

[[circuit]]
name = "sockets"
board = "CU"
wiring = "radial"
cable = "te-2.5"
device = "rcbo-b20"
"""


@cache
def store(level: str = "-100 mm") -> Estimate:
    return worked(HEAD + STORE.format(level=level))


def view(of: Estimate, room: str, wall: str) -> View:
    return next(one for one in wall_views(of) if (one.wall.room, one.wall.name) == (room, wall))


def test_boxes_of_the_room_behind_are_seen_mirrored_and_at_their_level() -> None:
    behind = view(store(), "shed", "right").behind
    # 4000 - 500 - 500 and 4000 - 500 - 2300; 1100 - 100
    assert [("store", "left", 89)] == [(of.room, of.wall, of.gap_mm) for of in behind]
    assert [("S2", 1200, 1000), ("S1", 3000, 1000)] == [(of.name, of.along_mm, of.up_mm) for of in behind[0].things]


def test_cables_of_the_room_behind_are_seen_where_they_run() -> None:
    # one lane between the two, from 500 to 2300 there, and the one riser to the ceiling they share
    cables = [of for of, _ in view(store(), "shed", "right").behind[0].cables]
    assert ("lane", 1000, 1200, 3000) in [(of.kind, of.at_mm, of.low_mm, of.high_mm) for of in cables]
    there = {(of.kind, of.at_mm) for of in view(store(), "store", "left").stretches}
    mirrored = {("lane", at + 100) if kind == "lane" else ("riser", 3500 - at) for kind, at in seen(cables)}
    assert mirrored == there


def seen(cables: Sequence[Stretch]) -> list[tuple[str, int]]:
    return [(of.kind, of.at_mm) for of in cables]


def test_a_wall_with_nothing_of_its_own_is_drawn_for_what_is_behind_it() -> None:
    here = view(store("0 m"), "shed", "right")
    assert not here.things
    assert not here.stretches
    assert not here.bare
    assert "<h3>Right wall of shed</h3>" in render_wall_zones(store("0 m"))


def test_the_drawing_has_its_boxes_dotted_and_its_table_says_where_they_are() -> None:
    drawn = wall_drawing(view(store(), "shed", "right"), "w", "Right").drawing
    # scale 1:50: dots of 0.4 and 0.9 mm are 20 and 45; a box of 135 x 72 about 3000, 1000
    dotted = re.findall(rf'<path d="([^"]*)"[^>]*stroke="{INK}"[^>]*stroke-dasharray="20 45"', drawn.svg)
    assert 1 == len(dotted)
    assert "M2932.5 -964H3067.5V-1036H2932.5Z" in dotted[0]
    assert "S1</text>" in drawn.svg
    assert "Of the room behind, 2 boxes and boards" in drawn.svg
    page = render_wall_zones(store())
    table = page.partition('<caption class="hidden">Right wall of shed:')[2].partition("</table>")[0]
    rows = [
        [re.sub("<[^>]+>", "", cell) for cell in re.findall("<t[hd].*?</t[hd]>", row)] for row in table.split("<tr>")
    ]
    where = "in the left wall of store, 89 mm from face to face of the frames"
    assert ["behind", "3000", "1000", f"S1, {where}", ""] in rows
    cable = next(row for row in rows if row[:3] == ["behind", "1200 to 3000", "1000"])
    assert f"cable {where}" == cable[3]
    assert "sockets: " in cable[4]


@pytest.mark.parametrize("level", ["2.6 m", "-2.6 m"])
def test_a_wall_of_another_storey_is_not_behind(level: str) -> None:
    boxes = STORE.format(level=level).partition("[[circuit]]")[0].replace('circuit = "sockets"', 'circuit = "none"')
    assert () == view(worked(HEAD + boxes), "shed", "right").behind


def test_what_the_shed_has_is_seen_from_the_store_too() -> None:
    text = HEAD + STORE.format(level="0 m").replace('room = "store"', 'room = "shed"').replace(
        'wall = "left"', 'wall = "right"'
    )
    behind = view(worked(text), "store", "left").behind
    # 4000 - 500 - 500 lies 3000 along there: at its end; 4000 - 500 - 2300
    assert [("S2", 1200), ("S1", 3000)] == [(of.name, of.along_mm) for of in behind[0].things]
