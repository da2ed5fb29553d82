"""As built: measured lengths take the place of planned ones, from the job or a filled-in CSV; all that is no such leg."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal as D
from pathlib import Path

import pytest

from estimator.job.model import AsBuilt, Control, Job, Run, Stretch
from estimator.job.read import Unreadable, parse_job, read_job
from estimator.problems import Place, Refused
from estimator.routing.model import Leg, Routes
from tests import jobs as j
from tests.job_texts import SMALL
from tests.shed import STUDIO, shipped, sockets, worked
from tests.test_circuits import KINDS, lights, lit, switch
from tests.wires import squared, trade


def measured(start: str, end: str, length_mm: int, circuit: str | None = None, run: str | None = None) -> AsBuilt:
    return AsBuilt(start, end, circuit, run, length_mm, Place("as-built.csv", 7))


def two_circuits(*rows: AsBuilt) -> Job:
    """Sockets S and T side by side, each its circuit, a run from S1 to S2, a control from ES1 to GO1."""
    groups = [
        j.group("S", "double-socket", j.at(("back", 1000), ("back", 2000), ("back", 3000)), circuit="a"),
        j.group("T", "double-socket", j.at(("back", 1000), ("back", 2000)), circuit="b"),
        j.group("ES", "emergency-stop", j.at(("front", 3000)), circuit=None),
        j.group("GO", "start-button", j.at(("front", 4000)), circuit=None),
    ]
    job = j.job(
        groups=groups,
        boards=[j.board(height=1100)],
        circuits=[j.circuit("a"), j.circuit("b", "star")],
        controls=[Control("stop", ("a",), "CU", ("ES1",), "GO1", "te3-1.5")],
        runs=[Run("link", "te-1.5", "S1", "S2", (), 450, None, (None, None))],
    )
    return replace(job, as_built=rows)


def leg(routes: Routes, name: str) -> Leg:
    return next(leg for leg in routes.legs if leg.id == name)


def refusals(job: Job) -> list[tuple[str, str]]:
    with pytest.raises(Refused) as refused:
        squared(job, trade(points=KINDS))
    return [(problem.found, problem.write) for problem in refused.value.problems]


# --- what a measured length changes: `hand` -------------------------------------------------------------------------


def test_a_measured_leg_has_its_length_and_is_cut_at_it_and_its_route_and_plan_stay() -> None:
    plain, built = squared(two_circuits()), squared(two_circuits(measured("S2", "S3", 2730)))
    was, now = leg(plain, "a: S2 to S3"), leg(built, "a: S2 to S3")

    # hand: 1.0 m of route and 0.2 m in either box; 1.4 x 1.05 + 0.3 = 1.77, cut at 1.8 m
    assert (was.route_mm, was.planned_mm, was.length_mm, was.cut_mm) == (1000, 1400, 1400, 1800)
    assert (now.route_mm, now.planned_mm, now.length_mm, now.cut_mm) == (1000, 1400, 2730, 2730)
    assert now == replace(was, length_mm=2730, cut_mm=2730)
    assert [one for one in built.legs if one != now] == [one for one in plain.legs if one != was]
    assert (built.drilled, built.runs) == (plain.drilled, plain.runs)


def test_either_end_may_be_named_first() -> None:
    assert squared(two_circuits(measured("S3", "S2", 2730))) == squared(two_circuits(measured("S2", "S3", 2730)))


def test_a_run_and_a_leg_of_a_control_are_measured_likewise() -> None:
    built = squared(two_circuits(measured("S1", "S2", 1900, run="link"), measured("GO1", "ES1", 5000)))

    assert (built.runs[0].planned_mm, built.runs[0].length_mm, built.runs[0].cut_mm) == (1400, 1900, 1900)
    assert leg(built, "stop: GO1 to ES1").length_mm == 5000


def test_a_run_with_stretches_is_measured_by_its_ends_outside_too() -> None:
    run = Run("feed", "te-4", "outside: gate", "CU", (Stretch(None, 4000),), 450, None, (None, None))
    job = replace(two_circuits(measured("outside: gate", "CU", 7000)), runs=(run,))
    (built,) = squared(job).runs

    # hand: 4 m and 1 m at either end
    assert (built.planned_mm, built.length_mm, built.stretches) == (6000, 7000, (("building", 4000),))


def test_the_difference_is_told_for_each_circuit_control_and_run() -> None:
    rows = [
        measured("S2", "S3", 2730),
        measured("S1", "S2", 1000, circuit="a"),
        measured("GO1", "ES1", 1400),
        measured("S1", "S2", 1150, run="link"),
    ]
    told = [finding for finding in squared(two_circuits(*rows)).findings if finding.check == "as-built"]

    # hand: 2.73 + 1.0 measured, 1.4 + 1.4 planned; the control 1.0 m of route and 0.4 m of tails; the run 1.4 m
    assert [(finding.subject, finding.value, finding.unit, finding.level) for finding in told] == [
        ("a", D("0.93"), "m", "note"),
        ("link", D("-0.25"), "m", "note"),
        ("stop", D(0), "m", "note"),
    ]
    assert [finding.message for finding in told] == [
        "measured: 2 of 3 legs, 3.73 m in all, 0.93 m more than planned (2.8 m)",
        "measured: the run, 1.15 m in all, 0.25 m less than planned (1.4 m)",
        "measured: 1 of 2 legs, 1.4 m, as planned",
    ]


def test_nothing_measured_is_nothing_told() -> None:
    assert [finding for finding in squared(two_circuits()).findings if finding.check == "as-built"] == []


def test_legs_alike_take_their_lengths_in_turn() -> None:
    groups = [
        lights("DL", [(1000, 1000)], "W1", "V1"),
        lights("EL", [(2000, 1000)], "W1", "V1", "U1"),
        *(switch(name, "front", along) for name, along in (("W", 5000), ("V", 3000), ("U", 500))),
    ]
    job = lit(groups)
    rows = (measured("V1", "W1", 3100), measured("W1", "V1", 3200))
    built = squared(replace(job, as_built=rows), trade(points=KINDS))

    assert leg(built, "lights: W1 to V1").length_mm == 3100
    assert leg(built, "lights: W1 to V1 (2)").length_mm == 3200
    once_more = replace(job, as_built=(*rows, measured("W1", "V1", 3300)))
    assert refusals(once_more) == [("lights: W1 to V1 (2) is measured already", "keep one of the two lengths")]


# --- what cannot be: the whole message ------------------------------------------------------------------------------


def test_a_leg_that_is_none_is_told_with_the_legs_near_it() -> None:
    assert refusals(two_circuits(measured("S1", "S3", 2000))) == [
        ("S1 to S3 is no leg", "near it: a: CU to S1, a: S1 to S2, a: S2 to S3, link")
    ]
    assert refusals(two_circuits(measured("S1", "S3", 2000, circuit="a"))) == [
        ('S1 to S3 of "a" is no leg', "near it: a: CU to S1, a: S1 to S2, a: S2 to S3")
    ]
    assert refusals(two_circuits(measured("S1", "S3", 2000, circuit="b"))) == [
        ('S1 to S3 of "b" is no leg', "near it: b: CU to T1, b: CU to T2")
    ]
    assert refusals(two_circuits(measured("X1", "X2", 2000)))[0][0] == "X1 to X2 is no leg"


def test_a_length_that_may_be_of_two_cables_must_say_which() -> None:
    assert refusals(two_circuits(measured("S1", "S2", 2000))) == [
        ("2 cables go from S1 to S2", 'write circuit = "a" or run = "link" beside it')
    ]


def test_a_leg_measured_twice_is_a_problem_whichever_way_it_is_named() -> None:
    rows = (measured("S2", "S3", 2000), measured("S3", "S2", 2100))
    assert refusals(two_circuits(*rows)) == [("a: S2 to S3 is measured already", "keep one of the two lengths")]


def test_all_lengths_that_are_wrong_are_told_at_once_by_their_number() -> None:
    rows = (measured("S1", "S3", 2000), measured("S2", "S3", 2000), measured("T1", "T2", 2000))
    with pytest.raises(Refused) as refused:
        squared(two_circuits(*rows))

    assert [problem.where for problem in refused.value.problems] == ["as_built[1]", "as_built[3]"]


def test_names_and_the_order_of_lengths_change_nothing_but_names() -> None:
    rows = (measured("S2", "S3", 2730), measured("CU", "T2", 9000), measured("S1", "S2", 1150, run="link"))
    job = two_circuits(*rows)
    renamed = replace(
        job,
        groups=tuple(replace(group, name=group.name.replace("S", "Z")) for group in job.groups),
        controls=tuple(replace(one, buttons=("EZ1",)) for one in job.controls),
        runs=tuple(replace(one, start="Z1", end="Z2") for one in job.runs),
        as_built=tuple(replace(r, start=r.start.replace("S", "Z"), end=r.end.replace("S", "Z")) for r in rows[::-1]),
    )

    def lengths(job: Job) -> list[tuple[int, int]]:
        routes = squared(job)
        legs = [(leg.length_mm, leg.planned_mm) for leg in routes.legs]
        return [*legs, *((run.length_mm, run.planned_mm) for run in routes.runs)]

    assert lengths(job) == lengths(renamed)


# --- everything after follows ---------------------------------------------------------------------------------------


def test_bill_order_and_cutting_list_follow_what_was_measured() -> None:
    plain = worked(sockets(4))
    first = plain.routes.circuits[0].legs[0]
    row = f'\n[[as_built]]\nfrom = "{first.start}"\nto = "{first.end}"\nlength = "23.456 m"\n'
    built = worked(sockets(4, more=row))
    part = shipped().cables["te-2.5"].part

    def of(estimate: object, what: str) -> D:
        lines = [line for line in estimate.takeoff.quantities if line.part == part]  # type: ignore[attr-defined]
        return sum((getattr(line, what) for line in lines), D(0))

    assert of(built, "quantity") - of(plain, "quantity") == D("23.456") - D(first.length_mm).scaleb(-3)
    assert of(built, "with_waste") - of(plain, "with_waste") == D("23.456") - D(first.cut_mm).scaleb(-3)
    assert [piece.length_mm for piece in built.takeoff.pieces if piece.of == first.id] == [D(23_456)]
    assert built.budget.total > plain.budget.total
    assert "as-built" in [finding.check for finding in built.findings]


# --- from the job file and from a CSV -------------------------------------------------------------------------------

STOP = '[[as_built]]\nfrom = "ES1"\nto = "ES2"\nlength = "1.4 m"\n'


def beside(folder: Path, text: str | bytes, job: str = SMALL) -> tuple[Job, tuple[object, ...]]:
    (folder / "job.toml").write_text(job, encoding="utf-8")
    data = text if isinstance(text, bytes) else text.encode()
    (folder / "as-built.csv").write_bytes(data)
    return read_job(folder)


def rows_of(job: Job) -> list[tuple[str, str, str | None, str | None, int]]:
    return [(row.start, row.end, row.circuit, row.run, row.length_mm) for row in job.as_built]


def test_a_measured_length_in_the_job_is_used() -> None:
    job, notes = parse_job(SMALL + "\n" + STOP)

    assert rows_of(job) == [("ES1", "ES2", None, None, 1400)]
    assert [note for note in notes if "as_built" in str(note)] == []


def test_rows_of_the_csv_come_after_those_of_the_job(tmp_path: Path) -> None:
    text = 'run,from,to,length,circuit,remark\r\n,S1,S2,2.4 m,sockets,"behind, the bench"\r\nfeed,house,CU,25 m,,\r\n'
    job, _ = beside(tmp_path, b"\xef\xbb\xbf" + text.encode(), SMALL + "\n" + STOP)

    assert rows_of(job) == [
        ("ES1", "ES2", None, None, 1400),
        ("S1", "S2", "sockets", None, 2400),
        ("house", "CU", None, "feed", 25_000),
    ]
    assert [str(row.place) for row in job.as_built[1:]] == [f"{tmp_path}/as-built.csv:{line}" for line in (2, 3)]


def test_what_is_not_measured_yet_says_nothing(tmp_path: Path) -> None:
    assert rows_of(beside(tmp_path, "from,to,length\nS1,S2,\n\nS2,S3, 2.4 m \nCU,S1,\n")[0]) == [
        ("S2", "S3", None, None, 2400)
    ]
    assert beside(tmp_path, "from,to,length\n")[0] == parse_job(SMALL)[0]


def messages(folder: Path, text: str | bytes, job: str = SMALL) -> list[str]:
    with pytest.raises(Refused) as refused:
        beside(folder, text, job)
    return [str(problem).replace(f"{folder}/", "") for problem in refused.value.problems]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (
            "from,to,length\nS1,S2,2.4\n",
            ['as-built.csv:2: as_built[1].length: "2.4" is not a length; write the unit, in quotes: "2.4 m"'],
        ),
        (
            "from,to,length\nS1,S2,0 m\n",
            ['as-built.csv:2: as_built[1].length: "0 m" is nothing; write a length above zero, for example "450 mm"'],
        ),
        (
            "from,to,length\nS1,,2.4 m\n",
            ['as-built.csv:2: as_built[1]: to is missing; write to = "S4" (a board, a point, or the end of a run)'],
        ),
        (
            "from,to,length\nS1,S2,\nS1,S9,2.4 m\n",
            ['as-built.csv:3: as_built[1].to: there is no board or point "S9"; group "S" has S1 to S3'],
        ),
        (
            "from,to,length\nS1,S1,2.4 m\n",
            ["as-built.csv:2: as_built[1].to: a leg has two different ends; name its other end"],
        ),
        (
            "from,to,length,circuit\nS1,S2,2.4 m,socket\n",
            ['as-built.csv:2: as_built[1].circuit: there is no circuit or control "socket"; did you mean "sockets"?'],
        ),
        (
            "from,to,length,run\nhouse,CU,2.4 m,fed\n",
            ['as-built.csv:2: as_built[1].run: there is no run "fed"; did you mean "feed"?'],
        ),
        (
            "from,to,length,circuit,run\nhouse,CU,2.4 m,sockets,feed\n",
            ["as-built.csv:2: as_built[1].run: a circuit and a run are both named; keep one of them"],
        ),
        (
            "from,length\nS1,2.4 m\n",
            ["as-built.csv:1: to: this column is missing; write a header row: from,to,circuit,run,length"],
        ),
        (
            "from,to,to,length\nS1,S2,S2,2.4 m\n",
            ["as-built.csv:1: to: this heading stands twice; keep one of the two columns"],
        ),
        (
            "from;to;length\nS1;S2;2,4 m\n",
            ["as-built.csv:1: the columns are parted by semicolons; save the file again as CSV with commas"],
        ),
        (
            "from,to,length\nS1,S2,2,4 m\n",
            ["as-built.csv:2: 4 cells under 3 headings; put a text that holds a comma in quotes"],
        ),
        (
            'from,to,length\nS1,S2,"2.4" m\n',
            [
                "as-built.csv:2: the quotes do not match (',' expected after '\"'); "
                'write "" for a quote inside a quoted text'
            ],
        ),
        ("", ["as-built.csv: the file is empty; write a header row: from,to,circuit,run,length"]),
        (
            b"from,to,length\nS1,S2,2\xb7m\n",
            ['as-built.csv:2: the byte 0xb7 is not UTF-8; save the file again as "CSV UTF-8"'],
        ),
    ],
)
def test_what_is_wrong_with_the_csv_is_told_with_its_row(
    tmp_path: Path, text: str | bytes, found: Sequence[str]
) -> None:
    assert messages(tmp_path, text) == found


def test_what_is_wrong_with_both_files_is_told_at_once(tmp_path: Path) -> None:
    found = messages(tmp_path, "from,to,length\nS1,S2,2.4\n", SMALL.replace('title = "Shed"\n', ""))

    assert [line.split(":")[0] for line in found] == ["as-built.csv", "job.toml"]


def test_a_csv_that_cannot_be_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "job.toml").write_text(SMALL, encoding="utf-8")
    (tmp_path / "as-built.csv").write_text("from,to,length\n", encoding="utf-8")

    read = Path.read_bytes

    def closed(self: Path) -> bytes:
        if self.name == "as-built.csv":
            raise PermissionError(13, "Permission denied")
        return read(self)

    monkeypatch.setattr(Path, "read_bytes", closed)
    with pytest.raises(Unreadable, match=r"as-built\.csv: cannot be read: Permission denied"):
        read_job(tmp_path)


def test_the_example_has_no_measured_lengths() -> None:
    assert read_job(STUDIO)[0].as_built == ()
