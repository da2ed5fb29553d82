"""Characters that cannot be seen but act on a screen: refused in names, in the job file and in tables, and never echoed."""

import pytest

from estimator.catalogue.columns import TABLES
from estimator.catalogue.read import assemble
from estimator.catalogue.rows import Source
from estimator.job.read import parse_job
from estimator.problems import Place, Problem, Refused, unseen
from estimator.resources import read_bytes
from tests.shed import sockets

SCENARIO = """
[[scenario]]
name = "{name}"
change = {{ "points.S.spread" = 8 }}
"""


# published: Unicode Standard Annex 9, table of the directional formatting characters: embeddings and overrides 202A to
# 202E, isolates 2066 to 2069, marks 200E, 200F and 061C; hand: U+0007 is the bell, U+009B opens an escape of a terminal
@pytest.mark.parametrize(
    "letter", ["\u202a", "\u202e", "\u2066", "\u2069", "\u200e", "\u200f", "\u061c", "\u2028", "\x07", "\x9b"]
)
def test_a_name_that_could_turn_text_round_is_refused(letter: str) -> None:
    name = f"two{letter}more"
    written = f"two\\u{ord(letter):04x}more" if letter < " " else name  # TOML takes control characters only so
    with pytest.raises(Refused) as refused:
        parse_job(sockets(6, more=SCENARIO.format(name=written)))
    (problem,) = refused.value.problems
    assert (f"U+{ord(letter):04X}",) == unseen(name)
    assert f"holds U+{ord(letter):04X}, which cannot be seen and could turn text round" in problem.found
    assert 'write "twomore"' == problem.write


@pytest.mark.parametrize("name", ["Küche", "مخزن", "חדר", "naïve – 2 m²", "作業場"])
def test_letters_of_any_script_are_names(name: str) -> None:
    assert name == parse_job(sockets(6, more=SCENARIO.format(name=name)))[0].scenarios[0].name


def test_a_message_shows_such_a_character_and_does_not_send_it() -> None:
    said = str(Problem(Place("job.toml", 3), "points.S\u202eX", 'holds "\x1b[2J"', "write it\u2066 again"))
    assert r'job.toml:3: points.S\u202eX: holds "\u001b[2J"; write it\u2066 again' == said


def test_a_table_with_such_a_character_is_told_with_its_row() -> None:
    shipped = {table.name: Source(table.file, read_bytes("catalogues", table.file)) for table in TABLES}
    head = "option,title,why,action,kind,cable,device,height_mm,amount\n"
    own = Source("options.csv", f"{head}a-tap,Tap \u202epaT,So.,larger-feed,,,,,\n".encode())
    with pytest.raises(Refused) as refused:
        assemble(shipped, {"options": own})
    assert str(refused.value).startswith("options.csv:2: title: ")
    assert str(refused.value).endswith("write it without U+202E, which cannot be seen and could turn text round")


def test_a_cell_may_hold_several_lines() -> None:
    shipped = {table.name: Source(table.file, read_bytes("catalogues", table.file)) for table in TABLES}
    head = "option,title,why,action,kind,cable,device,height_mm,amount\n"
    own = Source("options.csv", f'{head}a-tap,"A\r\ntap",So.,larger-feed,,,,,\n'.encode())
    assert "A\r\ntap" == assemble(shipped, {"options": own}).options["a-tap"].title
