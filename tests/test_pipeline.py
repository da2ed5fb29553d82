"""The whole pipeline: the worked set-out, money that meets itself, and nothing that hangs on names or order."""

import re
from decimal import Decimal as D

import pytest

from estimator.catalogue.read import read_catalogue
from estimator.estimate import estimate
from estimator.job.read import read_job
from estimator.problems import Refused
from estimator.result import Estimate
from tests.shed import ROOT, STUDIO, sockets, worked

MORE = """
[[points]]
name = "L"
kind = "downlight"
circuit = "lights"
switched_by = ["W1"]
room = "shed"
surface = "ceiling"
rows = 2
columns = 3

[[points]]
name = "W"
kind = "switch"
circuit = "lights"
room = "shed"
height = "1.2 m"
at = [{ wall = "front", along = "1.72 m" }]

[[circuit]]
name = "lights"
board = "CU"
wiring = "branching"
cable = "te-1.5"
device = "rcbo-b6"
"""


@pytest.fixture(scope="module")
def studio() -> Estimate:
    job, _ = read_job(STUDIO)
    return estimate(job, read_catalogue(STUDIO))


def test_twelve_sockets_stand_where_the_worked_example_puts_them() -> None:
    # The project's own worked example: f = 333, sum 2602. The board stands clear of the sockets here.
    text = sockets(12).replace('height = "1.4 m"', 'height = "2.0 m"')
    of = worked(text)
    walls = {
        wall: [point.along_mm for point in of.setout.points if point.wall == wall]
        for wall in ("back", "right", "front", "left")
    }
    assert walls == {
        "back": [333, 2000, 3692, 5308],
        "right": [1000, 2666],
        "front": [333, 2000, 3692, 5308],
        "left": [1000, 2666],
    }
    assert sum(point.moved_mm**2 for point in of.setout.points) == 2602


def test_bill_and_left_over_are_the_order_to_the_penny(studio: Estimate) -> None:
    for of in (studio, worked(sockets(12, more=MORE)), worked(sockets(17, "ring", MORE))):
        money = of.budget
        bill = sum((line.amount for line in money.bill), D(0))
        net = sum((line.net for line in of.order.lines), D(0))
        assert bill + money.left_over_total == net
        assert net == money.materials
        assert all(amount > 0 for _, amount in money.left_over)
        tills = sum((basket.net + basket.vat for basket in of.order.baskets), D(0))
        rest = money.total - tills - money.labour - money.sums_total - money.contingency
        goods = sum((basket.vat for basket in of.order.baskets), D(0))
        assert rest == sum((line.amount for line in money.vat), D(0)) - goods


def test_what_is_bought_covers_what_is_needed(studio: Estimate) -> None:
    bought = {of.part: of.units + of.in_hand for of in studio.order.bought}
    for line in studio.takeoff.quantities:
        if line.with_waste:
            assert bought[line.part] > 0
    needed: dict[str, D] = {}
    for line in studio.takeoff.quantities:
        needed[line.part] = needed.get(line.part, D(0)) + line.with_waste
    assert all(bought[part] >= amount for part, amount in needed.items() if amount)


def test_every_piece_is_cut_once_and_no_stock_is_over_cut(studio: Estimate) -> None:
    wanted = sorted((piece.part, piece.of, piece.length_mm) for piece in studio.takeoff.pieces)
    cut = sorted((cut.part, of, length) for cut in studio.order.cuts for of, length in cut.pieces)
    assert wanted == cut
    for one in studio.order.cuts:
        kerf = 3 if one.part.startswith("timber") else 0
        used = sum((length for _, length in one.pieces), D(0)) + kerf * (len(one.pieces) - 1)
        assert used + one.left_over_mm == one.stock_mm
        assert one.left_over_mm >= 0


def test_listing_things_in_another_order_changes_nothing() -> None:
    text = sockets(12, more=MORE)
    blocks = re.split(r"(?m)^(?=\[\[(?:points|circuit)\]\])", text)
    one, other = worked(text), worked(blocks[0] + "\n".join(reversed(blocks[1:])))
    assert one.budget.total == other.budget.total
    assert one.routes.legs == other.routes.legs
    assert one.setout.points == other.setout.points


def test_renaming_changes_only_names() -> None:
    text = sockets(12, more=MORE)
    other = text.replace('"S"', '"ZZ"').replace('"lights"', '"a lights"').replace('"sockets"', '"z"')
    one, two = worked(text), worked(other)
    assert one.budget.total == two.budget.total
    for before, after in ((one, two),):
        assert sorted((leg.route_mm, leg.holes.total) for leg in before.routes.legs) == sorted(
            (leg.route_mm, leg.holes.total) for leg in after.routes.legs
        )
    assert [point.xyz_mm for point in one.setout.points if point.group == "S"] == [
        point.xyz_mm for point in two.setout.points if point.group == "ZZ"
    ]


def test_more_sockets_than_the_walls_hold_is_refused_with_how_many_fit() -> None:
    with pytest.raises(Refused) as refused:
        worked(sockets(200))
    (problem,) = refused.value.problems
    assert problem.place.line == 36
    assert re.search(r"\d+ fit|at most \d+|only \d+", str(problem))


@pytest.mark.parametrize("name", sorted(path.name for path in (ROOT / "examples").iterdir() if path.is_dir()))
def test_every_example_is_worked_out_without_a_stop(name: str) -> None:
    job, notes = read_job(ROOT / "examples" / name)
    of = estimate(job, read_catalogue(ROOT / "examples" / name))
    assert notes == ()
    assert [finding for finding in of.findings if finding.level == "stop"] == []
    assert of.order.proven
    assert all(circuit.proven for circuit in of.routes.circuits)


def test_the_studio_keeps_to_common_practice(studio: Estimate) -> None:
    cables = {circuit.name: circuit.cable for circuit in studio.job.circuits}
    # common practice: sockets in 2.5 mm2, lights in 1.5 mm2
    assert (cables["bench sockets"], cables["lights"]) == ("te-2.5", "te-1.5")
    boxes = {noggin.points: noggin.setback_mm for noggin in studio.setout.noggins}
    # common practice: a flush box stands about 10 mm proud of the stud for an ordinary lining of 12.5 mm and skim; a box
    # of 35 mm behind 14.5 mm of lining is set back 20.5 mm (hand, check values 3)
    assert boxes[("S1",)] == D("20.5")
    assert studio.catalogue.lights["downlight"].cutout_mm == 73  # common practice: a cut-out near 73 mm
    entries = {run.entry_mm for run in studio.job.runs}
    assert entries == {450}  # common practice: a cable enters a building near 450 mm above ground
    assert studio.job.allowances.tail_mm("light") == 500  # common practice: about 500 mm hang at a ceiling light
