"""Files are written whole or not at all; what was there before stays when one of them cannot be replaced."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from estimator.documents.files import Unwritable, left_from_before, write_all

FILES = {"a.txt": b"new a", "b.txt": b"new b", "c.txt": b"new c"}


def contents(folder: Path) -> dict[str, bytes | None]:
    """Everything in a folder; None for a folder."""
    return {path.name: path.read_bytes() if path.is_file() else None for path in sorted(folder.iterdir())}


def old(folder: Path, *names: str) -> None:
    for name in names:
        (folder / name).write_bytes(b"old")


def test_files_are_written_in_their_order_into_a_folder_that_is_made(tmp_path: Path) -> None:
    folder = tmp_path / "deep" / "out"

    assert (folder / "a.txt", folder / "b.txt", folder / "c.txt") == write_all(folder, FILES)
    assert FILES == contents(folder)


def test_earlier_files_are_replaced_and_strangers_stay(tmp_path: Path) -> None:
    old(tmp_path, "a.txt", "notes.txt")
    write_all(tmp_path, FILES)

    assert {**FILES, "notes.txt": b"old"} == contents(tmp_path)


def test_a_file_in_place_of_the_folder_is_told(tmp_path: Path) -> None:
    old(tmp_path, "out")

    with pytest.raises(Unwritable, match=r"out: a file stands where the folder should be: name another folder"):
        write_all(tmp_path / "out", FILES)
    assert {"out": b"old"} == contents(tmp_path)


def test_a_file_above_the_folder_is_told(tmp_path: Path) -> None:
    old(tmp_path, "out")

    with pytest.raises(Unwritable, match="a file stands where the folder should be"):
        write_all(tmp_path / "out" / "deeper", FILES)


def test_a_folder_in_place_of_a_file_changes_nothing(tmp_path: Path) -> None:
    old(tmp_path, "a.txt")
    (tmp_path / "b.txt").mkdir()

    with pytest.raises(Unwritable, match=r"b\.txt: a folder of that name is in the way"):
        write_all(tmp_path, FILES)
    assert {"a.txt": b"old", "b.txt": None} == contents(tmp_path)


def refusing(method: Callable[..., Any], name: str) -> Callable[..., Any]:
    """The method of a path, but refused for one name, as where another program holds the file."""

    def refuse(self: Path, *given: Any, **more: Any) -> Any:
        if self.name == name:
            raise PermissionError(13, "Permission denied")
        return method(self, *given, **more)

    return refuse


def test_a_file_that_another_program_holds_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old(tmp_path, "a.txt", "b.txt")

    with monkeypatch.context() as patched:
        patched.setattr(Path, "open", refusing(Path.open, "b.txt"))
        with pytest.raises(
            Unwritable, match=r"b\.txt: cannot be replaced .*: close it in the program that has it open"
        ):
            write_all(tmp_path, FILES)
    assert {"a.txt": b"old", "b.txt": b"old"} == contents(tmp_path)


def test_a_file_that_is_taken_at_the_last_moment_puts_the_others_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old(tmp_path, "a.txt", "c.txt")
    monkeypatch.setattr(Path, "replace", refusing(Path.replace, "c.txt"))

    with pytest.raises(Unwritable, match=r"c\.txt: cannot be replaced"):
        write_all(tmp_path, FILES)
    assert {"a.txt": b"old", "c.txt": b"old"} == contents(tmp_path)


@pytest.mark.parametrize("nth", range(1, 6))
def test_a_move_that_fails_at_any_step_leaves_all_as_it_was(
    nth: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old(tmp_path, "a.txt", "b.txt")
    real, count = Path.replace, iter(range(1, 100))

    def sometimes(self: Path, target: Path) -> Path:
        if next(count) == nth:
            raise OSError(5, "Input/output error")
        return real(self, target)

    monkeypatch.setattr(Path, "replace", sometimes)
    with pytest.raises(Unwritable, match=r"Input/output error.*Nothing was changed"):
        write_all(tmp_path, FILES)
    assert {"a.txt": b"old", "b.txt": b"old"} == contents(tmp_path)


def test_an_earlier_file_that_cannot_be_put_back_is_kept_and_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old(tmp_path, "a.txt")
    real, count = Path.replace, iter(range(1, 100))

    def once(self: Path, target: Path) -> Path:
        if next(count) > 1:
            raise OSError(5, "Input/output error")
        return real(self, target)

    with monkeypatch.context() as patched:
        patched.setattr(Path, "replace", once)
        with pytest.raises(Unwritable, match=r"could not be put back and are kept as .*\.studbay-old-\d+-a\.txt"):
            write_all(tmp_path, FILES)
    assert [b"old"] == list(contents(tmp_path).values())


def test_a_full_disk_leaves_nothing_half_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old(tmp_path, "a.txt")
    real = Path.write_bytes

    def full(self: Path, data: bytes) -> int:
        real(self, data[:2])
        if data == FILES["b.txt"]:
            raise OSError(28, "No space left on device")
        return len(data)

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(Unwritable, match=r"b\.txt: cannot be written \(No space left on device\): make room"):
        write_all(tmp_path, FILES)
    assert {"a.txt": b"old"} == contents(tmp_path)


def test_a_folder_that_may_not_be_written_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # The superuser may write anywhere, so the answer of the system is given by hand.
    monkeypatch.setattr("os.access", lambda path, mode: False)

    with pytest.raises(Unwritable, match="nothing may be written in this folder"):
        write_all(tmp_path, FILES)
    assert {} == contents(tmp_path)


@pytest.mark.parametrize("name", ["", "..", "a/b", "/tmp/a", "a\\b"])
def test_a_name_that_leads_out_of_the_folder_is_a_mistake_of_the_program(name: str, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="no plain file name"):
        write_all(tmp_path, {name: b""})


def test_lists_of_merchants_that_are_not_used_any_more_are_told_and_stay(tmp_path: Path) -> None:
    old(tmp_path, "shopping-list-A.csv", "shopping-list-A.xlsx", "shopping-list-B.csv", "shopping-list-notes.txt")
    now = {"shopping-list-B.csv": b"new"}
    write_all(tmp_path, now)

    assert (tmp_path / "shopping-list-A.csv", tmp_path / "shopping-list-A.xlsx") == left_from_before(tmp_path, now)
    assert b"old" == (tmp_path / "shopping-list-A.xlsx").read_bytes()
