"""Files that ship with the program: the only module that knows where `catalogues/` and `templates/` stand."""

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

FOLDERS = ("catalogues", "templates")


def folder(name: str) -> Traversable:
    """The shipped folder of that name, inside the installed package or beside it in a checkout.

    Raises:
        ValueError: `name` is none of `FOLDERS`.
        FileNotFoundError: the folder is in neither place; the installation is broken.
    """
    if name not in FOLDERS:
        raise ValueError(f"unknown folder {name!r}, expected one of {', '.join(FOLDERS)}")
    installed = files("estimator").joinpath(name)
    if installed.is_dir():
        return installed
    checkout = Path(__file__).resolve().parent.parent
    # The guard keeps a broken wheel from picking up a stranger's folder beside site-packages.
    if (checkout / "pyproject.toml").is_file() and (checkout / name).is_dir():
        return checkout / name
    raise FileNotFoundError(f"{name!r} is neither inside the package nor beside it in a checkout")


def read_bytes(name: str, relative: str) -> bytes:
    """One shipped file; `relative` uses forward slashes on every system."""
    return folder(name).joinpath(*relative.split("/")).read_bytes()


def read_text(name: str, relative: str) -> str:
    """One shipped text file, unaltered but for a byte-order mark."""
    return read_bytes(name, relative).decode("utf-8-sig")
