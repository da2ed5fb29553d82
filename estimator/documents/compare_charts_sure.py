"""How sure a total is, drawn: a `Sureness` goes in; a line from low to high, and bars of what moves the total, come out."""

from collections.abc import Sequence
from decimal import Decimal
from typing import NamedTuple

from estimator.compare.sure import Mover, Sureness
from estimator.documents.sure_words import label, whole
from estimator.drawings.charts import BAR_GREY, BAR_MM, TEXT_MM
from estimator.drawings.svg import CABLE, GREY, INK, Drawing, Pen, finished, fitted_text, root, text_width

LINE_WIDTH_MM, BARS_WIDTH_MM = 150.0, 120.0
PHONE_WIDTH_MM = 92.0
"""What a telephone held upright shows without sliding: 358 of 390 pixels are 94.7 mm."""
SIDE_MM, TIER_MM = 12.0, 8.6
ROW_MM = 9.2
MOST_BARS = 8


class Tick(NamedTuple):
    """A figure on the line: where, how much, and what it is."""

    x: float
    figure: str
    words: str

    @property
    def wide(self) -> float:
        """Half the room that its words take."""
        return max(text_width(self.figure, TEXT_MM), text_width(self.words, TEXT_MM)) / 2 + 1.5


def sure_line(
    sure: Sureness, total: Decimal, currency: str, prefix: str = "sure", width_mm: float = LINE_WIDTH_MM
) -> Drawing:
    """A line from the least to the most, thick between low and high; the total as it stands is marked in the accent."""
    least, most = min(sure.least, total), max(sure.most, total)
    span = float(most - least) or 1.0

    def at(amount: Decimal) -> float:
        return SIDE_MM + float(amount - least) / span * (width_mm - 2 * SIDE_MM)

    ticks = tuple(
        Tick(at(amount), whole(amount, currency), words)
        for amount, words in (
            (sure.least, "all low"),
            (sure.low, "low"),
            (sure.likely, "likely"),
            (sure.high, "high"),
            (sure.most, "all high"),
        )
    )
    tiers = _tiers(ticks)
    height = 15.0 + TIER_MM * (max(tiers) + 1) + 1
    desc = "; ".join(f"{tick.words} {tick.figure}" for tick in ticks)
    title = "How sure the total is"
    element = root(width_mm, height, 1, (0, 0), prefix, title, f"{desc}; as it stands {whole(total, currency)}")
    pen = Pen(element, 1)
    pen.line([(at(sure.least), -12), (at(sure.most), -12)], 0.35, GREY)
    pen.line([(at(sure.low), -12), (at(sure.high), -12)], 1.6, BAR_GREY)
    for tick, tier in zip(ticks, tiers, strict=True):
        _tick(pen, tick, tier, width_mm)
    _total(pen, at(total), whole(total, currency), width_mm)
    return finished(element, width_mm, height, 1, title)


def _tiers(ticks: Sequence[Tick]) -> list[int]:
    """In which line below the axis the words of each figure stand, so that none runs into another."""
    ends: list[float] = []
    tiers = []
    for tick in ticks:
        tier = next((number for number, end in enumerate(ends) if tick.x - tick.wide >= end), len(ends))
        ends[tier : tier + 1] = [tick.x + tick.wide]
        tiers.append(tier)
    return tiers


def _tick(pen: Pen, tick: Tick, tier: int, width_mm: float) -> None:
    """A stroke at 45 degrees on the line, a hair down to the words."""
    foot = -15 - TIER_MM * tier
    pen.line([(tick.x - 1.1, -13.1), (tick.x + 1.1, -10.9)], 0.35)
    pen.line([(tick.x, -12.6), (tick.x, foot + 0.2)], 0.12, GREY)
    x = min(max(tick.x, tick.wide - 1), width_mm - tick.wide + 1)
    pen.text((x, foot - 2.9), tick.figure, TEXT_MM, bold=tick.words == "likely", halo=0.4)
    pen.text((x, foot - 6.3), tick.words, TEXT_MM, colour=GREY, halo=0.4)


def _total(pen: Pen, x: float, figure: str, width_mm: float) -> None:
    words = f"as it stands, with what you set aside {figure}"
    half = text_width(words, TEXT_MM) / 2
    pen.text((min(max(x, half), width_mm - half), -4.2), words, TEXT_MM, colour=CABLE, bold=True)
    pen.line([(x, -5.4), (x, -12.9)], 0.5, CABLE)


def mover_bars(
    movers: Sequence[Mover], currency: str, prefix: str = "movers", width_mm: float = BARS_WIDTH_MM
) -> Drawing:
    """A bar for each line that varies, from what it takes off the total to what it adds; the first, which is the largest,
    in the accent.
    """
    shown = movers[:MOST_BARS]
    figures = [(whole(one.low, currency), f"+{whole(one.high, currency)}") for one in shown]
    left = max((text_width(less, TEXT_MM) for less, _ in figures), default=0.0) + 2
    right = max((text_width(more, TEXT_MM) for _, more in figures), default=0.0) + 2
    span = float(
        max((one.high for one in shown), default=Decimal(0)) - min((one.low for one in shown), default=Decimal(0))
    )
    each = (width_mm - left - right) / span if span else 0.0
    zero = left - float(min((one.low for one in shown), default=Decimal(0))) * each
    height = ROW_MM * len(shown) + 1
    desc = "; ".join(f"{label(one)} {less} to {more}" for one, (less, more) in zip(shown, figures, strict=True))
    title = "What moves the total most"
    element = root(width_mm, height, 1, (0, 0), prefix, title, desc)
    pen = Pen(element, 1)
    for index, (one, (less, more)) in enumerate(zip(shown, figures, strict=True)):
        y, colour = -ROW_MM * index, CABLE if index == 0 else BAR_GREY
        start, end = zero + float(one.low) * each, zero + float(one.high) * each
        pen.text((0, y - 3.6), fitted_text(label(one), TEXT_MM, width_mm), TEXT_MM, "start", bold=index == 0)
        corners = [(start, y - 5), (end, y - 5), (end, y - 5 - BAR_MM), (start, y - 5 - BAR_MM)]
        pen.polygon(corners, 0, fill=colour)
        foot = y - 5 - BAR_MM / 2 - 0.36 * TEXT_MM
        pen.text((start - 1, foot), less, TEXT_MM, "end", INK)
        pen.text((end + 1, foot), more, TEXT_MM, "start", INK)
        pen.line([(zero, y - 4.4), (zero, y - ROW_MM + 0.6)], 0.25)
    return finished(element, width_mm, height, 1, title)
