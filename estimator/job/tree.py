"""A `Tree`: the plain values of a job and where each stands, whatever kind of file they came from.

The reader of a text file makes one, a reader of a spreadsheet may make another; all checks start from it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from estimator.problems import Place

Path = tuple[str | int, ...]
"""The way to a value: keys of tables, and numbers from 0 in lists."""


@dataclass(frozen=True, slots=True)
class Tree:
    """`data` as a TOML reader gives it (text, whole numbers, `Decimal`, booleans, dates, lists, dicts), with places.

    `places` tells where a value or table starts, `key_places` where its key does. A path without a place of its own
    stands where the nearest thing around it stands.
    """

    data: Mapping[str, object]
    file: str
    places: Mapping[Path, Place] = field(default_factory=dict)
    key_places: Mapping[Path, Place] = field(default_factory=dict)

    def place(self, path: Path) -> Place:
        """Where the value at `path` starts."""
        for length in range(len(path), 0, -1):
            found = self.places.get(path[:length])
            if found is not None:
                return found
        return Place(self.file, 1, 1)

    def key_place(self, path: Path) -> Place:
        """Where the key of the value at `path` starts."""
        return self.key_places.get(path) or self.place(path)


def address(parts: tuple[str, ...]) -> str:
    """The dotted address of a place in the job, as messages and scenarios write it; a name holding a dot is quoted."""
    return ".".join(f'"{part}"' if "." in part else part for part in parts)
