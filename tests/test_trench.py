"""What a trench is made of: surface, width and depth decide sand, seed and hours. Expected values are `hand`."""

import os
from dataclasses import replace
from decimal import Decimal as D
from functools import cache
from pathlib import Path

import pytest

from estimator.catalogue.read import read_catalogue
from estimator.checks.ground import unlikely, unused
from estimator.checks.model import Finding
from estimator.job.model import GROUNDS, Dig, Run, Stretch, Trench
from estimator.job.read import parse_job
from estimator.problems import Refused
from estimator.result import Estimate
from estimator.takeoff.counts import of_trench
from tests import jobs as j
from tests.job_texts import SMALL
from tests.shed import shipped, sockets, worked

GROUND = """
[[trench]]
name = "way"
stretches = [{stretches}]

[[run]]
name = "feed"
cable = "swa-3c-10"
from = "outside: house"
to = "CU"
stretches = [{{ in = "building", length = "4 m" }}, {{ in = "trench", trench = "way" }}, {{ in = "building", length = "1.8 m" }}]
"""


@cache
def dug(*stretches: str) -> Estimate:
    """A shed fed through a trench, each stretch as `length depth width surface`."""
    rows = []
    for stretch in stretches:
        length, depth, width, surface = stretch.split()
        rows.append(f'{{ length = "{length} m", depth = "{depth} mm", width = "{width} mm", surface = "{surface}" }}')
    return worked(sockets(4, more=GROUND.format(stretches=", ".join(rows))))


def quantity(of: Estimate, part: str) -> D:
    return sum((row.quantity for row in of.takeoff.quantities if row.part == part), D(0))


def minutes(of: Estimate) -> dict[str, D]:
    return {task.task.partition(":")[0]: task.likely_minutes for task in of.takeoff.labour if "trench" in task.task}


def test_sand_follows_the_width() -> None:
    # 22 x 0.3 x 0.15 m x 1650 kg; 22 x 0.9 is three times that
    assert D("1633.5") == quantity(dug("22 600 300 lawn"), "sand-soft")
    assert D("4900.5") == quantity(dug("22 600 900 lawn"), "sand-soft")
    # a bed is as thick in a deep trench
    assert D("1633.5") == quantity(dug("22 1200 300 lawn"), "sand-soft")


def test_hours_follow_what_is_dug_out_and_laying_follows_the_length() -> None:
    # from memory: 267 minutes a cubic metre by hand, 100 to fill it, 4 a metre to lay
    usual, large = dug("10 600 300 lawn"), dug("10 1200 900 lawn")
    # 1.8 m3 and 10.8 m3
    assert {"Backfill and tread in": D(180), "Dig by hand": D("480.6"), "Lay cable, sand and tape": D(40)} == minutes(
        usual
    )
    assert {"Backfill and tread in": D(1080), "Dig by hand": D("2883.6"), "Lay cable, sand and tape": D(40)} == minutes(
        large
    )


def test_seed_is_for_what_is_lawn() -> None:
    assert D("0.264") == quantity(dug("22 600 300 lawn"), "grass-seed")  # 22 x 0.3 x 0.04 kg
    assert D(0) == quantity(dug("22 600 300 paving"), "grass-seed")
    assert D("0.12") == quantity(dug("12 600 300 gravel", "10 600 300 lawn"), "grass-seed")
    assert D(22) == quantity(dug("12 600 300 gravel", "10 600 300 lawn"), "tape-warning")


def test_every_surface_has_a_kit_to_put_rows_in(tmp_path: Path) -> None:
    head = "kit,part,stage,per,quantity,pieces,note,source\n"
    rows = "".join(f"trench-{ground},cover-tile,supply,trench-metre,1,1,,mine\n" for ground in GROUNDS)
    (tmp_path / "kits.csv").write_text(head + rows, encoding="utf-8")
    known = read_catalogue(tmp_path)
    assert all(f"trench-{ground}" in known.kits for ground in GROUNDS)


def test_a_trench_counts_once_for_each_surface_it_has() -> None:
    counts = of_trench(Trench("way", (Dig(12000, 600, 300, "gravel"), Dig(10000, 500, 400, "lawn"))))
    found = {(of.kit, of.per): of.count for of in counts if of.count}
    assert found[("trench", "trench-cubic-metre")] == D("4.16")  # 2.16 + 2
    assert found[("trench", "trench-square-metre")] == D("7.6")  # 3.6 + 4
    assert {of: count for of, count in found.items() if of[0] == "trench-lawn"} == {
        ("trench-lawn", "trench"): D(1),
        ("trench-lawn", "trench-metre"): D(10),
        ("trench-lawn", "trench-square-metre"): D(4),
        ("trench-lawn", "trench-cubic-metre"): D(2),
    }
    assert "trench-paving" not in {kit for kit, _ in found}


OLD = {
    "kits": (
        "kit,part,stage,per,quantity,pieces,note,source\ntrench,grass-seed,supply,trench-metre,0,1,,mine\n",
        'kits.csv:2: per: "grass-seed" by the metre of any trench leaves out how wide it is, and what lies on top; write kit '
        "trench-lawn, per trench-square-metre, and kg for a square metre",
    ),
    "labour": (
        "task,who,per,kit,low,likely,high,rate,vat_rate,stage,source\n"
        "Backfill and tread in,self,trench-metre,trench,8,15,25,,,supply,from memory\n",
        'labour.csv:2: per: "Backfill and tread in" by the metre leaves out how wide and deep a trench is; write '
        "trench-cubic-metre, and minutes for one: 53, 100 and 167 are shipped",
    ),
}


@pytest.mark.parametrize("name", OLD)
def test_rows_of_older_copies_that_would_count_twice_are_told(name: str, tmp_path: Path) -> None:
    text, expected = OLD[name]
    (tmp_path / f"{name}.csv").write_text(text, encoding="utf-8")
    with pytest.raises(Refused) as refused:
        read_catalogue(tmp_path)
    assert expected == str(refused.value).removeprefix(f"{tmp_path}{os.sep}")


# --- figures that cannot be, and those that seldom are --------------------------------------------------------------


def test_an_unknown_surface_is_told_with_the_nearest() -> None:
    with pytest.raises(Refused) as told:
        parse_job(SMALL.replace('length = "18 m", ', 'length = "18 m", surface = "grsvel", ', 1))
    assert ['"grsvel" is not known here; did you mean "gravel"?'] == [
        f"{of.found}; {of.write}" for of in told.value.problems
    ]


@pytest.mark.parametrize(
    ("key", "written", "says"),
    [
        ("length", "18 mm", '18 mm is too little for the length of a trench; check the unit; write at least "100 mm"'),
        ("depth", "45 mm", '45 mm is too little for the depth of a trench; check the unit; write at least "50 mm"'),
        ("depth", "6 m", '6000 mm is too much for the depth of a trench; check the unit; write at most "3000 mm"'),
        ("width", "3 mm", '3 mm is too little for the width of a trench; check the unit; write at least "30 mm"'),
        ("width", "30 m", '30000 mm is too much for the width of a trench; check the unit; write at most "3000 mm"'),
    ],
)
def test_a_trench_that_cannot_be_is_refused(key: str, written: str, says: str) -> None:
    figures = {"length": "18 m", "depth": "600 mm", "width": "300 mm"} | {key: written}
    text = ", ".join(f'{name} = "{value}"' for name, value in figures.items())
    with pytest.raises(Refused) as told:
        parse_job(sockets(4, more=GROUND.format(stretches=f"{{ {text} }}")))
    assert [(f"trench.way.stretches[1].{key}", says)] == [
        (of.where, f"{of.found}; {of.write}") for of in told.value.problems
    ]


def test_an_entry_that_cannot_be_is_refused() -> None:
    ground = GROUND.format(stretches='{ length = "18 m", depth = "600 mm" }') + 'entry = "45 m"\n'
    with pytest.raises(Refused) as told:
        parse_job(sockets(4, more=ground))
    assert ['45000 mm is too much for the entry of a run; check the unit; write at most "20000 mm"'] == [
        f"{of.found}; {of.write}" for of in told.value.problems
    ]


USUAL = Dig(18000, 600, 300, "lawn")


def asked(dig: Dig, entry_mm: int = 450) -> list[Finding]:
    run = Run("feed", "swa-3c-10", "house", "CU", (Stretch("way", dig.length_mm),), entry_mm, None, (None, None))
    return list(unlikely(j.job(trenches=[Trench("way", (dig,))], runs=[run]), shipped()))


@pytest.mark.parametrize(
    ("dig", "value", "limit"),
    [
        (replace(USUAL, length_mm=299), 299, 300),
        (replace(USUAL, depth_mm=199), 199, 200),
        (replace(USUAL, depth_mm=2001), 2001, 2000),
        (replace(USUAL, width_mm=49), 49, 50),
        (replace(USUAL, width_mm=1501), 1501, 1500),
    ],
)
def test_figures_that_seldom_are_are_asked_about(dig: Dig, value: int, limit: int) -> None:
    assert [("ask", "way", D(value), D(limit))] == [(of.level, of.subject, of.value, of.limit) for of in asked(dig)]


def test_usual_figures_and_those_at_the_edge_are_not() -> None:
    assert [] == asked(USUAL)
    assert [] == asked(Dig(300, 200, 50, "lawn")) + asked(Dig(300, 2000, 1500, "lawn"), 2500)


def test_a_high_entry_is_asked_about() -> None:
    assert [
        "Is the entry of feed right: 4.50 m? It is seldom more than 2.50 m. Check the unit; cable, sand and hours go by it."
    ] == [of.message for of in asked(USUAL, 4500)]


def test_a_trench_without_a_cable_is_asked_about() -> None:
    assert () == unused(dug("22 600 300 lawn").job)
    way = Trench("way", (Dig(22_000, 600, 300, "lawn"),))
    alone = unused(j.job(trenches=[way]))
    assert [("trench-unused", "ask", "way", D(22_000))] == [(of.check, of.level, of.subject, of.value) for of in alone]
    assert 'write { in = "trench", trench = "way" } among the stretches of its run' in alone[0].message
    assert "22.00 m long" in alone[0].message
