"""Returned lists as text for a terminal: what came of them goes in, text comes out; nothing is worked out here."""

from collections import Counter
from collections.abc import Callable, Sequence
from decimal import Decimal
from textwrap import fill

from estimator.documents.list_words import lines_words
from estimator.documents.words import BASIS_TITLES, merchant_words, money, number, symbol
from estimator.returned.model import Answer, Change, Comparison, Outcome, Reckoned, Way

WIDTH = 100
MANY = 5
"""Of more lines that say the same, only the numbers are told."""
WORDS, PACK = 34, 18
STATUS_WORDS = {
    "held": "held: see above",
    "not-sold": "they do not sell it",
    "on-asking": "price on asking",
    "another": "something else is offered; not taken as a price",
    "no-price": "no price",
    "unreadable": "cannot be read: see the problems",
    "changed": "on the list, but changed, so its price is not taken: see the problems",
    "not-on-it": "not on the list that came back",
}
SHORT_STATUS = {
    "held": "held",
    "not-sold": "not sold",
    "on-asking": "on asking",
    "another": "other",
    "no-price": "none",
    "unreadable": "unread",
    "changed": "changed",
    "not-on-it": "-",
}


HELD = "Held: what they write may change the goods or the price, so these prices do not count yet"


def as_text(outcome: Outcome) -> str:
    """Every list with what it changes and what has no price, then lists beside each other, then what follows."""
    read = [of for of in outcome.lists if of.returned.lines]  # of the others only what is wrong is worth a word
    blocks = [block for of in read for block in _list_blocks(of, outcome.currency)]
    if outcome.comparison is not None:
        blocks += _comparison_blocks(outcome.comparison, outcome.currency)
    told = [*(one for of in outcome.lists for one in of.returned.told), *outcome.told]
    if told:
        blocks.append("\n".join(["To know", *(_bullet(str(one)) for one in told)]))
    return "\n\n".join(blocks) + "\n" if blocks else ""


def _list_blocks(of: Reckoned, currency: str) -> list[str]:
    returned = of.returned
    head = [f"{_merchant(of)}: {returned.file}"]
    head += [f"  {line}" for line in _head(of)]
    blocks = ["\n".join(head)]
    changed = [change for change in of.changes if change.difference or change.before is None or not change.packs]
    if changed:
        blocks.append(
            "\n".join(
                [
                    _columns("Line", "What", "Pack", "Packs", "Before", "Now", "Difference"),
                    *(_change(one, currency) for one in changed),
                ]
            )
        )
    same = len(of.changes) - len(changed)
    if same:
        blocks.append(f"{_lines(same)} as before.")
    if of.sums.lines and all(change.basis for change in of.changes):
        blocks.append(_sums(of, currency))
    noted = [answer for answer in returned.lines if answer.status == "priced" and answer.said]
    if noted:
        blocks.append("\n".join(["What they say", *_together(noted, _said)]))
    held = [answer for answer in returned.lines if answer.status == "held"]
    if held:
        blocks.append("\n".join([HELD, *_all_held(held)]))
    unpriced = [answer for answer in returned.lines if answer.status not in ("priced", "held")]
    if unpriced:
        blocks.append("\n".join(["Not priced", *_together(unpriced, _unpriced), *_by_hand(unpriced)]))
    return blocks


def _merchant(of: Reckoned) -> str:
    return of.returned.merchant or "Merchant not named"


def _head(of: Reckoned) -> list[str]:
    returned = of.returned
    said = [
        f"of {returned.priced_on.isoformat()}" if returned.priced_on else "",
        f"good until {returned.good_until}" if returned.good_until else "",
    ]
    lines = [f"prices {words}" for words in (", ".join(one for one in said if one),) if words]
    if returned.lines and returned.lines[0].number:
        whose = merchant_words(returned.answers) if returned.answers else "for any merchant"
        whose += f", mark {returned.mark}" if returned.mark else ""
        priced = sum(answer.status == "priced" for answer in returned.lines)
        lines.append(f"list: {whose}; {priced} of {_lines(len(returned.lines))} priced")
    return lines


def _lines(count: int) -> str:
    return f"{count} line{'' if count == 1 else 's'}"


def _columns(line: str, what: str, pack: str, packs: str, before: str, now: str, difference: str) -> str:
    return f"{line:>4}  {_cut(what, WORDS):<{WORDS}}  {_cut(pack, PACK):<{PACK}} {packs:>5} {before:>11} {now:>11} {difference:>11}".rstrip()


def _cut(text: str, width: int) -> str:
    return text if len(text) <= width else text[: width - 1] + "…"


def _change(of: Change, currency: str) -> str:
    before = "none" if of.before is None else coins(of.before)
    if of.before_basis not in (None, of.basis) and before != "none":
        before += f" {of.before_basis}"
    difference = "" if of.difference is None else _signed(of.difference, currency)
    number_words = str(of.number) if of.number else ""
    now = f"{coins(of.after)} {of.basis or ''}".strip()
    packs = str(of.packs) if of.packs else ""
    row = _columns(number_words, of.words, of.pack_words, packs, before, now, difference)
    if of.metre_after is None:
        return row
    metre = "" if of.metre_before is None else coins(of.metre_before)
    return f"{row}\n{_columns('', '', '  a metre', '', metre, coins(of.metre_after), '')}"


def coins(value: Decimal) -> str:
    """A price as it stands: to the penny, or further where it goes further."""
    places = max(2, -int(value.normalize().as_tuple().exponent))
    return f"{value:,.{places}f}"


def _signed(value: Decimal, currency: str) -> str:
    return f"+{money(value, currency)}" if value > 0 else money(value, currency)


def _sums(of: Reckoned, currency: str) -> str:
    sums = of.sums
    rows = [("inc", sums.before_inc, sums.after_inc, sums.difference_inc)]
    if sums.basis == "ex" and sums.before is not None and sums.after is not None and sums.difference is not None:
        rows.insert(0, ("ex", sums.before, sums.after, sums.difference))
    said = [
        f"  {BASIS_TITLES[basis]}: {money(before, currency)} before, {money(after, currency)} now ({_signed(more, currency)})"
        for basis, before, after, more in rows
    ]
    left = f" (not in it: {_lines(sums.left_open)} without a number of packs)" if sums.left_open else ""
    return "\n".join([f"The {_lines(sums.lines)} with a price before and now{left}", *said])


def _said(of: Answer) -> tuple[str, str]:
    return f"{of.number or of.part} {of.words}", of.said


def _unpriced(of: Answer) -> tuple[str, str]:
    said = f": {of.said}" if of.said else ""
    return f"{of.number or of.part} {of.words}, {of.pack_words}", f"{STATUS_WORDS[of.status]}{said}"


def _by_hand(answers: Sequence[Answer]) -> list[str]:
    """How to take a price for something else that is offered."""
    first = next((of for of in answers if of.status == "another"), None)
    if first is None:
        return []
    pack = f"{first.part}@{number(first.pack).replace(',', '')}"
    return [
        _bullet(
            f'If something else that they offer will do, give its price with the command: --price "{pack}=PRICE ex", with '
            "what one pack of theirs holds after the @."
        )
    ]


def _together(answers: Sequence[Answer], words: Callable[[Answer], tuple[str, str]]) -> list[str]:
    """A line for each answer; where many say the same, one for all of them."""
    counts = Counter(words(answer)[1] for answer in answers)
    rows = []
    for answer in answers:
        what, said = words(answer)
        if counts[said] <= MANY:
            rows.append(_bullet(f"{what}: {said}"))
        elif said not in {words(of)[1] for of in answers[: answers.index(answer)]}:
            numbers = lines_words(of.number for of in answers if words(of)[1] == said)
            rows.append(_bullet(f"{numbers}: {said}"))
    return rows


def _all_held(held: Sequence[Answer]) -> list[str]:
    """Lines that are held, those with the same words together; those with another pack one by one."""
    rows = [_bullet(_other_pack(of)) for of in held if of.asked]
    for said in dict.fromkeys(of.said for of in held if not of.asked):
        same = [of for of in held if of.said == said and not of.asked]
        numbers = lines_words(of.number for of in same)
        what = [f"{numbers}"] if len(same) > MANY else [_held(of) for of in same]
        accept = numbers.split(" ", 1)[1].replace(" to ", "-").replace(" ", "")
        rows.append(
            _bullet(
                f'{"; ".join(what)}: they write "{said}". If that is what you want, add --accept {accept}; else ask them.'
            )
        )
    return rows


def _other_pack(of: Answer) -> str:
    price = "" if of.price is None else f"{coins(of.price)} {of.basis or ''}".strip()
    return (
        f'{of.number} {of.words}: they write "{of.said}", where {of.asked} was asked for. If {price} is the price of '
        f"{of.pack_words}, and you want that, add --accept {of.number}: it is kept with that pack; else ask them."
    )


def _held(of: Answer) -> str:
    price = "" if of.price is None else f"{coins(of.price)} {of.basis or ''}".strip()
    return f"{of.number} {of.words}, {of.pack_words}, {price}"


def _bullet(text: str) -> str:
    return fill(
        " ".join(text.split()),
        WIDTH,
        initial_indent="  - ",
        subsequent_indent="    ",
        break_long_words=False,
        break_on_hyphens=False,
    )


def _comparison_blocks(of: Comparison, currency: str) -> list[str]:
    rows = [_across("Line", "What", "Pack", list(of.merchants))]
    rows += [
        _across(
            str(line.number),
            line.words,
            line.pack_words,
            [
                SHORT_STATUS[bid.status]
                if bid.money is None
                else f"{bid.money:,.2f}{'*' if len(line.cheapest) < len(of.merchants) and bid.merchant in line.cheapest else ' '}"
                for bid in line.bids
            ],
        )
        for line in of.lines
    ]
    sums = ", ".join(f"{name} {money(amount, currency)}" for name, amount in of.common)
    blocks = [
        f"Side by side: all packs of a line, {symbol(currency).strip()} inc VAT; * is the least",
        "\n".join(rows),
        f"The {_lines(of.common_lines)} that all priced: {sums}",
    ]
    blocks.append(
        "\n".join(["What the whole job's parts come to, inc VAT", *(_bullet(_way(way, currency)) for way in of.ways)])
    )
    best = of.ways[-1]
    if best.packs and len(best.merchants) > 1:
        blocks.append("\n".join(["Who sells what when all are used", *_split(best)]))
    return blocks


def _across(line: str, what: str, pack: str, bids: Sequence[str]) -> str:
    return f"{line:>4}  {_cut(what, WORDS):<{WORDS}}  {_cut(pack, PACK):<{PACK}} {' '.join(f'{_cut(bid, 13):>13}' for bid in bids)}".rstrip()


def _way(way: Way, currency: str) -> str:
    who = f"all from {way.merchants[0]}" if len(way.merchants) == 1 else f"the cheapest of {', '.join(way.merchants)}"
    stay = f", and as now from {', '.join(merchant_words(name) for name in way.others)}" if way.others else ""
    if way.total is None:
        why = f"no price for {', '.join(way.lacking)}" if way.lacking else "; ".join(way.why)
        return f"{who}{stay}: not possible: {why}"
    brought = f", delivery of {money(way.delivery, currency)} in it" if way.delivery else ""
    filled = f"; at the price list's own figure: {', '.join(way.filled)}" if way.filled else ""
    return f"{who}{stay}: {money(way.total, currency)}{brought}{filled}"


def _split(way: Way) -> list[str]:
    rows = []
    for merchant in dict.fromkeys(one.merchant for one in way.packs):
        rows.append(f"  {merchant_words(merchant)}")
        rows += [
            _bullet(f"{one.packs} x {one.pack_words}: {one.words}, {coins(one.price)} {one.basis}")
            for one in way.packs
            if one.merchant == merchant
        ]
    return rows
