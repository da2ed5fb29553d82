"""Files are written whole or not at all; what was there before stays when one of them cannot be replaced."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from estimator.documents.files import Unwritable, left_from_before, write_all
from estimator.documents.shopping import list_files, render_lists
from tests import estimates

FILES = {"a.txt": b"new a", "b.txt": b"new b", "c.txt": b"new c"}


def contents(folder: Path) -> dict[str, bytes | None]:
    """Everything in a folder; None for a folder."""
    return {path.name: path.read_bytes() if path.is_file() else None for path in sorted(folder.iterdir())}


RECORD = ".studbay-lists"


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


# ---- Lists that somebody has written on


def kept_by(folder: Path, files: dict[str, bytes]) -> list[tuple[str, str]]:
    """Names of the lists that were put aside while `files` were written, with the names they have now."""
    told: list[tuple[str, str]] = []
    write_all(folder, files, lambda before, now: told.append((before.name, now.name)))
    return told


def without_record(folder: Path) -> dict[str, bytes | None]:
    return {name: data for name, data in contents(folder).items() if name != RECORD}


@pytest.mark.parametrize("name", ["shopping-list-A.xlsx", "shopping-list-A.csv", "to-be-priced-timber.xlsx"])
def test_a_list_as_we_wrote_it_is_replaced_without_a_word(name: str, tmp_path: Path) -> None:
    assert [] == kept_by(tmp_path, {name: b"first"})
    assert [] == kept_by(tmp_path, {name: b"second"})
    assert {name: b"second"} == without_record(tmp_path)


@pytest.mark.parametrize("name", ["shopping-list-A.xlsx", "shopping-list-A.csv", "to-be-priced-timber.xlsx"])
def test_a_list_that_was_written_on_is_kept_beside_the_new_one(name: str, tmp_path: Path) -> None:
    write_all(tmp_path, {name: b"first"})
    (tmp_path / name).write_bytes(b"first, and prices")
    aside = name.replace(".", " (kept).")

    assert [(name, aside)] == kept_by(tmp_path, {name: b"second"})
    assert {name: b"second", aside: b"first, and prices"} == without_record(tmp_path)
    assert [] == kept_by(tmp_path, {name: b"third"})
    assert {name: b"third", aside: b"first, and prices"} == without_record(tmp_path)


def test_what_is_kept_never_takes_the_place_of_what_was_kept_before(tmp_path: Path) -> None:
    name = "shopping-list-A.xlsx"
    for day in ("one", "two", "three"):
        write_all(tmp_path, {name: f"new {day}".encode()})
        (tmp_path / name).write_bytes(f"prices {day}".encode())
    write_all(tmp_path, {name: b"last"})

    assert {
        name: b"last",
        "shopping-list-A (kept).xlsx": b"prices one",
        "shopping-list-A (kept 2).xlsx": b"prices two",
        "shopping-list-A (kept 3).xlsx": b"prices three",
    } == without_record(tmp_path)


@pytest.mark.parametrize("record", [None, b"", b"\xff\xfe", b"0  shopping-list-A.csv\n", b"nothing of ours"])
def test_without_a_record_of_it_every_list_counts_as_written_on(record: bytes | None, tmp_path: Path) -> None:
    (tmp_path / "shopping-list-A.csv").write_bytes(b"who knows")
    if record is not None:
        (tmp_path / RECORD).write_bytes(record)

    assert [("shopping-list-A.csv", "shopping-list-A (kept).csv")] == kept_by(tmp_path, {"shopping-list-A.csv": b"new"})
    assert b"who knows" == (tmp_path / "shopping-list-A (kept).csv").read_bytes()


def test_a_list_that_would_be_the_same_is_left_alone(tmp_path: Path) -> None:
    files = {"shopping-list-A.xlsx": b"same", "a.txt": b"a"}
    (tmp_path / "shopping-list-A.xlsx").write_bytes(b"same")
    before = (tmp_path / "shopping-list-A.xlsx").stat()

    assert [] == kept_by(tmp_path, files)
    after = (tmp_path / "shopping-list-A.xlsx").stat()
    assert (before.st_ino, before.st_mtime_ns) == (after.st_ino, after.st_mtime_ns)
    assert [] == kept_by(tmp_path, {"shopping-list-A.xlsx": b"other"})


def test_other_files_are_replaced_as_ever_and_lists_alone_are_on_record(tmp_path: Path) -> None:
    old(tmp_path, "a.txt", "quote.html")
    assert [] == kept_by(tmp_path, {**FILES, "quote.html": b"new"})
    assert {**FILES, "quote.html": b"new"} == contents(tmp_path)


def test_the_record_remembers_lists_that_are_not_written_this_time(tmp_path: Path) -> None:
    write_all(tmp_path, {"shopping-list-A.csv": b"first", "shopping-list-B.csv": b"first"})
    write_all(tmp_path, {"shopping-list-A.csv": b"second"})
    write_all(tmp_path, {"to-be-priced-hire.csv": b"first"})

    assert [] == kept_by(tmp_path, {"shopping-list-B.csv": b"second", "shopping-list-A.csv": b"third"})


@pytest.mark.parametrize("nth", range(1, 9))
def test_a_move_that_fails_leaves_what_was_written_on_under_its_own_name(
    nth: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    names = ("a.txt", "shopping-list-A.xlsx", "shopping-list-B.xlsx")
    write_all(tmp_path, dict.fromkeys(names, b"first"))
    (tmp_path / names[1]).write_bytes(b"prices")
    before = contents(tmp_path)
    real, count = Path.replace, iter(range(1, 100))

    def sometimes(self: Path, target: Path) -> Path:
        if next(count) == nth:
            raise OSError(5, "Input/output error")
        return real(self, target)

    with monkeypatch.context() as patched:
        patched.setattr(Path, "replace", sometimes)
        with pytest.raises(Unwritable, match="Input/output error"):
            kept_by(tmp_path, dict.fromkeys(names, b"second"))
    assert before == contents(tmp_path)
    assert [(names[1], "shopping-list-A (kept).xlsx")] == kept_by(tmp_path, dict.fromkeys(names, b"second"))


def test_a_folder_in_place_of_the_record_changes_nothing(tmp_path: Path) -> None:
    (tmp_path / RECORD).mkdir()

    with pytest.raises(Unwritable, match=r"\.studbay-lists: a folder of that name is in the way"):
        write_all(tmp_path, {"shopping-list-A.csv": b"new"})
    assert {RECORD: None} == contents(tmp_path)


def test_kept_lists_are_not_told_again_as_left_over(tmp_path: Path) -> None:
    write_all(tmp_path, {"shopping-list-A.csv": b"first", "to-be-priced-hire.csv": b"first"})
    (tmp_path / "shopping-list-A.csv").write_bytes(b"prices")
    now = {"shopping-list-A.csv": b"second"}
    write_all(tmp_path, now)

    assert (tmp_path / "shopping-list-A (kept).csv").is_file()
    assert () == left_from_before(tmp_path, now)
    assert (tmp_path / "to-be-priced-hire.csv",) == left_from_before(tmp_path, now, "to-be-priced-")


@pytest.mark.parametrize("blank", [False, True], ids=["ordered", "blank"])
def test_a_price_that_a_merchant_wrote_into_a_workbook_outlives_the_next_estimate(blank: bool, tmp_path: Path) -> None:
    before, after = (list_files(estimates.rich(title=title), blank) for title in ("Shed", "Larger shed"))
    name = next(iter(before))
    write_all(tmp_path, before)
    book = openpyxl.load_workbook(BytesIO(before[name]))
    book.worksheets[0]["L30"] = 12.5
    book.save(tmp_path / name)

    stem = name.removesuffix(".xlsx")
    assert [(name, f"{stem} (kept).xlsx")] == kept_by(tmp_path, after)
    assert 12.5 == openpyxl.load_workbook(tmp_path / f"{stem} (kept).xlsx").worksheets[0]["L30"].value
    assert after[name] == (tmp_path / name).read_bytes()


def test_a_word_in_any_column_of_a_table_outlives_the_next_estimate(tmp_path: Path) -> None:
    files = render_lists(estimates.rich())
    name = "shopping-list-B.csv"
    write_all(tmp_path, files)
    (tmp_path / name).write_bytes(files[name].replace(b"one make with line", b"only in grey, line", 1))

    assert [(name, "shopping-list-B (kept).csv")] == kept_by(tmp_path, render_lists(estimates.rich(title="Other")))
    assert b"only in grey" in (tmp_path / "shopping-list-B (kept).csv").read_bytes()
