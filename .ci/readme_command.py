"""Print one of the README's two commands, so that what CI runs is what a reader would paste."""

import re
import sys
from pathlib import Path

WHICH = {"job": 0, "tests": 1}


def main() -> None:
    """Print the command named on the command line, `job` or `tests`."""
    readme = Path(__file__).resolve().parent.parent / "README.md"
    commands = re.findall(r"^```sh\n(.+?)\n```$", readme.read_text(encoding="utf-8"), re.M | re.S)
    print(commands[WHICH[sys.argv[1]]])


main()
