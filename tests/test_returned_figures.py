"""Price cells and what they are for: each, per 100, per metre, per drum; two figures that agree, differ, or may mean two things."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.problems import Place
from estimator.returned.answers import bare
from estimator.returned.asked import AskedLine, AskedList
from estimator.returned.asked_pack import Offer, Settled
from estimator.returned.figures import Figure, Unfit, figure
from estimator.returned.lengths import by_length
from estimator.returned.model import Answer
from estimator.returned.notes import read_note, without_ours
from estimator.returned.pers import Per, basis_words, per_words
from estimator.returned.settle import settle

D = Decimal
LINE = AskedLine(7, "clip", "clip", "clip", "", "", D(65), "nr", "pack of 100", D(100), 1, False, "", "", 0)
SOCKETS = replace(LINE, part="socket", quantity=D(6), pack_words="each", pack=D(1), packs=6)
DRUMS = replace(LINE, part="te-2.5", quantity=D("151.2"), unit="m", pack_words="drum of 100 m", pack=D(100), packs=2)
CUT = replace(LINE, part="te-6", quantity=D(14), unit="m", pack_words="cut, 14 m", pack=D(14), packs=1, cut=True)
OPEN = replace(DRUMS, pack_words="drums as you sell them, e.g. 2 x 100 m", pack=None, packs=0)
RATE = D("0.2")


def priced(text: str) -> Figure:
    found = figure(text, "GBP")
    assert isinstance(found, Figure)
    return found


@pytest.mark.parametrize(
    ("money", "per", "basis", "text"),
    [
        ("41.50", None, None, "41.50"),
        ("41.50", None, None, "£41.50"),
        ("41.50", None, None, " 41.50 GBP "),
        ("1234.50", None, None, "£1,234.50"),
        ("1234567", None, None, "1,234,567"),
        ("0.43", None, None, ".43"),
        ("0.43", None, None, "43p"),
        ("0.43", "each", None, "43p each"),
        ("41.50", "each", None, "41.50 ea."),
        ("41.50", "each", None, "£41.50/each"),
        ("4.15", "units", None, "4.15 per 100"),
        ("4.15", "units", None, "4.15/100"),
        ("4.15", "units", None, "4.15 per hundred"),
        ("0.43", "measure", None, "0.43/m"),
        ("0.43", "measure", None, "0.43 per metre"),
        ("0.43", "measure", None, "£0.43 p/m"),
        ("2.96", "measure", None, "2.96 per kg"),
        ("59.40", "pack", None, "59.40 per drum"),
        ("59.40", "pack", None, "59.40 per drum of 100 m"),
        ("59.40", "pack", None, "59.40 per 100 m drum"),
        ("0.04", "piece", None, "0.04 a piece"),
        ("12.40", None, "ex", "12.40 + VAT"),
        ("12.40", None, "ex", "£12.40+VAT"),
        ("12.40", None, "ex", "12.40 exc. VAT"),
        ("12.40", None, "inc", "12.40 inc"),
        ("12.40", "each", "inc", "12.40 each inc VAT"),
        ("0.43", "measure", "ex", "0.43 ex VAT per metre"),
        ("12.40", None, None, "'12.40"),
    ],
)
def test_a_price_is_read_with_what_it_is_for(money: str, per: str | None, basis: str | None, text: str) -> None:
    found = priced(text)

    assert (D(money), per, basis) == (found.money, found.per.kind if found.per else None, found.basis)


@pytest.mark.parametrize(
    "text",
    ["12.40 and 13.20", "2 x 12.40", "12.40/13.20 each", "1,23", "1.2.3", "12,400.5,0", "12.40 per box or so", "£p", "1e3", "12..40", "12.40-", "1 234.50", "(12.40)", "12.40 €", "€12.40 GBP", "0.00", "12.4000001", "1234567890123"],
)  # fmt: skip
def test_what_is_not_one_price_is_refused(text: str) -> None:
    found = figure(text, "GBP")

    assert isinstance(found, Unfit)
    assert found.found
    assert found.write


@given(st.text(max_size=40))
def test_no_text_breaks_the_reading_of_a_price(text: str) -> None:
    found = figure(text, "GBP")

    assert isinstance(found, Figure | Unfit)
    if isinstance(found, Figure) and found.money is not None:
        assert found.money > 0


@given(st.decimals(min_value="0.01", max_value="99999999", places=2))
def test_every_price_to_the_penny_comes_through_in_every_writing(value: Decimal) -> None:
    assert {value} == {
        priced(text).money
        for text in (f"{value}", f"£{value}", f"{value:,}" if value > 999999 else f"{value}", f"{value} each")
    }


@pytest.mark.parametrize("text", ["", "in stock", "per", "2 of each", "per box or so", "per 0", "metre"])
def test_other_words_are_not_what_a_price_is_for(text: str) -> None:
    assert per_words(text) is None


@pytest.mark.parametrize(("basis", "text"), [("ex", "ex"), ("ex", "Excl. VAT"), ("ex", "plus VAT"), ("inc", "including VAT"), ("inc", "VAT included"), (None, "net"), (None, "VAT"), (None, "20 %")])  # fmt: skip
def test_ex_and_inc_are_read_and_net_is_neither(basis: str | None, text: str) -> None:
    assert basis == basis_words(text)


def settled(
    line: AskedLine,
    unit: str | None,
    total: str | None = None,
    note: str = "",
    heading: Per | None = None,
    packs: int = 0,
) -> Settled | Unfit:
    """As a row gives it: words beside the price count before those in the note, and both before the heading."""
    one, all_packs = (priced(unit) if unit else None), (priced(total) if total else None)
    noted = read_note(note, line)
    per = (one.per if one else None) or noted.per or heading
    offer = Offer(noted.offer.pack, noted.offer.packs or packs, noted.offer.cut)
    return settle(line, one, all_packs, per, offer, RATE)


@pytest.mark.parametrize(
    ("pack", "packs", "price", "line", "unit", "total", "note"),
    [
        # hand: each row's working stands beside it.
        ("100", 1, "3.19", LINE, "3.19", None, ""),
        ("100", 1, "3.19", LINE, "3.19", "3.19", ""),
        ("100", 1, "3.19", LINE, None, "3.19", ""),
        ("100", 1, "4.15", LINE, "4.15 per 100", None, ""),
        ("100", 1, "4", LINE, "0.04", None, "per piece"),  # 0.04 x 100
        ("100", 1, "3.19", LINE, "3.19 each", "3.19", ""),  # one pack: each is the pack
        ("100", 1, "319", LINE, "3.19 each", "319.00", ""),  # 3.19 x 100
        ("1", 6, "7.99", SOCKETS, "7.99 each", "47.94", ""),  # 6 x 7.99 = 47.94
        ("1", 6, "7.99", SOCKETS, None, "47.94", ""),
        ("1", 6, "0.0415", SOCKETS, "4.15 per 100", None, ""),
        ("100", 2, "59.4", DRUMS, "59.40", "118.80", ""),  # 2 x 59.40
        ("100", 2, "43", DRUMS, "0.43", None, "per metre"),  # 0.43 x 100
        ("100", 2, "43", DRUMS, "0.43/m", "86.00", ""),
        ("100", 2, "59.4", DRUMS, "59.40 each", None, ""),  # no metre is "each"
        ("100", 2, "59.4", DRUMS, "59.40 per drum", None, ""),
        ("1", 14, "0.85", CUT, "11.90", None, ""),  # 11.90 / 14
        ("1", 14, "0.85", CUT, "0.85 per metre", "11.90", ""),
        ("14", 1, "41.5", CUT, "41.50", None, ""),  # 41.50 / 14 = 2.96428...
        ("14", 1, "11.9007", CUT, "11.9007", None, ""),  # 11.9007 / 14 = 0.85005, five places
        ("100", 2, "59.4", OPEN, "59.40 per drum of 100 m", "118.80", ""),
        ("50", 4, "31.8", OPEN, "31.80", None, "4 x 50 m"),
        ("50", 0, "31.8", OPEN, "31.80", None, "50 m"),
        ("1", 152, "0.64", OPEN, "0.64 per metre", None, ""),  # 151.2 up to whole metres
    ],
)
def test_the_price_of_one_pack_is_what_the_merchant_wrote(
    pack: str, packs: int, price: str, line: AskedLine, unit: str | None, total: str | None, note: str
) -> None:
    found = settled(line, unit, total, note)

    assert isinstance(found, Settled), found
    assert (D(pack), packs, D(price)) == (found.pack, found.packs, found.price)


@pytest.mark.parametrize(
    ("message", "line", "unit", "total"),
    [
        (
            '0.43 times 2 is not 86.00: is 0.43 for a metre?; write the price of one pack, or add "per metre" in the note',
            DRUMS,
            "0.43",
            "86.00",
        ),
        (
            '0.85 times 1 is not 11.90: is 0.85 for a metre?; write the price of one pack, or add "per metre" in the note',
            CUT,
            "0.85",
            "11.90",
        ),
        (
            '0.04 times 1 is not 4.00: is 0.04 for a piece?; write the price of one pack, or add "per piece" in the note',
            LINE,
            "0.04",
            "4.00",
        ),
        (
            '4.15 times 6 is not 0.25: is 4.15 per 100?; write the price of one pack, or add "per 100" in the note',
            SOCKETS,
            "4.15",
            "0.25",
        ),
        (
            '0.04 times 1 is not 2.60: is 0.04 for a piece, 65 in all?; write the price of one pack, or add "per piece" in the '
            "note and mend the line price",
            LINE,
            "0.04",
            "2.60",
        ),
        (
            "59.40 times 2 is not 59.40: is 59.40 for one pack, or for all 2?; write the price of one pack, and for all 2 under Line price",
            DRUMS,
            "59.40",
            "59.40",
        ),
        (
            "59.40 times 2 is not 142.56: does 142.56 hold the VAT?; write both prices ex VAT, or both inc VAT",
            DRUMS,
            "59.40",
            "142.56",
        ),
        (
            "59.40 times 2 is not 120.00; write the price of one pack, and leave the line price empty or mend it",
            DRUMS,
            "59.40",
            "120",
        ),
        (
            "4.15 per 100 makes 0.25 for 6 x each, not 24.90; write the price of one pack, and leave the line price empty or mend it",
            SOCKETS,
            "4.15 per 100",
            "24.90",
        ),
        (
            '3.19 each: is that for one, or for the pack of 100?; write "per pack" or "per piece" beside the price',
            LINE,
            "3.19 each",
            None,
        ),
        (
            "20.00 for 6 packs does not come to whole pennies for one; write the price of one pack",
            SOCKETS,
            None,
            "20.00",
        ),
        ("0.43 per metre, and this is sold by the piece; write the price of one pack", LINE, "0.43 per metre", None),
        (
            "118.80 for the line, and nothing says how many packs; write the price of one pack, or how many under Packs",
            OPEN,
            None,
            "118.80 per drum of 100 m",
        ),
    ],
)
def test_what_may_mean_two_things_is_asked(message: str, line: AskedLine, unit: str | None, total: str | None) -> None:
    one, all_packs = (priced(unit) if unit else None), (priced(total) if total else None)
    per = (one.per if one else None) or (all_packs.per if all_packs else None)
    found = settle(line, one, all_packs, per, Offer(), RATE)

    assert isinstance(found, Unfit)
    assert message == f"{found.found}; {found.write}"


def test_a_conversion_is_told() -> None:
    half = replace(LINE, pack=D(50), pack_words="pack of 50")
    found = settled(half, "4.15 per 100")

    # hand: 4.15 / 100 x 50 = 2.075, exact.
    assert Settled(D(50), 1, D("2.075"), "4.15 per 100 is 2.075 for one pack of 50") == found


@given(st.integers(1, 50), st.decimals("0.01", "500", places=2), st.sampled_from([1, 2, 10, 25, 50, 100]))
def test_two_figures_that_agree_give_the_unit_price(packs: int, price: Decimal, pack: int) -> None:
    line = replace(DRUMS, pack=D(pack), packs=packs)
    found = settle(line, priced(str(price)), priced(str(price * packs)), None, Offer(), RATE)

    assert found == Settled(D(pack), packs, price.normalize())


@pytest.mark.parametrize(
    ("theirs", "ours", "text"),
    [
        ("", "one length of 34 m; not in shorter pieces", "one length of 34 m; not in shorter pieces"),
        (
            "per metre",
            "one length of 34 m; not in shorter pieces",
            "one length of 34 m; not in shorter pieces; per metre",
        ),
        ("3 days", "one make with line 5", "One make with line 5. ; 3 days"),
        ("per metre", "", "per metre"),
        ("per metre", "may be in pieces, cut; 23.1 m needed", "may be in pieces, cut; 23.1 m needed per metre"),
        ("alt: coil", "a; b", "b; alt: coil"),
    ],
)
def test_our_own_words_are_taken_out_of_a_note(theirs: str, ours: str, text: str) -> None:
    assert theirs == without_ours(text, ours)


def test_lengths_that_differ_by_the_metre_are_kept_as_lengths() -> None:
    lines = (CUT, replace(CUT, number=8, pack=D(30), pack_words="cut, 30 m", quantity=D(60), packs=2))
    asked = AskedList("B", lines)

    def answers(*prices: str) -> list[Answer]:
        return [
            replace(bare(line, "priced", Place("x")), pack=D(1), packs=int(line.quantity), price=D(price), basis="ex")
            for line, price in zip(lines, prices, strict=True)
        ]

    same = answers("0.85", "0.85")
    assert (same, []) == by_length(same, asked)
    kept, told = by_length(answers("0.85", "0.80"), asked)
    # hand: 14 x 0.85 = 11.90; 30 x 0.80 = 24.00.
    assert [(D(14), 1, D("11.90")), (D(30), 2, D("24.00"))] == [(one.pack, one.packs, one.price) for one in kept]
    assert [
        "line 7: 0.85 a metre is not what other lengths cost; kept as 11.90 for 14 m",
        "line 8: 0.80 a metre is not what other lengths cost; kept as 24.00 for 30 m",
    ] == [one.text for one in told]
