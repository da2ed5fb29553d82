"""The command as its users meet it: what it writes, what it says, how it ends, and that bad input costs nothing."""

import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.shed import ROOT, STUDIO, sockets

FILES = {"quote.html", "wall-zones.html", "bill-of-quantities.xlsx", "estimate.json"}
PRICES = "part,merchant,pack,price,vat,priced_on\n"


def studbay(*words: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "estimator", *words],
        capture_output=True,
        text=True,
        cwd=cwd or ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )


@pytest.fixture
def shed(tmp_path: Path) -> Path:
    folder = tmp_path / "shed"
    folder.mkdir()
    (folder / "job.toml").write_text(sockets(6), encoding="utf-8")
    return folder


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def test_estimate_writes_every_file_and_names_them_on_standard_output(shed: Path) -> None:
    done = studbay("estimate", str(shed))
    assert (done.returncode, "Traceback" in done.stderr) == (0, False), done.stderr
    written = [Path(line) for line in done.stdout.splitlines()]
    assert {path.name for path in written} >= FILES | {
        "shopping-list-merchant-not-chosen.xlsx",
        "shopping-list-merchant-not-chosen.csv",
    }
    assert all(path.parent == shed / "out" and path.stat().st_size for path in written)
    assert re.search(r"^Materials only: electrician, fees and hire not in: £[\d,]+\.\d\d inc VAT$", done.stderr, re.M)


def test_the_total_is_the_same_in_the_command_and_the_data(shed: Path) -> None:
    done = studbay("estimate", str(shed), "--json")
    data = json.loads(done.stdout)
    assert f"£{float(data['budget']['total']):,.2f} inc VAT" in done.stderr


def test_a_new_job_is_worked_out_without_change(tmp_path: Path) -> None:
    folder = tmp_path / "my shed"
    assert studbay("new", str(folder)).returncode == 0
    done = studbay("estimate", str(folder), "-o", str(tmp_path / "elsewhere"))
    assert done.returncode == 0, done.stderr
    assert FILES <= {path.name for path in (tmp_path / "elsewhere").iterdir()}


def test_new_does_not_touch_a_folder_with_something_in_it(shed: Path) -> None:
    before = contents(shed)
    done = studbay("new", str(shed))
    assert (done.returncode, contents(shed)) == (2, before)
    assert done.stderr == f"studbay: {shed}: there is something already; name a folder that is empty or not there yet\n"


def test_check_ends_with_1_where_something_must_be_settled(shed: Path) -> None:
    assert studbay("check", str(shed)).returncode == 0
    crowded = sockets(6).replace("consumer-unit-8", "consumer-unit-4") + "".join(
        f'[[points]]\nname = "{name}"\nkind = "single-socket"\ncircuit = "{name}"\nroom = "shed"\nheight = "450 mm"\n'
        f'at = [{{ wall = "back", along = "{along} m" }}]\n[[circuit]]\nname = "{name}"\nboard = "CU"\nwiring = "radial"\n'
        f'cable = "te-2.5"\ndevice = "rcbo-b16"\n'
        for name, along in (("A", 1), ("B", 2), ("C", 3.3), ("D", 4))
    )
    (shed / "job.toml").write_text(crowded, encoding="utf-8")
    done = studbay("check", str(shed))
    assert done.returncode == 1
    assert done.stdout.startswith("Stop: settle before buying\n")
    levels = [finding["level"] for finding in json.loads(studbay("check", str(shed), "--json").stdout)]
    assert levels == sorted(levels, key=["stop", "ask", "note", "unchecked"].index)


Change = Callable[[str], str]
BAD: dict[str, tuple[dict[str, bytes | Change], str]] = {
    "not TOML": ({"job.toml": lambda text: text.replace("= 2026-10-01", "= = 1")}, r"job\.toml:5:"),
    "wrong unit": ({"job.toml": lambda text: text.replace('"600 mm"', '"600 kg"')}, r"frame\.centres"),
    "bare number": ({"job.toml": lambda text: text.replace('"600 mm"', "600")}, r'frame\.centres: .*"600 mm"'),
    "unknown key": ({"job.toml": lambda text: text.replace("centres", "centers")}, r'did you mean "centres"|centres'),
    "unknown wall": ({"job.toml": lambda text: text.replace('wall = "front"', 'wall = "north"')}, "north"),
    "opening wider than its wall": ({"job.toml": lambda text: text.replace('"0.9 m"', '"9 m"')}, "width|along"),
    "overlapping openings": (
        {
            "job.toml": lambda text: text.replace(
                "\n[[points]]",
                '\n[[room.opening]]\nkind = "window"\nwall = "front"\nalong = "1.2 m"\nwidth = "1 m"\n'
                'sill = "1 m"\nhead = "2 m"\n\n[[points]]',
                1,
            )
        },
        "overlap",
    ),
    "room that crosses itself": (
        {
            "job.toml": lambda text: text.replace(
                'size = ["6.0 m", "4.0 m"]', 'outline = [["0 m","0 m"],["6 m","4 m"],["6 m","0 m"],["0 m","4 m"]]'
            )
        },
        "meets wall-1",
    ),
    "more than the walls hold": ({"job.toml": lambda text: text.replace("spread = 6", "spread = 300")}, "fit"),
    "unknown kind": ({"job.toml": lambda text: text.replace('"double-socket"', '"doble-socket"')}, '"double-socket"'),
    "unknown cable": ({"job.toml": lambda text: text.replace('"te-2.5"', '"te-2.6"')}, '"te-2.5"'),
    "unknown device": ({"job.toml": lambda text: text.replace('"rcbo-b20"', '"rcbo-b21"')}, '"rcbo-b2'),
    "unknown part": (
        {
            "job.toml": lambda text: (
                text + '[buying]\nin_hand = [{ part = "timber-38x88", length = "1 m", count = 1 }]\n'
            )
        },
        '"timber-38x',
    ),
    "circuit without points": (
        {
            "job.toml": lambda text: (
                text + '[[circuit]]\nname = "empty"\nboard = "CU"\n'
                'wiring = "radial"\ncable = "te-2.5"\ndevice = "rcbo-b20"\n'
            )
        },
        "empty",
    ),
    "point without a circuit": ({"job.toml": lambda text: text.replace('circuit = "sockets"\n', "")}, "circuit"),
    "board missing": ({"job.toml": lambda text: text.replace('board = "CU"', 'board = "CX"')}, '"CU"'),
    "point no lane reaches": (
        {
            "job.toml": lambda text: (
                text + '[[points]]\nname = "F"\nkind = "floor-socket"\n'
                'circuit = "sockets"\nroom = "shed"\nsurface = "floor"\nat = [["2 m", "2 m"]]\n'
            )
        },
        "F1|floor",
    ),
    "kit with a part without a price": (
        {
            "parts.csv": b"part,description,trade_name,section,unit,sold_as,waste,vat_rate,counter\n"
            b"gasket,Gasket,gasket,Lights,nr,piece,0 %,20 %,electrical\n",
            "kits.csv": b"kit,part,stage,per,quantity\ndouble-socket,gasket,first-fix,point,1\n",
        },
        r"kits\.csv:2: part: .*gasket",
    ),
    "price that is no number": (
        {"prices.csv": f"{PRICES}te-2.5,any,100,ask,ex,2026-10-01\n".encode()},
        r"prices\.csv:2: price",
    ),
    "duplicate key": (
        {"job.toml": lambda text: text.replace('title = "Shed"', 'title = "Shed"\ntitle = "Hut"')},
        "title|twice",
    ),
    "semicolons": (
        {"prices.csv": f"{PRICES}te-2.5,any,100,60,ex,2026-10-01\n".replace(",", ";").encode()},
        "semicolons",
    ),
    "another encoding": ({"prices.csv": f"{PRICES}te-2.5,any,100,\xa360,ex,2026-10-01\n".encode("cp1252")}, "UTF-8"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_input_is_told_with_its_place_and_leaves_earlier_output_alone(name: str, shed: Path) -> None:
    out = shed / "out"
    out.mkdir()
    (out / "quote.html").write_text("earlier", encoding="utf-8")
    before = contents(out)
    changes, words = BAD[name]
    for file, change in changes.items():
        old = (shed / file).read_text(encoding="utf-8") if callable(change) else ""
        data = change(old).encode() if callable(change) else change
        assert data != old.encode(), "the change did not take"
        (shed / file).write_bytes(data)
    done = studbay("estimate", str(shed))
    assert (done.returncode, done.stdout, contents(out)) == (2, "", before)
    assert "Traceback" not in done.stderr
    *problems, last = done.stderr.splitlines()
    assert re.fullmatch(r"studbay: \d+ problems?; nothing was written", last)
    assert all(re.match(rf"{re.escape(str(shed))}/[\w.]+:\d+", line) for line in problems), done.stderr
    assert re.search(words, "\n".join(problems)), done.stderr


def test_problems_of_job_and_tables_are_told_together(shed: Path) -> None:
    (shed / "job.toml").write_text(sockets(6).replace('"600 mm"', "600"), encoding="utf-8")
    (shed / "prices.csv").write_text(f"{PRICES}te-2.5,any,100,ask,ex,2026-10-01\n", encoding="utf-8")
    done = studbay("estimate", str(shed))
    assert done.stderr.splitlines()[-1] == "studbay: 2 problems; nothing was written"


def test_an_output_folder_that_cannot_be_written_is_told(shed: Path) -> None:
    (shed / "out").write_text("a file, not a folder", encoding="utf-8")
    done = studbay("estimate", str(shed))
    assert (done.returncode, "Traceback" in done.stderr) == (3, False)
    assert str(shed / "out") in done.stderr
    assert (shed / "out").read_text(encoding="utf-8") == "a file, not a folder"


def test_a_job_that_is_not_there_is_told(tmp_path: Path) -> None:
    done = studbay("estimate", str(tmp_path / "nowhere"))
    assert (done.returncode, "Traceback" in done.stderr) == (3, False)
    assert "nowhere" in done.stderr
    assert "studbay new" in done.stderr


def test_help_names_every_command_and_an_example_of_each() -> None:
    assert studbay("--help").returncode == 0
    for command in ("new", "estimate", "check"):
        shown = studbay(command, "--help").stdout
        assert f"Example:  studbay {command}" in shown
        assert not set("│╭╰─") & set(shown)


@pytest.mark.slow
def test_the_same_job_gives_the_same_bytes_under_any_hash_seed(tmp_path: Path) -> None:
    seen = []
    for seed in ("0", "1", "4242"):
        out = tmp_path / seed
        subprocess.run(
            [sys.executable, "-m", "estimator", "estimate", str(STUDIO), "-o", str(out)],
            check=True,
            capture_output=True,
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed},
        )
        seen.append(contents(out))
    assert seen[0] == seen[1] == seen[2]
    assert set(seen[0]) >= FILES


def test_after_prices_are_kept_they_stand_and_prices_of_nobody_fill_what_is_left(shed: Path) -> None:
    given = ("--merchant", "North", "--vat", "ex", "--priced-on", "2026-11-01", "--price", "te-2.5@100=163.00")
    kept = studbay("prices", str(shed), *given, "--accept", "te-2.5", "--write")
    assert kept.returncode == 0, kept.stderr + kept.stdout
    assert "From now on the prices of North count; a price without a merchant only fills what is left." in kept.stderr
    done = studbay("estimate", str(shed), "--json")
    data = json.loads(done.stdout)
    cable = [(line["merchant"], line["pack"]) for line in data["order"] if line["part"] == "te-2.5"]
    # the shipped drum of 100 m costs less, and shorter ones are there too
    assert ([("North", 100)], {"North", "any"}) == (cable, {line["merchant"] for line in data["order"]})
    notes = [of["message"] for of in data["findings"] if of["check"] == "merchant-not-chosen"]
    count = len({line["part"] for line in data["order"] if line["part"]})
    assert (
        f"{count - 1} of {count} parts in this order have no merchant yet, and prices that none has given" in notes[0]
    )
