"""A finding: one result of a check, with its figure, its limit, and where the limit comes from."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

Level = Literal["stop", "ask", "note", "unchecked"]

LEVELS: tuple[Level, ...] = ("stop", "ask", "note", "unchecked")
"""In the order in which findings are told."""


@dataclass(frozen=True, slots=True)
class Finding:
    """`check` is the name of the check, `subject` what it is about (an id, a wall, "job"), `message` a question with
    numbers. `value` and `limit` are in `unit`. `change` is a dotted address and a value that would settle it.
    """

    check: str
    level: Level
    subject: str
    message: str
    value: Decimal | None = None
    limit: Decimal | None = None
    unit: str | None = None
    source: str | None = None
    edition: str | None = None
    change: str | None = None
