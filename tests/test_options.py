"""Options: what each does to both examples, lengths and counts by hand, a user's own rows, and scenarios that name one."""

import os
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest

from estimator.catalogue.columns import ACTIONS as WORDS
from estimator.catalogue.columns import TABLES
from estimator.catalogue.links import NEEDS
from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import assemble, beside, read_catalogue
from estimator.catalogue.rows import Source
from estimator.compare.changes import Changes, changed
from estimator.compare.differences import differences
from estimator.compare.later import later
from estimator.compare.options import ACTIONS, options_for
from estimator.compare.options_model import Option
from estimator.compare.variants import changes_of, variant
from estimator.estimate import estimate
from estimator.job.model import Scenario
from estimator.job.read import job_tree, parse_job, read_tree
from estimator.job.starter import starter_files
from estimator.job.text import read_text
from estimator.job.tree import Tree
from estimator.problems import Place, Refused
from estimator.resources import read_bytes
from estimator.result import Estimate

D = Decimal
EXAMPLES = Path(__file__).resolve().parent.parent / "examples"
STUDIO, HOUSE = "pottery-studio", "two-storey-house"
SHIPPED = tuple(read_catalogue(None).options)


@cache
def catalogue(example: str) -> Catalogue:
    return read_catalogue(EXAMPLES / example)


@cache
def tree(example: str) -> Tree:
    return job_tree(EXAMPLES / example)[0]


def worked(of: Tree, with_catalogue: Catalogue) -> Estimate:
    return estimate(read_tree(of, with_catalogue)[0], with_catalogue)


@cache
def base(example: str) -> Estimate:
    return worked(tree(example), catalogue(example))


def option(of: Estimate, name: str) -> Option:
    return next(option for option in options_for(of) if option.name == name)


def made(of: Tree, with_catalogue: Catalogue, name: str, plain: Estimate | None = None) -> Estimate:
    """The job with one option, worked out; `plain` is the job without it, where that has been worked out already."""
    found = option(plain or worked(of, with_catalogue), name)
    assert found.changes is not None, found.reason
    one = variant(of, with_catalogue, name, found.changes)
    assert one.estimate is not None, one.problems
    return one.estimate


@cache
def with_option(example: str, name: str) -> Estimate:
    return made(tree(example), catalogue(example), name, base(example))


def altered(example: str, *change: tuple[str, object], remove: tuple[str, ...] = ()) -> Tree:
    return changed(tree(example), Changes(change=change, remove=remove))


def measured(example: str, row: dict[str, str]) -> Tree:
    return changed(tree(example), Changes(add=(("as_built", row),)))


def starter(text: str | None = None) -> Tree:
    return read_text(text or starter_files()["job.toml"], "job.toml")


NOT_HERE = {
    STUDIO: {
        "heater-circuit": "every room that a board serves has one already",
        "heat-alarm": "every room that a board serves has an alarm",
        "trench-by-machine": "every trench is dug by machine already",
    },
    HOUSE: {"trench-by-machine": "every trench is dug by machine already"},
}


# ---- every option on both examples ---------------------------------------------------------------------------------


BOTH = [STUDIO, pytest.param(HOUSE, marks=pytest.mark.slow)]


@pytest.mark.parametrize("example", BOTH)
@pytest.mark.parametrize("name", SHIPPED)
def test_a_shipped_option_makes_a_job_that_works_or_says_why_not(example: str, name: str) -> None:
    found = option(base(example), name)
    assert NOT_HERE[example].get(name, "") == found.reason
    if found.reason:
        assert (None, "") == (found.changes, found.does)
        return
    after = with_option(example, name)
    assert found.does.endswith(".")
    assert [] == [finding for finding in differences(base(example), after).appear if finding.level == "stop"]
    # what was there stays where it was: an option only adds, or puts something larger in its place
    there = {point.id: point.xyz_mm for point in after.setout.points}
    assert [] == [point.id for point in base(example).setout.points if there[point.id] != point.xyz_mm]


@pytest.mark.parametrize("example", BOTH)
def test_a_point_of_an_option_stands_where_no_rule_of_set_out_is_broken(example: str) -> None:
    before = {point.id for point in base(example).setout.points}
    for found in options_for(base(example)):
        if found.changes is None:
            continue
        after = with_option(example, found.name)
        new = {point.id for point in after.setout.points} - before
        told = [finding for finding in after.setout.findings if finding.subject in new]
        assert [] == told, found.name


def test_the_same_job_gives_the_same_options_whatever_the_order_of_hashes() -> None:
    assert options_for(base(STUDIO)) == options_for(worked(tree(STUDIO), catalogue(STUDIO)))
    code = (
        "from pathlib import Path; from estimator.catalogue.read import read_catalogue; from estimator.job.read import read_job;"
        "from estimator.estimate import estimate; from estimator.compare.options import options_for;"
        f"folder = Path({str(EXAMPLES / STUDIO)!r}); rows = read_catalogue(folder);"
        "print(options_for(estimate(read_job(folder, rows)[0], rows)))"
    )
    said = [
        subprocess.run(
            [sys.executable, "-c", code], env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in ("1", "2")
    ]
    assert said[0] == said[1]


def test_every_word_of_the_column_action_has_a_function_and_knows_what_it_needs() -> None:
    assert sorted(WORDS) == sorted(ACTIONS) == sorted(NEEDS)
    assert set(WORDS) == {row.action for row in read_catalogue(None).options.values()}


def test_each_why_is_one_plain_sentence() -> None:
    for row in read_catalogue(None).options.values():
        assert row.why.endswith(".")
        assert 1 == row.why.count(".")
        assert len(row.why) <= 120


# ---- in the ground -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("example", "route", "length", "cut"),
    # hand: trench + two rises of (600 + 450) + two ends of 300 through the wall; two tails of 1000; x 1.05 + 300, up to 100
    # 22000 + 2100 + 600 = 24700; 26700; 28335 -> 28400.    15500 + 2100 + 600 = 18200; 20200; 21510 -> 21600
    [(STUDIO, 24700, 26700, 28400), (HOUSE, 18200, 20200, 21600)],
)
def test_a_spare_duct_is_as_long_as_its_trench_with_its_rises_and_ends(
    example: str, route: int, length: int, cut: int
) -> None:
    after = with_option(example, "spare-duct")
    (duct,) = (run for run in after.routes.runs if run.cable == "duct-50")
    assert (route, length, cut) == (duct.route_mm, duct.length_mm, duct.cut_mm)
    got = {line.part: line.quantity for line in after.takeoff.quantities}
    # hand: a metre of cord for each of duct, and one to tie up at either end; a plug at each end
    assert D(route) / 1000 + 2 == got["draw-cord"]
    assert D(2) == got["duct-plug-50"]
    assert D(length) / 1000 == got["duct-coil-50"]


def test_a_spare_duct_means_no_new_digging_and_all_of_it_later() -> None:
    after = with_option(STUDIO, "spare-duct")
    trench = {(task.task, task.count) for task in base(STUDIO).takeoff.labour if "trench" in task.task}
    assert trench == {(task.task, task.count) for task in after.takeoff.labour if "trench" in task.task}
    afterwards = later(base(STUDIO), after)
    assert afterwards is not None
    # from memory (labour.csv): 25 to 120 minutes a metre to dig and 15 to 50 to fill, 22 m; hand: 40 x 22 / 60 + 30 x 22 / 60
    assert D(70) * 22 / 60 == afterwards.hours.likely


def test_one_duct_in_a_trench_is_enough() -> None:
    one = option(base(STUDIO), "spare-duct").changes
    assert one is not None
    again = option(worked(changed(tree(STUDIO), one), catalogue(STUDIO)), "spare-duct")
    assert "a duct lies in every trench already" == again.reason


def test_without_a_trench_what_lies_in_one_does_not_apply() -> None:
    stretches = [{"in": "building", "length": "20 m"}]
    bare = altered(STUDIO, ("run.feed.stretches", stretches), remove=("trench", "run.data link", "points.D"))
    plain = {found.name: found.reason for found in options_for(worked(bare, catalogue(STUDIO)))}
    for name in ("spare-duct", "trench-services", "trench-by-machine", "trench-by-hand"):
        assert "the job has no trench" == plain[name]
    assert "the job has no data run" == plain["second-data-cable"]


def test_other_services_are_a_duct_and_a_sum_by_the_metre() -> None:
    after = with_option(STUDIO, "trench-services")
    (pipes,) = (one for one in after.job.sums if one.kind == "provisional")
    # hand: 22 m x 12.00, an invented figure
    assert (D("264.00"), "ex") == (pipes.likely, pipes.vat)
    assert ["duct-50"] == [
        run.cable for run in after.job.runs if run.name not in {of.name for of in base(STUDIO).job.runs}
    ]


def own_hours(before: Estimate, after: Estimate) -> tuple[D, D, D]:
    """How many more of one's own hours `after` takes: low, likely, high."""
    one, other = before.budget.hours_self, after.budget.hours_self
    return other.low - one.low, other.likely - one.likely, other.high - one.high


def test_digging_by_hand_takes_the_hire_out_and_the_hours_follow() -> None:
    after = with_option(STUDIO, "trench-by-hand")
    assert "Mini digger with driver, half a day" not in {one.name for one in after.job.sums}
    assert ["by hand"] == [trench.dig for trench in after.job.trenches]
    # from memory: 20, 33, 67 minutes a cubic metre by machine, 167, 267, 800 by hand; hand: 147, 234 and 733 more,
    # x 22 x 0.3 x 0.6 = 3.96 m3
    assert (D("582.12"), D("926.64"), D("2902.68")) == tuple(
        round(60 * hours, 6) for hours in own_hours(base(STUDIO), after)
    )
    assert 'By hand: the trench "lawn" (22.00 m), without "Mini digger with driver, half a day".' == (
        option(base(STUDIO), "trench-by-hand").does
    )


def test_a_digger_that_is_hired_already_is_not_hired_again() -> None:
    of = worked(altered(STUDIO, remove=("trench.lawn.dig",)), catalogue(STUDIO))
    found = option(of, "trench-by-machine")
    assert found.changes == Changes(change=(("trench.lawn.dig", "by machine"),))
    assert found.does.endswith('"Mini digger with driver, half a day" is hired already.')


def test_only_a_trench_that_is_dug_by_machine_takes_the_time_of_one() -> None:
    # from memory: by hand 167, 267, 800 minutes a cubic metre, by machine 20, 33, 67; hand: x 22 x 0.3 x 0.6 = 3.96 m3
    def digging(of: Estimate) -> dict[str, tuple[D, D, D]]:
        return {
            task.task: (task.low_minutes, task.likely_minutes, task.high_minutes)
            for task in of.takeoff.labour
            if "Dig" in task.task
        }

    by_hand = worked(altered(STUDIO, ("trench.lawn.dig", "by hand")), catalogue(STUDIO))
    assert {"Dig by hand: trench-by-hand": (D("661.32"), D("1057.32"), D(3168))} == digging(by_hand)
    assert {"Dig with a mini digger: trench-by-machine": (D("79.2"), D("130.68"), D("265.32"))} == digging(base(STUDIO))


def test_another_word_for_digging_is_told_with_those_that_are_known() -> None:
    with pytest.raises(Refused) as refused:
        read_tree(altered(STUDIO, ("trench.lawn.dig", "by spade")), catalogue(STUDIO))
    assert str(refused.value).endswith('trench.lawn.dig: "by spade" is not known here; write "by hand" or "by machine"')


def test_a_row_that_would_count_digging_by_hand_for_every_trench_is_told() -> None:
    head = "task,who,per,kit,low,likely,high,rate,vat_rate,stage,source\n"
    with pytest.raises(Refused) as refused:
        with_rows(labour=f"{head}Dig by hand,self,trench-metre,trench,25,40,120,,,supply,from memory\n")
    assert (
        'labour.csv:2: kit: "Dig by hand" in the kit "trench" would count for a trench dug by machine too; write '
        "trench-by-hand"
    ) == str(refused.value)


@pytest.mark.parametrize(
    ("length", "amounts"),
    # hand: 18 x 0.3 x 0.6 m = 3.24 m3 x 20, 33, 67 minutes = 1.1, 1.8, 3.6 hours: a day.  200 m = 36 m3: 12, 19.8 and 40.2
    # hours of 8 a day: 2, 3, 6 days
    [("18 m", ("150.00", "150.00", "150.00")), ("200 m", ("300.00", "450.00", "900.00"))],
)
def test_digging_by_machine_hires_it_for_whole_days(length: str, amounts: tuple[str, str, str]) -> None:
    rows = read_catalogue(None)
    job = starter(starter_files()["job.toml"].replace('"18 m"', f'"{length}"'))
    after = made(job, rows, "trench-by-machine")
    (hire,) = (one for one in after.job.sums if one.kind == "hire")
    assert tuple(map(D, amounts)) == (hire.low, hire.likely, hire.high)
    assert ["by machine"] == [trench.dig for trench in after.job.trenches]
    # from memory: 167, 267, 800 minutes a cubic metre by hand, 20, 33, 67 by machine; hand: the difference x that / 60
    dug = D(length.removesuffix(" m")) * D("0.18")
    fewer = tuple(-(more * dug / 60).quantize(D("0.001")) for more in (D(147), D(234), D(733)))
    assert fewer == tuple(hours.quantize(D("0.001")) for hours in own_hours(worked(job, rows), after))


# ---- boards and runs -----------------------------------------------------------------------------------------------


def test_a_feed_goes_up_one_size_and_the_largest_stays() -> None:
    # hand: cables.csv, three-core armoured: 1.5 2.5 4 6 10 16 25
    def feeds(of: Estimate) -> dict[str, str]:
        return {run.name: run.cable for run in of.job.runs if run.name in {board.fed_by for board in of.job.boards}}

    assert {"feed": "swa-3c-16"} == feeds(with_option(STUDIO, "feed-size-up"))
    assert {"supply": "swa-3c-25", "garden feed": "swa-3c-10"} == feeds(with_option(HOUSE, "feed-size-up"))
    assert "Supply stays" in option(base(HOUSE), "feed-size-up").does


def test_boards_go_up_one_size_and_have_more_ways_to_spare() -> None:
    # hand: boards.csv has 4, 6, 8, 10, 12 and 16 ways
    studio, house = with_option(STUDIO, "spare-ways"), with_option(HOUSE, "spare-ways")
    assert base(STUDIO).spare_ways("CU") == 2
    assert studio.spare_ways("CU") == 6
    assert [("CU", 3), ("SB", 3)] == [(name, house.spare_ways(name)) for name in ("CU", "SB")]


def test_every_data_run_gets_a_second_of_the_same_length() -> None:
    for example in (STUDIO, HOUSE):
        had = [run for run in base(example).routes.runs if run.cable.startswith("data-")]
        has = [run for run in with_option(example, "second-data-cable").routes.runs if run.cable.startswith("data-")]
        twice = Counter((run.cable, run.length_mm) for run in had for _ in range(2))
        assert twice == Counter((run.cable, run.length_mm) for run in has)


def test_a_measured_data_run_stays_measured_beside_its_second() -> None:
    ends = {"from": "outside: the router in the house", "to": "D1", "length": "34 m"}
    after = made(measured(STUDIO, ends), catalogue(STUDIO), "second-data-cable")
    lengths = {run.name: run.length_mm for run in after.routes.runs}
    assert 34000 == lengths["data link"]
    assert base(STUDIO).routes.runs[0].planned_mm == lengths["data link, second"]


def test_a_cable_to_a_corner_starts_where_the_data_cables_meet_or_by_the_board() -> None:
    ends = {
        name: [run for run in with_option(HOUSE, name).job.runs if run.name.startswith("cable to")]
        for name in SHIPPED[6:8]
    }
    assert [("DH1", "EX1", "data-cat6")] == [(run.start, run.end, run.cable) for run in ends["camera-cable"]]
    assert [("PX1", "EX1", "alarm-6c")] == [(run.start, run.end, run.cable) for run in ends["alarm-cable"]]
    (box,) = (point for point in with_option(HOUSE, "camera-cable").setout.points if point.id == "EX1")
    # hand: the corner of the L-shaped kitchen at the dining end, wall-1 (3511 mm) to wall-2; 400 mm from its end
    assert ("kitchen", "wall-1", 3111, "outside") == (box.room, box.wall, box.along_mm, box.surface)


# ---- points --------------------------------------------------------------------------------------------------------


def lights_added(example: str, after: Estimate) -> list[tuple[str, str | None, int | None, str | None]]:
    had = {point.id for point in base(example).setout.points}
    return [
        (point.room, point.wall, point.along_mm, point.circuit)
        for point in after.setout.points
        if point.kind == "outside-light" and point.id not in had
    ]


def test_a_door_gets_one_light_beside_it_where_it_has_none() -> None:
    # hand: the studio's door reaches from 600 to 1500 mm, its light stands 250 mm to the right of it
    assert [("studio", "front", 1750, "lights")] == lights_added(STUDIO, with_option(STUDIO, "door-light"))
    # hand: of the four doors to the outside only the side door (wall-3, 1700 to 2550 mm) is dark; on its right stands the
    # corner at 2711 mm, so 250 mm to its left
    assert [("kitchen", "wall-3", 1450, "outside lights")] == lights_added(HOUSE, with_option(HOUSE, "door-light"))


@pytest.mark.slow
def test_without_lights_outside_every_outer_door_gets_one_and_no_inner_door_does() -> None:
    dark = altered(HOUSE, remove=("points.OL", "points.OP", "points.XO", "points.OB", "points.MF"))
    after = made(dark, catalogue(HOUSE), "door-light")
    # hand: front door, garden door, side door, and the one of the garden room
    groups = [group for group in after.job.groups if group.kind == "outside-light"]
    assert 4 == len(groups)
    assert {"hall", "kitchen", "garden room"} == {group.room for group in groups}
    assert "always fed: take one with its own sensor" in option(worked(dark, catalogue(HOUSE)), "door-light").does


def test_a_door_light_goes_with_the_lights_outside_of_its_room() -> None:
    after = with_option(STUDIO, "door-light")
    assert [("W2",)] == [group.switched_by for group in after.job.groups if group.kind == "outside-light"]
    assert "switched by W2" in option(base(STUDIO), "door-light").does


def test_a_circuit_whose_order_is_bound_or_measured_is_left_alone() -> None:
    taped = measured(STUDIO, {"from": "CU", "to": "W2", "circuit": "lights", "length": "6 m"})
    found = option(worked(taped, catalogue(STUDIO)), "door-light")
    assert (
        "studio, wall front: no free place beside the door, or no lighting circuit that may take one more"
        == found.reason
    )


def test_a_heater_gets_a_way_and_a_circuit_of_its_own() -> None:
    after = with_option(HOUSE, "heater-circuit")
    (new,) = (one for one in after.job.circuits if one.name not in {of.name for of in base(HOUSE).job.circuits})
    assert ("CU", "radial", "te-2.5", "rcbo-b16") == (new.board, new.wiring, new.cable, new.device)
    # hand: three ways to spare before
    assert (3, 2) == (base(HOUSE).spare_ways("CU"), after.spare_ways("CU"))
    (heater,) = (point for point in after.setout.points if point.circuit == new.name)
    assert ("living", "heater-outlet", 450) == (heater.room, heater.kind, heater.height_mm)


def test_without_a_free_way_there_is_no_new_circuit() -> None:
    # hand: six circuits and a contactor of three ways take nine
    crowded = altered(STUDIO, ("board.CU.kind", "consumer-unit-8"), remove=("points.H", "circuit.heater"))
    reasons = {found.name: found.reason for found in options_for(worked(crowded, catalogue(STUDIO)))}
    assert "no board that serves a room without one has a free way" == reasons["heater-circuit"]
    assert "no board has a free way" == reasons["car-charger"]


def test_a_charger_stands_outside_by_the_board_and_asks() -> None:
    found = option(base(STUDIO), "car-charger")
    assert "Your electrician and the network operator must agree" in found.does
    (point,) = (one for one in with_option(STUDIO, "car-charger").setout.points if one.kind == "car-charger-outlet")
    # hand: the board hangs at 400 mm; half of 150 mm and 350 mm from the corner: 425 mm
    assert ("left", "outside", 425) == (point.wall, point.surface, point.along_mm)


def test_an_alarm_keeps_300_mm_from_walls_and_lights() -> None:
    (point,) = (
        one for one in with_option(HOUSE, "heat-alarm").setout.points if one.kind == "heat-alarm" and one.group == "CA"
    )
    x, y, _ = point.at
    # hand: the utility room measures 1659 x 2011 mm, and its light hangs at 830, 1000; plates of 110 and 90 mm
    assert 300 <= min(x, 1659 - x, y, 2011 - y)
    assert (110 + 90) / 2 + 300 <= max(abs(x - 830), abs(y - 1000))
    assert ("utility", "alarms") == (point.room, point.circuit)


def test_a_fan_goes_through_an_outer_wall_and_no_stud() -> None:
    for example, room in ((STUDIO, "studio"), (HOUSE, "utility")):
        after = with_option(example, "extract-fan")
        (fan,) = (one for one in after.setout.points if one.group == "EF")
        assert (room, "extract-fan", 2100) == (fan.room, fan.kind, fan.height_mm)
        wall = after.building.room(room).wall(fan.wall or "")
        # published: design, 5 mm from a box to a stud; half of 110 mm
        near = min(
            min(abs(stud.left_mm - (fan.along_mm or 0)), abs(stud.right_mm - (fan.along_mm or 0)))
            for stud in wall.studs
        )
        assert near >= 55 + 5
    assert "right" == fan.wall  # the one wall of the utility room with nothing behind it


def test_a_box_by_the_desk_has_a_cord_from_the_board_through_drilled_holes() -> None:
    after = with_option(HOUSE, "desk-box")
    (cord,) = (run for run in after.routes.runs if run.cable == "draw-cord")
    (box,) = (point for point in after.setout.points if point.id == cord.end)
    # hand: the desk reaches from 1400 to 3200 mm of the back wall; the box 150 mm beside it
    assert ("SB", "garden room", "back", 3350) == (cord.start, box.room, box.wall, box.along_mm)
    # hand: SB on the left wall at 900 along and 1400 up, the box on the back wall at 3350 along and 450 up: 3000 - 900 to the
    # corner between them is 2100, along the back wall 3350, and 950 down; tails 1000 and 200
    assert (2100 + 3350 + 950, 2100 + 3350 + 950 + 1200) == (cord.route_mm, cord.length_mm)
    assert cord.holes.stud > 0


def test_a_box_without_a_cable_stands_on_no_circuit() -> None:
    own = "option,title,why,action,kind,cable,device,height_mm,amount\ndesk-box,Box,So.,box-by-desk,blank-box,,,450,\n"
    rows = with_rows(options=own)
    after = made(tree(STUDIO), rows, "desk-box")
    assert ["none"] == [group.circuit for group in after.job.groups if group.kind == "blank-box"]
    assert len(base(STUDIO).job.runs) == len(after.job.runs)


# ---- a user's own rows ---------------------------------------------------------------------------------------------

HEAD = "option,title,why,action,kind,cable,device,height_mm,amount\n"


def with_rows(**own: str) -> Catalogue:
    shipped = {table.name: Source(table.file, read_bytes("catalogues", table.file)) for table in TABLES}
    theirs = {name: Source(f"{name}.csv", text.encode()) for name, text in own.items()}
    return assemble(shipped, {**beside(EXAMPLES / STUDIO), **theirs})


def test_a_row_of_the_user_s_own_comes_last_and_works() -> None:
    rows = with_rows(
        options=HEAD + "hot-tap,Hot tap,Hands are cold.,wall-circuit,water-heater-outlet,te-4,rcbo-b20,300,\n"
    )
    found = options_for(worked(tree(STUDIO), rows))[-1]
    assert ("hot-tap", "Hot tap", "Hands are cold.") == (found.name, found.title, found.why)
    after = made(tree(STUDIO), rows, "hot-tap")
    (new,) = (one for one in after.job.circuits if one.device == "rcbo-b20" and one.cable == "te-4")
    assert [300] == [point.height_mm for point in after.setout.points if point.circuit == new.name]


def test_what_is_wrong_with_a_row_of_the_user_s_own_is_told_at_once() -> None:
    own = HEAD + "a-tap,Tap,So.,wall-circuit,water-heater-outlt,te-4,,,\n" + "b-tap,Tap,So.,services,,,,,\n"
    with pytest.raises(Refused) as refused:
        with_rows(options=own)
    assert [
        'options.csv:2: device: nothing written, and "wall-circuit" needs it; fill in device',
        'options.csv:2: height_mm: nothing written, and "wall-circuit" needs it; fill in height_mm',
        'options.csv:2: kind: points.csv has no kind "water-heater-outlt"; did you mean "water-heater-outlet"?',
        'options.csv:3: amount: nothing written, and "services" needs it; fill in amount',
    ] == [str(problem) for problem in refused.value.problems]
    with pytest.raises(Refused) as refused:
        with_rows(options=HEAD + "a-tap,Tap,So.,wall-circut,switch,,,,\n")
    assert 'options.csv:2: action: "wall-circut"; did you mean "wall-circuit"?' == str(refused.value)


# ---- scenarios -----------------------------------------------------------------------------------------------------

TEXT = (EXAMPLES / STUDIO / "job.toml").read_text(encoding="utf-8")


def test_an_option_that_is_not_there_is_told_with_the_nearest() -> None:
    with pytest.raises(Refused) as refused:
        parse_job(TEXT.replace('"spare-duct"', '"spare-ducts"'), "job.toml", catalogue(STUDIO))
    line = TEXT[: TEXT.index('"spare-duct"')].count("\n") + 1
    words = f'job.toml:{line}:10: scenario.spare duct.option: options.csv has no option "spare-ducts"; did you mean "spare-duct"?'
    assert words == str(refused.value).partition(" Known: ")[0]


def test_no_circuit_is_wired_in_a_duct_or_a_cord() -> None:
    with pytest.raises(Refused) as refused:
        read_tree(altered(STUDIO, ("circuit.kiln.cable", "duct-50")), catalogue(STUDIO))
    assert ': circuit.kiln.cable: "duct-50" is a duct, which has no cores; name a cable' == str(refused.value)


@pytest.mark.parametrize("example", [STUDIO, HOUSE])
def test_the_scenarios_of_the_examples_work(example: str) -> None:
    options = options_for(base(example))
    assert 3 == len(base(example).job.scenarios)
    for scenario in base(example).job.scenarios:
        changes = changes_of(scenario, options)
        if scenario.option is not None:  # which works: see above
            assert option(base(example), scenario.option).changes == replace(changes, where=f"option.{scenario.option}")
        else:
            assert variant(tree(example), catalogue(example), scenario.name, changes).estimate is not None


def test_a_scenario_comes_to_what_its_option_does() -> None:
    scenario = next(one for one in base(STUDIO).job.scenarios if one.option == "spare-duct")
    changes = changes_of(scenario, options_for(base(STUDIO)))
    assert "scenario.spare duct" == changes.where
    assert scenario.place == changes.place
    one = variant(tree(STUDIO), catalogue(STUDIO), scenario.name, changes)
    assert one.estimate is not None
    alone = with_option(STUDIO, "spare-duct")
    assert (alone.budget.total, alone.order.lines) == (one.estimate.budget.total, one.estimate.order.lines)


def test_what_a_scenario_says_itself_comes_after_its_option() -> None:
    options = options_for(base(STUDIO))
    scenario = Scenario(
        "more",
        change=(("run.duct in lawn.entry", "600 mm"), ("points.S.spread", 13)),
        remove=("run.duct in lawn.ends",),
        option="spare-duct",
    )
    one = variant(tree(STUDIO), catalogue(STUDIO), "more", changes_of(scenario, options))
    assert one.estimate is not None
    (duct,) = (run for run in one.estimate.routes.runs if run.cable == "duct-50")
    # hand: 24700 with rises of 600 + 450; each is 150 longer
    assert (25000, ("", "")) == (duct.route_mm, duct.end_kits)
    assert 13 == sum(point.group == "S" for point in one.estimate.setout.points)
    larger = Scenario("larger", change=(("run.feed.cable", "swa-3c-25"),), option="feed-size-up")
    both = variant(tree(STUDIO), catalogue(STUDIO), "larger", changes_of(larger, options))
    assert both.estimate is not None
    assert "swa-3c-25" == next(run.cable for run in both.estimate.job.runs if run.name == "feed")


def test_an_option_that_does_not_apply_is_told_where_the_scenario_stands() -> None:
    scenario = Scenario("warm", option="heater-circuit", place=Place("job.toml", 7))
    with pytest.raises(Refused) as refused:
        changes_of(scenario, options_for(base(STUDIO)))
    said = str(refused.value)
    assert said.startswith(
        'job.toml:7: scenario.warm.option: the option "heater-circuit" does not apply here: every room that a board serves '
        "has one already; take it out, or write one of: spare-duct, feed-size-up"
    )


def test_a_scenario_without_an_option_is_what_it_says_and_nothing_else() -> None:
    scenario = Scenario("plain", change=(("points.S.spread", 16),))
    assert Changes(change=scenario.change) == replace(changes_of(scenario, ()), where="")


def test_every_option_that_a_new_job_names_applies_to_it() -> None:
    text = starter_files()["job.toml"]
    first, _, others = text.partition('# option = "')[2].partition(" ...")[0].partition('"')
    named = [first, *others.partition("# or ")[2].split(", ")]
    assert 5 == len(named)
    of = worked(starter(), read_catalogue(None))
    assert [] == [name for name in named if option(of, name).changes is None]


def test_the_scenarios_in_the_remarks_of_a_new_job_work_when_the_marks_are_taken_away() -> None:
    text = starter_files()["job.toml"]
    head, _, tail = text.partition("# [[scenario]]")
    block, rest = tail.split("\n\n\n", 1)
    scenarios = "\n".join(line.removeprefix("# ") for line in f"# [[scenario]]{block}".splitlines())
    rows = read_catalogue(None)
    whole = starter(f"{head}{scenarios}\n\n\n{rest}")
    of = worked(whole, rows)
    assert ["six sockets at the bench", "spare duct"] == [one.name for one in of.job.scenarios]
    for scenario in of.job.scenarios:
        one = variant(whole, rows, scenario.name, changes_of(scenario, options_for(of)))
        assert one.estimate is not None, one.problems
