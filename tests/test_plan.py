"""Plans: true to scale, every point in them, nothing drawn on anything else, and text that stays text."""

import re
from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal as D
from functools import cache
from itertools import combinations
from xml.etree.ElementTree import Element, fromstring

import pytest

from estimator.catalogue.read import read_catalogue
from estimator.drawings.charts import money_bars
from estimator.drawings.letters import ALPHABET, letters
from estimator.drawings.packing import FLAT, UPRIGHT, Cell, height_of, packed
from estimator.drawings.sheets import Plan, Plans, plans
from estimator.drawings.sides import meet
from estimator.drawings.spacing import Taken, crosses, kept_apart
from estimator.drawings.storey import parts
from estimator.drawings.svg import Drawing, fitted_text, num, printable, text_width, wrapped_text
from estimator.drawings.symbols import GLYPHS, glyph
from estimator.estimate import estimate
from estimator.job.read import read_job
from estimator.result import Estimate
from tests import houses
from tests.shed import STUDIO, shipped, sockets, worked

SVG = "{http://www.w3.org/2000/svg}"
Box = tuple[float, float, float, float]
Line = tuple[tuple[float, float], tuple[float, float]]


@cache
def studio() -> Estimate:
    job, _ = read_job(STUDIO)
    return estimate(job, read_catalogue(STUDIO))


@cache
def house() -> Estimate:
    return estimate(houses.house(), read_catalogue(houses.FOLDER))


@cache
def studio_plans() -> Plans:
    return plans(studio())


@cache
def house_plans() -> Plans:
    return plans(house())


def studio_plan() -> Plan:
    (sheet,) = studio_plans().sheets
    (plan,) = sheet.plans
    return plan


def which_plans(which: str) -> Plans:
    return studio_plans() if which == "studio" else house_plans()


def all_plans(of: Plans) -> list[Plan]:
    return [plan for sheet in of.sheets for plan in sheet.plans]


def plan_of(room: str) -> Plan:
    """The plan of one room of the house."""
    return next(of for of in all_plans(house_plans()) if of.drawing.title == f"Plan of {room}, floor at 0 mm")


def drawings(of: Plans) -> list[Drawing]:
    return [*(plan.drawing for plan in all_plans(of)), *(sheet.bar for sheet in of.sheets)]


def svg(plan: Plan) -> Element:
    return fromstring(plan.drawing.svg)


def texts(element: Element) -> list[str]:
    return [of.text or "" for of in element.iter(f"{SVG}text")]


def layer(element: Element, name: str) -> Element:
    return next(of for of in element.iter(f"{SVG}g") if of.get("id", "").endswith(f"-{name}"))


def subpaths(d: str) -> list[list[tuple[float, float]]]:
    return [
        [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", part)] for part in d.split("M") if part
    ]


def lines_of(d: str) -> list[Line]:
    return [(part[0], part[1]) for part in subpaths(d)]


def paths(element: Element) -> list[str]:
    return [of.get("d", "") for of in element.iter(f"{SVG}path")]


def test_every_point_and_board_of_the_studio_is_in_its_plan() -> None:
    wanted = [point.id for point in studio().setout.points] + [board.name for board in studio().setout.boards]
    assert len(wanted) == 39  # hand: 38 points of the job file and one board
    assert sorted(of for of in texts(svg(studio_plan())) if of in wanted) == sorted(wanted)


def test_every_point_and_board_of_the_house_is_in_one_of_its_plans() -> None:
    wanted = [point.id for point in house().setout.points] + [board.name for board in house().setout.boards]
    shown = [of for plan in all_plans(house_plans()) for of in texts(svg(plan)) if of in set(wanted)]
    assert sorted(shown) == sorted(wanted)


@pytest.mark.parametrize("which", ["studio", "house"])
def test_a_drawing_is_as_large_on_paper_as_its_view_box_over_its_scale(which: str) -> None:
    for drawing in drawings(which_plans(which)):
        element = fromstring(drawing.svg)
        box = [float(of) for of in element.get("viewBox", "").split()]
        # published: ISO 5455, scale is the length in the drawing over the length itself
        for length, side in ((element.get("width", ""), box[2]), (element.get("height", ""), box[3])):
            assert length.endswith("mm")
            assert side == pytest.approx(float(length.removesuffix("mm")) * drawing.scale, abs=0.5)


@pytest.mark.parametrize("which", ["studio", "house"])
def test_sheets_have_one_scale_of_the_standard_and_fit_on_a4(which: str) -> None:
    for sheet in which_plans(which).sheets:
        assert sheet.scale in (20, 50, 100, 200, 500)  # published: ISO 5455:1979, reduction scales
        assert {sheet.scale} == {plan.drawing.scale for plan in sheet.plans}
        # hand: A4 less the margins of the page (15, 15, 17, 16 upright, 12, 12, 14, 13 flat) and 14 for the heading
        wide, high = (210 - 30, 297 - 33 - 14) if sheet.upright else (297 - 24, 210 - 27 - 14)
        boxes = [(of.width_mm, of.drawing.height_mm + of.notes.height(of.width_mm)) for of in sheet.plans]
        taken = height_of(boxes, wide)
        assert taken is not None
        assert taken <= high


def test_the_studio_is_drawn_at_one_to_fifty_beside_its_key() -> None:
    (sheet,) = studio_plans().sheets
    # hand: 6.29 m and what stands beside it is 315 mm and more at 1:20, wider than A4; 126 mm at 1:50
    assert (50, False) == (sheet.scale, sheet.upright)
    assert studio_plans().key == ()
    assert ["Symbols", "Cables", "Marks"] == [part.title for part in sheet.key]


def test_rooms_share_sheets_and_a_crowded_one_is_drawn_larger() -> None:
    scales = {tuple(sorted(of.drawing.title for of in sheet.plans)): sheet.scale for sheet in house_plans().sheets}
    assert len(all_plans(house_plans())) == 15  # hand: thirteen rooms and two overviews
    assert len(house_plans().sheets) <= 9
    # hand: the hall is 2.4 x 3.6 m, 120 x 180 mm at 1:20; nineteen cables pass through it
    assert 20 == scales[("Plan of hall, floor at 0 mm",)]
    assert 20 == next(scale for titles, scale in scales.items() if "Plan of utility, floor at 0 mm" in titles)
    # hand: the kitchen is 9.6 m long, 480 mm at 1:20 and 192 at 1:50
    assert 50 == scales[("Plan of kitchen, floor at 0 mm",)]


def test_what_goes_on_a_sheet_stands_in_rows() -> None:
    # hand: 100 + 5 + 60 in a row of 180; the next 50 do not fit beside it: 40 + 4 + 30
    assert 74 == height_of([(100, 40), (60, 20), (50, 30)], 180)
    assert 40 == height_of([(100, 40), (60, 20)], 180)
    assert height_of([(181, 10)], 180) is None
    assert 0 == height_of([], 180)


def boxed(width: float, height: float, least: int = 50) -> Cell:
    return Cell(lambda scale: (width / scale, height / scale), least)


def test_a_sheet_takes_the_largest_scale_at_which_all_of_it_fits() -> None:
    # hand: at 1:50 both are 100 x 60, at 1:20 each is 250 x 150: one to a sheet at that, both at 1:50
    (sheet,) = packed([boxed(5000, 3000), boxed(5000, 3000)])
    assert (50, (0, 1)) == (sheet.scale, sheet.on)
    (sheet,) = packed([boxed(5000, 3000)])
    assert (20, FLAT) == (sheet.scale, sheet.paper)
    # hand: 7 x 2 m is 350 mm wide at 1:20; 140 x 40 at 1:50, less than half an upright page
    (sheet,) = packed([boxed(7000, 2000)])
    assert (50, UPRIGHT, 40) == (sheet.scale, sheet.paper, sheet.height)
    # hand: 130 x 120 at 1:20 for the one that needs it; 2 x 130 + 5 = 265 fit beside each other, so the other joins it
    (sheet,) = packed([boxed(2600, 2400), boxed(2600, 2400, 20)])
    assert (20, (0, 1)) == (sheet.scale, sheet.on)
    # hand: 50 m is 250 mm at 1:200; nothing is left out, however large
    assert [200, 500] == [of.scale for of in packed([boxed(50000, 20000), boxed(200000, 20000)])]


def test_walls_openings_and_dimensions_are_where_the_job_has_them() -> None:
    element = svg(studio_plan())
    walls = paths(layer(element, "walls"))
    # hand: 6000 x 4000 between the inside faces; walls 89 + 11 + 25 + 20 = 145
    corners = {tuple(map(tuple, subpaths(d)[0])) for d in walls if d.endswith("Z") and d.count("L") == 3}
    boxes = {
        (min(x for x, _ in of), min(y for _, y in of), max(x for x, _ in of), max(y for _, y in of)) for of in corners
    }
    assert (0, -4000, 6000, 0) in boxes
    assert (-145, -4145, 6145, 145) in boxes
    # hand: seen from inside, the front wall's left end is at x = 6000; the door is from 5400 down to 4500
    assert (4500, 0, 5400, 145) in boxes
    dimensions = texts(layer(element, "dimensions"))
    # hand: front 600, 900, 1500, 1800, 1200; right 1400, 1200, 1400; overall 6000 and 4000
    assert sorted(["600", "900", "1500", "1800", "1200", "1400", "1200", "1400", "6000", "4000"]) == sorted(dimensions)


def test_strokes_at_the_ends_of_dimensions_are_at_45_degrees() -> None:
    strokes = [
        (part[1][0] - part[0][0], part[1][1] - part[0][1])
        for of in layer(svg(studio_plan()), "dimensions").iter(f"{SVG}path")
        if of.get("stroke-width") == num(D("0.35") * 50)
        for part in subpaths(of.get("d", ""))
    ]
    assert len(strokes) == 14  # hand: 6 + 2 at the front, 4 + 2 at the right
    assert all(abs(dx) == pytest.approx(abs(dy), abs=0.002) for dx, dy in strokes)


def test_every_sheet_has_a_bar_of_100_mm_of_paper_to_check_the_print_by() -> None:
    for sheet in (*studio_plans().sheets, *house_plans().sheets):
        bar = fromstring(sheet.bar.svg)
        xs = [x for d in paths(bar) for part in subpaths(d) for x, _ in part]
        assert sheet.bar.scale == 1
        assert 100 == pytest.approx(max(xs) - min(xs), abs=1e-6)
        assert f"1:{sheet.scale}; this bar is 100 mm long when printed at 100 %" in texts(bar)
        assert f"{sheet.scale / 10:g} m" in texts(bar)  # hand: 100 mm at 1:50 are 5 m


def test_stems_start_at_the_true_places_of_points_on_walls() -> None:
    starts = {
        part[0]
        for of in layer(svg(studio_plan()), "points").iter(f"{SVG}path")
        if of.get("transform") is None
        for part in subpaths(of.get("d", ""))
    }
    on_walls = [point for point in studio().setout.points if point.surface == "wall"]
    assert len(on_walls) == 22  # hand: 12 S, 2 WS, KL, H, 2 W, FA, D, ES, GO
    assert all((point.xyz_mm[0], -point.xyz_mm[1]) in starts for point in on_walls)


def test_ceiling_symbols_stand_in_their_places() -> None:
    centres = [
        of.get("transform", "")
        for of in layer(svg(studio_plan()), "points").iter(f"{SVG}path")
        if of.get("d", "").startswith("M0 0A1.4 1.4")  # the ring of a downlight, 1.4 mm in radius, standing on its foot
    ]
    # hand: DL1 stands at 700, 900; its foot is 1.4 mm x 50 = 70 lower
    assert "matrix(50 0 0 -50 700 -830)" in centres
    assert len(centres) == 14  # hand: 8 in the ceiling, 6 in the soffit


def overlapping(a: Line, b: Line) -> bool:
    """Whether two lines along one axis share a stretch."""
    for axis, other in ((0, 1), (1, 0)):
        if a[0][axis] == a[1][axis] == b[0][axis] == b[1][axis]:
            low = max(min(a[0][other], a[1][other]), min(b[0][other], b[1][other]))
            high = min(max(a[0][other], a[1][other]), max(b[0][other], b[1][other]))
            return high - low > 50
    return False


@pytest.mark.parametrize("which", ["studio", "house"])
def test_cables_of_two_circuits_are_never_drawn_on_each_other(which: str) -> None:
    for plan in all_plans(which_plans(which)):
        cables = [
            lines_of(of.get("d", ""))
            for of in layer(svg(plan), "cables").iter(f"{SVG}path")
            if of.get("stroke") == "#6a2b57" and "Z" not in of.get("d", "")
        ]
        for mine, others in combinations(cables, 2):
            assert [] == [(a, b) for a in mine for b in others if overlapping(a, b)]


def text_boxes(element: Element, scale: int, wanted: Iterable[str]) -> list[tuple[str, Box]]:
    found, names = [], set(wanted)
    for of in layer(element, "points").iter(f"{SVG}text"), layer(element, "texts").iter(f"{SVG}text"):
        for text in of:
            words = text.text or ""
            if words not in names:
                continue
            size = float(text.get("font-size", "0")) / scale
            x, y = float(text.get("x", "0")) / scale, float(text.get("y", "0")) / scale
            wide = text_width(words, size) * 0.9  # the estimate is on the wide side
            left = x - wide / 2 if text.get("text-anchor") == "middle" else x
            found.append((words, (left, y - 0.7 * size, left + wide, y)))
    return found


@pytest.mark.parametrize("which", ["studio", "house"])
def test_ids_do_not_run_into_each_other(which: str) -> None:
    job = studio() if which == "studio" else house()
    for plan in all_plans(which_plans(which)):
        boxes = text_boxes(svg(plan), plan.drawing.scale, [point.id for point in job.setout.points])
        clashes = [
            (a, b)
            for (a, one), (b, two) in combinations(boxes, 2)
            if one[0] < two[2] and two[0] < one[2] and one[1] < two[3] and two[1] < one[3]
        ]
        assert clashes == []


def test_letters_leave_out_those_that_read_as_figures_and_go_on_after_z() -> None:
    assert "I" not in ALPHABET
    assert "O" not in ALPHABET
    found = letters(house().routes)
    assert "A B C D E F G H J K L M N P Q R S T U V W X Y Z AA AB" == " ".join(list(found.values())[:26])
    assert len(set(found.values())) == len(found)


@pytest.mark.parametrize("which", ["studio", "house"])
def test_the_key_names_every_circuit_control_and_run_with_its_letter(which: str) -> None:
    of = which_plans(which)
    key = of.key or of.sheets[0].key
    rows = {row.words: row for part in key for row in part.rows}
    for owner, letter in letters((studio() if which == "studio" else house()).routes).items():
        assert [letter] == texts(fromstring(rows[owner.name].picture))
    for label in ("Board", "Double socket", "Downlight", "Soffit downlight"):
        assert label in rows


def test_the_longest_letters_stand_clear_of_the_samples_of_line() -> None:
    cables = next(part for part in house_plans().key if part.title == "Cables")
    starts = set()
    for row in cables.rows:
        element = fromstring(row.picture)
        (text,) = element.iter(f"{SVG}text")
        (line,) = [part for d in paths(element) for part in subpaths(d)]
        size = float(text.get("font-size", "0"))
        assert text_width(text.text or "", size) + 0.5 < line[0][0]
        assert line[1][0] - line[0][0] > 7  # long enough for every pattern of dashes
        starts.add(line[0][0])
    assert 1 == len(starts)


def test_the_words_under_a_plan_name_all_that_is_on_it() -> None:
    for plan in all_plans(house_plans()):
        shown = texts(layer(svg(plan), "texts"))
        told = dict(plan.notes.cables)
        assert {of for of in shown if of in set(letters(house().routes).values())} <= set(told)
    hall = plan_of("hall").notes
    assert ("H", "lights down") in hall.cables
    assert ("HW, ST", "Two-way switch") in hall.points
    assert ("stairs 900 to 2400",) == hall.fitted


def test_runs_that_come_in_are_named_with_where_they_come_from() -> None:
    words = texts(layer(svg(studio_plan()), "cables"))
    assert sorted(["J  data link", "from the router in the house", "K  feed", "from house"]) == sorted(words)


def test_a_run_is_drawn_through_an_outside_wall_and_never_through_an_inner_one() -> None:
    # hand: the board stands on the utility's right wall, which is the house's
    assert {"AE  garden feed", "AF  supply"} <= set(texts(layer(svg(plan_of("utility")), "cables")))
    # hand: DH1 stands on the hall's left wall, which the living room lies behind
    hall = svg(plan_of("hall"))
    assert [] == texts(layer(hall, "cables"))
    words = texts(layer(hall, "texts"))
    assert {"U  broadband", "AD  garden data", "to XD1"} <= set(words)
    assert "from the box of the network on the front wall" in " ".join(words)  # whole, in as many lines as it needs


@pytest.mark.parametrize("which", ["studio", "house"])
def test_no_text_of_a_plan_is_cut_short(which: str) -> None:
    for plan in all_plans(which_plans(which)):
        assert [] == [of for of in texts(svg(plan)) if of.endswith("…")]


def test_everything_fitted_is_named_once_where_it_is_seen() -> None:
    shown = [of for of in texts(svg(plan_of("kitchen"))) if of.partition(",")[0] in ("worktop", "hob", "sink")]
    assert ["hob", "sink", "worktop", "worktop"] == sorted(of.partition(",")[0] for of in shown)


def test_every_word_of_points_csv_has_a_symbol_and_one_that_is_not_known_is_a_square_with_its_letter() -> None:
    assert [] == [of.symbol for of in shipped().points.values() if of.symbol not in GLYPHS]
    assert "K" == glyph("kiln-switch").letter
    assert "?" == glyph("").letter


def test_a_storey_too_large_to_be_read_has_an_overview_and_a_plan_of_every_room() -> None:
    titles = [plan.drawing.title for plan in all_plans(house_plans())]
    assert 2 == sum(of.startswith("Overview") for of in titles)  # hand: two floors of 9.6 x 7.2 m
    for shape in house().building.rooms:
        assert any(of.startswith(f"Plan of {shape.room.name},") for of in titles)
    assert ["Floor at 0 mm", "Floor at 2642 mm"] == [of.name for of in house_plans().sheets[0].plans]


def test_a_building_that_stands_apart_has_a_sheet_of_its_own() -> None:
    found = [[shape.room.name for shape in part] for part in parts(house().building.rooms)]
    assert ["garden room"] in found
    assert 3 == len(found)  # hand: two floors and the garden room


def test_marks_are_moved_no_further_than_keeps_them_apart() -> None:
    # hand: two of width 4 wished at 10 and 11 stand at 8.5 and 12.5, the third is far enough
    assert (8.5, 12.5, 30) == kept_apart((10, 11, 30), (2, 2, 2), 0, 100)
    # hand: pushed in from the end, 100 - 2 and 4 before it
    assert (94, 98) == kept_apart((97, 99), (2, 2), 0, 100)
    # hand: three of 4 in 6 are shrunk to 2 each
    assert (1, 3, 5) == pytest.approx(kept_apart((3, 3, 3), (2, 2, 2), 0, 6))
    assert () == kept_apart((), (), 0, 1)


def test_a_label_goes_where_it_collides_least() -> None:
    taken = Taken([(0, 0, 10, 10)], [((0, 20), (30, 20))])
    assert 2 == taken.best([(5, 5, 8, 8), (5, 18, 8, 22), (5, 30, 8, 34)])
    assert 1 == taken.best([(5, 30, 8, 34), (5, 18, 8, 22)])  # the best of before is taken now
    assert crosses(((0, 0), (10, 10)), (4, 4, 6, 6))
    assert not crosses(((0, 0), (10, 10)), (6, 1, 9, 4))


def test_lines_meet_where_they_cross_and_nowhere_where_they_are_parallel() -> None:
    assert (3, 4) == meet((3, 0), (0, 1), (0, 4), (1, 0))
    assert meet((0, 0), (1, 0), (0, 1), (-1, 0)) is None


def test_numbers_have_three_decimals_at_most() -> None:
    assert ["12", "0.35", "-3.333", "0", "1250"] == [num(of) for of in (12, D("0.35"), -10 / 3, -0.0001, 1250.0)]


def test_a_text_that_does_not_fit_is_cut_with_an_ellipsis() -> None:
    assert "lamp" == fitted_text("lamp", 2, 100)
    assert fitted_text("a very long name of a circuit", 2, 20).endswith("…")
    assert 20 >= text_width(fitted_text("a very long name of a circuit", 2, 20), 2)


def test_a_text_is_wrapped_at_spaces_and_cut_only_after_the_last_line() -> None:
    # hand: at size 2 a letter is 1.26, m 1.84, and f, r, t and a space 0.72: `from the` is 8.5, ` house` 7.0 more
    assert ("from the", "house") == wrapped_text("from the house", 2, 12, 3)
    assert ("from the house",) == wrapped_text("from the house", 2, 40, 3)
    last = wrapped_text("from the house to the shed and back", 2, 12, 2)[-1]
    assert last.endswith("…")
    assert text_width(last, 2) <= 12


def test_text_that_no_file_may_hold_or_that_turns_what_follows_is_replaced() -> None:
    assert "a\ufffdb\ufffdc\ufffd\ufffd" == printable("a\0b\u202ec\ud800\x85")
    assert 'tab\there <b> & "q"' == printable('tab\there <b> & "q"')


def test_names_with_markup_stay_text_in_the_drawing() -> None:
    evil = "</svg><script>alert(1)</script>\"'&\u202e"
    job = houses.renamed(read_job(STUDIO)[0], lambda name: evil + name)
    fitted = tuple(replace(of, name=evil) for of in job.rooms[0].fitted)
    job = replace(job, rooms=(replace(job.rooms[0], fitted=fitted),))
    found = plans(estimate(job, read_catalogue(STUDIO)))
    pictures = [row.picture for part in (*found.key, *found.sheets[0].key) for row in part.rows]
    for text in (*(of.svg for of in drawings(found)), *pictures):
        element = fromstring(text)
        assert {of.tag.removeprefix(SVG) for of in element.iter()} <= {
            "svg",
            "title",
            "desc",
            "g",
            "path",
            "circle",
            "text",
        }
        assert "\u202e" not in text
    assert evil.replace("\u202e", "\ufffd") + "S1" in texts(svg(all_plans(found)[0]))


def test_a_room_with_walls_that_slope_and_an_inner_corner_is_drawn() -> None:
    text = sockets(4).replace(
        'size = ["6.0 m", "4.0 m"]',
        'outline = [["0 m", "0 m"], ["0 m", "4 m"], ["4 m", "5 m"], ["6 m", "5 m"], ["6 m", "2 m"], ["3 m", "2 m"], ["3 m", "0 m"]]',
    )
    text = text.replace('wall = "left"', 'wall = "wall-1"').replace('wall = "front"', 'wall = "wall-4"')
    (plan,) = all_plans(plans(worked(text)))
    shown = texts(svg(plan))
    assert {"S1", "S2", "S3", "S4", "CU", "shed"} <= set(shown)
    assert "4123" in shown  # hand: the sloping wall, the root of 4000 x 4000 + 1000 x 1000 is 4123.1


def test_ids_are_unique_over_all_drawings() -> None:
    ids = [
        of.get("id", "") for drawing in drawings(house_plans()) for of in fromstring(drawing.svg).iter() if of.get("id")
    ]
    assert len(ids) == len(set(ids))


def test_every_drawing_says_in_words_what_it_is() -> None:
    for drawing in (*drawings(studio_plans()), *drawings(house_plans())):
        element = fromstring(drawing.svg)
        assert "img" == element.get("role")
        named = element.get("aria-labelledby", "").split()
        assert [f"{SVG}title", f"{SVG}desc"] == [of.tag for of in list(element)[:2]]
        assert named == [of.get("id") for of in list(element)[:2]]
        assert all((of.text or "").strip() for of in list(element)[:2])


def test_the_same_job_gives_the_same_bytes() -> None:
    assert studio_plans() == plans(studio())
    assert house_plans() == plans(house())


def test_bars_are_as_long_as_their_amounts_and_print_them() -> None:
    rows = [("Cable", D("100"), D("20.004")), ("Lights", D("60"), D(0)), ("Nothing", D(0), D(0))]
    chart = fromstring(money_bars(rows, "GBP", "Money").svg)
    assert {"£120.00", "£60.00", "£0.00", "Cable", "Lights", "Nothing"} == set(texts(chart))
    bars = [
        (of.get("fill"), max(x for x, _ in part) - min(x for x, _ in part))
        for of in chart.iter(f"{SVG}path")
        if (of.get("fill") or "none") != "none"
        for part in subpaths(of.get("d", ""))
    ]
    (accent, used), (light, left), (grey, lights) = bars
    assert "#6a2b57" == accent
    assert len({accent, light, grey}) == 3
    assert 100 / 60 == pytest.approx(used / lights, abs=0.001)  # hand: as the amounts are
    assert 20.004 / 60 == pytest.approx(left / lights, abs=0.001)
    assert texts(fromstring(money_bars([], "GBP", "Money").svg)) == []
