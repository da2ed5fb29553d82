"""One price given with the command, as in "te-2.5@100=48.00": text goes in, an answer or a problem comes out."""

import re
from collections.abc import Sequence
from decimal import Decimal

from estimator.catalogue.model import Basis, Catalogue
from estimator.documents.list_words import pack_words
from estimator.problems import Place, Problem, choose
from estimator.result import Estimate
from estimator.returned.asked import match_of
from estimator.returned.cells import shown
from estimator.returned.figures import Unfit, figure
from estimator.returned.model import Answer

PLACE = Place("--price")
FORM = 'write PART@PACK=PRICE, as in "te-2.5@100=48.00"; the pack is in the part\'s unit, and 1 where you leave it out'
_TYPED = re.compile(r"(?P<part>[^@=]+?) ?(?:@ ?(?P<pack>[^=]*?))? ?= ?(?P<price>.+)")


def typed_answers(estimate: Estimate, texts: Sequence[str], basis: Basis | None) -> tuple[list[Answer], list[Problem]]:
    """An answer for every text, and what is wrong with the others; the basis may stand beside the price."""
    answers: list[Answer] = []
    problems: list[Problem] = []
    for text in texts:
        read = _read(estimate, text.strip(), basis)
        if isinstance(read, Problem):
            problems.append(read)
        elif any((one.part, one.pack) == (read.part, read.pack) for one in answers):
            problems.append(Problem(PLACE, text, "this pack is given twice", "leave one of them"))
        else:
            answers.append(read)
    return answers, problems


def _read(estimate: Estimate, text: str, basis: Basis | None) -> Answer | Problem:
    found = _TYPED.fullmatch(text)
    if not found:
        return Problem(PLACE, "", f"{shown(text)} cannot be read", FORM)
    part, size = found["part"].strip(), (found["pack"] or "1").strip()
    catalogue: Catalogue = estimate.catalogue
    if part not in catalogue.parts:
        return Problem(PLACE, text, f"{shown(part)} is no part", choose(part, catalogue.parts))
    if not re.fullmatch(r"\d{1,6}(\.\d{1,3})?", size) or not Decimal(size):
        return Problem(PLACE, text, f"{shown(size)} is no size of a pack", FORM)
    price = figure(found["price"], estimate.job.currency)
    if isinstance(price, Unfit):
        return Problem(PLACE, text, price.found, price.write)
    if price.money is None or price.per is not None:
        return Problem(PLACE, text, f"{shown(price.said)} is not the price of one pack", FORM)
    on = price.basis or basis
    if on is None:
        return Problem(
            PLACE,
            text,
            "nothing says whether it is ex or inc VAT",
            'write it beside the price, as in "48.00 ex", or give --vat',
        )
    unit, pack = catalogue.parts[part].unit, Decimal(size)
    words = catalogue.parts[part].trade_name or catalogue.parts[part].description
    packs = next((line.packs for line in estimate.order.lines if (line.part, line.pack) == (part, pack)), 0)
    match = match_of(estimate, part, "")
    return Answer(
        0,
        part,
        words,
        pack_words(pack, unit),
        pack * packs,
        "priced",
        pack,
        packs,
        price.money,
        on,
        "",
        "",
        match,
        PLACE,
    )
