"""What is handed in with a list: a file as the caller found it, and what the user says beside it."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Given:
    """A file as the caller found it: its name, its bytes, and the merchant that the user named with it ("" for none)."""

    file: str
    data: bytes
    merchant: str = ""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the user says beside the files; empty where not given.

    `merchant`: whose prices they are; `of`: whose list was answered (to-be-priced: one that any merchant may get);
    `vat`: "ex" or "inc"; `priced_on`: the day, year first; `accept`: lines whose notes or prices are right as they stand;
    `today`: the day it is, for telling a day that is still to come (None: not looked at).
    """

    merchant: str = ""
    of: str = ""
    vat: str = ""
    priced_on: str = ""
    accept: tuple[str, ...] = ()
    today: date | None = None
