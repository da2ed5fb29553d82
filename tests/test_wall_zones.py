"""The drawing of every wall to scale, by hand, and the page that shows them: inert, in a browser and on paper."""

import os
import re
import shutil
import subprocess
import sys
from dataclasses import replace
from decimal import Decimal as D
from functools import cache
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.catalogue.read import read_catalogue
from estimator.checks.model import Finding
from estimator.documents.everything import render
from estimator.documents.wall_zones import render_wall_zones
from estimator.documents.words import CAUTIONS
from estimator.drawings.svg import CABLE, INK
from estimator.drawings.wall_network import wall_drawing
from estimator.drawings.wall_network_ink import words
from estimator.drawings.wall_network_key import wall_key
from estimator.drawings.wall_network_tags import PITCH_MM, spread
from estimator.drawings.wall_network_view import View, wall_views
from estimator.estimate import estimate
from estimator.result import Estimate
from tests import houses
from tests.shed import HEAD, ROOT, sockets, worked
from tests.test_quote import EVIL, Page, hostile, studio

SVG = "{http://www.w3.org/2000/svg}"
WINDOW = """
  [[room.opening]]
  kind = "window"
  wall = "back"
  along = "2.0 m"
  width = "1.2 m"
  sill = "0.9 m"
  head = "2.1 m"
"""
POINTS = """
[[points]]
name = "S"
kind = "double-socket"
circuit = "sockets"
room = "shed"
height = "450 mm"
at = [{ wall = "back", along = "1.0 m" }, { wall = "back", along = "2.6 m" }]

[[points]]
name = "O"
kind = "outdoor-socket"
circuit = "sockets"
room = "shed"
surface = "outside"
height = "1.1 m"
at = [{ wall = "back", along = "4.0 m" }]

[[circuit]]
name = "sockets"
board = "CU"
wiring = "radial"
cable = "te-2.5"
device = "rcbo-b20"
"""


@cache
def shed() -> Estimate:
    """A shed with a window and two sockets in its back wall, one of them under the window, and a socket outside it."""
    return worked(HEAD + WINDOW + POINTS)


@cache
def shed_page() -> str:
    return render_wall_zones(shed())


@cache
def house() -> Estimate:
    return estimate(houses.house(), read_catalogue(houses.FOLDER))


@cache
def house_page() -> str:
    return render_wall_zones(house())


@cache
def studio_page() -> str:
    return render_wall_zones(studio())


@cache
def hostile_page() -> str:
    of = hostile()
    walls = [finding for finding in studio().findings if finding.check == "cable-zone"]
    wall = of.routes.walls[0]
    told = Finding("cable-zone", "ask", f"{wall.room}, {wall.wall}", EVIL, D(1), D(0), "mm", EVIL, EVIL)
    stray = Finding("cable-zone", "unchecked", "job", EVIL)
    assert not walls
    return render_wall_zones(replace(of, findings=(*of.findings, told, stray)))


def view(of: Estimate, wall: str, room: str = "shed") -> View:
    return next(one for one in wall_views(of) if (one.wall.room, one.wall.name) == (room, wall))


def back() -> ElementTree.Element:
    return ElementTree.fromstring(wall_drawing(view(shed(), "back"), "w", "Back").drawing.svg)


def paths(drawn: ElementTree.Element, **look: str) -> list[str]:
    """The parts of the paths with that look; M 0 -450 L 6000 -450 becomes `0 -450L6000 -450`."""
    found = []
    for path in drawn.iter(f"{SVG}path"):
        if all((path.get(name.replace("_", "-")) or "none") == value for name, value in look.items()):
            found += path.get("d", "").split("M")[1:]
    return found


# --- the drawing: `hand` --------------------------------------------------------------------------------------------

# Lines are 0.2 mm on paper, 10 of the building at 1:50; dashes 1.6 and 1.0 mm.
WAY = {"stroke": CABLE, "stroke_width": "10", "stroke_dasharray": "80 50"}
BACK_LINES = [
    # level with S1 and S2, under the sill; level with O1, cut by the window from 2000 to 3200 along
    "0 -450L6000 -450",
    "0 -1100L2000 -1100",
    "3200 -1100L6000 -1100",
    # beside the end studs, 38 thick; in line with S1; with S2 up to the sill and from the head; with O1
    "38 -450L38 -2400",
    "1000 -450L1000 -2400",
    "2600 -450L2600 -900",
    "2600 -2100L2600 -2400",
    "4000 -450L4000 -2400",
    "5962 -450L5962 -2400",
]


def test_every_lane_and_riser_of_a_wall_is_drawn_at_its_place_with_what_openings_leave_of_it() -> None:
    assert BACK_LINES == paths(back(), **WAY)


def test_the_drawing_is_to_scale_on_paper() -> None:
    drawing = wall_drawing(view(shed(), "back"), "w", "Back").drawing
    left, top, wide, high = (D(of) for of in str(back().get("viewBox")).split())

    # 6000 mm do not fit the 180 mm of an upright sheet at 1:20 (300 mm), at 1:50 they are 120 mm
    assert 50 == drawing.scale
    # 22 and 14 mm beside the wall, 13 over it, 19 and a row of 5.2 for openings under it; 2400 are 48 mm
    assert ("156mm", "85.2mm") == (back().get("width"), back().get("height"))
    assert (D(-1100), D(-3050), D(156) * 50, D("85.2") * 50) == (left, top, wide, high)
    # the lane 450 up and the riser 4000 along, mm from the left top of the drawing
    assert (D(102), D(52)) == ((4000 - left) / 50, (-450 - top) / 50)


def test_zones_are_toned_once_for_each_outline() -> None:
    (tone,) = [path for path in back().iter(f"{SVG}path") if path.get("fill") == "#ececec"]

    assert [
        # published: the plate of the double socket is 146 by 86 mm in the shipped points.csv; S1 and S2 share a level
        "0 -407H6000V-493H0Z",
        "0 -2250H6000V-2400H0Z",
        "0 0H150V-2400H0Z",
        "927 0H1073V-2400H927Z",
        "2527 0H2673V-2400H2527Z",
        "5850 0H6000V-2400H5850Z",
    ] == str(tone.get("d")).split("M")[1:]


def test_openings_are_cut_out_and_a_stroke_shows_what_they_cut() -> None:
    outlines = paths(back(), stroke=INK, fill="#fff", stroke_width="17.5")
    assert ["2000 -900H3200V-2100H2000Z"] == outlines
    # strokes of 45 degrees, 1.6 mm long: 0.8 x 50 x 0.70711 = 28.284 to each side
    assert [
        "1971.716 -1071.716L2028.284 -1128.284",
        "3171.716 -1071.716L3228.284 -1128.284",
        "2571.716 -871.716L2628.284 -928.284",
        "2571.716 -2071.716L2628.284 -2128.284",
    ] == paths(back(), stroke=CABLE, stroke_width="17.5")


def test_studs_stand_where_they_are_and_short_ones_leave_the_window_free() -> None:
    studs = paths(back(), stroke="#8c8c8c")

    # 38 mm thick: at the ends, on multiples of 600 (2400 and 3000 are short), and beside the window
    assert "581 0H619V-2400H581Z" in studs
    assert ["2381 0H2419V-900H2381Z", "2381 -2100H2419V-2400H2381Z"] == [of for of in studs if of.startswith("2381")]
    assert {"1962 0H2000V-2400H1962Z", "3200 0H3238V-2400H3200Z"} <= set(studs)
    # two ends, 600 to 5400 without 2400 and 3000 (seven), two beside the window, two short ones in two parts
    assert 2 + 7 + 2 + 4 == len(studs)


def test_boxes_and_boards_are_drawn_to_scale_with_their_names_and_those_outside_dashed() -> None:
    kinds = shed().catalogue.points
    wide, high = kinds["double-socket"].width_mm / 2, kinds["double-socket"].height_mm / 2
    boxes = paths(back(), stroke=INK, fill="#fff", stroke_width="12.5")
    assert [f"{along - wide:f}".removesuffix(".0") for along in (1000, 2600)] == [of.split(" ")[0] for of in boxes]
    assert f"V-{450 + high:f}".removesuffix(".0") in boxes[0]
    assert 1 == len(paths(back(), stroke=INK, fill="none", stroke_width="12.5"))
    names = [text.text for text in back().iter(f"{SVG}text")]
    assert {"S1", "S2", "O1", "window"} <= set(names)
    left = ElementTree.fromstring(wall_drawing(view(shed(), "left"), "w", "Left").drawing.svg)
    assert "CU" in [text.text for text in left.iter(f"{SVG}text")]


def test_cables_are_solid_where_they_run() -> None:
    solid = paths(back(), stroke=CABLE, stroke_width="25")

    # every stretch of every leg on that wall lies on a lane or riser that is drawn
    for part in solid:
        (x, y), (u, v) = ([int(of) for of in end.split()] for end in part.split("L"))
        assert any(
            (a == x == u == c and b >= max(y, v) and d <= min(y, v))
            or (b == y == v == d and a <= min(x, u) and c >= max(x, u))
            for (a, b), (c, d) in ([[int(of) for of in end.split()] for end in line.split("L")] for line in BACK_LINES)
        )
    assert "1000 -450L2600 -450" in solid


def test_tags_number_what_the_table_tells() -> None:
    names = [text.text or "" for text in back().iter(f"{SVG}text")]

    assert [f"zone {number}" for number in (1, 2)] == [of for of in names if of.startswith("zone")][:2]
    assert 6 == sum(of.startswith("zone") for of in names)
    assert ["lane 1", "lane 2"] == [of for of in names if of.startswith("lane")]
    assert [f"riser {number}" for number in range(1, 6)] == [of for of in names if of.startswith("riser")]


@pytest.mark.parametrize(
    ("length", "scale", "flat"),
    [
        # upright sheets leave 180 - 22 - 14 = 144 mm: 2880 at 1:20, 7200 at 1:50; lying ones 271 - 36 = 235: 11750, 23500
        (2880, 20, False),
        (2900, 50, False),
        (7200, 50, False),
        (7300, 50, True),
        (11750, 50, True),
        (11800, 100, False),
        (14500, 100, True),
        (23600, 200, False),
    ],
)
def test_the_scale_is_the_first_that_fits_a_sheet(length: int, scale: int, flat: bool) -> None:
    own = view(shed(), "back")
    drawn = wall_drawing(replace(own, wall=replace(own.wall, length_mm=length)), "w", "")

    assert (scale, flat) == (drawn.drawing.scale, drawn.flat)


def test_tags_that_would_lie_on_each_other_move_apart_about_their_middle() -> None:
    # hand: 10 and 11 want 2.7 between them and are 1 apart: each moves 0.85; 20 stays
    assert (9.15, 11.85, 20.0) == pytest.approx(spread([10, 11, 20]))
    assert () == spread([])


@given(st.lists(st.floats(0, 200), max_size=30))
def test_tags_keep_their_order_and_their_distance(places: list[float]) -> None:
    wanted = sorted(places)
    found = spread(wanted)

    assert len(wanted) == len(found)
    assert all(b - a >= PITCH_MM - 1e-9 for a, b in pairwise(found))
    assert sum(found) == pytest.approx(sum(wanted))


def test_names_are_inert_in_a_drawing() -> None:
    assert '<text x="1" y="-2">&lt;b&gt; &amp; \ufffd</text>' == words("<b> & \u202e", 1, 2)


def test_a_rise_from_a_lower_ceiling_is_shown_with_its_cable_though_the_wall_has_no_riser_there() -> None:
    of = worked(sockets(4))
    leg = of.routes.circuits[0].legs[0]
    piece = replace(
        leg.path.pieces[0],
        kind="riser",
        room="shed",
        wall="back",
        void="",
        start=(2222, 4000, 100),
        end=(2222, 4000, 300),
    )
    moved = replace(leg, path=replace(leg.path, pieces=(piece,)))
    routes = replace(of.routes, circuits=(replace(of.routes.circuits[0], legs=(moved,)),))
    ways = view(replace(of, routes=routes), "back").ways

    assert [("riser", 2222, ((100, 300),), (leg.id,))] == [
        (way.line.kind, way.line.at_mm, way.line.stretches, way.cables) for way in ways if way.number == 0
    ]


# --- the page -------------------------------------------------------------------------------------------------------


def rows(page: str, wall: str) -> list[list[str]]:
    """The cells of the table of a wall, as text."""
    table = page.partition(f'<caption class="hidden">{wall}:')[2].partition("</table>")[0].partition("</thead>")[2]
    found = re.findall(r"<tr>(.*?)</tr>", table)
    return [[re.sub(r"<[^>]+>", "", cell) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row)] for row in found]


def test_the_table_of_a_wall_tells_each_zone_lane_and_riser_with_its_reason_and_cables() -> None:
    found = rows(shed_page(), "Back wall of shed")

    # hand: as drawn above
    assert [
        ["zone 1", "0 to 6000", "407 to 493", "level with S1, S2", ""],
        ["zone 2", "0 to 6000", "2250 to 2400", "within 150 mm of the top", ""],
        ["zone 3", "0 to 150", "0 to 2400", "within 150 mm of the corner with wall &quot;left&quot;", ""],
        ["zone 4", "927 to 1073", "0 to 2400", "in line with S1", ""],
        ["zone 5", "2527 to 2673", "0 to 2400", "in line with S2", ""],
        ["zone 6", "5850 to 6000", "0 to 2400", "within 150 mm of the corner with wall &quot;right&quot;", ""],
    ] == found[:6]
    assert [
        ["lane 1", "0 to 6000", "450", "level with S1, S2"],
        ["lane 2", "0 to 2000, 3200 to 6000", "1100", "level with O1"],
        ["riser 1", "38", "450 to 2400", "beside the stud at the end of the wall"],
        ["riser 2", "1000", "450 to 2400", "in line with S1"],
        ["riser 3", "2600", "450 to 900, 2100 to 2400", "in line with S2"],
        ["riser 4", "4000", "450 to 2400", "in line with O1"],
        ["riser 5", "5962", "450 to 2400", "beside the stud at the end of the wall"],
    ] == [row[:4] for row in found[6:]]
    assert "A sockets: " in found[6][4]
    assert "S1 to S2" in found[6][4]


def test_cables_in_the_tables_are_those_whose_routes_run_there() -> None:
    of = house()
    told = {leg.id: leg for leg in of.routes.legs}
    for one in wall_views(of):
        for way in one.ways:
            for cable in way.cables:
                path = told[cable].path if cable in told else next(r.path for r in of.routes.runs if r.id == cable)
                assert path is not None
                kinds = {(piece.kind, piece.room, piece.wall) for piece in path.pieces}
                assert (way.line.kind, one.wall.room, one.wall.name) in kinds
    seen = {cable for one in wall_views(of) for way in one.ways for cable in way.cables}
    on_walls = {leg.id for leg in of.routes.legs if any(of.kind in ("lane", "riser") for of in leg.path.pieces)}
    assert on_walls <= seen


def test_a_finding_about_a_cable_out_of_its_zone_stands_with_its_wall() -> None:
    found = [finding for finding in shed().findings if finding.check == "cable-zone"]
    assert ["shed, back"] == [finding.subject for finding in found]
    part = shed_page().partition("<h3>Back wall of shed</h3>")[2].partition("</section>")[0]
    assert f"<li><b>Ask your electrician</b>: {found[0].message}" in part
    assert 1 == shed_page().count(found[0].message)


def test_a_wall_without_anything_is_told_in_one_line() -> None:
    assert "<h3>Front wall of shed</h3>" not in shed_page()
    assert (
        '<p class="free bare"><b>Front wall of shed</b>, 6000 long, 2400 high. Nothing is fixed to it and no cable runs '
        "along it, so it is not drawn. Cable zones: within 150 mm of the top; within 150 mm of the corner with wall "
        "&quot;right&quot;; within 150 mm of the corner with wall &quot;left&quot;.</p>"
    ) in shed_page()
    # measured: the house has 54 walls, four of them with nothing but risers at their ends and nothing in the wall behind
    assert (50, 4) == (house_page().count("<h3>"), house_page().count('class="free bare"'))


def test_the_page_says_whose_zones_they_are_and_who_decides() -> None:
    text = Page(shed_page()).visible
    assert 'as the rules table prescribes them (ruleset "uk": BS 7671 522.6.202 (i), BS 7671:2018+A2:2022)' in text
    assert "They are prescribed zones: your electrician decides" in text
    assert all(line in text for line in CAUTIONS)
    assert not re.search(r"\b(compliant|safe|certified|pass)\b", text)


def test_without_the_rule_the_page_says_that_there_are_no_zones() -> None:
    of = shed()
    rules = {key: rule for key, rule in of.catalogue.rules.items() if key[1] != "zone-width"}
    page = render_wall_zones(worked(HEAD + WINDOW + POINTS, replace(of.catalogue, rules=rules)))

    assert "no cable zones in ruleset &#34;uk&#34;, so none are drawn" in page
    assert "<b>Not checked</b>: rules.csv has no value for" in page.partition("<main>")[0]
    assert "zone 1" not in page
    assert "lane 1" in page


def test_drawings_are_well_formed_and_their_ids_are_their_own() -> None:
    for page in (shed_page(), studio_page(), house_page(), hostile_page()):
        for drawing in re.findall(r"<svg.*?</svg>", page, re.S):
            assert ElementTree.fromstring(drawing).get("viewBox")
        ids = [of["id"] for _, of in Page(page).tags if "id" in of]
        assert len(ids) == len(set(ids))
        assert "nan" not in page


def test_nothing_in_the_page_runs_or_is_fetched() -> None:
    for page in (studio_page(), house_page(), hostile_page()):
        parsed = Page(page)
        tags = {tag for tag, _ in parsed.tags}
        assert not {"script", "iframe", "object", "embed", "form", "img", "base"} & tags
        for tag, attributes in parsed.tags:
            assert not [name for name in attributes if name.startswith("on") or name in ("src", "srcset", "xlink:href")]
            assert attributes.get("href", "#").startswith(("#", "data:,")), tag
        assert "url(" not in page
        assert "@import" not in page
        assert set(re.findall(r"https?://[^\s\"]+", page)) == {"http://www.w3.org/2000/svg"}


def test_whatever_users_write_stays_text() -> None:
    parsed, plain = Page(hostile_page()), Page(studio_page())
    assert {tag for tag, _ in parsed.tags} <= {tag for tag, _ in plain.tags} | {"small"}
    shown = EVIL.replace("\u202e", "\ufffd")
    assert parsed.visible.count(shown) > 50
    assert "\u202e" not in hostile_page()
    style = hostile_page().partition("<style>")[2].partition("</style>")[0]
    assert "<" not in style
    assert style.count("{") == style.count("}")


def test_headings_and_tables_are_marked_as_what_they_are() -> None:
    for page in (studio_page(), house_page()):
        parsed = Page(page)
        levels = [int(tag[1]) for tag, _ in parsed.tags if re.fullmatch("h[1-6]", tag)]
        assert [1, 2, 3] == levels[:3]
        assert 1 == levels.count(1)
        for table in re.findall(r"<table.*?</table>", page, re.S):
            assert '<caption class="hidden">' in table
        assert all(of.get("scope") in ("col", "row") for of in parsed.named("th"))


def test_it_is_written_beside_the_quote() -> None:
    files = list(render(studio()))
    assert ["quote.html", "wall-zones.html"] == files[:2]


def test_the_same_estimate_gives_the_same_bytes_whatever_the_hash_seed() -> None:
    code = "import hashlib; from tests.test_wall_zones import shed_page as p; print(hashlib.sha256(p().encode()).hexdigest())"
    seen = {
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=ROOT,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "4711")
    }
    assert 1 == len(seen)


def test_the_key_shows_a_line_of_100_mm() -> None:
    drawn = ElementTree.fromstring(wall_key().svg)
    wide = D(str(drawn.get("viewBox")).split()[2])
    assert D(str(drawn.get("width")).removesuffix("mm")) == wide
    slashes = [part for part in paths(drawn, stroke=INK) if part.startswith(("-0.566", "99.434"))]
    # hand: strokes of 1.6 mm about 0 and 100, 0.8 x 0.70711 = 0.566 to each side
    assert 2 == len(slashes)


# --- in a browser ---------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def chromium() -> str:
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        assert os.environ.get("CI") != "true", "Chromium is missing"
        pytest.skip("Chromium is missing")
    return found


def run(chromium: str, *words: str) -> str:
    command = [chromium, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", *words]
    return subprocess.run(command, capture_output=True, text=True, check=True, timeout=120).stdout


MEASURE = """<script>
addEventListener("load", () => {
  const wide = [...document.querySelectorAll("body *")].filter(
    one => !one.closest(".drawing svg") && one.getBoundingClientRect().right > innerWidth + 1);
  parent.postMessage([innerWidth, document.documentElement.scrollWidth,
    wide.map(one => one.tagName + "." + one.className).slice(0, 5).join(" ")].join("|"), "*");
});
</script>"""
FRAME = """<!DOCTYPE html><title>frame</title><body><script>
addEventListener("message", got => { document.body.setAttribute("data-got", got.data); });
</script><iframe src="inner.html" style="border:0;width:WIDTHpx;height:640px"></iframe></body>"""


@pytest.mark.browser
@pytest.mark.parametrize(("text", "width"), [(house_page, 320), (hostile_page, 320), (hostile_page, 768)])
def test_nothing_but_a_drawing_that_slides_reaches_beyond_the_window(
    chromium: str, tmp_path: Path, text: object, width: int
) -> None:
    assert callable(text)
    copy = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text())
    (tmp_path / "inner.html").write_text(copy.replace("</body>", MEASURE + "</body>"), encoding="utf-8")
    frame = tmp_path / "frame.html"
    frame.write_text(FRAME.replace("WIDTH", str(width)), encoding="utf-8")
    dom = run(
        chromium,
        "--virtual-time-budget=4000",
        f"--window-size={max(width, 500) + 100},900",
        "--dump-dom",
        frame.as_uri(),
    )
    found = re.search(r'data-got="(\d+)\|(\d+)\|([^"]*)"', dom)
    assert found is not None
    assert (str(width), str(width), "") == found.groups()


@pytest.mark.browser
def test_printed_each_wall_has_its_drawing_and_heading_on_one_sheet_of_a4(chromium: str, tmp_path: Path) -> None:
    if shutil.which("pdfinfo") is None or shutil.which("pdftotext") is None:
        assert os.environ.get("CI") != "true", "pdfinfo or pdftotext is missing"
        pytest.skip("pdfinfo or pdftotext is missing")
    (tmp_path / "walls.html").write_text(house_page(), encoding="utf-8")
    pdf = str(tmp_path / "walls.pdf")
    run(chromium, "--no-pdf-header-footer", f"--print-to-pdf={pdf}", (tmp_path / "walls.html").as_uri())
    told = subprocess.run(["pdfinfo", "-f", "1", "-l", "99", pdf], capture_output=True, text=True, check=True).stdout
    sizes = [(float(w), float(h)) for w, h in re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", told)]
    # published: ISO 216, A4 is 210 x 297 mm; a point is 25.4 / 72 mm
    upright, flat = (595.28, 841.89), (841.89, 595.28)
    assert all(of in (pytest.approx(upright, abs=1), pytest.approx(flat, abs=1)) for of in sizes)
    # measured: one wall, 9600 mm long, lies
    assert 1 == sum(of == pytest.approx(flat, abs=1) for of in sizes)
    text = subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, text=True, check=True).stdout
    pages = text.split("\f")[:-1]
    headings = {re.sub(r"<[^>]+>", "", of) for of in re.findall(r"<h3>(.*?)</h3>", house_page())}
    for heading in sorted(headings):
        (own,) = [page for page in pages if re.search(rf"^ *{re.escape(heading)}$", page, re.M)]
        after = own.partition(heading)[2]
        assert "seen from inside" in after
        assert re.search(r"\b\d{3,5}\b", after)  # its dimensions are on the same sheet


def test_holes_beside_their_lane_are_drawn_where_they_are_and_told_in_the_table() -> None:
    front = view(studio(), "front", "studio")
    # hand: of 1.5 and twice 2.5 on the lane at 450 the second hole is 3 x 20 = 60 up (see the tests of places)
    places = [(of.along_mm, of.up_mm) for of in front.beside]
    assert places
    assert {510.0} == {up for _, up in places}
    drawn = ElementTree.fromstring(wall_drawing(front, "w", "t").drawing.svg)
    rings = [d for d in paths(drawn, fill="#fff", stroke=CABLE) if "a" in d]
    assert len(places) == len(rings)
    # hand: a ring of 1.3 mm begins 0.65 mm of paper left of its middle; y runs down
    scale, (left, _) = wall_drawing(front, "w", "t").drawing.scale, places[0]
    assert rings[0].startswith(f"{left - 0.65 * scale:g} -510a")
    (told,) = [row for row in rows(studio_page(), "Front wall of studio") if row[0].startswith("hole")]
    assert ["holes, stud", ", ".join(f"{along:g}" for along, _ in places), "510"] == told[:3]
    assert told[3] == "hole 2 of 2, 60 mm above the lane"
    assert told[4]


def test_every_hole_set_off_in_a_wall_of_the_house_is_on_its_drawing() -> None:
    off = [hole for hole in house().routes.drilled if hole.by_mm and hole.passage.wall]
    assert off
    assert len(off) == sum(len(of.beside) for of in wall_views(house()))
