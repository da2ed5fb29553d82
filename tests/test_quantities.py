"""Texts with units: what is read, exactly, and what is refused with the very words to write."""

import subprocess
import sys
from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator import quantities as q
from estimator.job import phrases
from estimator.job.model import Fixings, Height, Layer, NogginTimber, Section
from estimator.quantities import Money, Quantity, Wrong

D = Decimal

LENGTHS = {
    "450 mm": 450,
    "450mm": 450,
    " 450 mm ": 450,
    "4.2 m": 4200,
    "45 cm": 450,
    "0 m": 0,
    "-150 mm": -150,
    # published (international yard and pound agreement, 1959; cited from memory): 1 ft = 304.8 mm, 1 in = 25.4 mm.
    "12 ft 6 in": 3810,  # hand: 12 x 304.8 + 6 x 25.4 = 3657.6 + 152.4
    "12 ft": 3658,  # hand: 3657.6
    "6 in": 152,  # hand: 152.4
    "-1 ft 6 in": -457,  # hand: -457.2
    # hand: a half goes up, towards plus infinity.
    "0.5 mm": 1,
    "2.5 mm": 3,
    "-0.5 mm": 0,
    "1.2344 m": 1234,
    "1.2345 m": 1235,
    "0.05 cm": 1,
}


@pytest.mark.parametrize(("text", "expected"), LENGTHS.items())
def test_a_length_becomes_whole_millimetres_half_up(text: str, expected: int) -> None:
    assert expected == q.length_mm(text)


def test_a_size_stays_exact() -> None:
    assert D("12.5") == q.size_mm("12.5 mm")
    assert D("152.4") == q.size_mm("6 in")
    assert D("0.001") == q.size_mm("0.000001 m")


REFUSED_LENGTHS: list[tuple[object, str, str]] = [
    (450, "450 has no unit", 'write the unit, in quotes: "450 mm"'),
    (D("2.4"), "2.4 has no unit", 'write the unit, in quotes: "2.4 m"'),
    (6, "6 has no unit", 'write the unit, in quotes: "6 m"'),
    (0, "0 has no unit", 'write the unit, in quotes: "0 mm"'),
    ("450", '"450" is not a length', 'write the unit, in quotes: "450 mm"'),
    ("2,5 m", '"2,5 m" is not a length', 'write "2.5 m", with a point'),
    ("1,200 mm", '"1,200 mm" is not a length', 'write "1200 mm" or "1.200 mm", without the comma'),
    ("1,200.5 mm", '"1,200.5 mm" is not a length', 'write "1200.5 mm", without the comma'),
    ("450mm,", '"450mm," is not a length', 'write "450mm"'),
    ("5'", '"5\'" is not a length', 'write "5 ft"'),
    ("5' 6\"", '"5\' 6"" is not a length', 'write "5 ft 6 in"'),
    ("2.4 metres", '"2.4 metres" is not a length', 'write "2.4 m"'),
    ("3 MM", '"3 MM" is not a length', 'write "3 mm"'),
    (True, "true is not a length", 'write for example "450 mm"'),
    (["4 m"], "a list is not a length", 'write for example "450 mm"'),
    ({}, "a table is not a length", 'write for example "450 mm"'),
    ("2 kW", '"2 kW" is not a length', 'write one of the units mm, cm, m, ft, in, for example "450 mm"'),
]
FREE = 'write a number and a unit (mm, cm, m, ft, in), for example "450 mm"'


@pytest.mark.parametrize(("value", "found", "write"), REFUSED_LENGTHS)
def test_what_is_no_length_says_what_to_write(value: object, found: str, write: str) -> None:
    assert Wrong(found, write) == q.length_mm(value)


@pytest.mark.parametrize(
    "text", ["9**9 m", "9**9**9 m", "£3", "5mm + 3m", "1e3 mm", "02 m", "", "m", "4 m 2", "nan m", "1" * 5000 + " m"]
)
def test_nothing_is_worked_out_from_a_text(text: str) -> None:
    assert Wrong(f'"{text}" is not a length', FREE) == q.length_mm(text)


@given(st.integers(0, 10**8))
def test_millimetres_and_metres_say_the_same(mm: int) -> None:
    assert mm == q.length_mm(f"{mm} mm") == q.length_mm(f"{D(mm).scaleb(-3):f} m")


@given(st.text())
def test_any_text_is_either_a_length_or_explained(text: str) -> None:
    found = q.length_mm(text)
    assert isinstance(found, int) or (found.found and found.write)


@pytest.mark.parametrize(
    ("unit", "into", "expected"),
    [
        ("mm", "m", "0.001"),  # published: prefixes of the SI brochure, 9th edition, table 7
        ("cm", "mm", "10"),
        ("m", "cm", "100"),
        ("m2", "mm2", "1000000"),
        ("kW", "W", "1000"),
        ("in", "mm", "25.4"),  # published: international yard and pound agreement of 1959
        ("ft", "mm", "304.8"),  # hand: 12 x 25.4
        ("ft", "in", "12"),  # published: as above
        ("A", "A", "1"),  # hand: a unit is itself
    ],
)
def test_units_of_a_family_go_into_each_other_exactly(unit: str, into: str, expected: str) -> None:
    assert q.factor(unit, into) == Decimal(expected)


@pytest.mark.parametrize(("unit", "into"), [("mm", "mm2"), ("W", "mm"), ("A", "W")])
def test_units_of_two_families_never_go_into_each_other(unit: str, into: str) -> None:
    with pytest.raises(pint.PintError):
        q.factor(unit, into)


def test_the_library_of_units_waits_for_feet_or_inches() -> None:
    code = (
        "import sys; from estimator.quantities import length_mm\n"
        "assert (length_mm('4.2 m'), 'pint' in sys.modules) == (4200, False)\n"
        "assert (length_mm('1 ft'), 'pint' in sys.modules) == (305, True)"  # hand: 304.8, half up
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_a_percentage_is_a_ratio_from_nought_to_one() -> None:
    assert D("0.05") == q.ratio("5 %") == q.ratio("5%")
    assert D("0.125") == q.ratio("12.5 %")
    assert Wrong('"120 %" is not between 0 % and 100 %', 'write for example "5 %"') == q.ratio("120 %")
    assert Wrong("5 has no unit", 'write the unit, in quotes: "5 %"') == q.ratio(5)


def test_electrical_values_keep_the_unit_they_were_given_in() -> None:
    assert Quantity(D(2), "kW") == q.quantity("2 kW", q.POWER)
    assert D("0.5") == Quantity(D(500), "W").to("kW")
    assert Quantity(D(80), "A") == q.quantity("80 A", q.CURRENT)
    assert Quantity(D("0.35"), "ohm") == q.quantity("0.35 ohm", q.RESISTANCE) == q.quantity("0.35 Ω", q.RESISTANCE)
    assert Quantity(D(230), "V") == q.quantity("230 V", q.VOLTAGE)
    assert Quantity(D(300), "lx") == q.quantity("300 lx", q.ILLUMINANCE)
    assert Quantity(D("12.5"), "m2") == q.quantity("12.5 m²", q.AREA)
    assert D(2_500_000) == Quantity(D("2.5"), "m2").to("mm2")
    assert Wrong('"80 amps" is not a current', 'write "80 A"') == q.quantity("80 amps", q.CURRENT)


def test_money_is_read_to_the_penny_with_or_without_its_sign() -> None:
    assert Money(D(480), "£") == q.money("£480")
    assert Money(D("480.00"), "") == q.money("480.00")
    assert Money(D("12.5"), "€") == q.money("€ 12.5")


@pytest.mark.parametrize(("value", "found", "write"), [
    (480, "480 is a bare number", 'write it in quotes: "£480"'),
    ("£1,480", '"£1,480" is no amount of money', 'write "£1480"'),
    ("480 £", '"480 £" is no amount of money', 'write "£480"'),
    ("4.805", '"4.805" is no amount of money', 'write for example "£480" or "£12.50"'),
    ("-3", '"-3" is no amount of money', 'write for example "£480" or "£12.50"'),
    (True, "true is no amount of money", 'write for example "£480"'),
])  # fmt: skip
def test_what_is_no_money_says_what_to_write(value: object, found: str, write: str) -> None:
    assert Wrong(found, write) == q.money(value)


STUD = Section(D(38), D(89))


def test_phrases_of_timber_and_layers_are_read() -> None:
    assert STUD == phrases.section("38 x 89 mm") == phrases.section("38x89mm") == phrases.section("38 mm x 89 mm")
    assert Section(D("50.8"), D("101.6")) == phrases.section("2 x 4 in")  # hand: 2 x 25.4, 4 x 25.4
    assert NogginTimber(STUD, on_edge=False) == phrases.noggin("38 x 89 mm flat")
    assert NogginTimber(STUD, on_edge=True) == phrases.noggin("38 x 89 mm on edge")
    assert Layer(D("12.5"), "plasterboard") == phrases.layer("12.5 mm plasterboard")
    assert Layer(D(100), "") == phrases.layer("100 mm")
    assert phrases.Insulation(None) == phrases.insulation("none")
    assert phrases.Insulation(Layer(D(80), "rigid foam")) == phrases.insulation("80 mm rigid foam")


def test_phrases_of_places_are_read() -> None:
    assert Height(1100) == phrases.height("1.1 m")
    assert Height(1100) == phrases.height("1.1 m above the floor")
    assert Height(150, "bench") == phrases.height("150 mm above bench")
    assert Height(450, "ground") == phrases.height("450 mm above ground")
    assert Fixings(D(80), 850) == phrases.fixings("80 mm at 0.85 m")
    assert phrases.Hole(D(20)) == phrases.hole("20 mm from back")
    assert phrases.Hole(None) == phrases.hole("centre")


@pytest.mark.parametrize(("read", "text", "found", "write"), [
    (phrases.section, "38", '"38" is not the section of a timber', 'write thickness x depth, for example "38 x 89 mm"'),
    (phrases.section, "0 x 89 mm", '"0 x 89 mm" is not the section of a timber',
     'write thickness x depth, for example "38 x 89 mm"'),
    (phrases.noggin, "38 x 89 mm", '"38 x 89 mm" does not say how it lies',
     'write "38 x 89 mm flat" or "38 x 89 mm on edge"'),
    (phrases.noggin, "flat", '"flat" is not a noggin', 'write for example "38 x 89 mm flat" or "38 x 89 mm on edge"'),
    (phrases.layer, "plasterboard 12.5 mm", '"plasterboard 12.5 mm" is not a layer',
     'write the thickness first: "12.5 mm plasterboard"'),
    (phrases.layer, "0 mm paint", '"0 mm paint" has no thickness', 'write for example "12.5 mm plasterboard"'),
    (phrases.insulation, "wool", '"wool" is not insulation', 'write for example "80 mm rigid foam", or "none"'),
    (phrases.height, "-450 mm", '"-450 mm" is below zero', 'write a height such as "450 mm"'),
    (phrases.height, "4,5 m", '"4,5 m" is not a height', 'write "4.5 m", with a point'),
    (phrases.height, "high above bench", '"high above bench" is not a height', 'write for example "150 mm above bench"'),
    (phrases.fixings, "80 mm", '"80 mm" does not say screw length and height', 'write for example "80 mm at 0.85 m"'),
    (phrases.hole, "back", '"back" is not a place for a hole', 'write "20 mm from back" or "centre"'),
])  # fmt: skip
def test_phrases_that_do_not_fit_say_what_to_write(read: object, text: str, found: str, write: str) -> None:
    assert callable(read)
    assert Wrong(found, write) == read(text)
