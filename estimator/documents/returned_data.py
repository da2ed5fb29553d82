"""Returned lists as JSON: what came of them goes in, text for programs comes out; nothing is worked out here."""

import json
from decimal import Decimal
from typing import Any

from estimator.documents.returned import coins
from estimator.documents.words import number
from estimator.returned.model import Answer, Change, Comparison, Outcome, Reckoned, Told, Way


def as_data(outcome: Outcome) -> str:
    """Lists, comparison, what is told and problems as JSON; money is text, and null where there is none."""
    data = {
        "lists": [_list_data(of) for of in outcome.lists],
        "comparison": None if outcome.comparison is None else _comparison_data(outcome.comparison),
        "told": [_told_data(one) for one in outcome.told],
        "problems": [
            {"place": str(one.place), "where": one.where, "found": one.found, "write": one.write}
            for one in outcome.problems
        ],
        "kept": outcome.kept,
    }
    return json.dumps(data, indent=2, ensure_ascii=False) + "\n"


def _list_data(of: Reckoned) -> dict[str, Any]:
    returned, sums = of.returned, of.sums
    return {
        "merchant": returned.merchant or None,
        "list_of": returned.answers or None,
        "list_mark": returned.mark or None,
        "file": returned.file,
        "priced_on": returned.priced_on.isoformat() if returned.priced_on else None,
        "good_until": returned.good_until or None,
        "lines": [_answer_data(answer) for answer in returned.lines],
        "changes": [_change_data(change) for change in of.changes],
        "sums": {
            "lines": sums.lines,
            "lines_without_number_of_packs": sums.left_open,
            "basis": sums.basis,
            "before": _money(sums.before),
            "after": _money(sums.after),
            "difference": _money(sums.difference),
            "before_inc": _money(sums.before_inc),
            "after_inc": _money(sums.after_inc),
            "difference_inc": _money(sums.difference_inc),
        },
        "told": [_told_data(one) for one in returned.told],
    }


def _answer_data(of: Answer) -> dict[str, Any]:
    return {
        "line": of.number or None,
        "part": of.part,
        "words": of.words,
        "status": of.status,
        "pack": _plain(of.pack),
        "packs": of.packs or None,
        "pack_asked": of.asked or None,
        "make": of.make or None,
        "price": None if of.price is None else coins(of.price).replace(",", ""),
        "basis": of.basis,
        "said": of.said,
        "accepted": of.accepted or None,
        "merchant_code": of.code or None,
        "place": str(of.place),
    }


def _change_data(of: Change) -> dict[str, Any]:
    return {
        "line": of.number or None,
        "part": of.part,
        "pack": _plain(of.pack),
        "packs": of.packs or None,
        "before": None if of.before is None else coins(of.before).replace(",", ""),
        "before_basis": of.before_basis,
        "after": coins(of.after).replace(",", ""),
        "basis": of.basis,
        "difference": _money(of.difference),
        "metre_before": None if of.metre_before is None else coins(of.metre_before).replace(",", ""),
        "metre_after": None if of.metre_after is None else coins(of.metre_after).replace(",", ""),
    }


def _comparison_data(of: Comparison) -> dict[str, Any]:
    return {
        "merchants": list(of.merchants),
        "lines": [
            {
                "line": line.number,
                "bids": [
                    {"merchant": bid.merchant, "money_inc": _money(bid.money), "status": bid.status}
                    for bid in line.bids
                ],
                "cheapest": list(line.cheapest),
            }
            for line in of.lines
        ],
        "lines_all_priced": of.common_lines,
        "sum_of_those_inc": {name: _money(amount) for name, amount in of.common},
        "ways": [_way_data(way) for way in of.ways],
        "delivery_unknown": list(of.delivery_unknown),
    }


def _way_data(of: Way) -> dict[str, Any]:
    return {
        "merchants": list(of.merchants),
        "others": list(of.others),
        "total_inc": _money(of.total),
        "delivery_inc": _money(of.delivery),
        "packs": [
            {
                "merchant": one.merchant,
                "part": one.part,
                "pack": _plain(one.pack),
                "packs": one.packs,
                "price": coins(one.price).replace(",", ""),
                "basis": one.basis,
                "amount": _money(one.amount),
            }
            for one in of.packs
        ],
        "lacking": list(of.lacking),
        "from_price_list": list(of.filled),
        "why": list(of.why),
    }


def _told_data(of: Told) -> dict[str, str]:
    return {"place": str(of.place), "text": of.text}


def _money(value: Decimal | None) -> str | None:
    return None if value is None else f"{value:.2f}"


def _plain(value: Decimal) -> str:
    return number(value).replace(",", "")
