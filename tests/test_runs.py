"""Runs, controls and supports: the worked run, rises, end kits, loops of buttons, clips by published bands."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

import pytest

import tests.jobs as j
from estimator.catalogue.model import Cable, Catalogue
from estimator.job.model import Board, Control, Dig, Frame, Job, Run, Stretch, Trench
from estimator.problems import Refused
from estimator.routing.model import Path, Piece, RunRoute
from estimator.routing.supports import support_findings, supports
from tests.wires import HOLE_RULES, cell, routed, squared, trade

ARMOURED = replace(
    j.cable("swa-3c-10", "10", "10", "19.5", "19.5", cores=3, end_in="gland-in", end_out="gland-out"), metal="armour"
)
LAWN = Trench("lawn", (Dig(22_000, 600, 300, "lawn"),))
BUILDING_4M, BUILDING_2M = Stretch(None, 4000), Stretch(None, 1800)


def run(*stretches: Stretch, start: str = "house", end: str = "CU", **more: object) -> Run:
    plain = Run("feed", "swa-3c-10", start, end, stretches, 450, None, (None, None))
    return replace(plain, **more)  # type: ignore[arg-type]  # fields of Run


def laid(*runs: Run, trenches: Iterable[Trench] = (LAWN,)) -> tuple[RunRoute, ...]:
    house = Board("house", None, None, True, None, None, None, None, None)
    groups = [
        j.group("S", "double-socket", j.at(("back", 1000))),
        j.group("O", "outdoor-socket", j.at(("back", 2000)), surface="outside"),
    ]
    job = j.job(groups=groups, boards=[house, j.board()], runs=runs, trenches=trenches)
    return squared(job, trade(cables=[ARMOURED])).runs


# --- runs with stretches --------------------------------------------------------------------------------------------


def test_the_worked_run_of_the_design_is_31_9_m_before_waste() -> None:
    (feed,) = laid(run(BUILDING_4M, Stretch("lawn", 22_000), BUILDING_2M))

    # hand (check value 31): 22 + 4.0 + 1.8 + 2 x (0.6 + 0.45) = 29.9 m, and 1 m of tail at each end
    assert (feed.route_mm, feed.length_mm) == (29_900, 31_900)
    assert feed.cut_mm == 33_800  # 31.9 x 1.05 + 0.3 = 33.795
    assert feed.stretches == (("building", 4000), ("lawn", 22_000), ("building", 1800))
    assert (feed.path, feed.supports, feed.holes.total) == (None, 0, 0)
    assert (feed.id, feed.start, feed.end) == ("feed", "house", "CU")


def test_a_rise_goes_by_the_first_dig_going_in_and_by_the_last_coming_out() -> None:
    steep = Trench("bank", (Dig(5000, 500, 300, "lawn"), Dig(6000, 700, 300, "gravel"), Dig(2000, 900, 300, "paving")))
    (feed,) = laid(run(BUILDING_4M, Stretch("bank", 13_000), BUILDING_2M), trenches=[steep])

    # hand: 4.0 + 13.0 + 1.8 + (0.5 + 0.45) + (0.9 + 0.45)
    assert feed.route_mm == 21_100


@pytest.mark.parametrize(
    ("stretches", "route"),
    [
        # hand: no rise between two trenches, one of each trench's own at the buildings
        (
            (BUILDING_4M, Stretch("lawn", 22_000), Stretch("gravel", 3000), BUILDING_2M),
            4000 + 1050 + 25_000 + 1250 + 1800,
        ),
        # out and in again: two rises more
        (
            (BUILDING_4M, Stretch("lawn", 22_000), BUILDING_2M, Stretch("gravel", 3000), BUILDING_2M),
            4000 + 1050 + 22_000 + 1050 + 1800 + 1250 + 3000 + 1250 + 1800,
        ),
        # begins in the trench, and only part of it
        ((Stretch("lawn", 9000), BUILDING_2M), 9000 + 1050 + 1800),
        ((BUILDING_4M, BUILDING_2M), 5800),
        ((Stretch("lawn", 9000),), 9000),
    ],
)
def test_there_is_a_rise_at_every_change_between_building_and_trench(
    stretches: tuple[Stretch, ...], route: int
) -> None:
    drive = Trench("gravel", (Dig(3000, 800, 300, "paving"),))

    assert [route] == [one.route_mm for one in laid(run(*stretches), trenches=[LAWN, drive])]


# --- runs through the rooms -----------------------------------------------------------------------------------------


def test_a_run_without_stretches_is_routed_and_has_the_tails_of_its_ends() -> None:
    (data,) = laid(run(start="CU", end="S1", cable="te-2.5"))

    # hand: board (0, 400, 1400) to S1 (1000, 4000, 1100): 0.3 + 1.0 + 3.6 m; tails 1.0 and 0.2 m
    assert (data.route_mm, data.length_mm) == (4900, 6100)
    assert data.path is not None
    assert (data.stretches, data.cut_mm) == ((), 6800)  # 6.1 x 1.05 + 0.3 = 6.705


def test_a_run_through_real_walls_has_holes_supports_and_a_place_in_the_drilling() -> None:
    group = j.group("S", "double-socket", j.at(("left", 2000, 1400)))
    job = j.job(groups=[group], boards=[j.board()], runs=[run(start="CU", end="S1", cable="te-2.5")])
    routes = routed(job)

    # hand: along one lane from 400 to 2000 past the studs at 600, 1200, 1800
    assert (routes.runs[0].route_mm, routes.runs[0].holes.stud) == (1600, 3)
    assert [hole.legs for hole in routes.drilled] == [("feed",)] * 3
    assert routes.runs[0].supports == 0


@pytest.mark.parametrize("ends", [{"start": "house"}, {"end": "outside: the pole"}])
def test_an_end_without_a_place_needs_stretches(ends: dict[str, str]) -> None:
    with pytest.raises(Refused, match=r"run\.feed: .* has no place in a room, and the run has no stretches"):
        laid(run(**{"start": "CU", "end": "S1", **ends}))


@pytest.mark.parametrize(
    ("start", "end", "given", "kits"),
    [
        ("house", "CU", (None, None), ("gland-in", "gland-in")),
        ("outside: the pole", "CU", (None, None), ("", "gland-in")),
        ("CU", "O1", (None, None), ("gland-in", "gland-out")),
        ("S1", "O1", (None, None), ("gland-in", "gland-out")),
        ("CU", "O1", ("none", "special"), ("", "special")),
        ("outside: the pole", "CU", ("special", None), ("special", "gland-in")),
    ],
)
def test_what_an_end_is_made_off_with(
    start: str, end: str, given: tuple[str | None, str | None], kits: tuple[str, str]
) -> None:
    (feed,) = laid(run(BUILDING_4M, start=start, end=end, end_kits=given))

    assert kits == feed.end_kits


# --- controls -------------------------------------------------------------------------------------------------------


def stop(buttons: tuple[str, ...] = ("ES1", "ES2")) -> Job:
    groups = [
        j.group("ES", "emergency-stop", j.at(("back", 1000), ("back", 5000)), circuit=None),
        j.group("GO", "start-button", j.at(("back", 3000)), circuit=None),
        j.group("S", "double-socket", j.at(("front", 1000)), circuit="bench"),
    ]
    control = Control("stop", ("bench",), "CU", buttons, "GO1", "te3-1.5")
    boards = [j.board(height=1100)]
    return j.job(groups=groups, boards=boards, circuits=[j.circuit("bench")], controls=[control])


def test_a_control_is_the_shortest_chain_from_the_board_through_start_and_buttons() -> None:
    (control,) = squared(stop()).controls

    assert [leg.id for leg in control.legs] == ["stop: CU to ES1", "stop: ES1 to GO1", "stop: GO1 to ES2"]
    # hand: board (0, 400): 1.0 + 3.6 m, then 2 m and 2 m; tails 1.0 and 0.2, then twice 0.2 m
    assert [(leg.route_mm, leg.length_mm) for leg in control.legs] == [(4600, 5800), (2000, 2400), (2000, 2400)]
    assert {("control", "te3-1.5", "stop")} == {(leg.use, leg.cable, leg.owner) for leg in control.legs}
    assert (control.board, control.drops) == ("CU", ("bench",))


def test_a_start_button_that_is_also_a_stop_is_visited_once_and_one_out_of_reach_is_a_problem() -> None:
    assert len(squared(stop(("ES1", "GO1"))).controls[0].legs) == 2
    with pytest.raises(Refused, match="ES2 cannot be reached from CU"):
        squared(stop(), cut_off=["ES2"])


# --- supports by published bands ------------------------------------------------------------------------------------


def piece(kind: str, length: int, wall: str = "back") -> Piece:
    in_void = kind.endswith("joists")
    return Piece(kind, "studio", "" if in_void else wall, "ceiling" if in_void else "", (0, 0, 0), (0, 0, 1), length)  # type: ignore[arg-type]  # words of Piece


def path(*pieces: Piece) -> Path:
    return Path(sum(one.length_mm for one in pieces), ((0, 0, 0), (0, 0, 1)), pieces, ())


def wide(width: str, metal: str = "none") -> Cable:
    return replace(j.cable("x", "4", "1.5", width, "5"), metal=metal)  # type: ignore[arg-type]  # words of Cable


def clips(cable: Cable, *pieces: Piece, walls: Frame | None = None, frames: dict[str, Frame] | None = None) -> int:
    job = j.job(rooms=[j.room(walls=walls, frames=frames)])
    return supports(job, trade(), cable, path(*pieces))


@pytest.mark.parametrize(
    ("width", "metal", "kind", "length", "count"),
    [
        # published: On-Site Guide, Table D1, wide dimension over 0, 9, 15 mm; hand: length over spacing, up
        ("8.2", "none", "riser", 2000, 5),
        ("8.2", "none", "riser", 2001, 6),
        ("8.2", "none", "along-joists", 2000, 8),
        ("9", "none", "along-joists", 2000, 8),
        ("9.1", "none", "along-joists", 2100, 7),
        ("11.9", "none", "riser", 2000, 5),
        ("15", "none", "along-joists", 300, 1),
        ("15.1", "none", "along-joists", 351, 2),
        ("17", "none", "riser", 451, 2),
        ("12", "armour", "along-joists", 700, 2),
        ("12", "armour", "riser", 900, 2),
        ("19.5", "armour", "along-joists", 401, 2),
        ("19.5", "armour", "riser", 1100, 2),
        ("8", "armour", "riser", 900, 2),  # under 9 mm no armoured row: the next band up
    ],
)
def test_supports_of_one_piece(width: str, metal: str, kind: str, length: int, count: int) -> None:
    assert count == clips(wide(width, metal), piece(kind, length))


def test_pieces_in_holes_have_no_supports_and_each_other_piece_is_rounded_up_by_itself() -> None:
    mixed = [piece(kind, 1000) for kind in ("lane", "across-joists", "through", "riser", "along-joists", "riser")]

    # hand: 1000 / 400 = 3 twice, 1000 / 250 = 4
    assert clips(wide("8.2"), *mixed) == 10


def test_groove_counts_the_same_places_and_none_counts_none() -> None:
    grooved, bare = j.frame(support="groove"), j.frame(support="none")

    assert clips(wide("8.2"), piece("riser", 2000), walls=grooved) == 5
    assert clips(wide("8.2"), piece("riser", 2000), piece("along-joists", 2000), walls=bare) == 0
    assert clips(wide("8.2"), piece("riser", 2000), piece("riser", 2000, "left"), frames={"left": bare}) == 5


def test_a_void_goes_by_most_walls_of_its_room_and_a_draw_has_clips() -> None:
    bare = j.frame(support="none")
    above = piece("along-joists", 2000)

    assert clips(wide("8.2"), above, frames={"left": bare, "right": bare, "back": bare}) == 0
    assert clips(wide("8.2"), above, frames={"left": bare, "right": bare}) == 8


def rows(*cells: tuple[str, str, int]) -> Catalogue:
    """No more of the clip table than these cells."""
    return j.catalogue(rules=HOLE_RULES, cells=[cell("clip-spacing", *one) for one in cells])


def test_a_cable_wider_than_the_table_is_told_and_counted_at_the_widest_band() -> None:
    few = rows(("9", "pvc-vertical", 400), ("15", "pvc-vertical", 450))
    few = replace(few, cables={"x": wide("15.5")})
    route = path(piece("riser", 900))

    assert supports(j.job(), few, wide("15.5"), route) == 2
    (finding,) = support_findings(j.job(), few, (("x", route), ("x", route)))
    assert ("unchecked", "x", Decimal("15.5"), Decimal(15)) == (
        finding.level,
        finding.subject,
        finding.value,
        finding.limit,
    )
    assert finding.source == "source of clip-spacing"


def test_without_a_table_nothing_is_counted_and_it_is_told() -> None:
    none = replace(rows(), cables={"x": wide("8.2")})
    route = path(piece("riser", 900), piece("lane", 900))

    assert supports(j.job(), none, wide("8.2"), route) == 0
    told = support_findings(j.job(), none, (("x", route),))
    assert [(one.check, one.level, one.subject) for one in told] == [("support-spacing", "unchecked", "x")]
    assert support_findings(j.job(), none, (("x", path(piece("lane", 900))),)) == ()


def test_a_leg_down_a_real_wall_has_its_clips() -> None:
    group = j.group("S", "double-socket", j.at(("left", 400, 400)), circuit="a")
    job = j.job(groups=[group], boards=[j.board()], circuits=[j.circuit("a")])
    (leg,) = routed(job).legs

    # hand: 1.0 m straight down at 400 mm (10.3 mm wide)
    assert (leg.route_mm, leg.supports, leg.holes.total) == (1000, 3, 0)
