"""What is offered for a word that is no code, and the list of all codes beside a new job."""

import pytest

from estimator.catalogue import codes
from estimator.catalogue.read import read_catalogue
from estimator.commands.starting import new_files
from estimator.job.read import parse_job
from estimator.job.starter import starter_files
from estimator.likeness import like
from estimator.problems import Refused, choose

SHIPPED = read_catalogue(None)
TABLES = {
    "kind": codes.kinds(SHIPPED),
    "cable": codes.cables(SHIPPED),
    "device": codes.devices(SHIPPED),
    "board": codes.boards(SHIPPED),
    "part": codes.parts(SHIPPED),
}

# hand: what somebody of the trade would take each to mean, written down before it was tried
MEANT = [
    ("device", "20A RCBO", ["rcbo-b20"]),
    ("device", "RCBO 32 A type C", ["rcbo-c32"]),
    ("device", "32 amp breaker", ["mcb-b32"]),
    ("device", "rcbob20", ["rcbo-b20"]),
    ("device", "rcbo-20", ["rcbo-b20", "rcbo-c20"]),
    ("device", "rcbo-b30", ["rcbo-b32"]),
    ("kind", "twin socket", ["double-socket"]),
    ("kind", "2 gang socket", ["double-socket"]),
    ("kind", "2-gang socket", ["double-socket"]),
    ("kind", "duoble-socket", ["double-socket"]),
    ("kind", "socket", ["double-socket", "single-socket"]),
    ("kind", "Sockets", ["double-socket", "single-socket"]),
    ("kind", "outside socket", ["outdoor-socket"]),
    ("kind", "external socket", ["outdoor-socket"]),
    ("kind", "light", ["batten-light", "outside-light", "pendant-light"]),
    ("kind", "2 way switch", ["switch-two-way"]),
    ("kind", "fused spur", ["fused-unit"]),
    ("kind", "spotlight", ["downlight"]),
    ("kind", "smoke detector", ["smoke-alarm"]),
    ("kind", "ev charger", ["car-charger-outlet"]),
    ("kind", "thermostat", []),
    ("cable", "2.5mm twin and earth", ["te-2.5"]),
    ("cable", "2.5mm2 twin & earth", ["te-2.5"]),
    ("cable", "2,5 mm T&E", ["te-2.5"]),
    ("cable", "te-25", ["te-2.5"]),
    ("cable", "te-3", ["te-4"]),
    ("cable", "te-2.6", ["te-2.5", "te-4"]),
    ("cable", "1mm twin and earth", ["te-1.0"]),
    ("cable", "1.5 three core and earth", ["te3-1.5"]),
    ("cable", "6mm SWA", ["swa-2c-6", "swa-3c-6"]),
    ("cable", "3 core 10mm armoured", ["swa-3c-10"]),
    ("cable", "cat 6 outdoor", ["data-cat6-outdoor"]),
    ("board", "consumer-unit-5", ["consumer-unit-6"]),
    ("board", "consumer-unit-20", ["consumer-unit-16"]),
    ("board", "8 way fuse box", ["consumer-unit-8"]),
    ("board", "7 way consumer unit", ["consumer-unit-8"]),
    ("part", "timber-39x89", ["timber-38x89"]),
]


@pytest.mark.parametrize(("table", "word", "expected"), MEANT, ids=[case[1] for case in MEANT])
def test_words_of_the_trade_lead_to_the_code(table: str, word: str, expected: list[str]) -> None:
    assert expected == list(like(word, TABLES[table]))


@pytest.mark.parametrize("table", TABLES)
def test_every_code_is_most_like_itself(table: str) -> None:
    assert [[code] for code in TABLES[table]] == [list(like(code, TABLES[table])) for code in TABLES[table]]


def test_a_wrong_code_is_told_with_all_there_are_once() -> None:
    text = starter_files()["job.toml"].replace('"rcbo-b20"', '"20A RCBO"').replace('"rcbo-b6"', '"6A RCBO"')
    with pytest.raises(Refused) as caught:
        parse_job(text, catalogue=SHIPPED)
    hints = [problem.write for problem in caught.value.problems]
    known = (
        "Known: contactor-25a, mcb-b6 (or 10, 16, 20, 25, 32, 40, 50, 63), mcb-c6 (or 10, 16, 20, 32, 40), "
        "rcbo-b6 (or 10, 16, 20, 32, 40, 50), rcbo-c16 (or 20, 32)"
    )
    assert [f'did you mean "rcbo-b20"? {known}', 'did you mean "rcbo-b6"?'] == hints


def test_where_nothing_is_like_the_word_all_are_listed_each_time_and_long_tables_are_named() -> None:
    boards = "consumer-unit-4 (or 6, 8, 10, 12, 16)"
    assert f"known: {boards}" == codes.offer("Verteiler", TABLES["board"], listed=False)
    assert f"known: {boards}" == codes.offer("consumer unit", TABLES["board"])
    assert "codes.txt, which studbay new writes beside a job, has them all" == codes.offer("xyzzy", TABLES["part"])
    assert "did you mean one of rcbo-b6 (or 10, 16, 20, 32, 40, 50)?" == codes.offer("rcbo", TABLES["device"], False)


def test_names_of_ones_own_that_are_as_near_are_offered_together() -> None:
    assert 'did you mean "ring 1" or "ring 3"?' == choose("ring 2", ["ring 1", "ring 3", "lights"])
    assert 'did you mean "lights"?' == choose("Lights", ["ring 1", "ring 3", "lights"])


def test_the_list_beside_a_new_job_holds_every_code_with_its_words() -> None:
    text = new_files()["codes.txt"]
    lines = [line.strip() for line in text.splitlines()]
    for known in TABLES.values():
        for code, words in known.items():
            assert any(line.partition(" ")[0] == code and line.endswith(words) for line in lines), code
    assert [] == [line for line in lines if len(line) > 118]
    for counter in ("electrical", "timber", "ground", "hire"):
        assert f"Parts, at the {counter} counter" in text
