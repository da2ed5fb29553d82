"""How sure a total is: draws against exact distributions, ends against the budget itself, everything small by hand.

Truth from outside: the sum of n uniform amounts (Irwin, Biometrika 19, 1927; Hall, the same volume), the moments of a
triangle (Kotz and van Dorp, Beyond Beta, chapter 1), and the distributions of SciPy.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from functools import cache
from math import comb, factorial, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.catalogue.model import Rule
from estimator.catalogue.read import read_catalogue
from estimator.compare.ranges_rules import stated_ranges
from estimator.compare.spread_of import Triangle, deviation_of, spread_of
from estimator.compare.sure import Mover, Sureness, how_sure
from estimator.compare.sure_draws import Drawn, drawn
from estimator.costing.budget import budget
from estimator.costing.model import Range
from estimator.documents import sure_words
from estimator.estimate import estimate
from estimator.job.model import AsBuilt, Sum
from estimator.job.read import read_job
from estimator.problems import Place, Refused
from estimator.result import Estimate
from estimator.takeoff.model import TakeOff, Task
from tests import estimates, houses, jobs
from tests.shed import STUDIO

D, F = Decimal, Fraction
DAY = date(2026, 10, 1)

triangles = st.lists(st.integers(-(10**6), 10**6), min_size=3, max_size=3).map(
    lambda three: Triangle(*(F(value, 100) for value in sorted(three)))
)


def quote(low: str, likely: str, high: str, name: str = "Electrician", vat: str = "none") -> Sum:
    return Sum(name, "quote", D(low), D(likely), D(high), vat, None)  # type: ignore[arg-type]  # one of the three words


def ruled(name: str, value: int | str, unit: str = "%") -> Rule:
    return replace(jobs.rule(name, value, unit), place=Place("rules.csv", 7))


RULES = {
    "cable-range": (-5, 10),
    "price-drift": (-2, 8),
    "price-invented": (-30, 40),
    "waste-range": (0, 5),
}


def rules(*names: str) -> tuple[Rule, ...]:
    return tuple(
        ruled(f"{name}-{end}", value) for name in names for end, value in zip(("low", "high"), RULES[name], strict=True)
    )


def of_sums(*given_sums: Sum, contingency: str = "0.1", vat: str = "0.2", tasks: Sequence[Task] = ()) -> Estimate:
    """An estimate of nothing but sums and hours."""
    plain = jobs.job(sums=given_sums)
    job = replace(plain, allowances=jobs.allowances(contingency=D(contingency), vat=D(vat)))
    empty = estimates.empty()
    return estimates.worked_out(job, jobs.catalogue(), empty.setout, empty.routes, TakeOff((), (), tuple(tasks)))


def greenhouse(*names: str, **changes: object) -> Estimate:
    """The design's worked example, with the rules of those names; A is paid 51.13, B 89.40 inc VAT."""
    plain = estimates.worked_example()
    catalogue = jobs.catalogue(
        parts=estimates.PARTS,
        prices=[replace(row, source="a quotation") for row in estimates.PRICES],
        merchants=estimates.MERCHANTS,
        rules=rules(*names),
    )
    return replace(plain, catalogue=catalogue, **changes)  # type: ignore[arg-type]  # fields of an estimate


def ends(mover: Mover) -> tuple[str, Decimal, Decimal]:
    return mover.name, mover.low, mover.high


# ---- triangles


@given(one=triangles)
def test_a_triangle_has_the_published_mean_and_variance(one: Triangle) -> None:
    a, b, c = one.low, one.high, one.likely
    # published: mean (a + b + c) / 3, variance (a2 + b2 + c2 - ab - ac - bc) / 18
    assert (a + b + c) / 3 == one.mean
    assert (a * a + b * b + c * c - a * b - a * c - b * c) / 18 == one.variance


@pytest.mark.parametrize("ends_of", [(0, 20, 100), (0, 0, 100), (-40, 60, 60), (-3, 0, 1), (100, 480, 700)])
def test_a_triangles_quantiles_and_chances_are_those_of_scipy(ends_of: tuple[int, int, int]) -> None:
    from scipy.stats import triang

    low, likely, high = ends_of
    one = Triangle(F(low), F(likely), F(high))
    other = triang((likely - low) / (high - low), loc=low, scale=high - low)
    for hundredth in (*range(1, 100, 7), 10, 20, 50, 80, 90):
        chance = F(hundredth, 100)
        assert float(other.ppf(float(chance))) == pytest.approx(float(one.quantile(chance)), rel=1e-9, abs=1e-9)
        amount = low + (high - low) * chance
        assert float(other.cdf(float(amount))) == pytest.approx(float(one.chance_within(amount)), rel=1e-9, abs=1e-12)


def test_a_triangle_holds_its_ends_and_nothing_beyond_them() -> None:
    one = Triangle(F(0), F(20), F(100))
    assert (D(0), D(100)) == (one.quantile(F(0)), one.quantile(F(1)))
    assert [F(0), F(0), F(1, 5), F(1), F(1)] == [one.chance_within(F(x)) for x in (-1, 0, 20, 100, 101)]
    assert D(7) == Triangle(F(7), F(7), F(7)).quantile(F(1, 10))
    with pytest.raises(ValueError, match="do not rise"):
        Triangle(F(0), F(2), F(1))


# ---- draws against exact distributions


def irwin_hall(x: Fraction, n: int) -> Fraction:
    """published: chance that n uniform amounts of 0 to 1 come to x or less, 1/n! sum (-1)^k C(n, k) (x - k)^n, k <= x."""
    return sum((F((-1) ** k * comb(n, k)) * (x - k) ** n for k in range(n + 1) if k <= x), F(0)) / factorial(n)


def irwin_hall_quantile(chance: Fraction, n: int) -> float:
    low, high = F(0), F(n)
    for _ in range(50):
        middle = F((low + high).limit_denominator(10**12), 2)
        low, high = (middle, high) if irwin_hall(middle, n) < chance else (low, middle)
    return float(low)


def test_the_formula_for_sums_of_uniform_amounts_is_scipys_too() -> None:
    from scipy.stats import irwinhall

    for n in (2, 4, 7):
        for x in (F(1, 3), F(n, 2), F(n) - F(1, 4)):
            assert float(irwinhall.cdf(float(x), n)) == pytest.approx(float(irwin_hall(x, n)), abs=1e-10)


@pytest.mark.parametrize("count", [2, 3, 6])
def test_sums_of_like_triangles_come_out_as_the_sum_of_twice_as_many_uniform_amounts(count: int) -> None:
    # published: a triangle 0, 1, 2 is the sum of two uniform amounts of 0 to 1; here the unit is 500
    sure = how_sure(of_sums(*(quote("0", "500", "1000", f"Sum {number}") for number in range(count))))
    for chance, told in ((F(1, 10), sure.low), (F(1, 2), sure.likely), (F(9, 10), sure.high)):
        assert abs(500 * irwin_hall_quantile(chance, 2 * count) - float(told)) <= float(sure.error)
    assert sure.error < 20
    # published: n uniform amounts have a variance of n / 12
    assert D(sqrt(2 * count / 12) * 500).quantize(D("0.01")) == sure.spread
    assert D(500 * count) == sure.mean


def test_the_error_told_holds_for_about_nineteen_seeds_in_twenty() -> None:
    true = irwin_hall_quantile(F(1, 10), 4)
    two = [Triangle(F(0), F(1), F(2))] * 2
    held = 0
    for seed in range(400):
        some = drawn(two, F(0), 1000, seed)
        held += abs(float(some.quantile(F(1, 10))) - true) <= float(some.error(F(1, 10)))
    # hand: 95 % of 400 is 380, three standard deviations (4.4) on either side; the farther end of two makes it a few more
    assert 367 <= held <= 398


def uneven_sum(parts: Iterable[tuple[int, int, int]], x: Fraction) -> Fraction:
    """hand: the density of a triangle is 2 (h (x-a)+ / ((b-a) h) ...), a sum of three ramps; that of a sum of triangles
    has one term for each choice of a corner in each, and its integral is the chance."""
    terms = [(F(1), F(0))]
    count = 0
    for a, b, c in parts:
        count += 1
        corners = ((a, F(2, (c - a) * (b - a))), (b, F(-2, (b - a) * (c - b))), (c, F(2, (c - a) * (c - b))))
        terms = [(weight * ramp, shift + corner) for weight, shift in terms for corner, ramp in corners]
    power = 2 * count
    return sum((weight * max(x - shift, F(0)) ** power for weight, shift in terms), F(0)) / factorial(power)


@pytest.mark.parametrize(
    "parts", [((0, 20, 100), (0, 90, 300)), ((100, 480, 700), (20, 40, 200), (5, 6, 30)), ((0, 1, 400),) * 4]
)
def test_lopsided_triangles_come_out_as_their_exact_sum_does(parts: tuple[tuple[int, int, int], ...]) -> None:
    sure = how_sure(
        of_sums(*(quote(str(low), str(likely), str(high), f"Sum {n}") for n, (low, likely, high) in enumerate(parts)))
    )
    assert not sure.exact
    for chance, told in ((F(1, 10), sure.low), (F(1, 2), sure.likely), (F(9, 10), sure.high)):
        below, above = (uneven_sum(parts, F(told + by)) for by in (-sure.error, sure.error))
        assert below <= chance <= above
        assert above - below < F(1, 20)


@cache
def studio() -> Estimate:
    job, _ = read_job(STUDIO)
    return estimate(job, read_catalogue(STUDIO))


@cache
def studio_sure() -> Sureness:
    return how_sure(studio())


def convolved(sure: Sureness, step: float) -> tuple[Sequence[float], Sequence[float]]:
    """Amounts and the chance of each or less: all movers laid on a fine grid and folded one into another, by SciPy."""
    import numpy as np
    from scipy.signal import fftconvolve
    from scipy.stats import triang

    chances = np.array([1.0])
    start = float(sure.counted)
    for mover in sure.movers:
        low, high = float(mover.low), float(mover.high)
        cells = int((high - low) / step) + 2
        edges = low + step * (np.arange(cells + 1) - 0.5)
        shape = triang(-low / (high - low), loc=low, scale=high - low)
        chances = fftconvolve(chances, np.diff(shape.cdf(edges)))
        start += low
    return (start + step * np.arange(len(chances))).tolist(), np.cumsum(chances).tolist()


def test_the_studio_comes_out_as_all_its_lines_folded_together() -> None:
    import numpy as np

    sure = studio_sure()
    amounts, chances = convolved(sure, 0.05)
    for chance, told in ((0.1, sure.low), (0.5, sure.likely), (0.9, sure.high)):
        assert abs(float(np.interp(chance, chances, amounts)) - float(told)) <= float(sure.error)
    budgeted = float(studio().budget.total)
    # hand: a share p of 20,000 draws is off by three standard deviations, 3 sqrt(p q / 20,000) < 0.011, hardly ever
    assert float(np.interp(budgeted, amounts, chances)) == pytest.approx(float(sure.own_holds), abs=0.011)
    needed = float(np.interp(0.8, chances, amounts)) - float(sure.counted)
    assert abs(needed - float(sure.suggested) * 1.2) <= float(sure.error)


def test_the_same_seed_gives_the_same_and_another_seed_nearly_the_same() -> None:
    sums = [quote("100", "200", "400", "A"), quote("10", "30", "40", "B"), quote("0", "0", "90", "C")]
    one, again, other = (how_sure(of_sums(*sums), seed=seed) for seed in (1, 1, 2))
    assert one == again
    assert one.low != other.low
    assert abs(one.low - other.low) <= 2 * one.error
    assert (one.mean, one.spread, one.movers) == (other.mean, other.spread, other.movers)
    # regression: the stream of the generator and every step from it are to stay as they are
    assert (D("207.03"), D("284.48"), D("382.42"), D("1.89")) == (one.low, one.likely, one.high, one.error)


def test_bits_are_those_that_the_makers_of_the_generator_publish() -> None:
    import numpy as np

    # measured: the same bits by way of the library's own even amounts
    bits = np.random.PCG64(1)
    even = (bits.random_raw(1000) >> np.uint64(11)).astype(np.float64) * 2.0**-53
    assert np.array_equal(np.random.Generator(np.random.PCG64(1)).random(1000), even)


def test_too_few_draws_are_refused_where_there_is_something_to_draw() -> None:
    with pytest.raises(ValueError, match="too few"):
        how_sure(of_sums(quote("1", "2", "3"), quote("1", "2", "4", "B")), draws=999)
    assert how_sure(of_sums(quote("1", "2", "3")), draws=999).exact


def test_chances_of_draws_count_what_is_no_more() -> None:
    import numpy as np

    some = Drawn(np.array([1.0, 2.0, 3.0, 4.0]))
    assert [D(0), D("0.25"), D("0.5"), D(1)] == [some.chance_within(D(x)) for x in ("0.9", "1", "2.5", "4")]
    assert [D(1), D(2), D(4)] == [some.quantile(chance) for chance in (F(1, 4), F(1, 2), F(1))]


# ---- one line, none


def test_where_nothing_varies_all_figures_are_the_total_without_contingency() -> None:
    sure = how_sure(of_sums(quote("480", "480", "480"), quote("100", "100", "100", "Skip", "ex")))
    # hand: 480 + 100 + 20 VAT; contingency 10 % of 580 and its VAT are left out
    assert {D(600)} == {sure.low, sure.likely, sure.high, sure.counted, sure.least, sure.most, sure.mean}
    assert (True, 0, D(0), D(0), (), ()) == (
        sure.exact,
        sure.draws,
        sure.spread,
        sure.error,
        sure.movers,
        sure.main,
    )
    assert (D(0), D(0), D(58), D("0.1"), D(1)) == (
        sure.suggested,
        sure.suggested_share,
        sure.own,
        sure.own_share,
        sure.own_holds,
    )


def test_one_line_is_worked_exactly() -> None:
    sure = how_sure(of_sums(quote("400", "420", "500")))
    # hand: of the triangle 400, 420, 500 one fifth lies below 420. Tenth: 400 + sqrt(0.1 x 100 x 20) = 414.142; half:
    # 500 - sqrt(0.5 x 100 x 80) = 436.754; nine tenths: 500 - sqrt(0.1 x 100 x 80) = 471.716
    assert (D("414.14"), D("436.75"), D("471.72")) == (sure.low, sure.likely, sure.high)
    # hand: mean 1,320 / 3; variance (100 x 100 - 20 x 80) / 18 = 466.67
    assert (D(440), D("21.60")) == (sure.mean, sure.spread)
    assert (D(400), D(500), D(420)) == (sure.least, sure.most, sure.counted)
    assert (True, 0, D(0)) == (sure.exact, sure.draws, sure.error)


def test_the_contingency_suggested_makes_the_total_hold_in_four_jobs_of_five() -> None:
    sure = how_sure(of_sums(quote("400", "420", "500")))
    # hand: four fifths: 500 - sqrt(0.2 x 100 x 80) = 460, which is 40 more than counted; 33.33 and VAT of 6.67 are 40.00
    assert D("33.33") == sure.suggested
    # hand: 33.33 / 420
    assert D("0.0794") == sure.suggested_share
    # hand: own 42.00 and 8.40 of VAT reach 470.40; 1 - 29.6 x 29.6 / (100 x 80) = 0.89048
    assert (D("42.00"), D("0.89048")) == (sure.own, sure.own_holds)


def test_the_contingency_suggested_goes_up_to_the_penny_that_is_enough() -> None:
    # hand: four fifths: 502.50 - 0.4 x 102.50 = 461.50, 41 more than counted; 34.16 and 6.83 are 40.99, 34.17 and 6.83 do
    assert D("34.17") == how_sure(of_sums(quote("400", "420.50", "502.50"))).suggested


def test_a_triangle_without_width_only_shifts_the_others() -> None:
    one, seven = Triangle(F(400), F(420), F(500)), Triangle(F(7), F(7), F(7))
    assert D(467) == spread_of([seven, one], 1000, 1).quantile(F(4, 5))
    two, three = (spread_of([one, one, *more], 1000, 1).quantile(F(4, 5)) for more in ([], [seven]))
    assert D(7) == (three - two).quantize(D("0.000001"))


def test_where_the_likely_end_is_the_high_one_nothing_need_be_set_aside() -> None:
    sure = how_sure(of_sums(quote("300", "500", "500"), contingency="0"))
    assert (D(0), D(0), D(1)) == (sure.suggested, sure.own, sure.own_holds)


def test_without_vat_what_is_set_aside_is_what_is_needed() -> None:
    assert D("40.00") == how_sure(of_sums(quote("400", "420", "500"), vat="0")).suggested


# ---- what varies


def test_sums_vary_as_given_and_bear_their_vat() -> None:
    sure = how_sure(of_sums(quote("100", "150", "200", "A", "ex"), quote("120", "120", "130", "B", "inc")))
    assert [("A", D("-60.00"), D("60.00")), ("B", D("0.00"), D("10.00"))] == [ends(of) for of in sure.movers]
    # hand: 20 % on 100, 150, 200
    assert Range(D(120), D(180), D(240)) == sure.movers[0].comes_to


def task(name: str, minutes: tuple[int, int, int], rate: str | None, vat: str = "0.2") -> Task:
    low, likely, high = (D(of) for of in minutes)
    return Task(name, "electrician", "first-fix", D(1), low, likely, high, None if rate is None else D(rate), D(vat))


def test_hours_vary_where_they_have_a_rate() -> None:
    tasks = [task("Connect", (60, 90, 180), "40"), task("Dig", (60, 600, 6000), None), task("Test", (30, 30, 30), "40")]
    sure = how_sure(of_sums(tasks=tasks))
    # hand: 40, 60 and 120 ex VAT
    assert [("Connect (electrician's hours)", D("-24.00"), D("72.00"))] == [ends(of) for of in sure.movers]
    assert "1 to 3 hours, likely 1.5" == sure.movers[0].why


def test_all_at_their_ends_is_what_the_budget_itself_comes_to_with_those_figures() -> None:
    rich = estimates.rich()
    sure = how_sure(rich)
    assert 4 == len(sure.movers)  # hand: two sums with a range, two tasks with a rate and a range; no rules here
    for end, told in (("low", sure.least), ("likely", sure.counted), ("high", sure.most)):
        job = replace(
            rich.job,
            sums=tuple(replace(of, likely=getattr(of, end)) for of in rich.job.sums),
            allowances=replace(rich.job.allowances, contingency=D(0)),
        )
        labour = tuple(replace(of, likely_minutes=getattr(of, f"{end}_minutes")) for of in rich.takeoff.labour)
        again = budget(job, rich.catalogue, replace(rich.takeoff, labour=labour), rich.order)
        # hand: three amounts of VAT and each task are rounded to the penny in the budget
        assert abs(again.total - told) <= D("0.02")


def dated(plain: Estimate, days: dict[str, int], source: dict[str, str]) -> Estimate:
    """The estimate with prices of parts that many days old."""
    prices = tuple(
        replace(
            row, priced_on=plain.job.priced_on - timedelta(days=days.get(row.part, 0)), source=source.get(row.part, "")
        )
        for row in plain.catalogue.prices
    )
    return replace(plain, catalogue=replace(plain.catalogue, prices=prices))


def test_prices_of_a_merchant_move_together_by_their_age_in_money() -> None:
    clip, cable = estimates.CLIP, estimates.CABLE
    sure = how_sure(dated(greenhouse("price-drift"), {clip: 1460, cable: 365}, {}))
    # hand: B is a year old: 89.40 x -2 % and 8 %. Of A's 51.13 only 3.19 is old, four years: 3.19 x 4 x 2 % and 8 %
    assert [("B", D("-1.79"), D("7.15")), ("A", D("-0.26"), D("1.02"))] == [ends(of) for of in sure.movers]
    # hand: 3.19 x 1,460 / 51.13 = 91.1 days
    assert sure.movers[1].why.startswith("on average 91 days old on 2026-10-01: from 0.5 % less to 2 % more")


def test_invented_prices_vary_by_as_much_of_the_money_as_they_are() -> None:
    plain = greenhouse("price-drift", "price-invented")
    sure = how_sure(dated(plain, {}, {estimates.SOCKET: "invented demo figure"}))
    # hand: 47.94 of A's money x -30 % and 40 %; nothing is old
    assert [("A", D("-14.38"), D("19.18"))] == [ends(of) for of in sure.movers]
    assert "price-invented-low, price-invented-high: common practice" == sure.movers[0].source


def test_a_price_never_falls_below_nothing_and_one_from_after_the_day_is_not_old() -> None:
    sure = how_sure(dated(greenhouse("price-drift"), {estimates.CABLE: 365 * 60, estimates.SOCKET: -40}, {}))
    # hand: 60 years at 2 % would be 120 % less
    assert [("B", D("-89.40"), D("429.12"))] == [ends(of) for of in sure.movers]


def test_cable_that_is_still_planned_varies_at_the_rate_of_its_packs() -> None:
    sure = how_sure(greenhouse("cable-range"))
    # hand: 121.4 m x 74.50 / 150 x 1.2 = 72.354; -5 % and 10 %
    assert [("circuit sockets", D("-3.62"), D("7.24"))] == [ends(of) for of in sure.movers]
    assert Range(D("68.74"), D("72.35"), D("79.59")) == sure.movers[0].comes_to


def measured(start: str, end: str, circuit: str | None = None, run: str | None = None) -> AsBuilt:
    return AsBuilt(start, end, circuit, run, 20000)


@pytest.mark.parametrize(
    ("rows", "metres"),
    [
        ([measured("S2", "S1")], "100.8"),  # hand: 121.4 - 20.6
        ([measured("CU", "S1", "sockets"), measured("S5", "S6")], "77.4"),  # hand: 121.4 - 24 - 20
        ([measured("S2", "S1", run="link")], "121.4"),  # a run, not this leg
        ([measured("S2", "S1", "lights")], "121.4"),
    ],
)
def test_a_leg_that_is_measured_as_built_varies_no_longer(rows: list[AsBuilt], metres: str) -> None:
    plain = greenhouse("cable-range")
    sure = how_sure(replace(plain, job=replace(plain.job, as_built=tuple(rows))))
    assert f"{metres} m planned and not yet measured as built: from 5 % less to 10 % more" == sure.movers[0].why


def test_of_two_legs_alike_one_measured_length_settles_one_and_all_measured_none_varies() -> None:
    plain = greenhouse("cable-range")
    circuit = plain.routes.circuits[0]
    first = circuit.legs[0]
    twins = replace(circuit, legs=(first, replace(first, id=f"{first.id} (2)", cut_mm=10000)))
    two = replace(plain, routes=replace(plain.routes, circuits=(twins,)))
    for rows, metres in (([], "34 m"), ([measured("CU", "S1")], "10 m")):
        sure = how_sure(replace(two, job=replace(two.job, as_built=tuple(rows))))
        assert sure.movers[0].why.startswith(metres)
    both = replace(two, job=replace(two.job, as_built=(measured("CU", "S1"), measured("CU", "S1"))))
    assert () == how_sure(both).movers


def test_pieces_may_be_lost_beyond_the_waste_counted_or_none_at_all() -> None:
    plain = greenhouse("waste-range")
    quantities = tuple(
        replace(of, with_waste=D("6.6")) if of.part == estimates.SOCKET else of for of in plain.takeoff.quantities
    )
    sure = how_sure(replace(plain, takeoff=replace(plain.takeoff, quantities=quantities)))
    # hand: sockets at 39.95 / 6 x 1.2 = 7.99: 0.6 counted, none at the least, 0.3 more at the most; clips at 0.0266 x 1.2,
    # 65 fixed, none counted, 3.25 at the most: 0.10; cable is no piece
    assert [("pieces lost or spoilt", D("-4.79"), D("2.50"))] == [ends(of) for of in sure.movers]
    assert Range(D("0.00"), D("4.79"), D("7.29")) == sure.movers[0].comes_to


def test_where_more_is_lost_at_the_least_than_is_counted_what_is_counted_is_the_least() -> None:
    plain = greenhouse("waste-range")
    catalogue = jobs.catalogue(
        parts=estimates.PARTS,
        prices=plain.catalogue.prices,
        merchants=estimates.MERCHANTS,
        rules=(ruled("waste-range-low", 20), ruled("waste-range-high", 5)),
    )
    sure = how_sure(replace(plain, catalogue=catalogue))
    # hand: nothing counted; 5 % of six sockets at 7.99 and of 65 clips at 3.192p: 2.397 + 0.104
    assert [("pieces lost or spoilt", D("0.00"), D("2.50"))] == [ends(of) for of in sure.movers]


# ---- movers


def test_movers_stand_by_swing_then_by_name_with_their_part_of_the_doubt() -> None:
    sure = how_sure(
        of_sums(
            quote("90", "100", "110", "Skip"),
            quote("400", "500", "700", "Electrician"),
            quote("90", "90", "110", "Building control"),
            quote("5", "5", "5", "Fixed"),
        )
    )
    # hand: swings 300, 20, 20
    assert ["Electrician", "Building control", "Skip"] == [of.name for of in sure.movers]
    assert [D(300), D(20), D(20)] == [of.swing for of in sure.movers]
    # hand: variances x 18: 300 x 300 - 100 x 200 = 70,000; 20 x 20 - 0 = 400; 20 x 20 - 10 x 10 = 300; of 70,700
    assert [D("0.9901"), D("0.0057"), D("0.0042")] == [of.share for of in sure.movers]
    assert ["Electrician"] == [of.name for of in sure.main]


def test_main_lines_are_as_many_as_make_half_the_doubt() -> None:
    sure = how_sure(of_sums(*(quote("0", "10", "20", name) for name in "ABCDE")))
    # hand: a fifth each, so three
    assert ["A", "B", "C"] == [of.name for of in sure.main]


def test_swings_add_up_from_least_to_most_and_the_root_of_variances_is_the_spread() -> None:
    sure = studio_sure()
    assert abs(sum(of.swing for of in sure.movers) - (sure.most - sure.least)) <= D("0.01") * len(sure.movers)
    parts = [Triangle(F(of.low), F(0), F(of.high)) for of in sure.movers]
    assert abs(deviation_of(parts) - sure.spread) <= D("0.02")


# ---- rules


def test_a_rule_that_is_missing_is_told_and_its_lines_do_not_vary() -> None:
    sure = how_sure(greenhouse("price-drift", "price-invented", "cable-range"))
    assert ("waste-range-low", "waste-range-high") == sure.unstated
    assert "pieces" not in [of.kind for of in sure.movers]
    assert (
        "Not in rules.csv, so taken not to vary: waste-range-low, waste-range-high." == sure_words.sentences(sure)[-1]
    )


def test_ranges_that_are_none_are_refused_all_at_once() -> None:
    wrong = [
        ruled("cable-range-low", "3"),
        ruled("cable-range-high", "-1"),
        ruled("price-drift-low", "-101"),
        ruled("price-drift-high", "0.1", "ratio"),
        ruled("price-invented-low", "-30"),
        ruled("price-invented-high", "40"),
        ruled("waste-range-low", "-5"),
        ruled("waste-range-high", "5"),
    ]
    with pytest.raises(Refused) as refused:
        stated_ranges(jobs.job(), jobs.catalogue(rules=wrong))
    assert [
        "cable-range-high is below 0",
        "cable-range-low is not from -100 to 0",
        "price-drift-low is not from -100 to 0",
        "waste-range-low is below 0",
        'price-drift-high is in "ratio"',
    ] == sorted((of.found for of in refused.value.problems), key=lambda found: ("ratio" in found, found))
    assert {Place("rules.csv", 7)} == {of.place for of in refused.value.problems}


def test_the_shipped_rules_state_every_range() -> None:
    assert () == studio_sure().unstated
    shipped = stated_ranges(studio().job, read_catalogue(STUDIO))
    for shares in (shipped.cable, shipped.drift, shipped.invented, shipped.waste):
        assert shares is not None
        assert shares.low <= 0 < shares.high
        assert "memory" in shares.source


def test_the_house_stays_within_its_ends_and_rises() -> None:
    house = estimate(houses.house(), read_catalogue(houses.FOLDER))
    sure = how_sure(house)
    assert sure.least < sure.low < sure.likely < sure.high < sure.most
    # hand: the total less what is set aside and its VAT
    aside = house.budget.contingency * D("1.2")
    assert abs(house.budget.total - aside - sure.counted) < D("0.01")
    assert {"sum", "prices", "cable", "pieces"} == {of.kind for of in sure.movers}
    # hand: draws are within their error of the mean, which is exact
    middle = spread_of([Triangle(F(of.low), F(0), F(of.high)) for of in sure.movers], 20_000, 5)
    assert abs(middle.quantile(F(1, 2)) + sure.counted - sure.likely) <= 2 * sure.error


# ---- words


@pytest.mark.parametrize(
    ("chance", "told"),
    [
        ("0.08", "about one chance in twelve"),  # hand: 1 in 12.5; of those told, 10, 12 and 15, 12 is nearest
        ("0.25", "about one chance in four"),
        ("0.41", "about two chances in five"),
        ("0.5", "about one chance in two"),
        ("0.9", "about nine chances in ten"),
        ("0.03", "about one chance in 30"),
        ("0.012", "about one chance in a hundred"),
        ("0.004", "less than one chance in a hundred"),
        ("0", "less than one chance in a hundred"),
        ("0.997", "more than 99 chances in a hundred"),
    ],
)
def test_chances_are_told_as_people_say_them(chance: str, told: str) -> None:
    assert told == sure_words.odds(D(chance))


def test_one_range_in_sentences() -> None:
    assert (
        "With nothing set aside, half of all jobs like this come to less than £437 inc VAT and half to more.",
        "Nine jobs in ten come to less than £472; one in ten comes to less than £414.",
        "The budget counts every line at its likely figure: £420. With every line at its low end it would be £400, with "
        "every line at its high end £500.",
        "Most of the doubt is in: Electrician (£400 to £500).",
        "Set aside £33 ex VAT (7.9 % of the sum before it), and the total holds in four jobs of five.",
        "You have set aside £42 ex VAT (10 %): about one chance in nine that it is not enough.",
        "Only one line varies, so these figures are exact for the range given.",
    ) == sure_words.sentences(replace(how_sure(of_sums(quote("400", "420", "500"))), unstated=()))


def test_draws_are_told_with_their_error_up_to_the_next_pound() -> None:
    sure = replace(studio_sure(), error=D("3.01"))
    assert (
        "Worked out from 20,000 draws (start number 1; the same number gives the same figures). With endless draws each "
        "would come out within £4 of this, 19 times in 20."
    ) == sure_words.sentences(sure)[-1]


def test_nothing_that_varies_and_nothing_set_aside_have_their_own_words() -> None:
    fixed = replace(how_sure(of_sums(quote("480", "480", "480"))), unstated=())
    assert ("With nothing set aside, the job comes to £480 inc VAT. No figure in this job has a range.",) == (
        sure_words.sentences(fixed)
    )
    bare = sure_words.sentences(how_sure(of_sums(quote("300", "400", "400"), contingency="0")), "EUR")
    assert "With nothing set aside, the total holds in four jobs of five." in bare
    assert (
        "You have set nothing aside: less than one chance in a hundred that the total is more than the budget counts."
        in bare
    )
    assert "Most of the doubt is in: Electrician (€300 to €400)." in bare


def test_rows_for_a_chart_name_each_line_in_full() -> None:
    rows = sure_words.mover_rows(studio_sure(), most=5)
    assert 5 == len(rows)
    assert "prices, merchant not chosen yet" == rows[0].label
    quoted = next(row for row in rows if row.label.startswith("Electrician"))
    # hand: given as £420, £480, £620 without VAT
    assert ("£420 to £620", "-£60", "+£140") == (quoted.comes_to, quoted.less, quoted.more)
    assert "cable of run feed" in [row.label for row in rows]
