"""Whether a file may be opened as a workbook at all: its bytes go in, reasons against it come out, nothing is unpacked."""

import zipfile
from collections.abc import Sequence
from io import BytesIO

from estimator.returned.wrong_file import by_members

MB = 1_000_000
FILE_BYTES = 20 * MB
UNPACKED_BYTES = 50 * MB
MEMBERS = 1000
RATIO = 200
"""A list unpacks to ten or twenty times its size; from `RATIO_FROM_BYTES` on, more than this is no list."""
RATIO_FROM_BYTES = 5 * MB
ZIP, OLD_OFFICE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
NO_WORKBOOK = "save the list as .xlsx or .csv, and give that file"


def looks_packed(data: bytes) -> bool:
    """Whether the bytes are a workbook's, or those of another file of an office program."""
    return data.startswith((ZIP, OLD_OFFICE))


def refusal(data: bytes) -> tuple[str, str] | None:
    """Why the file is not opened, and what to do; None where it may be."""
    if data.startswith(OLD_OFFICE):
        return "the workbook is locked by a password, or of the old kind .xls", "save it as .xlsx without a password"
    if len(data) > FILE_BYTES:
        return f"the file has {_mb(len(data))} MB, and a list has less than one", NO_WORKBOOK
    try:
        with zipfile.ZipFile(BytesIO(data)) as packed:
            members = packed.infolist()
            names = packed.namelist()
            other = by_members(names, _mime(packed) if "mimetype" in names else "")
            if other is not None:
                return f"this is {other}, and no .xlsx workbook", NO_WORKBOOK
            if "mimetype" in names:
                return "this is a document of another kind, and no .xlsx workbook", NO_WORKBOOK
    except (zipfile.BadZipFile, zipfile.LargeZipFile, EOFError, OSError, ValueError, NotImplementedError):
        return "this is no workbook, or it is damaged", NO_WORKBOOK
    return _too_much(members) or _no_workbook(members)


def _mime(packed: zipfile.ZipFile) -> str:
    """What a document says of its own kind, in its first letters."""
    with packed.open("mimetype") as stream:
        return stream.read(200).decode("ascii", "replace")


def _too_much(members: Sequence[zipfile.ZipInfo]) -> tuple[str, str] | None:
    unpacked = sum(member.file_size for member in members)
    packed = sum(member.compress_size for member in members)
    write = "copy the lines into a new workbook, and give that"
    if len(members) > MEMBERS:
        return f"the workbook holds {len(members):,} files, and a list has fewer than a hundred", write
    if unpacked > UNPACKED_BYTES:
        return f"the workbook unpacks to {_mb(unpacked)} MB; at most {_mb(UNPACKED_BYTES)} MB are read", write
    if unpacked > RATIO_FROM_BYTES and unpacked > RATIO * packed:
        return f"the workbook unpacks to {unpacked // max(packed, 1):,} times its size; no list does", write
    return None


def _no_workbook(members: Sequence[zipfile.ZipInfo]) -> tuple[str, str] | None:
    names = [member.filename for member in members]
    if any(member.flag_bits & 1 for member in members):
        return "the workbook is locked by a password", "save it without a password"
    if "[Content_Types].xml" not in names or not any(name.startswith("xl/") for name in names):
        return "this is a packed file, but no .xlsx workbook", NO_WORKBOOK
    return None


def _mb(count: int) -> str:
    return f"{-(-count // MB):,}"
