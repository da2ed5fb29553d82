"""The shipped CSV tables, read with the csv module alone: they hold together and agree with published figures.

Each expected number says where it is from: `published`, `hand` or `common practice`.
"""

import csv
import re
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise
from pathlib import Path

import pytest

FOLDER = Path(__file__).parent.parent / "catalogues"
Row = dict[str, str]

COLUMNS = {
    "parts": "part description trade_name section unit sold_as waste vat_rate counter match_group note",
    "prices": "part merchant pack price vat priced_on match merchant_code source",
    "merchants": "merchant delivery free_over minimum currency vat vat_rate",
    "kits": "kit part stage per quantity pieces note source",
    "points": "kind label kit symbol use width_mm height_mm box_depth_mm plate_width_mm plate_height_mm fixing "
    "max_ends load tail place height_rule lit",
    "boards": "kind label kit part ways width_mm height_mm depth_mm tail place",
    "cables": "cable part kit end_in end_out csa_mm2 cpc_mm2 cores construction metal width_mm height_mm "
    "r1_mohm_per_m r2_mohm_per_m mv_per_a_m source edition",
    "lights": "kind lumens watts beam_deg cutout_mm void_depth_mm ip insulation",
    "devices": "device part type rating_a zs_max_ohm icn_ka ways rcd_ma source edition",
    "rules": "ruleset rule value unit applies_to source edition confidence",
    "tables": "ruleset table row column value unit source edition confidence",
    "labour": "task who per kit low likely high rate vat_rate stage source",
    "works": "step do before who open_or_ready late_costs when",
    "options": "option title why action kind cable device height_mm amount source confidence",
}
KEYS = {
    "parts": 1,
    "prices": 3,
    "merchants": 1,
    "kits": 4,
    "points": 1,
    "boards": 1,
    "cables": 1,
    "lights": 1,
    "devices": 1,
    "rules": 2,
    "tables": 4,
    "labour": 4,
    "works": 1,
    "options": 1,
}
POINT_PER = {"point", "entry", "noggin", "circuit", "wall-hole"}
CABLE_PER = {"leg", "run", "metre", "support", "stud-hole", "joist-hole", "plate-hole", "wall-hole"}
TRENCH_PER = {"trench", "trench-metre", "trench-square-metre", "trench-cubic-metre"}
OWN_PER = {
    "noggin": {"noggin", "noggin-metre"},
    "trench": TRENCH_PER,
    "trench-lawn": TRENCH_PER,
    "control": {"control", "point", "board"},
    "room": {"room"},
    "job": {"job"},
}


def read(name: str) -> list[Row]:
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True, restkey="too many", restval="too few"))


T = {name: read(name) for name in COLUMNS}
PARTS = {row["part"]: row for row in T["parts"]}
CABLES = {row["cable"]: row for row in T["cables"]}
POINTS = {row["kind"]: row for row in T["points"]}
RULES = {row["rule"]: Decimal(row["value"]) for row in T["rules"]}
CELLS = {(row["table"], row["row"], row["column"]): Decimal(row["value"]) for row in T["tables"]}
TWINS = [code for code in CABLES if code.startswith("te")]
ARMOURED = [code for code in CABLES if code.startswith("swa-")]


def kit(name: str) -> list[Row]:
    return [row for row in T["kits"] if row["kit"] == name]


def percent(text: str) -> Decimal:
    return Decimal(text.removesuffix(" %"))


def unit_price(part: str) -> Decimal:
    return min(Decimal(row["price"]) / Decimal(row["pack"]) for row in T["prices"] if row["part"] == part)


def resistance(csa: str) -> Decimal:
    return CELLS["resistance-20c", csa, "copper"]


# ---- form


@pytest.mark.parametrize("name", COLUMNS)
def test_each_table_has_the_columns_of_the_design_in_their_order(name: str) -> None:
    expected = COLUMNS[name].split()
    assert expected == list(T[name][0])[: len(expected)]


@pytest.mark.parametrize("name", COLUMNS)
def test_every_row_has_one_cell_for_each_column_and_no_stray_blanks(name: str) -> None:
    for row in T[name]:
        assert "too many" not in row
        assert "too few" not in row.values()
        assert all(cell == cell.strip() for cell in row.values())


@pytest.mark.parametrize("name", KEYS)
def test_no_key_stands_twice_and_every_key_is_filled(name: str) -> None:
    keys = [tuple(row.values())[: KEYS[name]] for row in T[name]]
    assert len(keys) == len(set(keys))
    assert all(all(key) for key in keys)


def test_files_are_utf8_without_a_mark_and_end_their_last_line() -> None:
    for name in COLUMNS:
        raw = (FOLDER / f"{name}.csv").read_bytes()
        raw.decode("utf-8")
        assert not raw.startswith(b"\xef\xbb\xbf")
        assert raw.endswith(b"\r\n")
        assert raw.count(b"\r\n") == raw.count(b"\n")


def test_codes_start_with_a_letter_and_cannot_be_read_as_a_number() -> None:
    codes = [row[column] for name, column in (("parts", "part"), ("kits", "kit"), ("points", "kind"),
             ("boards", "kind"), ("cables", "cable"), ("devices", "device")) for row in T[name]]  # fmt: skip
    assert [code for code in codes if not re.fullmatch(r"[a-z][a-z0-9.-]*", code)] == []
    assert [code for code in codes if re.search(r"\d[eE]\d", code)] == []


def test_the_codes_that_the_design_promises_are_there() -> None:
    # published: design of the job file, the list of codes
    devices = {row["device"] for row in T["devices"]}
    assert {"te-1.0", "te-1.5", "te-2.5", "te-4", "te-6", "te-10", "te-16"} <= set(CABLES)
    assert {"te3-1.0", "te3-1.5", "te3-2.5"} <= set(CABLES)
    sizes = ("1.5", "2.5", "4", "6", "10", "16", "25")
    assert {f"swa-{cores}c-{size}" for cores in (2, 3) for size in sizes} <= set(CABLES)
    assert {f"rcbo-b{rating}" for rating in (6, 10, 16, 20, 32, 40, 50)} <= devices
    assert {f"mcb-b{rating}" for rating in (6, 10, 16, 20, 32, 40, 50, 63)} <= devices
    assert {f"consumer-unit-{ways}" for ways in (4, 6, 8, 10, 12, 16)} == {row["kind"] for row in T["boards"]}
    assert {"timber-38x63", "timber-38x89", "timber-47x97"} <= set(PARTS)
    assert {"switch", "switch-two-way", "switch-intermediate", "start-button", "emergency-stop"} <= set(POINTS)


# ---- one table names another


def test_every_part_named_anywhere_is_a_part() -> None:
    named = {row["part"] for name in ("prices", "kits", "boards", "cables", "devices") for row in T[name]}
    bits = {row["column"] for row in T["tables"] if row["table"] in ("bit-sizes", "hole-saw-sizes")}
    timber = {row["row"] for row in T["tables"] if row["table"] == "timber-sizes"}
    assert set() == (named | bits | timber) - set(PARTS)


def test_every_part_can_be_bought() -> None:
    assert set() == set(PARTS) - {row["part"] for row in T["prices"]}


def test_every_merchant_of_a_price_is_a_merchant_and_one_ships() -> None:
    assert {"any"} == {row["merchant"] for row in T["merchants"]} == {row["merchant"] for row in T["prices"]}


def named_kits() -> dict[str, set[str]]:
    """Each kit that something names, and what its `per` may count."""
    allowed = dict(OWN_PER)
    allowed |= {row["kit"]: POINT_PER for row in T["points"]}
    allowed |= {row["kit"]: {"board", "circuit", "run-end"} for row in T["boards"]}
    allowed |= {row["kit"]: CABLE_PER for row in T["cables"] if row["kit"]}
    for column in ("end_in", "end_out"):
        allowed |= {row[column]: {"run-end", "wall-hole"} for row in T["cables"] if row[column]}
    return allowed


def test_every_kit_that_is_named_has_rows_and_every_row_a_kit_that_is_named() -> None:
    assert set(named_kits()) == {row["kit"] for row in T["kits"]}


def test_kits_count_only_what_their_kind_may_count() -> None:
    allowed = named_kits()
    assert [row for row in T["kits"] if row["per"] not in allowed[row["kit"]]] == []


def test_no_kit_is_named_by_two_kinds_of_table() -> None:
    by_kind = [
        {row["kit"] for row in T["points"]},
        {row["kit"] for row in T["boards"]},
        {row["kit"] for row in T["cables"]} - {""},
        {row[end] for row in T["cables"] for end in ("end_in", "end_out")} - {""},
        set(OWN_PER),
    ]
    assert sum(len(names) for names in by_kind) == len(set().union(*by_kind))


def test_cable_devices_of_circuits_and_board_cases_never_come_from_a_kit() -> None:
    breakers = {row["part"] for row in T["devices"] if row["type"] in ("B", "C")}
    barred = breakers | {row["part"] for row in T["boards"]} | {row["part"] for row in T["cables"]}
    assert set() == barred & {row["part"] for row in T["kits"]}


def test_the_noggin_kit_holds_no_timber() -> None:
    assert {"screw-wood-5x70"} == {row["part"] for row in kit("noggin")}


def test_a_length_in_a_kit_is_a_piece_that_some_stock_can_give() -> None:
    for row in T["kits"]:
        if PARTS[row["part"]]["sold_as"] == "length":
            longest = max(Decimal(price["pack"]) for price in T["prices"] if price["part"] == row["part"])
            assert Decimal(0) < Decimal(row["quantity"]) <= longest
        else:
            assert row["pieces"] == "1"


def test_a_light_is_lit_and_has_figures_and_its_watts_are_its_load() -> None:
    lit = {row["kind"] for row in T["points"] if row["lit"] == "yes"}
    assert lit == {row["kind"] for row in T["lights"]}
    assert {f"{row['watts']} W" for row in T["lights"]} == {POINTS[kind]["load"] for kind in lit}
    for row in T["lights"]:
        assert f"{row['watts']} W" == POINTS[row["kind"]]["load"]


def test_a_height_rule_has_a_least_and_a_greatest_height() -> None:
    for name in {row["height_rule"] for row in T["points"]} - {""}:
        assert RULES[f"{name}-min"] < RULES[f"{name}-max"]


def test_words_with_a_fixed_choice_are_of_that_choice() -> None:
    choices = {
        ("parts", "sold_as"): {"piece", "length"},
        ("parts", "counter"): {"electrical", "timber", "ground", "hire"},
        ("kits", "stage"): {"supply", "first-fix", "second-fix"},
        ("labour", "stage"): {"supply", "first-fix", "second-fix"},
        ("labour", "who"): {"self", "electrician", "other"},
        ("points", "fixing"): {"noggin", "lining", "joist", "surface"},
        ("points", "tail"): {"box", "light", "board", "outside", "run"},
        ("points", "place"): {"in", "out"},
        ("points", "use"): {
            "sockets", "lighting", "cooker", "water-heating", "heating", "motor", "fixed", "data", "alarm",
        },
        ("cables", "metal"): {"none", "screen", "armour"},
        ("lights", "insulation"): {"covered", "gap", "none"},
        ("rules", "confidence"): {"published", "secondary", "memory", "worked-out"},
        ("tables", "confidence"): {"published", "secondary", "memory", "worked-out"},
        ("options", "confidence"): {"published", "secondary", "memory", "worked-out"},
        ("prices", "vat"): {"ex", "inc"},
    }  # fmt: skip
    for (name, column), words in choices.items():
        assert set() == {row[column] for row in T[name]} - words, (name, column)


def test_sections_of_parts_have_an_order_in_the_bill() -> None:
    ordered = {row for table, row, _ in CELLS if table == "sections"}
    assert set() == {row["section"] for row in T["parts"]} - ordered


def test_limits_and_figures_name_their_source() -> None:
    for name in ("cables", "devices", "rules", "labour", "kits", "tables", "prices", "options"):
        assert [row for row in T[name] if not row["source"]] == [], name


def test_waste_is_a_percentage_of_pieces_and_blank_for_lengths() -> None:
    for row in T["parts"]:
        pattern = r"\d+ %" if row["sold_as"] == "piece" else ""
        assert re.fullmatch(pattern, row["waste"]), row
        assert re.fullmatch(r"\d+ %", row["vat_rate"]), row


# ---- prices


def test_prices_are_invented_and_say_so_and_are_plain_money() -> None:
    assert {"invented demo figure"} == {row["source"] for row in T["prices"]}
    assert {"2026-10-01"} == {row["priced_on"] for row in T["prices"]}
    assert {"ex"} == {row["vat"] for row in T["prices"]}
    assert [row for row in T["prices"] if not re.fullmatch(r"\d+\.\d\d", row["price"])] == []
    assert [row for row in T["prices"] if Decimal(row["pack"]) <= 0 or Decimal(row["price"]) <= 0] == []


def test_a_bigger_pack_costs_more_and_flat_cable_costs_less_by_the_metre_on_a_bigger_drum() -> None:
    for part in PARTS:
        packs = sorted((Decimal(r["pack"]), Decimal(r["price"])) for r in T["prices"] if r["part"] == part)
        for (small, cheap), (large, dear) in pairwise(packs):
            assert cheap < dear, part
            if part in TWINS:
                assert dear / large < cheap / small, part


@pytest.mark.parametrize("code", TWINS)
def test_drums_of_25_50_and_100_m_cost_about_1_to_1_9_to_3_5_and_cut_metres_a_third_more(code: str) -> None:
    # common practice: what drums of flat cable cost beside each other
    price = {row["pack"]: Decimal(row["price"]) for row in T["prices"] if row["part"] == code}
    assert Decimal("1.9") == (price["50"] / price["25"]).quantize(Decimal("0.1"))
    assert abs(price["1"] * 25 / price["25"] - Decimal("1.35")) < Decimal("0.02")
    if "100" in price:
        assert Decimal("3.5") == (price["100"] / price["25"]).quantize(Decimal("0.1"))


def test_armoured_cable_is_sold_cut_by_the_metre_and_in_no_other_way() -> None:
    for code in ARMOURED:
        assert [row["pack"] for row in T["prices"] if row["part"] == code] == ["1"]


def test_parts_that_must_match_have_a_family_in_every_price() -> None:
    for row in T["prices"]:
        assert bool(row["match"]) == bool(PARTS[row["part"]]["match_group"]), row


def test_one_more_double_socket_at_first_fix_costs_6_to_10_pounds_in_materials() -> None:
    # common practice: 6 to 10 pounds; two entries, 562 mm of noggin, 1.5 m of cable, cheapest unit prices, ex VAT
    counts = {"point": Decimal(1), "entry": Decimal(2), "noggin": Decimal(1)}
    kits = kit("double-socket") + kit("noggin")
    cost = sum(Decimal(r["quantity"]) * counts[r["per"]] * unit_price(r["part"]) for r in kits)
    cost += Decimal("0.562") * unit_price("timber-38x89") + Decimal("1.5") * unit_price("te-2.5")
    assert Decimal(6) <= cost <= Decimal(10)


# ---- counts by hand


def test_fourteen_double_sockets_on_a_radial_take_the_parts_counted_by_hand() -> None:
    # hand: 14 boxes; 14 noggins x 4 = 56 long screws; 14 x 2 = 28 box screws;
    # 14 legs have 28 ends, 27 of them at points: 27 entries, a grommet each
    counts = {"point": 14, "entry": 27, "noggin": 14, "circuit": 1, "wall-hole": 0}
    made: dict[str, Decimal] = {}
    for row in kit("double-socket") + kit("noggin"):
        made[row["part"]] = made.get(row["part"], Decimal(0)) + Decimal(row["quantity"]) * counts[row["per"]]
    assert Decimal(14) == made["box-metal-2g-35"]
    assert Decimal(56) == made["screw-wood-5x70"]
    assert Decimal(28) == made["screw-wood-4x30-pan"]
    assert Decimal(27) == made["grommet-20"]
    assert Decimal(14) == made["socket-2g-dp"]


def test_a_point_on_a_noggin_brings_a_box_of_the_depth_it_states_and_long_screws_for_backing_alone() -> None:
    for row in T["points"]:
        if row["fixing"] != "noggin":
            continue
        boxes = [r["part"] for r in kit(row["kit"]) if r["part"].startswith("box-metal-")]
        gangs = "2g" if row["width_mm"] == "135" else "1g"
        assert f"box-metal-{gangs}-{row['box_depth_mm']}" in boxes, row["kind"]
        long_screws = [r for r in kit(row["kit"]) if r["part"] == "screw-wood-5x70"]
        backing = [r for r in kit(row["kit"]) if r["part"].startswith("timber-")]
        assert len(long_screws) == len(backing), row["kind"]


def test_boxes_and_plates_have_the_sizes_of_their_pattern() -> None:
    # published: BS 4662 pattern, single box 72 x 72 mm, plates 86 and 146 mm wide;
    # twin boxes are 132 to 135 mm wide, and the wider counts
    single = POINTS["single-socket"]
    twin = POINTS["double-socket"]
    assert tuple(single[c] for c in ("width_mm", "height_mm", "plate_width_mm", "plate_height_mm")) == (
        "72",
        "72",
        "86",
        "86",
    )
    assert tuple(twin[c] for c in ("width_mm", "height_mm", "plate_width_mm", "plate_height_mm")) == (
        "135",
        "72",
        "146",
        "86",
    )
    # hand: 12.5 mm lining; 25 - 12.5, 35 - 12.5, 47 - 12.5
    depths = [RULES[name] for name in ("box-thin-depth", "box-deep-depth", "box-deepest-depth")]
    assert [Decimal("12.5"), Decimal("22.5"), Decimal("34.5")] == [d - Decimal("12.5") for d in depths]


def test_plates_apart_as_counted_by_hand() -> None:
    # hand: (86 + 86) / 2 + 10 = 96; (86 + 146) / 2 + 10 = 126; 146 + 10 = 156
    narrow = Decimal(POINTS["switch"]["plate_width_mm"])
    wide = Decimal(POINTS["double-socket"]["plate_width_mm"])
    air = RULES["plate-air"]
    assert (Decimal(96), Decimal(126), Decimal(156)) == (narrow + air, (narrow + wide) / 2 + air, wide + air)


def test_sand_for_a_trench_of_22_m_is_1_83_tonnes_with_treading_in() -> None:
    # hand: 22 x 0.3 x 0.15 x 1.65 = 1.6335 t; x 1.12 = 1.8295 t
    row = next(r for r in kit("trench") if r["part"] == "sand-soft")
    bed = (RULES["trench-bed"] + RULES["trench-cover"]) / 1000
    assert "trench-square-metre" == row["per"]
    assert bed * RULES["sand-loose-density"] * 1000 == Decimal(row["quantity"])
    tonnes = 22 * Decimal("0.3") * Decimal(row["quantity"]) / 1000
    assert Decimal("1.83") == (tonnes * (1 + percent(PARTS["sand-soft"]["waste"]) / 100)).quantize(Decimal("0.01"))


def test_a_noggin_between_studs_at_600_fits_every_common_stock_length_as_counted_by_hand() -> None:
    # hand: 562 mm with 3 mm kerf: 4 in 2.4 m (2257), 5 in 3.0 m (2822), 8 in 4.8 m (4517)
    kerf = RULES["saw-kerf"]
    packs = {row["pack"] for row in T["prices"] if row["part"] == "timber-38x89"}
    assert {"2.4", "3.0", "3.6", "4.8"} == packs
    fit = [int((Decimal(pack) * 1000 + kerf) // (562 + kerf)) for pack in ("2.4", "3.0", "4.8")]
    assert fit == [4, 5, 8]


def test_hands_are_counted_once_for_each_kind_and_every_kind_of_point_has_hours() -> None:
    for row in T["labour"]:
        assert Decimal(0) < Decimal(row["low"]) <= Decimal(row["likely"]) <= Decimal(row["high"])
        # only what comes after the walls are closed has a rate: it is no part of a job's total
        assert row["rate"] == "" or row["kit"] == "later"
        # what is paid later is told as the price guides have it, which tell what is paid; all else bears the job's VAT
        assert row["vat_rate"] == ("0 %" if row["rate"] else "")
    general = {row["per"] for row in T["labour"] if row["kit"] == "any"}
    assert {"stud-hole", "joist-hole", "plate-hole"} == general
    assert set() == general & {row["per"] for row in T["labour"] if row["kit"] != "any"}
    allowed = named_kits()
    allowed["later"] = {"visit", "point", "wall", "circuit", "metre", "trench-metre"}
    allowed["trench-by-hand"] = allowed["trench-by-machine"] = {"trench-cubic-metre"}
    for row in T["labour"]:
        assert row["kit"] == "any" or row["per"] in allowed[row["kit"]], row
    assert set(POINTS) - {"water-heater-outlet"} <= {r["kit"] for r in T["labour"] if r["per"] == "point"}


# ---- published limits and physics


@pytest.mark.parametrize("code", TWINS + ARMOURED)
def test_conductors_have_the_resistance_of_iec_60228(code: str) -> None:
    # published: IEC 60228 Tables 1 and 2, largest resistance at 20 degC, mohm/m
    published = {
        "1.0": "18.1", "1.5": "12.1", "2.5": "7.41", "4": "4.61",
        "6": "3.08", "10": "1.83", "16": "1.15", "25": "0.727",
    }  # fmt: skip
    cable = CABLES[code]
    assert Decimal(published[cable["csa_mm2"]]) == Decimal(cable["r1_mohm_per_m"])
    if cable["cpc_mm2"] != "0":
        assert Decimal(published[cable["cpc_mm2"]]) == Decimal(cable["r2_mohm_per_m"])


def impedance(csa: str, factor: str, reactance: str) -> Decimal:
    """mV/A/m of two conductors hot; above 16 mm2 with the reactance that the table holds in its z."""
    resistive = 2 * resistance(csa) * Decimal(factor)
    x = Decimal(reactance) if csa == "25" else Decimal(0)
    return (resistive * resistive + x * x).sqrt()


@pytest.mark.parametrize("code", TWINS + ARMOURED)
def test_the_tabulated_drop_at_70_degc_is_the_resistance_times_1_20_within_2_percent(code: str) -> None:
    # published: BS 7671 Tables 4D5 and 4D4 against IEC 60228 x 1.20 (x of 25 mm2 0.17 mohm/m, from memory)
    cable = CABLES[code]
    worked = impedance(cable["csa_mm2"], "1.20", "0.17")
    assert abs(Decimal(cable["mv_per_a_m_70c"]) / worked - 1) < Decimal("0.02")


@pytest.mark.parametrize("code", ARMOURED)
def test_the_tabulated_drop_at_90_degc_is_the_resistance_times_1_28_within_2_percent(code: str) -> None:
    # published: BS 7671 Table 4E4 against IEC 60228 x 1.28 (x of 25 mm2 0.16 mohm/m, from memory)
    cable = CABLES[code]
    worked = impedance(cable["csa_mm2"], "1.28", "0.16")
    assert abs(Decimal(cable["mv_per_a_m"]) / worked - 1) < Decimal("0.02")


def test_the_drop_that_is_used_is_never_the_smaller_of_the_two() -> None:
    for code in TWINS + ARMOURED:
        assert Decimal(CABLES[code]["mv_per_a_m"]) >= Decimal(CABLES[code]["mv_per_a_m_70c"])


def test_the_drop_of_a_feed_of_30_m_at_32_a_is_as_worked_by_hand() -> None:
    # hand: mV/A/m of two loaded cores at 90 degC x 32 A x 30 m / 1000
    drops = [Decimal(CABLES[f"swa-3c-{size}"]["mv_per_a_m"]) * 32 * 30 / 1000 for size in ("4", "6", "10", "16")]
    expected = [Decimal("11.52"), Decimal("7.58"), Decimal("4.51"), Decimal("2.78")]
    assert expected == [drop.quantize(Decimal("0.01")) for drop in drops]


@pytest.mark.parametrize(
    ("code", "expected"),
    # published: On-Site Guide Table I1; Locke, Guide to the Wiring Regulations, App. 4: R1 + R2 at 20 degC, mohm/m
    [
        ("te-1.0", "36.2"),
        ("te-1.5", "30.2"),
        ("te-2.5", "19.51"),
        ("te-4", "16.71"),
        ("te-6", "10.49"),
        ("te-10", "6.44"),
        ("te-16", "4.23"),
        ("swa-3c-2.5", "14.82"),
        ("swa-3c-4", "9.22"),
        ("swa-3c-6", "6.16"),
        ("swa-3c-10", "3.66"),
        ("swa-3c-16", "2.30"),
    ],
)
def test_line_and_protective_conductor_together_have_the_published_resistance(code: str, expected: str) -> None:
    assert Decimal(expected) == sum(Decimal(CABLES[code][column]) for column in ("r1_mohm_per_m", "r2_mohm_per_m"))


@pytest.mark.parametrize(
    ("code", "expected"),
    # published: Locke, Appendix 4, R1 + R2 of 50 m at 20 degC, ohm (printed to two or three decimals)
    [("te-2.5", "0.98"), ("te-4", "0.84"), ("te-6", "0.52"), ("te-10", "0.32"), ("te-16", "0.21")],
)
def test_fifty_metres_have_the_published_resistance(code: str, expected: str) -> None:
    per_m = Decimal(CABLES[code]["r1_mohm_per_m"]) + Decimal(CABLES[code]["r2_mohm_per_m"])
    assert Decimal(expected) == (per_m * 50 / 1000).quantize(Decimal("0.01"), ROUND_HALF_UP)


@pytest.mark.parametrize("size", ["1.5", "2.5", "4", "6"])
def test_armour_of_two_core_cable_has_the_published_resistance(size: str) -> None:
    # published: Locke, Appendix 4, Table 4.4, armour at 20 degC, mohm/m
    published = {"1.5": "10.2", "2.5": "8.8", "4": "7.9", "6": "7.0"}
    assert published[size] == CABLES[f"swa-2c-{size}"]["r2_mohm_per_m"]


def test_the_greatest_loop_impedance_of_every_breaker_follows_from_voltage_and_rating() -> None:
    # hand: 230 x 0.95 / (5 or 10 x rating), half up to two decimals, BS 7671 Table 41.3
    for row in T["devices"]:
        if row["type"] in ("B", "C"):
            times = {"B": 5, "C": 10}[row["type"]]
            worked = RULES["nominal-voltage"] * RULES["voltage-factor-min"] / (times * Decimal(row["rating_a"]))
            assert worked.quantize(Decimal("0.01"), ROUND_HALF_UP) == Decimal(row["zs_max_ohm"]), row["device"]


@pytest.mark.parametrize(
    ("device", "expected"),
    # published: BS 7671 Table 41.3 (32 A type B seen in two places; 6 A from 7.67 x 0.95)
    [("mcb-b32", "1.37"), ("rcbo-b32", "1.37"), ("mcb-b6", "7.28"), ("rcbo-b20", "2.19"), ("mcb-c32", "0.68")],
)
def test_the_greatest_loop_impedance_is_as_published(device: str, expected: str) -> None:
    assert expected == next(row["zs_max_ohm"] for row in T["devices"] if row["device"] == device)


def test_a_device_is_coded_by_its_type_and_rating_and_a_residual_one_trips_at_30_ma() -> None:
    for row in T["devices"]:
        if row["type"] in ("B", "C"):
            family = "rcbo" if row["rcd_ma"] else "mcb"
            assert f"{family}-{row['type'].lower()}{row['rating_a']}" == row["device"]
            assert row["rcd_ma"] in ("", "30")
            assert row["ways"] == "1"


def test_the_contactor_of_the_control_kit_is_a_device_that_takes_three_ways() -> None:
    # common practice: two modules for the contactor and one for the fuse of its control
    contactor = next(row for row in T["devices"] if row["type"] == "contactor")
    assert contactor["ways"] == "3"
    assert contactor["part"] in {row["part"] for row in kit("control")}


def test_clips_are_as_far_apart_as_published() -> None:
    # published: On-Site Guide Table D1 (bands of the wider dimension: 9, 15, 20, 40 mm), PVC columns
    expected = {"9": [250, 400], "15": [300, 400], "20": [350, 450], "40": [400, 550]}
    columns = ("pvc-horizontal", "pvc-vertical")
    assert expected == {band: [int(CELLS["clip-spacing", band, column]) for column in columns] for band in expected}


@pytest.mark.parametrize(
    ("code", "expected"),
    # hand: typical width 8.2 -> band 9; 10.3, 11.9, 13.5 -> band 15; 17.1, 19.4 -> band 20
    [("te-1.5", [250, 400]), ("te-2.5", [300, 400]), ("te-4", [300, 400]), ("te-6", [300, 400]),
     ("te-10", [350, 450]), ("te-16", [350, 450])],
)  # fmt: skip
def test_flat_cable_falls_in_its_band_by_its_typical_width(code: str, expected: list[int]) -> None:
    width = Decimal(CABLES[code]["width_mm"])
    band = next(band for band in ("9", "15", "20", "40") if Decimal(band) >= width)
    assert expected == [int(CELLS["clip-spacing", band, f"pvc-{way}"]) for way in ("horizontal", "vertical")]


@pytest.mark.parametrize(
    ("code", "expected"),
    # published: BS 7671 Table 4D5, methods 100, 101, 102, 103, C
    [("te-4", (27, 22, 27, "17.5", 37)), ("te-2.5", (21, 17, 21, "13.5", 27)), ("te-1.5", (16, 13, 16, 10, 20))],
)
def test_flat_cable_carries_the_published_current(code: str, expected: tuple[int | str, ...]) -> None:
    methods = ("100", "101", "102", "103", "C")
    assert tuple(map(Decimal, expected)) == tuple(CELLS["capacity", code, method] for method in methods)


def test_no_cable_carries_less_by_a_larger_size_or_in_the_open() -> None:
    for cores, methods in (("te-", ("100", "101", "102", "103", "A", "C")), ("swa-2c-", ("C", "D", "E"))):
        sizes = sorted((Decimal(code.removeprefix(cores)), code) for code in CABLES if code.startswith(cores))
        for method in methods:
            carried = [CELLS["capacity", code, method] for _, code in sizes]
            assert carried == sorted(set(carried)), (cores, method)
        for _, code in sizes:
            assert CELLS["capacity", code, methods[-1]] == max(CELLS["capacity", code, m] for m in methods)


def test_an_armoured_cable_carries_the_same_with_a_third_core_for_earth() -> None:
    for (table, row, column), value in CELLS.items():
        if table == "capacity" and row.startswith("swa-3c-"):
            assert value == CELLS["capacity", row.replace("3c", "2c"), column]


def test_only_method_c_carries_32_a_on_4_mm2_and_three_methods_20_a_on_2_5_mm2() -> None:
    # published: BS 7671 Table 4D5
    methods = ("100", "101", "102", "103", "C")
    assert [method for method in methods if CELLS["capacity", "te-4", method] >= 32] == ["C"]
    assert [method for method in methods if CELLS["capacity", "te-2.5", method] >= 20] == ["100", "102", "C"]


@pytest.mark.parametrize(
    ("depth", "expected"),
    # published: LABC, notches and holes in solid timber joists, table of depths (one decimal, half up)
    [(100, "25.0"), (125, "31.3"), (150, "37.5"), (175, "43.8"), (200, "50.0"), (225, "56.3"), (250, "62.5"),
     (275, "65.0"), (300, "65.0")],
)  # fmt: skip
def test_the_largest_joist_hole_is_as_published(depth: int, expected: str) -> None:
    largest = min(RULES["joist-hole-max-ratio"] * depth, RULES["joist-hole-max"])
    assert Decimal(expected) == largest.quantize(Decimal("0.1"), ROUND_HALF_UP)


@pytest.mark.parametrize(
    ("span", "expected"),
    # published: LABC, notches and holes in solid timber joists, table of spans, holes from and to
    [(2000, [500, 800]), (2500, [625, 1000]), (3500, [875, 1400]), (4500, [1125, 1800])],
)
def test_the_zone_of_joist_holes_is_as_published(span: int, expected: list[int]) -> None:
    assert list(map(Decimal, expected)) == [RULES[f"joist-hole-zone-{end}"] * span for end in ("from", "to")]


@pytest.mark.parametrize(
    ("depth", "expected"),
    # published: LABC, notches and holes in solid timber joists, table of depths
    [(100, "12.5"), (150, "18.8"), (250, "31.3"), (300, "35.0")],
)
def test_the_deepest_joist_notch_is_as_published(depth: int, expected: str) -> None:
    deepest = min(RULES["joist-notch-max-ratio"] * depth, RULES["joist-notch-max"])
    assert Decimal(expected) == deepest.quantize(Decimal("0.1"), ROUND_HALF_UP)


@pytest.mark.parametrize(
    ("depth", "expected"),
    # hand: a quarter of 63, 89, 140 is 15.75, 22.25, 35.0: whole millimetres below
    [(63, 15), (89, 22), (140, 35)],
)
def test_the_largest_stud_hole_is_a_quarter_of_the_depth(depth: int, expected: int) -> None:
    assert expected == int(RULES["stud-hole-max-ratio"] * depth)


def test_a_joist_of_97_mm_never_keeps_50_mm_both_ways_and_a_20_mm_hole_needs_120_mm() -> None:
    # hand: 50 + hole + 50
    assert 2 * RULES["cable-cover"] == RULES["joist-cover-plus-hole"]
    assert Decimal(120) == RULES["joist-cover-plus-hole"] + 20
    assert RULES["joist-cover-plus-hole"] > 97


def test_the_distances_of_the_set_out_are_those_of_the_design() -> None:
    # published: design, geometry of boxes and of the network
    expected = {
        "box-to-stud": 5,
        "box-to-corner": 150,
        "box-to-corner-note": 350,
        "box-to-opening": 100,
        "plate-air": 10,
        "noggin-share-height": 10,
        "network-lane-below-ceiling": 100,
        "back-to-back-walls": 400,
    }
    assert expected == {name: RULES[name] for name in expected}
    assert {"mm"} == {row["unit"] for row in T["rules"] if row["rule"] in expected}


def test_glands_fit_the_cable_under_the_armour_and_over_the_sheath() -> None:
    # published: a gland maker's chart, under the armour up to 11.7 (20S), 14.0 (20), 20.0 mm (25)
    assert [Decimal("11.7"), Decimal(14), Decimal(20)] == [
        CELLS["gland", size, "under-armour"] for size in ("20s", "20", "25")
    ]
    for code in ARMOURED:
        under, over = Decimal(CABLES[code]["under_armour_mm"]), Decimal(CABLES[code]["width_mm"])
        size = next(
            size
            for size in ("20s", "20", "25")
            if under <= CELLS["gland", size, "under-armour"] and over < CELLS["gland", size, "overall-below"]
        )
        for end, kind in (("end_in", "bw"), ("end_out", "cw")):
            glands = [row["part"] for row in kit(CABLES[code][end]) if row["part"].startswith("gland-")]
            assert [f"gland-{kind}-{size}"] == glands, code


def test_the_two_core_16_mm2_cable_takes_a_25_mm_gland() -> None:
    # published: the same chart; 14.3 mm under the armour
    assert CABLES["swa-2c-16"]["end_in"] == "swa-end-indoor-25"


def test_armoured_cable_is_held_by_a_cleat_that_goes_round_it() -> None:
    for code in ARMOURED:
        cleats = [row["part"] for row in kit(CABLES[code]["kit"]) if row["part"].startswith("cleat-")]
        size = Decimal(cleats[0].removeprefix("cleat-"))
        assert size - 2 <= Decimal(CABLES[code]["width_mm"]) <= size


def test_32_m_of_three_core_10_mm2_armoured_cable_weighs_27_7_kg_and_bends_to_117_mm() -> None:
    # hand: 0.866 x 32 = 27.7; 6 x 19.5 = 117
    cable = CABLES["swa-3c-10"]
    assert Decimal("27.7") == (Decimal(cable["kg_per_km"]) * 32 / 1000).quantize(Decimal("0.1"))
    assert Decimal(117) == CELLS["bend-radius", "armoured-16", "times"] * Decimal(cable["width_mm"])


def test_a_cable_weighs_the_same_as_a_part() -> None:
    weighed = [row for row in T["cables"] if row["kg_per_km"]]
    assert {*ARMOURED, *(code for code in TWINS if not code.startswith("te3-"))} == {row["cable"] for row in weighed}
    for row in weighed:
        assert Decimal(row["kg_per_km"]) == 1000 * Decimal(PARTS[row["part"]]["weight_kg"])
    # published: BS 5467 supplier's sheet, 866 kg a km
    assert "0.866" == PARTS["swa-3c-10"]["weight_kg"]


def test_timber_weighs_half_a_tonne_a_cubic_metre() -> None:
    # hand: 0.038 x 0.089 x 500 = 1.691 kg a metre; the density is from memory
    assert "1.691" == PARTS["timber-38x89"]["weight_kg"]
    for code in (code for code in PARTS if code.startswith("timber-")):
        thick, deep = (Decimal(size) for size in code.rpartition("-")[2].split("x"))
        exact = thick * deep * 500 / 1_000_000
        assert exact.quantize(Decimal("0.001"), ROUND_HALF_UP) == Decimal(PARTS[code]["weight_kg"])


def test_every_weight_says_where_it_is_from() -> None:
    for row in T["parts"]:
        if row["weight_kg"] and row["unit"] != "kg":
            assert re.search("weight (from memory|as kg_per_km of cables.csv|at 0.5 t/m3)", row["note"])
        elif row["unit"] == "kg":
            assert "1" == row["weight_kg"]
        else:
            assert "weight" not in row["note"]


def test_a_hole_is_made_for_the_widest_cable_its_standard_allows() -> None:
    # published: typical widths of flat cable; the limit of a standard is never below them
    for code in TWINS:
        assert Decimal(CABLES[code]["width_mm"]) < Decimal(CABLES[code]["max_width_mm"])
        assert Decimal(CABLES[code]["height_mm"]) < Decimal(CABLES[code]["max_height_mm"])


def test_4_mm2_flat_cable_passes_a_12_mm_hole_on_paper_and_not_at_its_limit() -> None:
    # hand: 11.9 typical and 13.0 at the limit, against 12
    assert Decimal(CABLES["te-4"]["width_mm"]) < 12 < Decimal(CABLES["te-4"]["max_width_mm"])


def test_bits_are_listed_by_size_and_named_by_size() -> None:
    for (table, row, column), value in CELLS.items():
        if table in ("bit-sizes", "hole-saw-sizes"):
            assert Decimal(row) == value
            assert column.endswith(f"-{row}")


def test_timber_is_of_the_size_in_its_code() -> None:
    for code in PARTS:
        if found := re.fullmatch(r"timber-(\d+)x(\d+)", code):
            sizes = (CELLS["timber-sizes", code, "thickness"], CELLS["timber-sizes", code, "depth"])
            assert (Decimal(found[1]), Decimal(found[2])) == sizes


def test_bands_fall_or_rise_along_their_rows() -> None:
    for table, falls in (("ambient", True), ("grouping", True), ("insulation", True), ("clip-spacing", False)):
        for column in {c for t, _, c in CELLS if t == table}:
            cells = sorted((Decimal(row), value) for (t, row, c), value in CELLS.items() if (t, c) == (table, column))
            values = [value for _, value in cells]
            assert values == sorted(values, reverse=falls), (table, column)


def test_insulation_factors_are_of_the_present_edition() -> None:
    # published: BS 7671 Table 52.2 (0.89, 0.81, 0.68, 0.55 are of the 16th edition)
    expected = {"50": "0.88", "100": "0.78", "200": "0.63", "400": "0.51", "500": "0.50"}
    assert {row: Decimal(value) for row, value in expected.items()} == {
        row: CELLS["insulation", row, "factor"] for row in expected
    }


def test_nothing_is_called_by_a_verdict() -> None:
    words = re.compile(r"\b(compliant|certified|safe|C1|C2|C3|FI)\b")
    found = [cell for name in T for row in T[name] for cell in row.values() if words.search(cell)]
    assert found == []


def test_what_closes_a_wall_is_the_lining() -> None:
    words = re.compile(r"\b(plaster ?boards?|boarder|boarding|boarded|before boards)\b", re.IGNORECASE)
    found = [cell for name in T for row in T[name] for cell in row.values() if words.search(cell)]
    assert found == []


def test_a_hole_through_a_wall_is_an_hour_of_its_cable_alone_and_never_of_its_point_or_end_too() -> None:
    cables = {row["kit"] for row in T["cables"]} - {""}
    assert cables == {row["kit"] for row in T["labour"] if row["per"] == "wall-hole"}


def test_every_bit_in_trade_can_be_put_on_the_list_of_the_job() -> None:
    bits = {column for table, _, column in CELLS if table == "bit-sizes"}
    assert bits <= {row["part"] for row in kit("job") if row["quantity"] == "0"}


def test_2_5_mm2_flat_cable_takes_a_14_mm_bit() -> None:
    # hand: 11.5 at the limit of its standard + 2 = 13.5; the next bit in trade is 14
    needed = Decimal(CABLES["te-2.5"]["max_width_mm"]) + RULES["hole-air"]
    sizes = sorted(value for (table, _, _), value in CELLS.items() if table == "bit-sizes")
    assert Decimal(14) == next(size for size in sizes if size >= needed)
