"""Files written whole or not at all: names and bytes go in, paths come out; the only module that writes outputs.

A list to be priced that somebody has written on since is never written over: it is kept beside the new one.
"""

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from estimator.documents import list_issues, list_record
from estimator.documents.list_asked import AskedList

TEMPORARY = ".studbay-new-"
BEFORE = ".studbay-old-"

Kept = Callable[[Path, Path], object]
"""Told of a list that was put aside: where it stood, and where it is now."""


class Unwritable(OSError):
    """A file cannot be written; the message says which, and what to do. Nothing that was there before is changed."""


def write_all(
    folder: Path, files: Mapping[str, bytes], kept: Kept | None = None, asked: Sequence[AskedList] = ()
) -> tuple[Path, ...]:
    """Write every file into `folder`, which is made where it is missing; the paths in the order of `files`.

    All of them are first written beside their targets under other names, then put in place; where one cannot be put
    in place, those before it are put back as they were. Temporary files are removed in any case. A shopping list of an
    earlier run that is not among `files` stays: see `left_from_before`. A list that is not as we wrote it is put aside,
    and `kept` is told once all is in place; one that holds the same bytes already is left alone. What the lists ask goes
    into a record beside them, where `asked` says it.

    Raises:
        Unwritable: a folder or target that cannot be written or replaced.
        ValueError: a name that is no plain file name.
    """
    for name in files:
        if name in ("", ".", "..") or Path(name).name != name or "\\" in name:
            raise ValueError(f"{name!r} is no plain file name")
    _make(folder)
    targets = {folder / name: data for name, data in files.items()}
    lists = {name: data for name, data in files.items() if list_record.is_list(name)}
    record, issues = folder / list_record.NAME, folder / list_issues.NAME
    for target in (*targets, record, *((issues,) if asked else ())) if lists else targets:
        _check(target)
    changed = {target: data for target, data in targets.items() if not _same_list(target, data)}
    aside = list_record.to_put_aside(folder, changed)
    if lists:
        changed[record] = list_record.updated(folder, lists)
    if lists and asked:
        changed[issues] = list_issues.updated(folder, asked)
    fresh: dict[Path, Path] = {}
    try:
        for target, data in changed.items():
            fresh[target] = target.with_name(f"{TEMPORARY}{os.getpid()}-{target.name}")
            _write(fresh[target], target, data)
        _swap(fresh, aside)
    finally:
        _remove(fresh.values())
    for target, place in aside.items():
        if kept is not None:
            kept(target, place)
    return tuple(targets)


def left_from_before(folder: Path, files: Iterable[str], start: str = list_record.LIST) -> tuple[Path, ...]:
    """Lists in `folder` whose name has that `start` and is not among `files`: of merchants that are not used any more.

    They are told, never removed: a merchant's prices may have been written into them. What was put aside is not told
    again.
    """
    now = set(files)
    return tuple(
        sorted(
            path
            for path in folder.glob(f"{start}*")
            if list_record.is_list(path.name) and path.is_file() and path.name not in now
        )
    )


def _same_list(target: Path, data: bytes) -> bool:
    """Whether a list of these very bytes stands there already."""
    return list_record.is_list(target.name) and target.is_file() and target.read_bytes() == data


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except (FileExistsError, NotADirectoryError) as error:
        raise Unwritable(f"{folder}: a file stands where the folder should be: name another folder") from error
    except OSError as error:
        raise Unwritable(f"{folder}: the folder cannot be made ({_reason(error)}): name another folder") from error
    if not os.access(folder, os.W_OK | os.X_OK):
        raise Unwritable(f"{folder}: nothing may be written in this folder: name another, or change its permissions")


def _check(target: Path) -> None:
    """See that the target may be replaced. Windows refuses to open what another program holds; others do not tell."""
    if target.is_dir():
        raise Unwritable(f"{target}: a folder of that name is in the way: move it, or name another folder")
    if not target.exists():
        return
    try:
        with target.open("r+b"):
            pass
    except OSError as error:
        raise _held(target, error) from error


def _write(fresh: Path, target: Path, data: bytes) -> None:
    try:
        fresh.write_bytes(data)
    except OSError as error:
        raise Unwritable(
            f"{target}: cannot be written ({_reason(error)}): make room on the disk, or name another folder. "
            "Nothing was changed"
        ) from error


def _swap(fresh: Mapping[Path, Path], aside: Mapping[Path, Path]) -> None:
    """Put every new file in the place of its target; on a failure put back all that was there before.

    What stood there is removed in the end, but for those of `aside`, which go to the places named there and stay.
    """
    done: list[tuple[Path, Path | None]] = []
    try:
        for target, new in fresh.items():
            before = aside.get(target) or target.with_name(f"{BEFORE}{os.getpid()}-{target.name}")
            old = before if target.exists() else None
            try:
                if old is not None:
                    target.replace(old)
                done.append((target, old))
                new.replace(target)
            except OSError as error:
                raise _held(target, error) from error
    except BaseException as error:
        stranded = _put_back(done)
        if stranded:
            kept = ", ".join(str(path) for path in stranded)
            raise Unwritable(f"{error}; earlier files could not be put back and are kept as {kept}") from error
        raise
    _remove(old for target, old in done if old is not None and target not in aside)


def _put_back(done: list[tuple[Path, Path | None]]) -> list[Path]:
    """Undo replacements, the last one first; what could not be undone stays under its temporary name."""
    stranded = []
    for target, old in reversed(done):
        try:
            if old is None:
                target.unlink(missing_ok=True)
            else:
                old.replace(target)
        except OSError:
            if old is not None:
                stranded.append(old)
    return stranded


def _held(target: Path, error: OSError) -> Unwritable:
    return Unwritable(
        f"{target}: cannot be replaced ({_reason(error)}): close it in the program that has it open, then run this "
        "again. Nothing was changed"
    )


def _reason(error: OSError) -> str:
    return error.strerror or str(error)


def _remove(paths: Iterable[Path]) -> None:
    for path in paths:
        path.unlink(missing_ok=True)
