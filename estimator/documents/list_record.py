"""What was last written into a folder of lists, so that a list somebody has written on since is known and kept.

A folder and the lists to be written go in; which to put aside and where, and the record's new text, come out. The record
holds one SHA-256 a list. A list without its line in the record, or other than that line says, counts as written on.
"""

import re
from collections.abc import Iterable, Mapping
from hashlib import sha256
from itertools import count
from pathlib import Path

NAME = ".studbay-lists"
LIST, BLANK = "shopping-list-", "to-be-priced-"
HEAD = "# What Studbay last wrote, so that a list somebody has written on since is never written over. Leave it here.\n"
_ASIDE = re.compile(r" \(kept( \d+)?\)$")
_LINE = re.compile(r"([0-9a-f]{64})  (.+)")


def is_list(name: str) -> bool:
    """Whether a file of that name is a list to be priced, as we write it."""
    path = Path(name)
    return name.startswith((LIST, BLANK)) and path.suffix in (".csv", ".xlsx") and not _ASIDE.search(path.stem)


def to_put_aside(folder: Path, targets: Iterable[Path]) -> dict[Path, Path]:
    """Of the files about to be replaced, the lists that are not as we wrote them, and a free name beside each."""
    known = _read(folder)
    return {
        target: _free(target)
        for target in targets
        if is_list(target.name)
        and target.is_file()
        and sha256(target.read_bytes()).hexdigest() != known.get(target.name)
    }


def updated(folder: Path, lists: Mapping[str, bytes]) -> bytes:
    """The record with these lists in it; those of other lists stay."""
    sums = _read(folder) | {name: sha256(data).hexdigest() for name, data in lists.items()}
    return (HEAD + "".join(f"{sums[name]}  {name}\n" for name in sorted(sums))).encode()


def _read(folder: Path) -> dict[str, str]:
    """Sums by name; a record that cannot be read says nothing, and every list is then kept."""
    try:
        text = (folder / NAME).read_text(encoding="utf-8")
    except (FileNotFoundError, UnicodeDecodeError):
        return {}
    return {found[2]: found[1] for line in text.splitlines() if (found := _LINE.fullmatch(line))}


def _free(target: Path) -> Path:
    names = (target.with_name(f"{target.stem} (kept{f' {n}' if n > 1 else ''}){target.suffix}") for n in count(1))
    return next(path for path in names if not path.exists())
