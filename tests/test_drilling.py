"""Drilled holes: shared places, bits by hand, second holes against every way to share out, limits of members."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from random import Random

import pytest

import tests.jobs as j
from estimator.building.build import build
from estimator.catalogue.model import Catalogue, Cell
from estimator.checks.model import Finding
from estimator.job.model import Job, Section
from estimator.routing.bits import MOST_MIXES, Size, passes, share_out, smallest_bit
from estimator.routing.drilling import drill
from estimator.routing.model import Drilled, Member, Passage, Path
from tests.wires import BITS, HOLE_RULES, cell, routed, trade

D = Decimal
TE = {"te-1.5": ("9.6", "5.4"), "te-2.5": ("11.5", "6.2"), "te-4": ("13.0", "7.2"), "te-10": ("19.0", "9.6")}
"""Upper limits of size, from memory (as the shipped cables.csv has them)."""


SPACING = (
    *(j.rule(f"{kind}-hole-spacing-ratio", 3, "ratio") for kind in ("stud", "plate", "joist", "wall")),
    *(j.rule(f"{kind}-hole-zone-from", "0.25", "ratio") for kind in ("stud", "joist")),
    *(j.rule(f"{kind}-hole-zone-to", "0.40", "ratio") for kind in ("stud", "joist")),
)
"""As the shipped rules.csv has them: three diameters of the larger hole, zones from 0.25 to 0.40 of the member."""


def rows() -> Catalogue:
    table = trade(cables=[j.cable(name, name[3:], "1.5", *size) for name, size in TE.items()])
    return replace(table, rules={**table.rules, **{(j.RULESET, rule.rule): rule for rule in SPACING}})


def size(name: str) -> Size:
    width, height = TE[name]
    return D(width), D(height)


def passage(
    along: int = 600,
    kind: Member = "stud",
    depth: str | None = "89",
    wall: str = "back",
    height: int = 1100,
    room: str = "studio",
) -> Passage:
    face = wall or "ceiling"
    at = build(j.job()).room("studio").wall(wall).point_at(along) if wall else (along, 2000)
    key = (kind, room, face, str(along), str(height))
    return Passage(key, kind, room, wall, (*at, height), "", None if depth is None else D(depth))


def through(*passages: Passage) -> Path:
    return Path(1000, ((0, 0, 0), (1000, 0, 0)), (), passages)


def drilled(
    laid: Iterable[tuple[str, str, Path]], table: Catalogue | None = None
) -> tuple[tuple[Drilled, ...], tuple[Finding, ...]]:
    return drill(build(j.job()), table or rows(), j.RULESET, tuple(laid))


def bundle(cables: Sequence[str], at: Passage) -> list[tuple[tuple[str, ...], Decimal | None]]:
    holes, _ = drilled((str(number), name, through(at)) for number, name in enumerate(cables, 1))
    return [(hole.legs, hole.bit_mm) for hole in holes]


# --- one cable: `hand` ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cable", "bit"),
    # hand: width + 2 mm of air on each side, up to the next bit
    [("te-1.5", 14), ("te-2.5", 16), ("te-4", 18)],
)
def test_one_cable_takes_the_smallest_bit_that_leaves_its_air(cable: str, bit: int) -> None:
    assert [(("1",), D(bit))] == bundle([cable], passage())


def test_a_12_mm_bit_takes_a_typical_4_mm2_cable_on_paper_but_not_one_at_the_upper_limit() -> None:
    # notes (check value 16): 11.9 mm typical, 13.0 mm the limit, no air asked for
    assert passes(D(12), D(0), [(D("11.9"), D("6.25"))])
    assert not passes(D(12), D(0), [size("te-4")])


def test_the_largest_hole_of_a_stud_is_a_quarter_of_its_depth() -> None:
    # notes (check value 17): 63, 89, 140 mm deep give 15, 22, 35 mm; the table of these tests ends at 32
    every = replace(rows(), cells=dict(_bit(number) for number in range(6, 40)))
    widest = {}
    for depth in ("63", "89", "140"):
        cables = [f"c{tenth}" for tenth in range(20, 400)]
        sized = replace(every, cables={name: j.cable(name, "1", "1", str(int(name[1:]) / 10), "1") for name in cables})
        laid = [(name, name, through(passage(int(name[1:]), depth=depth))) for name in cables]
        widest[depth] = max(hole.bit_mm for hole in drilled(laid, sized)[0] if hole.bit_mm is not None)

    assert widest == {"63": 15, "89": 22, "140": 35}


def _bit(number: int) -> tuple[tuple[str, str, str, str], Cell]:
    one = cell("bit-sizes", str(number), "bit", number)
    return (one.ruleset, one.table, one.row, one.column), one


# --- shared places --------------------------------------------------------------------------------------------------


def test_legs_that_pass_one_place_share_it_and_others_have_their_own() -> None:
    holes, findings = drilled(
        [
            ("a", "te-2.5", through(passage(600), passage(1200))),
            ("b", "te-1.5", through(passage(1200), passage(1800))),
            ("c", "te-1.5", through(passage(1200, height=450))),
        ]
    )

    assert [(hole.legs, int(hole.passage.key[3])) for hole in holes] == [
        (("a",), 600),
        (("c",), 1200),
        (("a", "b"), 1200),
        (("b",), 1800),
    ]
    assert holes[2].cables == ("te-2.5", "te-1.5")
    assert findings == ()


def test_two_cables_lie_flat_on_one_another() -> None:
    # hand: 11.5 wide, 6.2 + 6.2 high: diagonal 16.91, + 4 = 20.91 mm: a 22 mm bit, and 22.25 mm is allowed
    assert [(("1", "2"), D(22))] == bundle(["te-2.5", "te-2.5"], passage())
    # hand: 13.0 by 7.2 + 5.4: 18.10, + 4 = 22.10 mm: over 22, and 25 is too large, so two holes
    assert [(("1",), D(18)), (("2",), D(14))] == bundle(["te-4", "te-1.5"], passage())
    # the same in a deeper stud, 35 mm allowed: one of 25 mm
    assert [(("1", "2"), D(25))] == bundle(["te-4", "te-1.5"], passage(depth="140"))


def test_the_diagonal_is_compared_exactly() -> None:
    # hand: 3 and 4 make 5: a hole of 5 + 2 passes two of 3 x 2, and one a hair smaller does not
    assert passes(D(7), D(2), [(D(3), D(2)), (D(3), D(2))])
    assert not passes(D("6.999999999"), D(2), [(D(3), D(2)), (D(3), D(2))])
    assert smallest_bit([D(8), D(7)], D(2), [(D(3), D(2)), (D(3), D(2))]) == 7


def test_a_bundle_too_large_for_one_hole_takes_the_fewest_with_the_earliest_legs_first() -> None:
    # hand: two 2.5 fit together (22), three do not: 11.5 by 18.6 is 21.9, + 4
    assert [(("1", "2"), D(22)), (("3", "4"), D(22)), (("5",), D(16))] == bundle(["te-2.5"] * 5, passage())


def test_a_wall_has_no_limit_but_the_largest_bit() -> None:
    at = passage(kind="wall", depth=None)

    # hand: ten of 9.6 x 5.4 stand 54 mm high; 32 - 4 = 28: four are 9.6 by 21.6 (23.6), five 27.0 (28.66): no
    assert [len(legs) for legs, _ in bundle(["te-1.5"] * 10, at)] == [4, 4, 2]
    assert [(("1",), D(25))] == bundle(["te-10"], at)


def test_a_second_hole_is_taken_only_where_the_first_is_too_small() -> None:
    holes, _ = drilled((name, "te-4", through(passage(600, depth="140"), passage(1200, depth="89"))) for name in "abc")

    # hand: 13.0 by 21.6 is 25.2, + 4 = 29.2: one of 32 in a stud that takes 35; two by two are 13.0 by 14.4 (19.4,
    # + 4): not in 22.25, so each its own
    assert [(("a", "b", "c"), D(32)), (("a",), D(18)), (("b",), D(18)), (("c",), D(18))] == [
        (hole.legs, hole.bit_mm) for hole in holes
    ]


# --- sharing out against every way there is -------------------------------------------------------------------------


def partitions(numbers: Sequence[int]) -> Iterator[list[list[int]]]:
    if not numbers:
        yield []
        return
    for rest in partitions(numbers[1:]):
        yield [[numbers[0]], *rest]
        for i, one in enumerate(rest):
            yield [*rest[:i], [numbers[0], *one], *rest[i + 1 :]]


@pytest.mark.parametrize("seed", range(12))
def test_no_way_to_share_out_takes_fewer_holes(seed: int) -> None:
    draw = Random(seed)
    sizes = [size(draw.choice(list(TE))) for _ in range(draw.randint(4, 7))]
    largest = D(draw.choice((24, 26, 28, 30)))

    def fits(some: Sequence[Size]) -> bool:
        return passes(largest, D(2), some)

    every = [parts for parts in partitions(range(len(sizes))) if all(fits([sizes[i] for i in part]) for part in parts)]
    found = share_out(sizes, fits)
    assert min(len(parts) for parts in every) == len(found)
    assert list(range(len(sizes))) == sorted(i for part in found for i in part)
    assert all(fits([sizes[i] for i in part]) for part in found)


def test_sharing_out_first_come_would_need_a_hole_more() -> None:
    # hand, 10 high at most: 6, 3, 5, 4: first fit 6+3 | 5+4 is two; 4, 4, 6, 6 first come is 4+4 | 6 | 6
    def fits(some: Sequence[Size]) -> bool:
        return sum(height for _, height in some) <= 10

    tall = [(D(7), D(height)) for height in (4, 4, 6, 6)]
    assert share_out(tall, fits) == ((0, 2), (1, 3))
    assert share_out([], fits) == ()


def test_a_great_many_mixes_are_shared_out_first_fit() -> None:
    sizes = [(D(10) + n % 8, D(5)) for n in range(40)]

    def fits(some: Sequence[Size]) -> bool:
        return len(some) <= 3

    assert MOST_MIXES < 6**8
    found = share_out(sizes, fits)
    assert len(found) == 14
    assert found[0] == (0, 1, 2)


# --- too large for the member ---------------------------------------------------------------------------------------


def test_a_cable_that_no_bit_allowed_passes_has_no_bit_and_one_finding_for_each_wall_and_cable() -> None:
    holes, findings = drilled(
        [
            ("a", "te-4", through(passage(600, depth="63"), passage(1200, depth="63"))),
            ("b", "te-1.5", through(passage(600, depth="63"))),
            ("c", "te-4", through(passage(600, depth="63", wall="left"))),
        ]
    )

    # hand: a 63 mm stud takes 15.75; 13.0 + 4 needs an 18 mm bit, 9.6 + 4 a 14 mm one; 18 mm needs 72 mm of stud
    assert [(("a",), None), (("b",), D(14)), (("a",), None), (("c",), None)] == [(h.legs, h.bit_mm) for h in holes]
    sizes = [one for one in findings if one.check == "hole-size"]
    assert [(one.level, one.subject) for one in sizes] == [("ask", "studio, back"), ("ask", "studio, left")]
    first = sizes[0]
    assert (D(18), D("15.75"), "mm", "common practice") == (first.value, first.limit, first.unit, first.source)
    for words in (
        "te-4 is up to 13 mm wide",
        "at 2 places",
        "at most 15.75 mm",
        "at least 72 mm deep",
        "at most 10 mm wide",
    ):
        assert words in first.message


def test_in_a_joist_it_is_a_stop_and_the_greatest_hole_binds_deep_ones() -> None:
    shallow = passage(400, "joist", "70", wall="", height=2400)
    deep = passage(800, "joist", "300", wall="", height=2400)
    thick = replace(rows(), cables={**rows().cables, "fat": j.cable("fat", "50", "0", "66", "66")})
    holes, findings = drilled([("a", "te-4", through(shallow)), ("b", "fat", through(deep))], thick)

    # hand: 70 / 4 = 17.5 mm; 300 / 4 = 75 but 65 at most
    assert [hole.bit_mm for hole in holes] == [None, None]
    sizes = [one for one in findings if one.check == "hole-size"]
    assert [("stop", D("17.5")), ("stop", D(65))] == [(one.level, one.limit) for one in sizes]
    assert "settle it with a joist at least 72 mm deep" in findings[0].message


def test_what_the_tables_lack_is_told_and_holes_are_still_counted() -> None:
    lone = [("a", "te-2.5", through(passage())), ("b", "te-2.5", through(passage()))]
    bare = j.catalogue()
    holes, findings = drilled(lone, bare)
    assert [(hole.legs, hole.bit_mm) for hole in holes] == [(("a", "b"), None)]
    assert [one.level for one in findings] == ["unchecked"] * 3

    no_ratio = j.catalogue(
        rules=[one for one in HOLE_RULES if one.rule != "stud-hole-max-ratio"],
        cells=[cell("bit-sizes", str(bit), "bit", bit) for bit in BITS],
    )
    holes, findings = drilled(lone, no_ratio)
    assert [D(22)] == [hole.bit_mm for hole in holes]
    assert [one.message for one in findings] == ['rules.csv has no value for "stud-hole-max-ratio" in ruleset "uk"']


def test_joists_of_unknown_depth_are_told_once_for_each_void() -> None:
    at = [passage(400 * n, "joist", None, wall="", height=2400) for n in (1, 2)]
    holes, findings = drilled([("a", "te-2.5", through(*at))])

    assert [D(16), D(16)] == [hole.bit_mm for hole in holes]
    sizes = [one for one in findings if one.check == "hole-size"]
    assert [(one.level, one.subject) for one in sizes] == [("unchecked", "studio, ceiling")]


def test_nothing_drilled_has_nothing_to_say() -> None:
    assert drilled([("a", "te-2.5", through())], j.catalogue()) == ((), ())


# --- in the building ------------------------------------------------------------------------------------------------


def test_holes_come_walking_clockwise_then_along_then_up_then_the_void() -> None:
    at = [
        passage(400, "joist", "145", wall="", height=2400),
        passage(600, wall="left"),
        passage(1200, wall="back", height=1100),
        passage(1200, wall="back", height=450),
        passage(600, wall="front"),
        passage(900, "plate", wall="back", height=2400),
        passage(600, wall="right"),
    ]
    holes, _ = drilled([("a", "te-1.5", through(*at))])

    assert [
        (hole.passage.wall, int(hole.passage.key[3]), hole.passage.at[2]) for hole in holes
    ] == [("back", 900, 2400), ("back", 1200, 450), ("back", 1200, 1100), ("right", 600, 1100), ("front", 600, 1100),
            ("left", 600, 1100), ("", 400, 2400)]  # fmt: skip


def shared_wall(stud: Section) -> Job:
    """Two circuits whose sockets stand on one lane of the left wall, behind the board."""
    groups = [
        j.group(name, "double-socket", j.at(("left", along, 1400)), circuit=name.lower())
        for name, along in (("A", 2100), ("B", 3300))
    ]
    room = j.room(walls=j.frame(stud=stud))
    return j.job(rooms=[room], groups=groups, boards=[j.board()], circuits=[j.circuit("a"), j.circuit("b")])


def test_two_circuits_on_one_lane_share_the_studs_they_both_pass() -> None:
    routes = routed(shared_wall(j.section(38, 89)), rows())

    # hand: from 400, A passes 600, 1200, 1800; B those and 2400, 3000
    assert [leg.holes.stud for leg in routes.legs] == [3, 5]
    both = ("a: CU to A1", "b: CU to B1")
    assert [(both, D(22))] * 3 + [(both[1:], D(16))] * 2 == [(hole.legs, hole.bit_mm) for hole in routes.drilled]
    assert routes.findings == ()


def test_in_a_thin_stud_they_do_not_and_it_is_asked_about() -> None:
    routes = routed(shared_wall(j.section(38, 63)), rows())

    # hand: 63 / 4 = 15.75 and one 2.5 mm2 cable needs 16: each has its own hole, none has a bit
    assert len(routes.drilled) == 8
    assert [(one.check, one.level, one.subject) for one in routes.findings] == [
        ("hole-off-lane", "ask", "studio, left"),
        ("hole-size", "ask", "studio, left"),
    ]


def test_routes_of_the_same_job_twice_are_equal() -> None:
    job = shared_wall(j.section(38, 89))

    assert routed(job, rows()) == routed(job, rows())
