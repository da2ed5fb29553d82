"""What is left after the job and what less would save: cases worked by hand, and rules that any margin must keep."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal as D

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimator.buying.margins import Margin, margins
from estimator.buying.model import Order
from estimator.buying.order import order
from estimator.buying.spare_points import SparePoint, spare_points
from estimator.catalogue.model import Catalogue, KitRow, Merchant, Part, Price
from estimator.costing.budget import budget
from estimator.documents.margins import margin_words, spare_point_words
from estimator.job.model import Buying, Group, InHand, Job
from estimator.takeoff.model import CutPiece, Quantity, TakeOff
from tests import jobs
from tests.estimates import price

SOCKET = jobs.part("socket", section="Second fix")
CLIP = jobs.part("clip", section="First fix")
CABLE = jobs.part("cable", "length", "m", section="Wiring")
TIMBER = jobs.part("timber", "length", "m", section="First fix", counter="timber")
SLEEVE = jobs.part("sleeve", unit="m", waste="0.1")
BAG = price("clip", "A", "100", "3.19", "inc")
DRUMS = [price("cable", "B", "100", "48.00", "ex"), price("cable", "B", "50", "26.50", "ex")]


def shop(parts: Sequence[Part], prices: Sequence[Price], kits: Sequence[KitRow] = ()) -> Catalogue:
    names = sorted({row.merchant for row in prices})
    merchants = [Merchant(name, D(0), None, None, "GBP", "ex", D("0.2")) for name in names]
    return jobs.catalogue(parts=parts, prices=prices, merchants=merchants, kits=kits)


def job(in_hand: Sequence[InHand] = (), merchants: Sequence[str] = ("any",), groups: Sequence[Group] = ()) -> Job:
    kerf = jobs.allowances(kerf_mm=D(3))
    return replace(jobs.job(buying=Buying(tuple(merchants), tuple(in_hand)), groups=groups), allowances=kerf)


def needs(**amounts: str) -> TakeOff:
    return TakeOff(tuple(Quantity(part, "first-fix", D(of), D(of), (), ()) for part, of in amounts.items()), (), ())


def lengths(part: str, *pieces_mm: int | D) -> TakeOff:
    pieces = tuple(CutPiece(part, "first-fix", f"leg {n}", D(mm)) for n, mm in enumerate(pieces_mm))
    total = sum((piece.length_mm for piece in pieces), D(0)).scaleb(-3)
    return TakeOff((Quantity(part, "first-fix", total, total, (), ()),), pieces, ())


def only(of: Job, catalogue: Catalogue, takeoff: TakeOff) -> Margin:
    (margin,) = margins(of, catalogue, takeoff, order(of, catalogue, takeoff))
    return margin


def test_six_sockets_sold_one_by_one_leave_none_over_and_one_fewer_saves_its_price() -> None:
    catalogue = shop([SOCKET], [price("socket", "A", "1", "7.99", "inc")])
    margin = only(job(), catalogue, needs(socket="6"))
    assert Margin("socket", "nr", D(0), None, 0, D(1), D("7.99"), D(0)) == margin
    assert margin_words(margin) == "none spare; 1 fewer would save £7.99 inc VAT"


def test_what_a_bag_leaves_and_that_only_no_clip_at_all_would_save_it() -> None:
    # hand: 100 - 65 = 35. Net of 3.19 inc is 3.19 - 0.53 = 2.66, of which the bill takes 2.66 x 65 / 100 = 1.73
    margin = only(job(), shop([CLIP], [BAG]), needs(clip="65"))
    assert Margin("clip", "nr", D(35), None, 35, D(65), D("3.19"), D("0.93")) == margin
    assert margin_words(margin) == "35 more fit what you buy; 65 fewer would save £3.19 inc VAT"


def test_less_is_found_over_every_choice_of_packs() -> None:
    # hand: 29 from 25 at 1.50 and 100 at 4.00 (inc): two of 25 are 3.00; for less, one of 25 is 1.50: 4 fewer save 1.50
    prices = [price("clip", "A", "25", "1.50", "inc"), price("clip", "A", "100", "4.00", "inc")]
    margin = only(job(), shop([CLIP], prices), needs(clip="29"))
    assert (D(21), 21, D(4), D("1.50")) == (margin.spare, margin.fits, margin.less, margin.saves)
    # hand: 70 are one of 100 at 4.00, since three of 25 are 4.50; two of 25 hold 50 for 3.00: 20 fewer save 1.00
    margin = only(job(), shop([CLIP], prices), needs(clip="70"))
    assert (D(30), 30, D(20), D("1.00")) == (margin.spare, margin.fits, margin.less, margin.saves)


def test_prices_without_vat_save_money_with_it() -> None:
    # hand: 26 at 10 for 2.00 ex are three packs; 6 fewer are two: 2.00 x 1.2 = 2.40
    margin = only(job(), shop([CLIP], [price("clip", "A", "10", "2.00", "ex")]), needs(clip="26"))
    assert (D(6), D("2.40")) == (margin.less, margin.saves)


def test_a_part_counted_in_metres_has_no_usual_piece_and_says_what_is_over() -> None:
    # hand: 7.3 m from 5 m at 4.00 and 2.5 m at 2.20 (inc): 5 + 2.5 is 6.20; 2 x 2.5 is 4.40, 5 is 4.00: 5 m cost less
    prices = [price("sleeve", "A", "5", "4.00", "inc"), price("sleeve", "A", "2.5", "2.20", "inc")]
    margin = only(job(), shop([SLEEVE], prices), needs(sleeve="7.3"))
    assert (D("0.2"), None, D("2.3"), D("2.20")) == (margin.spare, margin.fits, margin.less, margin.saves)
    assert margin_words(margin) == "0.2 m spare; 2.3 m less would save £2.20 inc VAT"


def test_one_more_of_a_counted_part_takes_its_waste_too() -> None:
    # hand: 10 with 10 % are 11, 14 are left of 25; 14 / 1.1 = 12.7 more
    screw = jobs.part("screw", waste="0.1")
    catalogue = shop([screw], [price("screw", "A", "25", "1.00", "inc")])
    assert only(job(), catalogue, needs(screw="11")).fits == 12


def test_packs_in_hand_count_as_left_and_cost_nothing_less() -> None:
    # hand: two bags of 100 in hand, 65 needed: 135 are left and nothing is paid
    catalogue = shop([CLIP], [BAG])
    margin = only(job([InHand("clip", None, 0, D(2))]), catalogue, needs(clip="65"))
    assert Margin("clip", "nr", D(135), None, 135, None, None, D(0)) == margin
    assert margin_words(margin) == "135 more fit what you buy"
    # hand: 265 needed, 65 to be bought: 65 fewer and none is bought
    bought = needs(clip="265", socket="1")
    sockets = price("socket", "A", "1", "7.99", "inc")
    of = job([InHand("clip", None, 0, D(2))])
    both = shop([CLIP, SOCKET], [BAG, sockets])
    clips, _ = margins(of, both, bought, order(of, both, bought))
    assert (D(35), D(65), D("3.19")) == (clips.spare, clips.less, clips.saves)


def test_cable_says_its_longest_piece_left_and_from_the_lengths_of_drums_what_could_save() -> None:
    # hand: 60 + 38 + 23.4 = 121.4 from 100 + 50 at 74.50 ex; 50 alone or 100 alone are less, 50 + 50 are 53.00 ex and hold
    # 100, as 100 alone for 48.00: at least 21.4 m less, for 26.50 x 1.2 = 31.80. Rate 74.50 / 150; 121.4 m are 60.30
    cables = lengths("cable", 60000, 38000, 23400)
    margin = only(job(), shop([CABLE], DRUMS), cables)
    assert (D("28.6"), D("21.4"), D("31.80")) == (margin.spare, margin.less, margin.saves)
    assert (None, D("14.20")) == (margin.fits, margin.money_left)
    # hand: 60 + 38 leave 2 of 100 and 23.4 leaves 26.6 of 50; 60 + 23.4 leave 16.6, 38 leave 12; 38 + 23.4 > 50
    assert margin.longest_spare_mm in (D(26600), D(16600))


def test_words_for_cable() -> None:
    margin = Margin("cable", "m", D("28.6"), D(26604), None, D("21.401"), D("31.80"), D("14.20"))
    told = "26.6 m spare in one length, 28.6 m in all; saving £31.80 inc VAT takes at least 21.41 m less"
    assert margin_words(margin) == told
    assert margin_words(replace(margin, spare=D(0), longest_spare_mm=D(0), less=None, saves=None)) == "none spare"
    one = replace(margin, spare=D("3.1"), longest_spare_mm=D(3100), fits=2, less=None, saves=None)
    assert margin_words(one) == "3.1 m spare in one length (2 more of the usual piece)"
    crumbs = replace(one, spare=D("0.064"), longest_spare_mm=D(8), fits=0)
    assert margin_words(crumbs) == "none spare in one length, 0.06 m in all"
    assert margin_words(margin, "EUR").split(";")[1].startswith(" saving €31.80")


def test_timber_leaves_a_saw_cut_less_and_says_how_many_more_noggins_it_gives() -> None:
    # hand: 14 of 562 from 2.4 m at 4.80 (inc), four in each: 3 x (2400 - 2257) = 429 and 2400 - 1127 = 1273 are left;
    # a saw cut more is 1270, two more noggins (2 x 565 = 1130 of 1273). 3 x 2.4 = 7.2 of 7.868 m: at least 0.668 less
    catalogue = shop([TIMBER], [price("timber", "A", "2.4", "4.80", "inc")])
    margin = only(job(), catalogue, lengths("timber", *[562] * 14))
    assert (D("1.702"), D(1270), 2) == (margin.spare, margin.longest_spare_mm, margin.fits)
    assert (D("0.668"), D("4.80")) == (margin.less, margin.saves)


def test_off_cuts_in_hand_that_are_not_used_are_left_over_too() -> None:
    # hand: two off-cuts of 1.1 m, one 900 needed: one off-cut leaves 200, less a cut 197; the other is whole
    catalogue = shop([TIMBER], [price("timber", "A", "2.4", "4.80", "inc")])
    margin = only(job([InHand("timber", 1100, 2, None)]), catalogue, lengths("timber", 900))
    assert (D("1.3"), D(1100), None, None) == (margin.spare, margin.longest_spare_mm, margin.less, margin.saves)
    assert D(0) == margin.money_left


def test_a_length_that_cannot_be_cheapest_by_length_alone_says_nothing_of_less() -> None:
    # hand: two of 60 m take two drums of 100; one alone holds 20 m less than the 120
    catalogue = shop([CABLE], [price("cable", "B", "100", "48.00", "ex")])
    assert D(20) == only(job(), catalogue, lengths("cable", 60000, 60000)).less
    # hand: 40 + 40 + 30 = 110 are two drums of 55 by length, but three in truth, since no two of them fit one
    catalogue = shop([CABLE], [price("cable", "B", "55", "30.00", "ex")])
    margin = only(job(), catalogue, lengths("cable", 40000, 40000, 30000))
    assert (None, None) == (margin.less, margin.saves)


def test_only_merchants_that_the_order_uses_count() -> None:
    # hand: 30 at A are one box of 100 at 3.00 (inc). B would sell 25 for 2.00, but nothing is bought at B
    prices = [price("clip", "A", "100", "3.00", "inc"), price("clip", "B", "25", "2.00", "inc")]
    assert D(30) == only(job(), shop([CLIP], prices), needs(clip="30")).less
    # hand: where sockets come from B, so might clips: 5 fewer would save 1.00
    both = shop([CLIP, SOCKET], [*prices, price("socket", "B", "1", "7.99", "inc")])
    wanted = needs(clip="30", socket="1")
    clips, _ = margins(job(), both, wanted, order(job(), both, wanted))
    assert (D(5), D("1.00")) == (clips.less, clips.saves)


def test_parts_of_one_make_stay_of_that_make() -> None:
    # hand: make X is cheapest for both; of X three come at 1.00 each, of Y ten would come for 2.50
    parts = [jobs.part("blank", match_group="board"), jobs.part("case", match_group="board")]
    prices = [
        price("blank", "A", "1", "1.00", "inc", "X"),
        price("case", "A", "1", "20.00", "inc", "X"),
        price("blank", "A", "10", "2.50", "inc", "Y"),
        price("case", "A", "2", "90.00", "inc", "Y"),
    ]
    catalogue, wanted = shop(parts, prices), needs(blank="3", case="1")
    blank, _ = margins(job(), catalogue, wanted, order(job(), catalogue, wanted))
    assert (D(0), D(1), D("1.00")) == (blank.spare, blank.less, blank.saves)


def test_money_left_adds_up_to_what_costing_calls_left_over() -> None:
    # published (design, Money): left over 0.93 and 14.20
    catalogue = shop([SOCKET, CLIP, CABLE], [price("socket", "A", "1", "7.99", "inc"), BAG, *DRUMS])
    cables = lengths("cable", 60000, 38000, 23400)
    wanted = replace(cables, quantities=(*cables.quantities, *needs(clip="65", socket="6").quantities))
    bought = order(job(), catalogue, wanted)
    found = {margin.part: margin.money_left for margin in margins(job(), catalogue, wanted, bought)}
    assert {"cable": D("14.20"), "clip": D("0.93"), "socket": D(0)} == found
    assert sum(found.values()) == budget(job(), catalogue, wanted, bought).left_over_total


# --- points ---

BOX, PLATE, GROMMET = jobs.part("box"), jobs.part("plate"), jobs.part("grommet", waste="0.1")


def row(part: str, per: str, quantity: str) -> KitRow:
    return KitRow("double-socket", part, "first-fix", per, D(quantity), 1, "", "common practice")


KIT = [row("box", "point", "1"), row("plate", "point", "1"), row("grommet", "entry", "1"), row("cable", "point", "1")]
BOXES = [
    price("box", "A", "10", "11.00", "inc"),
    price("plate", "A", "1", "3.00", "inc"),
    price("plate", "A", "5", "13.00", "inc"),
    price("grommet", "A", "20", "1.50", "inc"),
    price("cable", "A", "50", "40.00", "inc"),
]


def test_the_part_that_runs_out_first_decides() -> None:
    # hand: of 10 boxes 2 are over; 8 plates are 13.00 + 3 x 3.00 = 22.00, not two packs at 26.00, so none is over
    found = spare_of("bench", BOXES, needs(box="8", plate="8", grommet="17.6"))
    assert (SparePoint("double-socket", 0, "plate"),) == found


@pytest.mark.parametrize(
    ("circuit", "fits", "first"),
    [("bench", 1, "grommet"), ("star", 3, "grommet"), ("none", 4, "plate"), (None, 3, "grommet")],
)
def test_a_point_more_takes_two_cable_ends_or_one_in_a_star_or_on_a_run_and_none_for_a_box_alone(
    circuit: str | None, fits: int, first: str
) -> None:
    # hand: 10 - 4 = 6 boxes, 12 - 8 = 4 plates, 20 - 16.5 = 3.5 grommets are over; with waste an end takes 1.1: two ends 2.2
    prices = [BOXES[0], price("plate", "A", "12", "20.00", "inc"), *BOXES[3:]]
    found = spare_of(circuit, prices, needs(box="4", plate="8", grommet="16.5"))
    assert (SparePoint("double-socket", fits, first),) == found


def spare_of(circuit: str | None, prices: Sequence[Price], wanted: TakeOff) -> tuple[SparePoint, ...]:
    catalogue = shop([BOX, PLATE, GROMMET, CABLE], prices, KIT)
    group = jobs.group("S", "double-socket", jobs.on(back=8), circuit=circuit)
    of = replace(job(groups=[group]), circuits=(jobs.circuit("bench"), jobs.circuit("star", "star")))
    return spare_points(of, catalogue, wanted, order(of, catalogue, wanted))


def test_words_for_points() -> None:
    told = spare_point_words(SparePoint("double-socket", 1, "grommet"), "Double socket", "Grommet 20 mm")
    assert told == "Double socket: 1 more fits what you buy, cable and timber apart (first to run out: Grommet 20 mm)"
    assert "no more fit" in spare_point_words(SparePoint("double-socket", 0, "grommet"), "Double socket", "Grommet")


# --- rules that any margin must keep ---

packs = st.lists(st.tuples(st.integers(1, 40), st.integers(1, 900)), min_size=1, max_size=4, unique_by=lambda of: of[0])


def counts(bought: Order) -> list[tuple[str, D, int]]:
    return [(line.merchant, line.pack, line.packs) for line in bought.lines]


@settings(max_examples=60, deadline=None, derandomize=True)
@given(packs, st.integers(1, 400), st.sampled_from(["1", "0.1", "0.25"]))
def test_as_much_more_as_is_spare_changes_no_pack_and_less_by_just_so_much_saves(
    sold: list[tuple[int, int]], need: int, unit: str
) -> None:
    prices = [price("clip", "A", str(D(unit) * size), str(D(cost) / 100), "ex") for size, cost in sold]
    catalogue, amount = shop([CLIP], prices), D(need) * D("0.1")
    bought = order(job(), catalogue, needs(clip=str(amount)))
    margin = only(job(), catalogue, needs(clip=str(amount)))
    more = order(job(), catalogue, needs(clip=str(amount + margin.spare)))
    assert counts(bought) == counts(more)
    assert margin.less is not None
    assert margin.saves is not None
    hair = D("0.001")
    if margin.less < amount:
        fewer = order(job(), catalogue, needs(clip=str(amount - margin.less)))
        assert sum(line.price * line.packs for line in fewer.lines) * D("1.2") == _paid(bought) - margin.saves
    assert _paid(order(job(), catalogue, needs(clip=str(amount - margin.less + hair)))) == _paid(bought)


def _paid(bought: Order) -> D:
    return sum((line.price * line.packs for line in bought.lines), D(0)) * D("1.2")


@settings(max_examples=40, deadline=None, derandomize=True)
@given(st.lists(st.integers(8, 240), min_size=1, max_size=12), st.booleans())
def test_the_longest_spare_piece_can_be_added_for_nothing_and_a_hair_under_less_saves_nothing(
    tenths: list[int], sawn: bool
) -> None:
    part = TIMBER if sawn else CABLE
    prices = [price(part.part, "A", size, cost, "ex") for size, cost in (("25", "10"), ("50", "19"), ("100", "35"))]
    catalogue = shop([part], prices)
    lengths_mm = [tenth * 100 for tenth in tenths]
    bought = order(job(), catalogue, lengths(part.part, *lengths_mm))
    assume(bought.proven)
    margin = only(job(), catalogue, lengths(part.part, *lengths_mm))
    assert margin.longest_spare_mm is not None
    if margin.longest_spare_mm:
        more = order(job(), catalogue, lengths(part.part, *lengths_mm, margin.longest_spare_mm))
        assert _paid(bought) == _paid(more)
    if margin.less is not None:
        longest = max(lengths_mm)
        hair = min(margin.less.scaleb(3) - 1, D(longest - 1))
        lengths_mm.remove(longest)
        assert _paid(order(job(), catalogue, lengths(part.part, *lengths_mm, longest - hair))) == _paid(bought)
