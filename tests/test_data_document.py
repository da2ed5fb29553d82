"""estimate.json: the shape of version 1, exact figures, stable bytes."""

import json
import os
import subprocess
import sys
from decimal import Decimal
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from estimator.documents.data import estimate_data, finding_data, render_data
from estimator.documents.data_numbers import metres, money, number, price, rate
from estimator.resources import read_text
from tests import estimates

D = Decimal
ROOT = Path(__file__).resolve().parent.parent

# published: the project's design, section 7, key for key.
SHAPE: dict[str, Any] = {
    "": "version job points boards trenches noggins circuits controls runs drilling bill left_over order baskets purchase "
    "cuts budget lighting findings",
    "job": "title currency priced_on",
    "points[]": "id kind circuit room surface wall along_m height_m x_m y_m z_m moved_m",
    "boards[]": "name kind room wall along_m height_m spare_ways",
    "trenches[]": "name length_m",
    "noggins[]": "points wall length_m setback_mm spacer_mm",
    "circuits[]": "name board wiring cable sequence route_m bound_m proven legs",
    "circuits[].legs[]": "id from to cable use route_m length_m cut_m holes supports route",
    "circuits[].legs[].holes": "stud plate joist wall",
    "controls[]": "name board drops cable legs",
    "controls[].legs[]": "id from to cable use route_m length_m cut_m holes supports route",
    "runs[]": "id name cable from to route_m length_m cut_m holes supports route stretches",
    "drilling[]": "member kind room wall at legs bit_mm",
    "bill[]": "item part description section stage unit quantity with_waste rate amount made_of source",
    "bill[].made_of[]": "of room quantity",
    "bill[].source[]": "file line",
    "left_over[]": "section amount",
    "order[]": "part merchant pack packs price basis vat_rate amount net stage trip",
    "baskets[]": "merchant basis vat_rate sum net vat trip",
    "purchase": "cost bound proven",
    "cuts[]": "part merchant stock_m pieces left_over_m",
    "cuts[].pieces[]": "for length_m",
    "budget": "materials left_over delivery labour sums contingency ex_vat vat total labour_priced hours hours_by_task",
    "budget.vat[]": "rate amount",
    "budget.hours": "self electrician",
    "budget.hours.self": "low likely high",
    "budget.hours_by_task[]": "task who stage low likely high",
    "findings[]": "check level subject message value limit unit source edition change",
}


def parsed(data: bytes) -> Any:
    return json.loads(data, parse_float=Decimal)


def at(data: Any, address: str) -> list[Any]:
    """Every value at a dotted address; `[]` stands for each of a list."""
    found = [data]
    for step in filter(None, address.split(".")):
        name, each = step.removesuffix("[]"), step.endswith("[]")
        found = [value[name] for value in found]
        found = [item for value in found for item in value] if each else found
    return found


# Version 1 may gain keys: they come after those of the design.
GAINED = {
    "circuits[].legs[]": "planned_m",
    "controls[].legs[]": "planned_m",
    "runs[]": "planned_m",
    "drilling[]": "bound_by on_member_m hole of_holes ask_first",
    "purchase": "counter near_free",
}


@pytest.mark.parametrize("address", SHAPE, ids=lambda of: of or "whole")
def test_every_key_of_version_1_is_there_in_the_order_of_the_design(address: str) -> None:
    found = at(parsed(render_data(estimates.rich())), address)

    assert found
    for value in found:
        assert [*SHAPE[address].split(), *GAINED.get(address, "").split()] == list(value)


def test_the_schema_that_ships_describes_what_is_written() -> None:
    schema = json.loads(read_text("templates", "estimate.schema.json"))
    jsonschema.Draft202012Validator.check_schema(schema)

    for estimate in (estimates.worked_example(), estimates.rich()):
        jsonschema.validate(json.loads(render_data(estimate)), schema)


def test_the_schema_misses_a_key_that_is_gone() -> None:
    schema = json.loads(read_text("templates", "estimate.schema.json"))
    data = json.loads(render_data(estimates.rich()))
    del data["circuits"][0]["legs"][0]["holes"]["plate"]

    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(data, schema)


def test_the_worked_example_comes_out_to_the_penny() -> None:
    data = parsed(render_data(estimates.worked_example()))

    # hand: the design's example under "Money".
    assert data["budget"] == {
        "materials": "117.11",
        "left_over": "15.13",
        "delivery": "0.00",
        "labour": "0.00",
        "sums": "0.00",
        "contingency": "0.00",
        "ex_vat": "117.11",
        "vat": [{"rate": "0.2000", "amount": "23.42"}],
        "total": "140.53",
        "labour_priced": False,
        "hours": {name: {"low": 0, "likely": 0, "high": 0} for name in ("self", "electrician")},
        "hours_by_task": [],
    }
    assert [("60.30", "0.4967"), ("1.06", "0.0266"), ("0.67", "0.0266"), ("39.95", "6.6583")] == [
        (line["amount"], line["rate"]) for line in data["bill"]
    ]
    assert [("51.13", "42.61", "8.52"), ("74.50", "74.50", "14.90")] == [
        (basket["sum"], basket["net"], basket["vat"]) for basket in data["baskets"]
    ]
    purchase = {"cost": "140.53", "bound": "140.53", "proven": True, "counter": None, "near_free": []}
    assert purchase == data["purchase"]


def test_a_leg_has_its_figures_in_metres_and_its_holes_by_kind() -> None:
    leg = parsed(render_data(estimates.worked_example()))["circuits"][0]["legs"][1]

    assert leg == {
        "id": "sockets: S1 to S2",
        "from": "S1",
        "to": "S2",
        "cable": "te-2.5",
        "use": "feed",
        "route_m": D("18.9"),
        "length_m": D("19.3"),
        "cut_m": D("20.6"),
        "holes": {"stud": 31, "plate": 0, "joist": 0, "wall": 0},
        "supports": 0,
        "route": [[D("21.7"), 6, D("1.4")], [D("40.6"), 6, D("1.4")]],
        "planned_m": D("19.3"),
    }


def every_number(value: Any) -> list[Decimal]:
    if isinstance(value, dict):
        return [number for item in value.values() for number in every_number(item)]
    if isinstance(value, list):
        return [number for item in value for number in every_number(item)]
    return [value] if isinstance(value, Decimal) else []


def test_no_number_has_more_than_three_decimals() -> None:
    numbers = every_number(parsed(render_data(estimates.rich())))

    assert len(numbers) > 50
    assert [] == [value for value in numbers if value != round(value, 3)]


@pytest.mark.parametrize(
    ("expected", "given"),
    [("0.335", "0.3345"), ("-0.3", "-0.3"), ("12", "12.000"), ("0.1", "0.1"), ("1234567.891", "1234567.891")],
)
def test_a_number_is_written_with_the_digits_it_has(expected: str, given: str) -> None:
    assert expected == json.dumps(number(D(given)))


def test_money_and_rates_are_text_rounded_half_up() -> None:
    # hand: half a penny and half a place go up.
    assert ("0.13", "0.0266", "0.4967", "0.0001") == (
        money(D("0.125")),
        rate(D("0.0266")),
        rate(D("74.50") / 150),
        rate(D("0.00005")),
    )
    assert ("3.19", "0.032", "5.00") == (price(D("3.190")), price(D("0.0320")), price(D(5)))
    assert 1.5 == metres(1500)


def test_wall_keys_are_null_off_the_walls_and_empty_words_are_null() -> None:
    data = parsed(render_data(estimates.rich()))
    light = next(point for point in data["points"] if point["id"] == "DL1")
    delivery = [line for line in data["order"] if line["part"] is None]

    assert (None, None, None) == (light["wall"], light["along_m"], light["height_m"])
    assert [("A", "7.50", "6.25")] == [(line["merchant"], line["amount"], line["net"]) for line in delivery]
    assert (None, None) == (data["drilling"][1]["wall"], data["drilling"][1]["bit_mm"])
    assert [None, None] == [cut["merchant"] for cut in data["cuts"] if cut["stock_m"] == D("1.1")]


def test_delivery_is_the_last_line_of_its_basket() -> None:
    order = parsed(render_data(estimates.rich()))["order"]
    of_a = [line["part"] for line in order if line["merchant"] == "A"]

    assert of_a[-1] is None
    assert of_a[:-1] == sorted(of_a[:-1])


def test_points_are_sorted_by_name_then_number() -> None:
    ids = [point["id"] for point in parsed(render_data(estimates.rich()))["points"]]

    assert ["DL1", "ES1", "S1", "S2", "S3", "S4", "S5", "S6"] == ids


def test_a_run_with_stretches_has_no_route_and_says_what_it_lies_in() -> None:
    run = parsed(render_data(estimates.rich()))["runs"][0]

    assert [] == run["route"]
    assert {"stud": 0, "plate": 0, "joist": 0, "wall": 0} == run["holes"]
    assert [
        {"in": "building", "trench": None, "length_m": 4},
        {"in": "trench", "trench": "lawn", "length_m": 22},
        {"in": "building", "trench": None, "length_m": D("1.8")},
    ] == run["stretches"]
    # hand, as in the design: 4 + 22 + 1.8 + 2 x (0.6 + 0.45) + 2 x 1.0 = 31.9
    assert D("31.9") == run["length_m"]


def test_spare_ways_count_circuits_runs_and_the_contactor() -> None:
    boards = parsed(render_data(estimates.rich()))["boards"]

    # hand: 8 ways, one for the circuit, three for the contactor; the board outside the job is not listed.
    assert [("CU", 4)] == [(board["name"], board["spare_ways"]) for board in boards]


def test_a_finding_keeps_all_it_says() -> None:
    found = finding_data(estimates.RICH_FINDINGS[1])

    assert [4.1, 3, "%", "2022", 'circuit.sockets.cable = "te-4"'] == [
        found[name] for name in ("value", "limit", "unit", "edition", "change")
    ]


def test_text_of_the_user_stays_as_it_is() -> None:
    title = '=1+1 "quoted" <b>\u202e\u00a3 \U0001f50c\nline'
    data = render_data(estimates.rich(title=title))

    assert title == json.loads(data)["job"]["title"]
    assert "\U0001f50c".encode() in data


def test_files_are_named_without_the_folders_of_this_machine() -> None:
    sources = at(estimate_data(estimates.worked_example()), "bill[].source[]")

    assert {("job.toml", 40)} == {(source["file"], source["line"]) for source in sources}


def test_the_same_estimate_gives_the_same_bytes_whatever_the_hash_seed() -> None:
    code = (
        "import hashlib; from tests import estimates; from estimator.documents.data import render_data;"
        "from estimator.documents.shopping import render_lists; from estimator.documents.workbook import render_workbook;"
        "e = estimates.rich(); lists = render_lists(e);"
        "print([hashlib.sha256(d).hexdigest() for d in (render_data(e), render_workbook(e), *lists.values())])"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            cwd=ROOT,
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }

    assert 1 == len(said)
