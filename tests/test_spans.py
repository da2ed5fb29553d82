"""Places in a TOML text: the scanner finds exactly what the language's own reader finds, and where it stands."""

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.job.spans import spans

SHIPPED = sorted((Path(__file__).resolve().parent.parent / "templates").rglob("*.toml"))

NASTY = '''# a remark = "not a key"
plain = "x"  # and [another]
"quoted key" = 1
'its' = 2
dotted.key."with dot.in it".'and'   =   3
dotted.other = [ [1, 2], [ "a]b", 'c}d', """e
f]""" ], ]
inline = { a = 1, b.c = { d = [ { e = 1 }, { e = 2 } ] }, "f g" = 'h' }
numbers = [ +1, -inf, 1.5e-3, 0xff, nan, 1_000 ]
dates = [ 2026-10-01, 2026-10-01 07:30:00, 2026-10-01T07:30:00.5Z, 07:30:00.25 ]
text = """
[not.a.table]
key = "value" \\
   and a quote \\""" here""""
raw = \'\'\'
[[neither]] 'quoted' = 1\'\'\'
empty = [ ]
none = {}
1234 = "digits"
3.14 = "two keys"

[table]
x=1
  [table.inner . "deep.er"]
  y = true
[[list]]
name = "one"
  [list.sub]
  z = 1
  [[list.sub.items]]
  [[list.sub.items]]
  a.b = 2
[[list]]
[[list.more]]
[super.sub]
k = 1
[super]
late = 2
[a]
b.c = 1
[a.d]
'''


def paths(data: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Every path below `data`, tables and lists included."""
    if path:
        yield path
    if isinstance(data, dict):
        for key, value in data.items():
            yield from paths(value, (*path, key))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            yield from paths(value, (*path, number))


def agree(text: str) -> None:
    """The paths of the scanner are those of the reader, for values and for keys, and every place is in the text."""
    data = set(paths(tomllib.loads(text)))
    found = spans(text)
    assert data == set(found.values)
    assert {path for path in data if isinstance(path[-1], str)} == set(found.keys)
    lines = text.split("\n")
    for line, column in [*found.values.values(), *found.keys.values()]:
        assert 1 <= line <= len(lines)
        assert 1 <= column <= len(lines[line - 1])


def test_a_nasty_document_is_seen_as_its_reader_sees_it() -> None:
    agree(NASTY)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.name)
def test_shipped_documents_are_seen_as_their_reader_sees_them(path: Path) -> None:
    agree(path.read_text(encoding="utf-8"))


def test_values_keys_and_tables_stand_where_a_person_would_point() -> None:
    text = 'a = "x"\n  b.c = [1,\n 2]\n[t]\nd = { e = 1 }\n[[l]]\n[[ l ]]\nf=1\n'
    found = spans(text)
    assert (1, 5) == found.values["a",]
    assert (1, 1) == found.keys["a",]
    assert (2, 9) == found.values["b", "c"]
    assert (2, 5) == found.keys["b", "c"]
    assert (3, 2) == found.values["b", "c", 1]
    assert (4, 1) == found.values["t",]
    assert (4, 2) == found.keys["t",]
    assert (5, 5) == found.values["t", "d"]
    assert (5, 11) == found.values["t", "d", "e"]
    assert (6, 1) == found.values["l",]
    assert (6, 1) == found.values["l", 0]
    assert (7, 1) == found.values["l", 1]
    assert (8, 3) == found.values["l", 1, "f"]


def test_a_table_stands_at_its_own_header_even_when_one_inside_it_came_first() -> None:
    found = spans("[a.b]\nx = 1\n[a]\ny = 2\n")
    assert (3, 1) == found.values["a",]
    assert (1, 1) == found.values["a", "b"]


def test_columns_count_characters_not_bytes() -> None:
    assert (1, 18) == spans('a = { "é" = "ü", b = 1 }').keys["a", "b"]


# ---- documents made up at random -----------------------------------------------------------------------------------

KEYS = st.sampled_from(["a", "b", "c-d", "e_f", "1", "g h", "i.j", "k]", "l#", "", "m=n", "ü"])
TEXTS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=8)
SCALARS = st.one_of(
    TEXTS.map(lambda text: f'"{escaped(text)}"'),
    TEXTS.filter(lambda text: "'" not in text).map(lambda text: f"'{text}'"),
    TEXTS.map(lambda text: f'"""\n{escaped(text)}\n"""'),
    st.integers(-99, 99).map(str),
    st.sampled_from(["1.5", "-inf", "nan", "1e5", "6.02e+23", "true", "false", "0x1F", "1_0.0_1"]),
    st.sampled_from(["2026-10-01", "2026-10-01 07:30:00", "2026-10-01T07:30:00.25-01:00", "07:30:00"]),
)


def escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace('"', '\\"')


def written_key(key: str) -> str:
    bare = key and all(letter.isascii() and (letter.isalnum() or letter in "-_") for letter in key)
    return key if bare else f'"{escaped(key)}"'


def inline(table: Mapping[str, str]) -> str:
    return "{ " + ", ".join(f"{written_key(key)} = {value}" for key, value in table.items()) + " }"


VALUES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda items: "[ " + ", ".join(items) + " ]"),
        st.lists(inner, min_size=1, max_size=3).map(lambda items: "[\n  " + ",  # [\n  ".join(items) + ",\n]"),
        st.dictionaries(KEYS, inner.filter(lambda text: "\n" not in text), max_size=3).map(inline),
    ),
    max_leaves=6,
)
TABLES = st.dictionaries(KEYS, VALUES, max_size=4)


@st.composite
def documents(draw: st.DrawFn) -> str:
    """Pairs, then tables and lists of tables, some of them inside one another."""
    lines: list[str] = []

    def pairs(table: Mapping[str, str]) -> None:
        lines.extend(f"{written_key(key)} = {value}" for key, value in table.items())

    pairs({f"top {key}": value for key, value in draw(TABLES).items()})
    for number, key in enumerate(draw(st.lists(KEYS, unique=True, max_size=3))):
        name = written_key(f"{key} {number}")
        if draw(st.booleans()):
            lines.append(f"[ {name} ]")
            pairs(draw(TABLES))
            lines.append(f'[{name}."in.ner"]' if draw(st.booleans()) else "# nothing")
            continue
        for _ in range(draw(st.integers(1, 3))):
            lines.append(f"[[{name}]]")
            pairs(draw(TABLES))
            if draw(st.booleans()):
                lines.append(f"  [[{name} . 'sub table']]")
                pairs(draw(TABLES))
    return "\n".join(lines)


@given(documents())
def test_random_documents_are_seen_as_their_reader_sees_them(text: str) -> None:
    agree(text)
