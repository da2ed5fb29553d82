"""What a returned list gives: answers line by line, what changed against the price list, and how merchants compare."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from estimator.catalogue.model import Basis, Merchant
from estimator.problems import Place, Problem

Status = Literal["priced", "held", "not-sold", "on-asking", "another", "no-price", "unreadable", "changed", "not-on-it"]
"""`held`: there is a price, and a note that may change the goods, until the user accepts the line; `not-sold`: they say n/a; `on-asking`: they want to be asked; `another`: something else is offered, which is told and
never priced; `no-price`: left blank; `unreadable`: there is a problem for it; `changed`: its row says something else than our line, so nothing is taken from it; `not-on-it`: the line was taken off."""


@dataclass(frozen=True, slots=True)
class Told:
    """Something that was found and is worth knowing; nothing has to be changed for it."""

    place: Place
    text: str

    def __str__(self) -> str:
        return f"{self.place}: {self.text}"


@dataclass(frozen=True, slots=True)
class Answer:
    """What a merchant says to one line of a list.

    `price` is for one pack of `pack` units of the part, in `basis`; `packs` of them are asked for (0: left open).
    `quantity` is what the line asks for, in the part's unit. `number` is 0 for a price that was typed. `said` holds the
    merchant's own words (of a line that is held, those that are not understood), `match` the make letter of the price
    that the line rests on. `lengths`: so many lengths cut to order were asked for, 0 for what is not cut. `asked` is the
    pack that was asked for, in words, where the price is for another one; `make` the maker that the merchant names;
    `accepted` the words that may change the goods and that the user has accepted.
    """

    number: int
    part: str
    words: str
    pack_words: str
    quantity: Decimal
    status: Status
    pack: Decimal
    packs: int
    price: Decimal | None
    basis: Basis | None
    said: str
    code: str
    match: str
    place: Place
    lengths: int = 0
    asked: str = ""
    make: str = ""
    accepted: str = ""


@dataclass(frozen=True, slots=True)
class Returned:
    """One list as it came back. `merchant` is whose prices they are ("" where nobody says).

    `answers` is the merchant whose list it was, "" for a list that any merchant may get. `seller` is the row of merchants.csv that they belong to, `known` whether the catalogue has it already. Lines stand
    in the order of their numbers; problems and what is told in the order of the file. `mark` is that of the list.
    """

    merchant: str
    answers: str
    file: str
    priced_on: date | None
    good_until: str
    seller: Merchant | None
    known: bool
    lines: tuple[Answer, ...]
    told: tuple[Told, ...]
    problems: tuple[Problem, ...]
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """One price beside the one that the estimate rests on, both for one pack.

    `before` is in `before_basis` and None where the price list has no such pack. `basis` is None where nothing says ex or
    inc VAT, and there is no difference then. `difference` is for all `packs`, in
    `basis`, to the penny; None where there is nothing to compare with, or the number of packs is left open. Of lengths
    cut to order `pack` is one length, and `metre_before` and `metre_after` are what a metre comes to, to four places.
    """

    number: int
    part: str
    words: str
    pack: Decimal
    pack_words: str
    packs: int
    before: Decimal | None
    before_basis: Basis | None
    after: Decimal
    basis: Basis | None
    difference: Decimal | None
    metre_before: Decimal | None = None
    metre_after: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Sums:
    """What `lines` lines come to, before and now, to the penny.

    `basis` is None, and so are the sums on it, where lines differ in it; those inc VAT are always there. `left_open` lines
    have both prices, but nothing says how many packs: they are not among `lines`.
    """

    lines: int
    basis: Basis | None
    before: Decimal | None
    after: Decimal | None
    difference: Decimal | None
    before_inc: Decimal
    after_inc: Decimal
    difference_inc: Decimal
    left_open: int = 0


@dataclass(frozen=True, slots=True)
class Reckoned:
    """A returned list with what it changes; `sums` over the lines that have a price on both sides."""

    returned: Returned
    changes: tuple[Change, ...]
    sums: Sums


@dataclass(frozen=True, slots=True)
class Bid:
    """What one merchant wants for all that a line asks, inc VAT to the penny; None where it gave no price."""

    merchant: str
    money: Decimal | None
    status: Status


@dataclass(frozen=True, slots=True)
class Beside:
    """One line with the bids of all merchants; `cheapest` names those with the least money, none where nobody priced it."""

    number: int
    words: str
    pack_words: str
    bids: tuple[Bid, ...]
    cheapest: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Bought:
    """Packs of one part that a way of buying takes from one merchant; `amount` in the merchant's own basis."""

    merchant: str
    part: str
    words: str
    pack_words: str
    pack: Decimal
    packs: int
    price: Decimal
    basis: Basis
    amount: Decimal


@dataclass(frozen=True, slots=True)
class Way:
    """One way to buy what the job needs: `merchants` are those of the returned lists, `others` those that stay as they are.

    `total` is paid at all tills, inc VAT, delivery included; None where it cannot be done, and then `lacking` names
    parts that nobody of them priced, or `why` the reasons. `filled` names parts taken from the price list as it was.
    """

    merchants: tuple[str, ...]
    others: tuple[str, ...]
    total: Decimal | None
    delivery: Decimal | None
    packs: tuple[Bought, ...]
    lacking: tuple[str, ...]
    filled: tuple[str, ...]
    why: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Several returned lists: line by line, each merchant alone, and all of them together (the last of `ways`).

    `common` is what the lines come to, inc VAT, that every merchant priced, merchant by merchant; `common_lines` how many.
    `delivery_unknown` names merchants whose delivery nobody has told yet.
    """

    merchants: tuple[str, ...]
    lines: tuple[Beside, ...]
    common_lines: int
    common: tuple[tuple[str, Decimal], ...]
    ways: tuple[Way, ...]
    delivery_unknown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """Everything that came of it: the lists with what they change, several of them compared, what follows for the job.

    `files`: new bytes by name, to be put into the job's folder whole or not at all; none where there is a problem, or
    nothing was to be written. `kept` counts prices in them that are new or replaced.
    """

    lists: tuple[Reckoned, ...]
    comparison: Comparison | None
    told: tuple[Told, ...]
    problems: tuple[Problem, ...]
    files: Mapping[str, bytes]
    kept: int
    currency: str
