"""Mistakes of a tired evening, in the file that `studbay new` writes: the one line is told, with words that mend it."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from estimator.catalogue.read import read_catalogue
from estimator.cli import app
from estimator.job.read import parse_job
from estimator.job.starter import starter_files
from estimator.problems import Refused

TEXT = starter_files()["job.toml"]
SHIPPED = read_catalogue(None)


def told(old: str, new: str) -> list[str]:
    """What is said of the starter with a change, without place."""
    assert old in TEXT
    with pytest.raises(Refused) as caught:
        parse_job(TEXT.replace(old, new), catalogue=SHIPPED)
    return [f"{one.where}: {one.found}; {one.write}".removeprefix(": ") for one in caught.value.problems]


# hand: the whole of what somebody would want to be told; a list of one, so that nothing that follows from it is told too
MISTAKES = [
    ('contingency = "10 %"', "contingency = 0.1",
     'allowances.contingency: 0.1 has no unit; write the unit, in quotes: "10 %" (which is 0.1 of the whole) or "0.1 %", '
     "whichever is meant"),
    ('centres = "600 mm"', 'centres = "60 mm"',
     'frame.centres: "60 mm" is too small here; check the unit: write "60 cm" if that is meant, or something from "200 mm" '
     'to "5 m"'),
    ('height = "2.3 m"', 'height = "2.3 mm"',
     'room.shed.height: "2.3 mm" is too small here; check the unit: write "2.3 m" if that is meant, or something from "1 m" '
     'to "30 m"'),
    ("priced_on = 2026-10-01", "priced_on = 2026-02-30",
     "there is no such day as 2026-02-30; write 2026-02-28 or another day"),
    ("priced_on = 2026-10-01", 'priced_on = "2026-02-30"',
     "priced_on: there is no such day as 2026-02-30; write 2026-02-28 or another day"),
    ("priced_on = 2026-10-01", "priced_on = 2026-1-5", "2026-1-5 is not a date; write 2026-01-05, without quotes"),
    ("test_on   = 2027-03-15", "test_on = 2027-03",
     "2027-03 is only a part of a date; write year-month-day without quotes, for example 2026-10-01"),
    ("insulation   =", "insulation thickness =",
     'the key "insulation thickness" has blanks in it; write insulation = "70 mm rigid foam"'),
    ("vapour_layer =", "vapour layer =", 'the key "vapour layer" has blanks in it; write vapour_layer = true'),
    ("cable_waste =", "spare cable =",
     'the key "spare cable" has blanks in it; no key here is like it; known: cable_waste, contingency, kerf, leg_extra, '
     "tails, vat"),
    ("on      = { back = 4 }", "on = { back: 4 }", "there is a colon where = belongs; write back = 4"),
    ("on      = { back = 4 }", "spread = four", "four is a word; write it in figures: 4"),
    ("on      = { back = 4 }", 'spread = "four"', 'points.B.spread: "four" is text; write the number in figures: 4'),
    ("on      = { back = 4 }", 'spread = "4"', 'points.B.spread: "4" is text; write the number without quotes: 4'),
    ('vat    = "none"', 'vat = "0 %"',
     'sum.Electrician: inspect, connect, test, certify.vat: "0 %" is not known here; write "none" if that is meant (VAT comes '
     "on top, is in it, or there is none)"),
    ('stud    = "38 x 89 mm"', 'stud = "38 x 89"',
     'frame.stud: "38 x 89" is not the section of a timber; write the unit: "38 x 89 mm"'),
    ('stud    = "38 x 89 mm"', 'stud = "2x4"',
     'frame.stud: "2x4" is not the section of a timber; measure the timber, and write thickness x depth, for example '
     '"38 x 89 mm"'),
    ('currency  = "GBP"', 'currency = "£"', 'currency: "£" is not known here; write "GBP" if that is meant'),
    ('span = "along y"', 'span = "front to back"',
     'room.shed.ceiling.span: "front to back" is not known here; write "along y" if that is meant (x from left to right, y '
     "from front to back)"),
    ('earthing = "TN-C-S"', 'earthing = "PME"', 'supply.earthing: "PME" is not known here; write "TN-C-S" if that is meant'),
    ('ground = "-150 mm"', 'ground = "150 mm below"',
     'room.shed.ground: "150 mm below" is not a length; write "-150 mm" (a minus for what is below)'),
    ('"150 mm above bench"', '"above bench"',
     'points.B.height: "above bench" is not a height; write how far, for example "150 mm above bench"'),
    ("[supply] ", "supply ", "supply stands without its brackets; write [supply]"),
    ("[[circuit]]", "[circuit]", "[circuit] stands in line 179 already; write [[circuit]], in double brackets, each time"),
    ('at      = [{ wall = "right", along = "1.5 m" }]', 'at = { wall = "right", along = "1.5 m" }',
     "points.H.at: a table stands alone where a list belongs; write it in square brackets: [{ ... }]"),
    ('at      = [{ wall = "right", along = "1.5 m" }]', 'at = ["right"]',
     'points.H.at[1]: "right" is no place; write { wall = "back", along = "0.4 m" } for a wall, ["3 m", "2 m"] for a '
     'ceiling, "0.7 m" for a soffit'),
    ('"38 x 89 mm"     #', '"38 x 89 cm" #',
     'frame.stud: "38 x 89 cm" is no timber: it would be 380 x 890 mm; check the unit: write a thickness from 15 to 300 mm '
     "and a depth from 30 to 800 mm"),
    ('height = "1.4 m" ', 'height = "1.4 mm" ',
     'board.CU.height: "1.4 mm" is lower than the middle of any box can be; check the unit: write "1.4 m" if metres are meant'),
    ('leg_extra   = "300 mm"', 'leg_extra = "300 m"',
     'allowances.leg_extra: "300 m" is too large here; check the unit: write "300 mm" if that is meant, or something from '
     '"0 mm" to "20 m"'),
    ('length = "18 m"', 'length = "18"',
     'trench.garden.stretches[1].length: "18" is not a length; write the unit, in quotes: "18 m" or "18 mm"'),
    ('load    = "2 kW"', 'load = "2000 kW"',
     'points.H.load: "2000 kW" is too large here; check the unit: write "2000 W" if watts are meant'),
    ('name    = "W"', 'name = ""', "points[6].name: the text is empty; write a name or take the line out"),
    ('from  = "house"', 'from = "House"',
     'run.feed.from: there is no board or point "House"; did you mean "house"? A place beyond the job is written '
     '"outside: ..."'),
    ('kind  = "door"', 'kind = "Door"', 'room.shed.opening[1].kind: "Door" is not known here; write "door"'),
    ('amount = { low = "£380", likely = "£450", high = "£600" }', 'amount = "£380 to £600"',
     'sum.Electrician: inspect, connect, test, certify.amount: "£380 to £600" is no amount of money; write the range as '
     '{ low = "£380", likely = "...", high = "£600" }, where a range may stand'),
    ('amount = { low = "£380", likely = "£450", high = "£600" }', 'amount = "450 pounds"',
     'sum.Electrician: inspect, connect, test, certify.amount: "450 pounds" is no amount of money; write "450"'),
    ("merchants = [\"any\"]", "merchants = []", "buying.merchants: the list is empty; write at least one, or take the line out"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "expected"), MISTAKES, ids=[case[1] for case in MISTAKES])
def test_a_mistake_is_told_once_with_what_mends_it(old: str, new: str, expected: str) -> None:
    assert [expected] == told(old, new)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('centres = "600 mm"', 'centres = "1.2 m"'),
        ('height = "2.3 m"', 'height = "4.5 m"'),
        ('"400 mm", span', '"150 mm", span'),
    ],
)
def test_what_is_only_unlikely_is_no_mistake(old: str, new: str) -> None:
    assert parse_job(TEXT.replace(old, new), catalogue=SHIPPED)[0].title == "Beekeeper's shed"


def test_a_misspelt_circuit_is_told_at_its_points_and_not_at_the_circuit_it_leaves_bare() -> None:
    assert ['points.H.circuit: there is no circuit "heaters"; did you mean "heater"?'] == told(
        'circuit = "heater"', 'circuit = "heaters"'
    )


def test_a_bench_at_a_wall_that_is_not_there_says_nothing_of_the_points_above_it() -> None:
    said = told('wall  = "back"', 'wall = "north"')
    assert ["room.shed.opening[2].wall", "room.shed.fitted.bench.wall"] == [line.partition(":")[0] for line in said]


def test_a_new_job_in_a_folder_with_a_blank_says_a_command_that_can_be_pasted(tmp_path: Path) -> None:
    done = CliRunner().invoke(app, ["new", str(tmp_path / "hive shed")])
    assert 0 == done.exit_code
    assert f"run:  studbay estimate '{tmp_path}/hive shed'" in done.stderr
    assert (tmp_path / "hive shed" / "codes.txt").is_file()


REMOVED = [
    ("circuit.heater", 'circuit "heater" is taken out, and group "H" still names it; remove what hangs on it too: '
     "--remove points.H, or change it"),
    ("points.W", 'group "W" is taken out, and group "L" and group "O" still name it; remove what hangs on it too: --remove '
     "points.L --remove points.O --remove circuit.lights, or change them"),
    ("points.H", "no point is on this circuit any more; remove the circuit too: --remove circuit.heater"),
]  # fmt: skip


@pytest.mark.parametrize(("address", "expected"), REMOVED, ids=[case[0] for case in REMOVED])
def test_what_hangs_on_a_thing_that_is_taken_out_is_told_at_once(address: str, expected: str, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text(TEXT, encoding="utf-8")
    done = CliRunner().invoke(app, ["compare", str(tmp_path), "--remove", address])
    assert 2 == done.exit_code
    assert [expected] == [line.partition(": ")[2].partition(": ")[2] for line in done.stderr.splitlines()[:-1]]
