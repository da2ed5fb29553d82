"""A job file that is right: what comes out of it, defaults, overrides, notes, the schema, the starter, the doors."""

import json
import tomllib
from datetime import date
from decimal import Decimal
from pathlib import Path

import jsonschema
import pytest

from estimator.catalogue.read import read_catalogue
from estimator.job import model as m
from estimator.job.crosscheck import crosscheck
from estimator.job.read import Unreadable, parse_job, read_job, read_tree
from estimator.job.schema import schema_text
from estimator.job.starter import starter_files
from estimator.job.tree import Path as TreePath
from estimator.job.tree import Tree
from estimator.problems import Place, Refused
from tests.job_texts import POTTERY, SMALL, changed

D = Decimal
ROOT = Path(__file__).resolve().parent.parent


def job_of(text: str) -> m.Job:
    return parse_job(text)[0]


# ---- The example of the design -------------------------------------------------------------------------------------


def test_the_design_s_example_is_read_with_notes_on_what_has_no_effect_yet() -> None:
    _, notes = parse_job(POTTERY)
    assert [
        "job.toml:55:1: room.studio.lighting: not used yet; it changes nothing today",
    ] == [str(note) for note in notes]


def test_the_head_of_the_example_becomes_plain_values() -> None:
    job = job_of(POTTERY)
    assert ("Pottery studio", "uk", "GBP") == (job.title, job.ruleset, job.currency)
    assert (date(2026, 10, 1), date(2027, 2, 1)) == (job.priced_on, job.test_on)
    tails = (("board", 1000), ("box", 200), ("light", 500), ("outside", 300), ("run", 1000))
    assert m.Allowances(D("0.05"), 300, D("0.1"), D("0.2"), D(3), tails) == job.allowances
    assert (
        m.Supply(
            "TN-C-S", m.Stated(D("0.35"), "ohm", "typical maximum"), m.Stated(D(230), "V", ""), m.Stated(D(80), "A", "")
        )
        == job.supply
    )
    assert m.Certificate("England", "registered electrician", date(2026, 9, 20)) == job.certificate
    assert m.Buying(("any",), (m.InHand("timber-38x89", 1100, 4, None),)) == job.buying
    amount = D(480)
    assert (
        m.Sum("Electrician: inspect, connect, test, certify", "quote", amount, amount, amount, "none", "second-fix"),
    ) == job.sums


def test_the_room_of_the_example_has_its_walls_clockwise_from_the_back() -> None:
    (room,) = job_of(POTTERY).rooms
    assert ((0, 4000), (6000, 4000), (6000, 0), (0, 0)) == room.corners
    assert ("back", "right", "front", "left") == room.wall_names
    assert ((0, 0), 0, -150, 2400) == (room.at, room.floor_level_mm, room.ground_mm, room.height_mm)
    assert m.Void(True, m.Section(D(47), D(145)), 400, "y", m.Layer(D(100), "")) == room.ceiling
    assert m.Void(False, None, None, None, None) == room.floor
    assert (m.Opening("door", "front", 600, 900, 0, 2100),) == room.openings
    assert (m.Fitted("bench", "back", 300, 2400, 0, 900, m.Fixings(D(80), 850)),) == room.fitted
    assert (m.Soffit("front", 600),) == room.soffits
    stud = m.Section(D(38), D(89))
    frame = m.Frame(
        stud=stud,
        centres_mm=600,
        inside=(m.Layer(D("12.5"), "plasterboard"), m.Layer(D(2), "skim")),
        outside=(m.Layer(D(11), "sheathing"), m.Layer(D(25), "batten"), m.Layer(D(20), "cladding")),
        insulation=m.Layer(D(80), "rigid foam"),
        insulation_given=True,
        vapour_layer=True,
        gap_mm=D(0),
        noggin=m.NogginTimber(stud, on_edge=False),
        hole_from_back_mm=D(20),
        cable_zones="keep",
        support="clip",
    )
    assert (frame,) * 4 == room.frames


def test_the_electrics_of_the_example_are_read() -> None:
    job = job_of(POTTERY)
    house, unit = job.boards
    assert m.Board("house", None, None, True, m.Way("mcb-b40", True), None, None, None, None) == house
    assert m.Board("CU", "consumer-unit-8", "feed", False, None, "studio", "left", 400, m.Height(1400)) == unit
    assert [
        ("S", "wall", m.Spread(12), m.Height(1100)),
        ("DL", "ceiling", m.Grid(2, 4, (700, 900)), None),
        ("W", "wall", m.At((m.WallPlace("front", 1700),)), m.Height(1200)),
        ("ES", "wall", m.At((m.WallPlace("front", 2100),)), m.Height(1200)),
        ("GO", "wall", m.At((m.WallPlace("left", 900),)), m.Height(1200)),
    ] == [(group.name, group.surface, group.placing, group.height) for group in job.groups]
    assert ("W1",) == job.group("DL").switched_by
    assert m.Circuit("lights", "CU", "branching", "te-1.5", "rcbo-b6", (), (), (), None, None) == job.circuits[0]
    assert (m.Control("machine stop", ("bench sockets",), "CU", ("ES1",), "GO1", "te3-1.5"),) == job.controls
    assert (m.Trench("lawn", (m.Dig(22000, 600, 300, "lawn"),)),) == job.trenches
    stretches = (m.Stretch(None, 4000), m.Stretch("lawn", 22000), m.Stretch(None, 1800))
    assert (m.Run("feed", "swa-3c-10", "house", "CU", stretches, 450, None, (None, None)),) == job.runs


def test_everything_read_tells_the_line_it_came_from() -> None:
    job = job_of(POTTERY)
    assert Place("job.toml", 78, 1) == job.group("S").place
    at = job.group("W").placing
    assert isinstance(at, m.At)
    assert Place("job.toml", 103, 8) == at.places[0].place


# ---- Defaults and overrides ----------------------------------------------------------------------------------------


def test_allowances_that_are_left_out_have_those_of_the_design() -> None:
    assert job_of(POTTERY).allowances == job_of(SMALL).allowances
    assert "GBP" == job_of(SMALL).currency


def test_tails_given_in_part_leave_the_others_as_they_were() -> None:
    job = job_of(SMALL + '\n[allowances]\ntails = { box = "150 mm" }\n')
    assert [150, 500, 1000] == [job.allowances.tail_mm(key) for key in ("box", "light", "board")]


def test_a_room_and_then_a_wall_override_the_frame_key_by_key() -> None:
    text = changed(
        "  [[room.fitted]]",
        """  [room.frame]
  centres = "400 mm"
  gap = "25 mm"
  [[room.wall]]
  name = "left"
  frame = { stud = "47 x 145 mm", centres = "300 mm", insulation = "none" }

  [[room.fitted]]""",
    )
    room = job_of(text).room("shed")
    back, left = room.frame("back"), room.frame("left")
    assert (D(38), 400, D(25), None, False) == (
        back.stud.thickness_mm, back.centres_mm, back.gap_mm, back.insulation, back.insulation_given)  # fmt: skip
    assert (D(47), 300, D(25), None, True) == (
        left.stud.thickness_mm, left.centres_mm, left.gap_mm, left.insulation, left.insulation_given)  # fmt: skip
    assert left.noggin == m.NogginTimber(left.stud, on_edge=False)
    assert back.inside == left.inside == (m.Layer(D(12), "plywood"),)


def test_a_default_of_an_inner_table_does_not_hide_what_the_outer_one_says() -> None:
    text = changed('centres = "600 mm"', 'centres = "600 mm"\nsupport = "groove"\nhole = "20 mm from back"')
    text = text.replace("  [[room.fitted]]", '  [room.frame]\n  gap = "25 mm"\n\n  [[room.fitted]]', 1)
    frame = job_of(text).room("shed").frame("back")
    assert ("groove", D(20), D(25)) == (frame.support, frame.hole_from_back_mm, frame.gap_mm)


def test_a_frame_without_lining_is_read_and_noted() -> None:
    _, notes = parse_job(changed('inside = ["12 mm plywood"]\n', ""))
    assert [
        "job.toml:23:1: room.shed: nothing says what closes the frame inside, boxes are set out as if nothing did; "
        'write inside = ["12.5 mm plasterboard"] in [frame], or inside = "none"'
    ] == [str(note) for note in notes]
    assert () == parse_job(changed('inside = ["12 mm plywood"]', 'inside = "none"'))[1]


def test_an_outline_is_moved_to_its_own_lowest_corner() -> None:
    text = """title = "L"
ruleset = "uk"
priced_on = 2026-10-01
[frame]
stud = "38 x 89 mm"
centres = "600 mm"
inside = "none"
[[room]]
name = "L"
outline = [["1 m", "-1 m"], ["1 m", "3 m"], ["3 m", "3 m"], ["3 m", "1 m"], ["5 m", "1 m"], ["5 m", "-1 m"]]
height = "2.4 m"
"""
    room = job_of(text).rooms[0]
    assert ((0, 0), (0, 4000), (2000, 4000), (2000, 2000), (4000, 2000), (4000, 0)) == room.corners
    assert ("wall-1", "wall-2", "wall-3", "wall-4", "wall-5", "wall-6") == room.wall_names


@pytest.mark.parametrize(("old", "new", "expected"), [
    ('on = { back = 2, left = 1 }', 'on = { left = 1, back = 2 }', m.OnWalls((("left", 1), ("back", 2)))),
    ('on = { back = 2, left = 1 }', 'at = [{ wall = "back", along = "1 m", height = "150 mm above bench" }]',
     m.At((m.WallPlace("back", 1000, m.Height(150, "bench")),))),
    ('height = "450 mm"\non = { back = 2, left = 1 }',
     'surface = "soffit"\nwall = "front"\nspread = 3\ncentres = "1 m"', m.Spread(3, "front", 1000)),
    ('height = "450 mm"\non = { back = 2, left = 1 }', 'surface = "soffit"\nwall = "front"\nat = ["0.7 m"]',
     m.At((m.WallPlace("front", 700),))),
    ('height = "450 mm"\non = { back = 2, left = 1 }', 'surface = "floor"\nat = [["1 m", "2 m"]]',
     m.At((m.FlatPlace(1000, 2000),))),
    ('height = "450 mm"\non = { back = 2, left = 1 }', 'surface = "ceiling"\nrows = 1\ncolumns = 2\nedge = "0.5 m"',
     m.Grid(1, 2, (500, 500))),
    ('height = "450 mm"\non = { back = 2, left = 1 }', 'surface = "ceiling"\nrows = 1\ncolumns = 2', m.Grid(1, 2, None)),
])  # fmt: skip
def test_each_way_of_placing_is_read(old: str, new: str, expected: m.Placing) -> None:
    assert expected == job_of(changed(old, new)).group("S").placing


def test_a_height_may_be_given_above_the_ground_outside() -> None:
    text = changed('height = "450 mm"', 'surface = "outside"\nheight = "450 mm above ground"')
    assert m.Height(450, "ground") == job_of(text).group("S").height


def test_points_that_a_run_names_need_no_circuit() -> None:
    text = changed(
        "[[sum]]",
        """[[points]]
name = "D"
kind = "data-outlet"
room = "shed"
height = "450 mm"
on = { right = 1 }

[[run]]
name = "link"
cable = "data-cat6"
from = "D1"
to = "outside: study"
stretches = [{ in = "building", length = "9 m" }]
ends = { to = "none" }

[[sum]]""",
    )
    job = job_of(text)
    assert (None, (None, "none")) == (job.group("D").circuit, job.runs[1].end_kits)


def test_orders_that_add_up_are_kept() -> None:
    job = job_of(changed('wiring = "radial"', 'wiring = "radial"\nsequence = ["S3", "S1", "S2"]'))
    assert ("S3", "S1", "S2") == job.circuits[0].sequence
    job = job_of(changed('wiring = "radial"', 'wiring = "ring"\nfirst = ["S3"]\nlast = ["S1"]'))
    assert (("S3",), ("S1",)) == (job.circuits[0].first, job.circuits[0].last)


def test_the_head_of_shopping_lists_is_read_and_checked() -> None:
    text = changed('wiring = "branching"', 'wiring = "branching"\nswitching = "at-light"\nkeep_to = "any"')
    text += '\n[list]\nreference = "A 7"\nwanted_by = 2026-11-01\ncollect = true\n'
    job, notes = parse_job(text)
    assert () == notes
    assert m.ListHead("A 7", date(2026, 11, 1), True, None) == job.list_head
    with pytest.raises(Refused) as refused:
        parse_job(text.replace("collect = true", 'collect = "yes"'))
    assert 'job.toml:128:11: list.collect: "yes" is neither true nor false; write true' == str(refused.value)


def test_where_a_circuit_may_run_and_where_its_feed_loops_are_read() -> None:
    text = changed('wiring = "branching"', 'wiring = "branching"\nswitching = "at-light"\nkeep_to = "ceiling"')
    assert [("any", "at-switch"), ("ceiling", "at-light")] == [
        (circuit.keep_to, circuit.switching) for circuit in job_of(text).circuits
    ]


# ---- The doors -----------------------------------------------------------------------------------------------------


def test_a_folder_or_a_file_may_be_named_and_places_show_it_as_it_was_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("shed").mkdir()
    # A byte-order mark and the line ends of another system change nothing.
    Path("shed/job.toml").write_bytes(b"\xef\xbb\xbf" + SMALL.replace("\n", "\r\n").encode())
    job, _ = read_job(Path("shed"))
    assert job == read_job(Path("shed/job.toml"))[0] == job_of(SMALL)
    assert "shed/job.toml:48:1" == str(job.group("S").place)


def test_a_job_that_is_not_there_says_where_it_was_looked_for(tmp_path: Path) -> None:
    with pytest.raises(Unreadable) as missing:
        read_job(tmp_path)
    path = tmp_path / "job.toml"
    assert f"{path}: there is no such file; studbay new FOLDER makes a folder with one" == str(missing.value)


def test_bytes_that_are_not_utf8_are_named_by_line_and_column(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b'title = "x"\n# caf\xc3\xa9, caf\xe9\n')
    with pytest.raises(Refused) as refused:
        read_job(path)
    assert f"{path}:2:12: the byte 0xe9 is not UTF-8; save the file as UTF-8 in your editor" == str(refused.value)


def test_a_tree_of_plain_values_from_another_reader_passes_the_same_checks() -> None:
    data = tomllib.loads(SMALL, parse_float=Decimal)
    assert job_of(SMALL) == read_tree(Tree(data, "job.xlsx"))[0]
    data["room"][0]["height"] = 2400
    where: dict[TreePath, Place] = {("room", 0, "height"): Place("job.xlsx rooms", 2, 7)}
    with pytest.raises(Refused) as refused:
        read_tree(Tree(data, "job.xlsx", where))
    expected = 'job.xlsx rooms:2:7: room.shed.height: 2400 has no unit; write the unit, in quotes: "2400 mm"'
    assert expected == str(refused.value)


# ---- Schema, starter, catalogue ------------------------------------------------------------------------------------


def as_json(value: object) -> object:
    if isinstance(value, dict):
        return {key: as_json(item) for key, item in value.items()}
    if isinstance(value, list):
        return [as_json(item) for item in value]
    return value.isoformat() if isinstance(value, date) else value


def test_the_shipped_schema_is_that_of_the_table_of_keys() -> None:
    shipped = (ROOT / "templates" / "job.schema.json").read_text(encoding="utf-8")
    assert schema_text() == shipped, "run: python -m estimator.job.schema > templates/job.schema.json"


@pytest.mark.parametrize("text", [POTTERY, SMALL, starter_files()["job.toml"]], ids=["pottery", "small", "starter"])
def test_the_schema_takes_what_the_reader_takes(text: str) -> None:
    schema = json.loads(schema_text())
    jsonschema.Draft7Validator.check_schema(schema)
    jsonschema.Draft4Validator.check_schema(schema | {"$schema": "http://json-schema.org/draft-04/schema#"})
    validator = jsonschema.Draft7Validator(schema)
    assert [] == [error.message for error in validator.iter_errors(as_json(tomllib.loads(text)))]


@pytest.mark.parametrize(("old", "new"), [
    ('height = "2.4 m"', "height = 2.4"),
    ('height = "2.4 m"', 'height = "2,4 m"'),
    ('height = "2.4 m"', 'heigth = "2.4 m"'),
    ('kind = "door"', 'kind = "gate"'),
    ('size = ["4.8 m", "3.0 m"]', 'size = ["4.8 m"]'),
])  # fmt: skip
def test_the_schema_refuses_what_the_reader_refuses(old: str, new: str) -> None:
    validator = jsonschema.Draft7Validator(json.loads(schema_text()))
    assert not validator.is_valid(as_json(tomllib.loads(changed(old, new))))


def test_the_starter_is_a_job_without_problems_or_notes() -> None:
    files = starter_files()
    assert ["job.toml", "job.schema.json", "prices.csv", "merchants.csv", "labour.csv"] == list(files)
    assert "#:schema ./job.schema.json" == files["job.toml"].splitlines()[0]
    job, notes = parse_job(files["job.toml"])
    assert () == notes
    assert () == crosscheck(job, read_catalogue(None))


def test_the_starter_s_remarks_show_keys_that_are_known() -> None:
    text = starter_files()["job.toml"]
    for remark in ("# fixings = ", "# in_hand = ", "# [certificate]", "# nation = ", "# route = ", "# agreed_on = "):
        assert remark in text
        text = text.replace(remark, remark.removeprefix("# "))
    job, _ = parse_job(text)
    assert job.certificate is not None
    assert (850, 4) == (job.room("shed").fitted[0].fixings.height_mm, job.buying.in_hand[0].count)  # type: ignore[union-attr]  # a None here is a failure too


def test_the_small_job_and_the_example_agree_with_the_shipped_catalogue() -> None:
    catalogue = read_catalogue(None)
    assert () == crosscheck(job_of(POTTERY), catalogue)
    assert () == crosscheck(job_of(SMALL), catalogue)


CROSS = [
    ('ruleset = "uk"', 'ruleset = "uc"', 'job.toml:2:11: ruleset: rules.csv has no rule for "uc"; did you mean "uk"?'),
    ('kind = "consumer-unit-6"', 'kind = "consumer-unit-7"',
     'job.toml:17:8: board.CU.kind: boards.csv has no board "consumer-unit-7"; did you mean "consumer-unit-8"?'),
    ('way = { device = "mcb-b32"', 'way = { device = "mcbb32"',
     'job.toml:13:18: board.house.way.device: devices.csv has no device "mcbb32"; did you mean "mcb-b32"?'),
    ('kind = "double-socket"', 'kind = "duble-socket"',
     'job.toml:50:8: points.S.kind: points.csv has no kind "duble-socket"; did you mean "double-socket"?'),
    ('kind = "switch"', 'kind = "double-socket"',
     'job.toml:56:1: points.L.switched_by[1]: W1 is a "double-socket", which is no switch; '
     "known: pull-cord-switch, switch, switch-intermediate, switch-two-way"),
    ('stud = "38 x 89 mm"', 'stud = "38 x 90 mm"',
     'job.toml:5:1: room.shed.frame.noggin: noggins at wall "back" need timber "timber-38x90", which is not in '
     'parts.csv; add "timber-38x90" to parts.csv, or write another noggin'),
    ('cable = "te-2.5"', 'cable = "te-25"',
     'job.toml:85:9: circuit.sockets.cable: cables.csv has no cable "te-25"; did you mean "te-2.5"?'),
    ('cable = "te3-1.5"', 'cable = "te3-15"',
     'job.toml:101:9: control.stop.cable: cables.csv has no cable "te3-15"; did you mean "te3-1.5"?'),
    ('cable = "swa-3c-6"', 'cable = "swa-3c-7"',
     'job.toml:109:9: run.feed.cable: cables.csv has no cable "swa-3c-7"; did you mean "swa-3c-10"?'),
    ('device = "rcbo-b20"', 'device = "rcbob20"',
     'job.toml:86:10: circuit.sockets.device: devices.csv has no device "rcbob20"; did you mean "rcbo-b20"?'),
    ('to = "CU"\n', 'to = "CU"\nends = { to = "swa-end-indor" }\n',
     'job.toml:112:15: run.feed.ends.to: kits.csv has no kit "swa-end-indor"; did you mean "swa-end-indoor"?'),
    ("[buying]", '[buying]\nmerchants = ["Nobody & Sons"]',
     'job.toml:121:14: buying.merchants[1]: merchants.csv has no merchant "Nobody & Sons"; known: any'),
    ('part = "timber-38x89"', 'part = "timber-39x89"',
     'job.toml:121:21: buying.in_hand[1].part: parts.csv has no part "timber-39x89"; did you mean "timber-38x89"?'),
    ('part = "timber-38x89"', 'part = "rcbo-b6"',
     'job.toml:121:12: buying.in_hand[1]: "rcbo-b6" is counted in pieces, not cut in lengths; write count = 4 alone, or '
     "packs = 2"),
    ('length = "1.1 m", count = 4', "packs = 2",
     'job.toml:121:12: buying.in_hand[1]: "timber-38x89" is cut in lengths, and nothing says how long yours are; write '
     'length = "1.1 m" and count = 4, a row for each length'),
    ('length = "1.1 m", count = 4', "count = 4",
     'job.toml:121:12: buying.in_hand[1]: "timber-38x89" is cut in lengths, and nothing says how long yours are; write '
     'length = "1.1 m" and count = 4, a row for each length'),
    ('ruleset = "uk"', 'ruleset = "uk"\ncurrency = "EUR"',
     'catalogues/merchants.csv:2: currency: "any" sells in GBP, and the job is in EUR; write EUR if its prices are in that '
     "(where the row came with Studbay, in a row of the same name in merchants.csv beside the job); or write "
     'currency = "GBP" in the job, or name other merchants under [buying]'),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "expected"), CROSS, ids=[case[1][:40] for case in CROSS])
def test_names_that_the_catalogue_lacks_are_told(old: str, new: str, expected: str) -> None:
    text = changed(old, new).replace('amount = "£480"', 'amount = "480"')
    assert [expected] == [line.partition(" Known: ")[0] for line in told(text) if line.startswith(expected)]


def told(text: str) -> list[str]:
    """What is said of a job beside the shipped catalogue."""
    catalogue = read_catalogue(None)
    try:
        job, _ = parse_job(text, catalogue=catalogue)
    except Refused as refused:
        return [str(problem) for problem in refused.problems]
    return [str(problem) for problem in crosscheck(job, catalogue)]


def test_a_name_that_the_catalogue_lacks_is_told_with_all_else_that_is_wrong() -> None:
    text = changed('kind = "double-socket"', 'kind = "duble-socket"').replace('cable = "te-2.5"', 'cable = "te-25"')
    lines = told(text.replace('height = "2.4 m"', "height = 2.4"))
    assert len(lines) == 3
    assert [line.split(": ")[1] for line in lines] == [
        "room.shed.height",
        "points.S.kind",
        "circuit.sockets.cable",
    ]


def test_how_old_prices_may_be_is_told_in_days_weeks_or_months() -> None:
    buying = job_of(SMALL.replace("[buying]", '[buying]\nprice_age = "1 month"\nmax_merchants = 2\ntrips = 2')).buying
    assert (2, 2, m.Age(1, "month")) == (buying.max_merchants, buying.trips, buying.price_age)
    # hand: a month before 31 March is the last day of February; 6 weeks are 42 days
    assert date(2026, 2, 28) == buying.price_age.before(date(2026, 3, 31))
    assert date(2025, 12, 15) == m.Age(3, "month").before(date(2026, 3, 15))
    assert date(2026, 8, 20) == m.Age(6, "week").before(date(2026, 10, 1))
    assert (None, 1, m.SIX_MONTHS) == (
        job_of(SMALL).buying.max_merchants,
        job_of(SMALL).buying.trips,
        job_of(SMALL).buying.price_age,
    )


@pytest.mark.parametrize("given", ['"old"', '"0 days"', '"90"', "90", '"400 months"', '"3 years"'])
def test_a_price_age_that_is_none_is_told(given: str) -> None:
    with pytest.raises(Refused) as refused:
        parse_job(SMALL.replace("[buying]", f"[buying]\nprice_age = {given}"))
    assert "buying.price_age" in str(refused.value)
    assert "write" in str(refused.value)
