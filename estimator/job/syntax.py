"""Why a text is no TOML, in plain words: the reader's own complaint and the line it stands on -> one `Problem`.

The complaint of `tomllib` ends in the place where it gave up; the cause is most often on that line. What it says of
values is explained by `syntax_values`, what it says of keys, headers and brackets here.
"""

import re
from collections.abc import Callable

from estimator.job import syntax_values
from estimator.job.keys import all_keys
from estimator.job.kinds import Kind
from estimator.job.shapes import Key, ListOf
from estimator.job.syntax_spot import Spot, locate, open_bracket
from estimator.problems import Place, Problem, choose, nearest
from estimator.quantities import Wrong

_AT = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")
_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\[\]]*?)\s*\]?\]?\s*(?:#.*)?$")
_KEY = re.compile(r"^\s*([^=#]+?)\s*=")
_REMARK = re.compile(r"^\s*(//|;|--|/\*|\*|%|<!--)")


Cause = tuple[Spot, Wrong]


def explain(text: str, complaint: str, name: str) -> Problem:
    """The problem with a text that `tomllib` refused with `complaint`."""
    match = _AT.search(complaint)
    spot = locate(text, match)
    words = complaint[: match.start()] if match else complaint
    place, wrong = _cause(text, spot, words)
    return Problem(Place(name, place.number, place.column), "", wrong.found, wrong.write)


def _cause(text: str, spot: Spot, words: str) -> Cause:
    for start, explain_it in _CAUSES.items():
        if words.startswith(start):
            return explain_it(text, spot)
    shown = words[:1].lower() + words[1:]
    return spot, Wrong(shown, "look here for a missing quote, bracket or =")


def _twice(text: str, spot: Spot) -> Cause:
    """A key written twice, or a header that clashes with an earlier one."""
    number = spot.number
    while number > 1 and not (_KEY.match(spot.lines[number - 1]) or _HEADER.match(spot.lines[number - 1])):
        number -= 1
    spot = Spot(spot.lines, number, 1)
    if _HEADER.match(spot.line):
        return _header(text, spot)
    match = _KEY.match(spot.line)
    key = match[1] if match else spot.line.strip()
    before = next((at for at in range(number - 1, 0, -1) if _names(spot.lines[at - 1], key)), None)
    told = f", first in line {before}" if before else ""
    return _at_text(spot), Wrong(f"{key} is written twice{told}", "keep one of them")


def _names(line: str, key: str) -> bool:
    match = _KEY.match(line)
    return match is not None and match[1] == key


def _header(text: str, spot: Spot) -> Cause:
    """A header of a table that is there already, in another form or the same."""
    match = _HEADER.match(spot.line)
    name = match[2] if match else ""
    before = [
        (at, str(found[1]), str(found[2]))
        for at in range(1, spot.number)
        if (found := _HEADER.match(spot.lines[at - 1])) and f"{found[2]}.".startswith(f"{name}.")
    ]
    spot = _at_text(spot)
    brackets = match[1] if match else "["
    if not before:
        return spot, Wrong(f"{name} is written already, in another way", "write all of it in one place")
    line, first, other = before[0]
    if other != name:
        wrong = Wrong(f"{_whole(first, other)} in line {line} stands before its {name}",
                      f"move it below {_whole(brackets, name)}")  # fmt: skip
    elif first != brackets:
        wrong = Wrong(f"[{name}] and [[{name}]] are mixed, see line {line}",
                      f"write [[{name}]], in double brackets, each time")  # fmt: skip
    elif any(key.name == name and isinstance(key.shape, ListOf) for _, key in all_keys()):
        wrong = Wrong(f"[{name}] stands in line {line} already", f"write [[{name}]], in double brackets, each time")
    else:
        wrong = Wrong(f"[{name}] stands in line {line} already", f"put all its keys under one [{name}]")
    return spot, wrong


def _whole(brackets: str, name: str) -> str:
    return f"{brackets}{name}{']' * len(brackets)}"


def _at_text(spot: Spot) -> Spot:
    return Spot(spot.lines, spot.number, len(spot.line) - len(spot.line.lstrip()) + 1)


def _complete(_: str, spot: Spot) -> Cause:
    return _at_text(spot), Wrong("this adds to something that is complete already", "write all of it in one place")


def _no_equals(_: str, spot: Spot) -> Cause:
    line = spot.line.strip()
    first, equals, _rest = line.partition("=")
    if _REMARK.match(line):
        return _remark(spot)
    if colon := re.match(r"([\w-]+)\s*:\s*(.+)", line):
        return spot, Wrong("there is a colon where = belongs", f"write {colon[1]} = {colon[2]}")
    if inside := re.match(r"([\w-]+)\s*:\s*([^,}]+)", spot.item):
        return spot, Wrong("there is a colon where = belongs", f"write {inside[1]} = {inside[2].strip()}")
    if equals and len(first.split()) > 1 and re.fullmatch(r"[\w -]+", first):
        return _at_text(spot), _blanks(spot, first.strip())
    bare = re.sub(r"\s+#.*$", "", line)
    if header := next((key for home, key in all_keys() if not home.tables and key.name == bare), None):
        return _at_text(spot), _no_brackets(header)
    if quoted := re.fullmatch(r"""([\w-]+)\s*(["'\[{].*|-?\d.*)""", line):
        return spot, Wrong("there is no = here", f"write {quoted[1]} = {quoted[2]}")
    return spot, Wrong("there is no = here", "write key = value, or start a remark with #")


def _no_brackets(key: Key) -> Wrong:
    """The name of a table without its brackets."""
    if isinstance(key.shape, Kind):
        return Wrong("there is no = here", f"write {key.name} = {key.example or key.shape.example}")
    whole = f"[[{key.name}]]" if isinstance(key.shape, ListOf) else f"[{key.name}]"
    return Wrong(f"{key.name} stands without its brackets", f"write {whole}")


def _blanks(spot: Spot, key: str) -> Wrong:
    """A key of several words: what it may have been meant for, of the keys of its table, or that keys have no blanks."""
    found = f'the key "{key}" has blanks in it'
    known = _keys_here(spot)
    joined = "_".join(key.lower().split())
    one = next((word for word in key.lower().split() if word in known), None)
    anywhere = any(key.name == joined for _, key in all_keys())
    meant = joined if anywhere else nearest(joined, known) or one
    if meant is None:
        return Wrong(
            found, f"no key here is like it; {choose('', known)}" if known else f"write {joined}, without blanks"
        )
    return Wrong(found, f"write {meant} = {spot.value}")


def _keys_here(spot: Spot) -> tuple[str, ...]:
    """The keys of the table that a line stands in."""
    headers = (_HEADER.match(line) for line in reversed(spot.lines[: spot.number - 1]))
    header = next((found for found in headers if found is not None and found[2]), None)
    tables = tuple(part.strip() for part in header[2].split(".")) if header else ()
    return tuple(dict.fromkeys(key.name for home, key in all_keys() if home.tables == tables))


def _remark(spot: Spot) -> Cause:
    return _at_text(spot), Wrong("this is no way to start a remark", "start it with #")


def _statement(_: str, spot: Spot) -> Cause:
    if _REMARK.match(spot.line):
        return _remark(spot)
    if spot.line.lstrip().startswith("="):
        return _at_text(spot), Wrong("there is no key before the =", "write key = value")
    shown = spot.line.strip()[:1]
    return _at_text(spot), Wrong(f'a line does not start with "{shown}"', "write key = value, or start a remark with #")


def _declaration(_: str, spot: Spot) -> Cause:
    match = re.match(r"\s*(\[\[?)\s*([\w .-]*)", spot.line)
    brackets, name = (match[1], match[2].strip()) if match else ("[", "")
    whole = _whole(brackets, name.replace(" ", "_"))
    return _at_text(spot), Wrong("this line in square brackets is not right", f"write {whole}")


def _key_part(text: str, spot: Spot) -> Cause:
    if re.match(r"\s*\[\[?\s*\]", spot.line):
        return _at_text(spot), Wrong("there is no name in the square brackets", "write for example [[room]]")
    opened = open_bracket(text, spot)
    if opened is not None and opened.rest.startswith("{"):
        if spot.rest.startswith("}"):
            return spot, Wrong("there is a comma before the }", "take it out")
        return _over_lines(opened)
    return spot, Wrong("a key does not start like this", "write keys in plain letters, digits and _")


def _over_lines(opened: Spot) -> Cause:
    return opened, Wrong("a table in braces { } goes over several lines", "write it on one line")


def _unclosed(text: str, spot: Spot) -> Cause:
    """A list or a table in braces that never ends, or misses a comma."""
    opened = open_bracket(text, spot)
    if opened is None:
        return spot, Wrong("a bracket is not closed", "write ] or } where it ends")
    closing = "]" if opened.rest.startswith("[") else "}"
    kind = "the list" if closing == "]" else "the table in braces"
    next_one = re.match(r"\s*(\[|[\w.\"-]+\s*=)", spot.line) and spot.number > opened.number
    if next_one or not spot.rest.strip():
        if closing == "}" and spot.number == opened.number and opened.number < len(spot.lines):
            return _over_lines(opened) if "}" not in spot.line else (opened, Wrong(f"{kind} is not closed", "write }"))
        return opened, Wrong(f"{kind} that starts here is not closed", f"write {closing} where it ends")
    values = None if re.match(r"[\w-]+\s*=", spot.rest) else syntax_values.bare(spot.item)
    return spot, values or Wrong(f"there is no comma before this in {kind}", "write a comma between two items")


def _quote(text: str, spot: Spot) -> Cause:
    """A text that is not closed where its line ends."""
    curly = syntax_values.curly(spot.line)
    if curly is not None:
        return spot, curly
    for mark in ('"""', "'''"):
        if text.count(mark) % 2:
            before = text[: text.rfind(mark)]
            place = Spot(spot.lines, before.count("\n") + 1, len(before) - before.rfind("\n"))
            return place, Wrong(f"the text that starts with {mark} is not closed", f"write {mark} where it ends")
    mark = "'" if spot.line.count('"') % 2 == 0 and spot.line.count("'") % 2 else '"'
    return spot, Wrong("a text in quotes is not closed", f"write {mark} where it ends, on the same line")


def _backslash(_: str, spot: Spot) -> Cause:
    return spot, Wrong("a \\ has a meaning of its own in double quotes", "write / or put the text in single quotes")


def _in_braces_twice(_: str, spot: Spot) -> Cause:
    return spot, Wrong("a key is written twice in these braces", "keep one of them")


def _after(_: str, spot: Spot) -> Cause:
    slip = syntax_values.number(spot.value)
    if slip is not None and not spot.line.lstrip().startswith("["):
        start = spot.line.index(spot.value, spot.line.index("=") + 1)
        return Spot(spot.lines, spot.number, start + 1), slip
    return spot, syntax_values.after(spot.line, spot.rest)


def _value(text: str, spot: Spot) -> Cause:
    opened = open_bracket(text, spot)
    if opened is not None and opened.number < spot.number and re.match(r"\s*(\[|[\w-]+\s*=)", spot.line):
        return _unclosed(text, spot)
    return spot, syntax_values.value(spot.value, spot.rest)


def _digits(_: str, spot: Spot) -> Cause:
    return Spot(spot.lines, 1, 1), Wrong("a number has thousands of digits", "write a shorter one")


_CAUSES: dict[str, Callable[[str, Spot], Cause]] = {
    "Cannot overwrite a value": _twice,
    "Cannot declare": _header,
    "Cannot mutate": _complete,
    "Expected '='": _no_equals,
    "Invalid statement": _statement,
    "Expected ']": _declaration,
    "Invalid initial character": _key_part,
    "Unclosed": _unclosed,
    "Unterminated string": _quote,
    'Expected "': _quote,
    "Illegal character": _quote,
    "Found invalid character": _quote,
    "Unescaped": _backslash,
    "Duplicate inline table key": _in_braces_twice,
    "Expected newline": _after,
    "Invalid value": _value,
    "Invalid date": _value,
    "Exceeds the limit": _digits,
}
"""Causes by how the complaint starts."""
