"""The command `compare` as its users meet it: what it writes and prints, how it ends, what it says to bad input."""

import json
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from estimator.cli import app
from tests.shed import sockets

SCENARIOS = """
[[scenario]]
name = "two more"
change = {{ "points.S.spread" = 8 }}

[[scenario]]
name = "far too many"
change = {{ "points.S.spread" = {many} }}
"""
PRIORITY = ("spread = 6\n", "spread = 6\npriority = 1\n")


def compare(*words: str | Path) -> Result:
    return CliRunner().invoke(app, ["compare", *map(str, words)])


@pytest.fixture
def shed(tmp_path: Path) -> Path:
    folder = tmp_path / "shed"
    folder.mkdir()
    write(folder, sockets(6))
    return folder


def write(folder: Path, text: str) -> None:
    (folder / "job.toml").write_text(text, encoding="utf-8")


def spoken(result: Result) -> str:
    """What stands on standard error, in one line."""
    return " ".join(result.stderr.split())


def test_it_writes_both_files_and_prints_the_table(shed: Path) -> None:
    done = compare(shed, "--change", "points.S.spread=8", "--each", "points.S.spread=5..7")
    assert (done.exit_code, done.exception) == (0, None), done.stderr
    assert {"compare.html", "compare.xlsx"} == {path.name for path in (shed / "out").iterdir()}
    assert ["compare.html", "compare.xlsx"] == [Path(line).name for line in done.stderr.splitlines()]
    assert re.search(r"^as typed +£[\d,]+\.\d\d +\+£[\d,]+\.\d\d$", done.stdout, re.M)
    assert ["5", "6", "7"] == re.findall(r"^(\d+) +£", done.stdout, re.M)


def test_the_data_hold_what_the_table_says(shed: Path, tmp_path: Path) -> None:
    words = (shed, "--change", "points.S.spread=8", "-o", tmp_path / "elsewhere")
    data, text = json.loads(compare(*words, "--json").stdout), compare(*words).stdout
    (one,) = data["scenarios"]
    assert f"£{float(data['total']):,.2f} inc VAT" in text
    assert f"£{float(one['total']):,.2f}" in text
    assert float(one["total"]) > float(data["total"])
    assert {"compare.html", "compare.xlsx"} == {path.name for path in (tmp_path / "elsewhere").iterdir()}


def test_scenarios_of_the_job_file_are_priced_and_one_that_cannot_be_says_why_in_its_column(shed: Path) -> None:
    write(shed, sockets(6, more=SCENARIOS.format(many=400)))
    done = compare(shed)
    assert done.exit_code == 2, done.stderr
    assert re.search(r"^two more +£[\d,]+\.\d\d +\+£", done.stdout, re.M)
    assert re.search(r"^far too many +cannot be worked out$", done.stdout, re.M)
    assert re.search(r"400 places do not fit .* write \d+ or fewer", " ".join(done.stdout.split()))
    line = (shed / "job.toml").read_text(encoding="utf-8").split('"far too many"')[0].count("\n")
    assert f"job.toml:{line}:1: scenario.far too many: points.S.spread: 400 places do not fit" in spoken(done)
    assert "1 problem in the scenarios of the job file; everything else was priced and written" in spoken(done)
    page = (shed / "out" / "compare.html").read_text(encoding="utf-8")
    assert "400 places do not fit" in page


def test_one_scenario_may_be_asked_for_by_name(shed: Path) -> None:
    write(shed, sockets(6, more=SCENARIOS.format(many=400)))
    done = compare(shed, "--scenario", "two more")
    assert (0, False) == (done.exit_code, "far too many" in done.stdout)
    wrong = compare(shed, "--scenario", "two moor")
    assert 2 == wrong.exit_code
    assert 'there is no scenario "two moor"; did you mean "two more"?' in spoken(wrong)


def test_a_thing_may_be_taken_out(shed: Path) -> None:
    done = compare(shed, "--remove", "circuit.sockets", "--change", 'points.S.circuit="none"')
    assert done.exit_code == 0, done.stderr
    assert "without circuit.sockets" in done.stdout
    assert re.search(r"^as typed +£[\d,]+\.\d\d +−£", done.stdout, re.M)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--change", "points.SS.spread=8"), '"points.SS.spread" names nothing: there is no "SS" in points; did you mean "S"?'),
        (("--change", "points.S.spred=8"), 'points.S.spred: unknown key; did you mean "spread"?'),
        (("--change", "points.S.spread=many"), '--change: points.S.spread: "many" is not a whole number'),
        (("--change", "points.S.spread=400"), "400 places do not fit"),
        (("--change", "points.S.spread"), '"points.S.spread" is no change; write an address, = and a value'),
        (("--remove", "points.Q"), '"points.Q" names nothing: there is no "Q" in points'),
        (("--each", "points.S.spread=8.."), 'the range "8.." has no end; write 8..24'),
        (("--each", "points.S.spread=9..8"), "the range ends before it starts (9..8); write 8..9"),
        (("--each", "points.S.spread=few"), '"few" is no range'),
        (("--each", "points.SS.spread=8..9"), '"points.SS.spread" names nothing'),
        (("--each", "points.S.height=1..2"), "1 has no unit"),
        (("--within", "0"), "0 buys nothing; write what may be spent"),
        (("--within", "lots"), '"lots" is no amount of money'),
        (("--within", "€900"), '"€" is not the sign of GBP'),
        (("--within", "5"), "no group has a priority; write priority = 1, 2, 3"),
        ((), "there is nothing to compare: write a [[scenario]] in the job file"),
    ],
)  # fmt: skip
def test_bad_input_ends_with_2_says_what_to_write_and_writes_nothing(
    shed: Path, words: tuple[str, ...], told: str
) -> None:
    done = compare(shed, *words)
    assert (2, "") == (done.exit_code, done.stdout)
    assert told in spoken(done)
    assert not (shed / "out").exists()


def test_every_mistake_on_the_command_line_is_told_at_once(shed: Path) -> None:
    done = compare(shed, "--each", "points.S.spread=8..", "--within", "lots", "--change", "x")
    assert 2 == done.exit_code
    assert "3 problems; nothing was written" in spoken(done)


def test_where_no_scenario_can_be_nothing_is_written(shed: Path) -> None:
    write(shed, sockets(6, more=SCENARIOS.format(many=400)))
    done = compare(shed, "--scenario", "far too many")
    assert (2, False) == (done.exit_code, (shed / "out").exists())


def test_a_range_of_which_some_values_fit_is_priced_as_far_as_it_goes(shed: Path) -> None:
    (fits,) = re.findall(r"(\d+) fit;", spoken(compare(shed, "--change", "points.S.spread=400")))
    done = compare(shed, "--each", f"points.S.spread={int(fits) - 1}..{int(fits) + 2}")
    assert done.exit_code == 0, done.stderr
    assert re.search(rf"^{fits} +£", done.stdout, re.M)
    assert re.search(rf"^{int(fits) + 1} to {int(fits) + 2} +cannot be worked out", done.stdout, re.M)


def test_a_limit_says_what_is_left_out_or_that_nothing_brings_the_job_within(shed: Path) -> None:
    write(shed, sockets(6).replace(*PRIORITY))
    little = compare(shed, "--within", "£5")
    assert 0 == little.exit_code
    assert "Nothing that could be left out brings the job within £5.00." in " ".join(little.stdout.split())
    (least,) = re.findall(r"The least it comes to is £([\d.,]+)\.", " ".join(little.stdout.split()))
    done = " ".join(compare(shed, "--within", least).stdout.split())
    assert f"Within £{least}: the job comes to £{least}." in done
    assert "Left out: S (6 points, priority 1)" in done
    assert "Nothing has to be left out." in compare(shed, "--within", "90000").stdout


def test_a_folder_that_cannot_be_written_ends_with_3(shed: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    done = compare(shed, "--each", "points.S.spread=6..7", "-o", tmp_path / "file")
    assert 3 == done.exit_code
    assert "a file stands where the folder should be" in spoken(done)


def test_help_has_an_example_and_every_option() -> None:
    text = " ".join(compare("--help").stdout.split())
    assert "Example: studbay compare my-shed --change points.B.on.back=6 --each points.B.on.back=3..8" in text
    assert all(name in text for name in ("--remove", "--within", "--scenario", "--json", "--out"))


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        (
            ["--change", "points.S.spread=16", "--change", "points.S.spread=14"],
            "--change: points.S.spread: changed twice; ",
        ),
        (["--remove", "points.QQ", "--remove", "points.QQ"], '--remove: points.QQ: "points.QQ" names nothing'),
        (["--within", "-5"], "--within: -5 is below nothing; "),
    ],
)
def test_what_is_typed_twice_or_below_nothing_is_told(typed: list[str], words: str, tmp_path: Path) -> None:
    example = Path(__file__).resolve().parent.parent / "examples" / "pottery-studio"
    done = CliRunner().invoke(app, ["compare", str(example), *typed, "-o", str(tmp_path / "out")])
    assert 2 == done.exit_code
    assert words in done.output
    assert "1 problem;" in done.output


# ---- what is wrong with scenarios ----------------------------------------------------------------------------------

MANY = """
[[scenario]]
name = "empty"

[[scenario]]
name = "two more"
change = { points.S.spread = 8 }

[[scenario]]
name = "two wrong"
change = { "points.S.spread" = 400, "points.Q.spread" = 3 }

[[scenario]]
name = "fan"
option = "trench-by-hand"

[[scenario]]
name = "bare"
remove = ["circuit.sockets"]

[[scenario]]
name = "twice"
change = { points.S.spread = 8, "points.S.spread" = 9 }
"""


def line_of(folder: Path, what: str) -> int:
    text = (folder / "job.toml").read_text(encoding="utf-8")
    return text[: text.index(what)].count("\n") + 1


def test_all_that_is_wrong_with_scenarios_is_told_at_once_and_the_others_are_priced(shed: Path) -> None:
    write(shed, sockets(6, more=MANY))
    done = compare(shed)
    assert 2 == done.exit_code
    assert re.search(r"^two more +£[\d,]+\.\d\d +\+£", done.stdout, re.M)
    assert {"compare.html", "compare.xlsx"} == {path.name for path in (shed / "out").iterdir()}
    said = spoken(done)
    for name, words in (
        ("empty", 'scenario.empty: it changes nothing; write option = "..."'),
        ("two wrong", 'scenario.two wrong.change: "points.Q.spread" names nothing'),
        ("two wrong", "scenario.two wrong: points.S.spread: 400 places do not fit"),
        ("fan", 'scenario.fan.option: the option "trench-by-hand" does not apply here: the job has no trench'),
        (
            "bare",
            'scenario.bare: circuit.sockets: circuit "sockets" is taken out, and group "S" still names it; add "points.S"',
        ),
        ("twice", "scenario.twice.change: points.S.spread is changed twice; keep one"),
    ):
        assert f"job.toml:{line_of(shed, name) - 1}:1: {words}" in said
    assert "6 problems in the scenarios of the job file; everything else was priced and written" in said


def test_the_data_are_printed_whole_beside_what_is_wrong(shed: Path) -> None:
    write(shed, sockets(6, more=MANY))
    done = compare(shed, "--json")
    assert 2 == done.exit_code
    data = json.loads(done.stdout)["scenarios"]
    assert [True, False, True, True, True, True] == [bool(one["problems"]) for one in data]
    assert [True, False, True, True, True, True] == [one["total"] is None for one in data]


@pytest.mark.parametrize(
    ("written", "same"),
    [
        ("change = { points.S.spread = 8 }", "points.S.spread=8"),
        ('change = { points.S.on = { back = 2, left = 1 } }\nremove = ["points.S.spread"]', None),
        ("[scenario.change.points.S]\nspread = 8", "points.S.spread=8"),
        ("[scenario.change]\npoints.S.spread = 8", "points.S.spread=8"),
        ('change = { frame.centres = "400 mm" }', 'frame.centres="400 mm"'),
    ],
)
def test_an_address_without_quotes_is_the_same_address(shed: Path, written: str, same: str | None) -> None:
    write(shed, sockets(6, more=f'\n[[scenario]]\nname = "it"\n{written}\n'))
    words = (
        ("--change", same)
        if same
        else ("--change", "points.S.on={ back = 2, left = 1 }", "--remove", "points.S.spread")
    )
    done = compare(shed, *words, "--json")
    assert 0 == done.exit_code, done.stderr
    one, other = json.loads(done.stdout)["scenarios"]
    assert (one["total"], one["differences"]) == (other["total"], other["differences"])


def test_a_scenario_may_be_called_as_what_is_typed_is(shed: Path) -> None:
    more = '\n[[scenario]]\nname = "as typed"\nchange = { points.S.spread = 8 }\n'
    write(shed, sockets(6, more=more))
    data = json.loads(compare(shed, "--change", "points.S.spread=7", "--json").stdout)
    assert ["as typed", "as typed (2)"] == [one["name"] for one in data["scenarios"]]


@pytest.mark.parametrize(
    ("words", "place"),
    [
        (("--remove", "circuit.sockets"), "--remove: circuit.sockets: circuit "),
        (
            ("--remove", "circuit.sockets", "--change", "points.S.spread=7"),
            "--change, --remove: circuit.sockets: circuit ",
        ),
        (("--each", "points.S.spread=400..401"), "--each: points.S.spread: 400 places do not fit"),
        (("--within", "5"), "--within: points: the job comes to "),
    ],
)
def test_what_follows_from_an_option_is_told_at_the_option(shed: Path, words: tuple[str, ...], place: str) -> None:
    done = compare(shed, *words)
    assert 2 == done.exit_code
    assert place in spoken(done)
    assert "job.toml" not in done.stderr


# ---- limits and ranges ---------------------------------------------------------------------------------------------


def test_a_job_that_is_within_the_limit_needs_no_priorities(shed: Path) -> None:
    done = compare(shed, "--within", "90000")
    assert 0 == done.exit_code, done.stderr
    assert re.search(
        r"Within £90,000\.00 already: the job comes to £[\d.,]+\. Nothing has to be left out\.", done.stdout
    )


def test_what_is_typed_comes_before_ranges_and_a_limit(shed: Path) -> None:
    """The same figures as of a job file in which the change is written."""
    write(shed, sockets(9).replace("spread = 9\n", "spread = 9\npriority = 1\n"))
    asked = ("--each", "points.S.spread=8..10", "--within", "20", "--json")
    written = json.loads(compare(shed, *asked).stdout)
    write(shed, sockets(6).replace(*PRIORITY))
    typed = json.loads(compare(shed, "--change", "points.S.spread=9", *asked).stdout)
    assert (written["each"], written["within"]) == (typed["each"], typed["within"])
    assert {"changes": ["points.S.spread = 9"], "total": written["total"]} == typed["starts_from"]
    text = " ".join(compare(shed, "--change", "points.S.spread=9", *asked[:4]).stdout.split())
    assert 2 == text.count(
        f"Starts from the job with what you typed, £{float(written['total']):,.2f}: points.S.spread = 9."
    )
    assert "From 9, the job with what you typed, to 10:" in text


def test_a_chance_is_the_same_number_in_the_sentence_and_in_the_data(shed: Path) -> None:
    words = (shed, "--change", "points.S.spread=7")
    (one,) = json.loads(compare(*words, "--json").stdout)["scenarios"]
    later, text = one["later"], " ".join(compare(*words).stdout.split())
    assert later["one_in"] > 12
    assert f"at least one chance in {later['one_in']} that" in text
    # hand: the exact chance is what it costs now over what it would likely cost later
    assert round(float(later["now"]) / float(later["later"]["likely"]), 6) == later["chance"]


def test_a_scenario_prints_the_lines_to_paste_unbroken(shed: Path) -> None:
    write(shed, sockets(6, more='\n[[scenario]]\nname = "light"\noption = "camera-cable"\n'))
    done, data = compare(shed), json.loads(compare(shed, "--json").stdout)["scenarios"][0]
    assert "To make it part of the job:" in done.stdout
    assert "A camera on a cable needs no batteries" in " ".join(done.stdout.split())
    lines = [line for edit in data["write"] for line in edit["lines"]]
    assert all(f"    {line}\n" in done.stdout for line in lines)
    assert "[[points]]" in lines
    assert ("camera-cable", None) == (data["option"]["option"], data["option"]["reason"])
    assert {"shed"} == {put["room"] for put in data["placed"]}
    page = (shed / "out" / "compare.html").read_text(encoding="utf-8")
    assert "A camera on a cable needs no batteries" in page
    assert "[[points]]" in page
