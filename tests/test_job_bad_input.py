"""Job files that are wrong: the whole message for each mistake, all of them at once, and nothing but messages.

Words and places in the two tables are `regression`, read through one by one; the outline cases and the order of
problems were counted in the text (`hand`). That places are right in general is proved in test_spans.py.
"""

import tomllib
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.job.read import parse_job, read_tree
from estimator.job.tree import Tree
from estimator.problems import NOWHERE, Problem, Refused
from tests.job_texts import POTTERY, SMALL, changed


def messages(text: str) -> list[str]:
    """The messages about a job, the name of its file taken off."""
    with pytest.raises(Refused) as refused:
        parse_job(text)
    return [line.removeprefix("job.toml:") for line in str(refused.value).split("\n")]


# What stands in the small job, what is written in its place, and all that is said about it.
SPOILED: list[tuple[str, str, list[str]]] = [
    (
        'size = ["4.8 m", "3.0 m"]',
        'size = ["4,8 m", "3.0 m"]',
        ['26:9: room.shed.size[1]: "4,8 m" is not a length; write "4.8 m", with a point'],
    ),
    (
        'height = "2.4 m"',
        "height = 2.4",
        ['28:10: room.shed.height: 2.4 has no unit; write the unit, in quotes: "2.4 m"'],
    ),
    (
        'height = "2.4 m"',
        'heigth = "2.4 m"',
        [
            '24:1: room.shed: height is missing; write height = "2.4 m" (from floor to ceiling)',
            '28:1: room.shed.heigth: unknown key; did you mean "height"?',
        ],
    ),
    (
        'ground = "-150 mm"',
        'vat = "20 %"',
        ["27:1: room.shed.vat: unknown key; vat belongs in [allowances] or in [[sum]]"],
    ),
    (
        'ground = "-150 mm"',
        "priced_on = 2026-10-01",
        [
            "27:1: room.shed.priced_on: unknown key; priced_on belongs at the top of the file, before the first line "
            "in square brackets"
        ],
    ),
    ('title = "Shed"\n', "", ['1:1: title is missing; write title = "Garden room" (what the documents call the job)']),
    (
        "priced_on = 2026-10-01",
        'priced_on = "1.10.2026"',
        ['3:13: priced_on: "1.10.2026" is not a date; write year-month-day without quotes, for example 2026-10-01'],
    ),
    (
        "priced_on = 2026-10-01",
        'priced_on = "2026-10-01"',
        ['3:13: priced_on: "2026-10-01" is text; write the date without quotes: 2026-10-01'],
    ),
    (
        'size = ["4.8 m", "3.0 m"]\n',
        "",
        ['24:1: room.shed: size is missing; write size = ["6.0 m", "4.0 m"] (along x and along y)'],
    ),
    (
        'size = ["4.8 m", "3.0 m"]',
        'size = ["4.8 m", "3.0 m"]\noutline = [["0 m", "0 m"], ["0 m", "3 m"], ["4 m", "3 m"]]',
        ["27:11: room.shed.outline: size and outline are both given; keep one of them"],
    ),
    (
        'size = ["4.8 m", "3.0 m"]',
        'size = "4.8 m"',
        ['26:8: room.shed.size: "4.8 m" is not a pair; write two in square brackets: ["6.0 m", "4.0 m"]'],
    ),
    (
        'size = ["4.8 m", "3.0 m"]',
        'size = ["4.8 m"]',
        ['26:8: room.shed.size: the list has one item; write 2: ["6.0 m", "4.0 m"]'],
    ),
    (
        'size = ["4.8 m", "3.0 m"]',
        'size = ["4.8 m", "0 m"]',
        ['26:18: room.shed.size[2]: "0 m" is nothing; write a length above zero, for example "450 mm"'],
    ),
    (
        'size = ["4.8 m", "3.0 m"]',
        'size = ["4.8 m", "-3 m"]',
        ['26:18: room.shed.size[2]: "-3 m" is below zero; write "3 m" if that is meant'],
    ),
    (
        'along = "0.5 m"\n  width = "0.9 m"',
        'along = "4.2 m"\n  width = "0.9 m"',
        [
            '33:11: room.shed.opening[1].along: it would end at 5100 mm, wall "front" is 4800 mm long; write at most '
            '"3900 mm"'
        ],
    ),
    (
        'head = "2.0 m"',
        'head = "2.5 m"',
        ['35:10: room.shed.opening[1].head: the room is only 2400 mm high; write at most "2400 mm"'],
    ),
    (
        'head = "2.0 m"',
        'sill = "2.0 m"\n  head = "2.0 m"',
        ["36:10: room.shed.opening[1].head: the head is not above the sill (2000 mm); write a higher head"],
    ),
    (
        'kind = "door"',
        'kind = "window"',
        ['30:3: room.shed.opening[1]: sill is missing; write sill = "0.9 m" (its lower edge above the floor)'],
    ),
    (
        'kind = "door"',
        'kind = "gate"',
        ['31:10: room.shed.opening[1].kind: "gate" is not known here; write "door", "window" or "doorway"'],
    ),
    (
        "[[room.fitted]]",
        '[[room.opening]]\n  kind = "window"\n  wall = "front"\n  along = "1.3 m"\n  width = "0.9 m"\n  sill = "1 '
        'm"\n  head = "2 m"\n\n  [[room.fitted]]',
        ["37:3: room.shed.opening[2]: it overlaps the door in line 30; write another along, or a smaller width"],
    ),
    (
        'wall = "back"',
        'wall = "bock"',
        ['39:10: room.shed.fitted.bench.wall: room "shed" has no wall "bock"; did you mean "back"?'],
    ),
    (
        'room = "shed"\nheight = "450 mm"',
        'room = "shet"\nheight = "450 mm"',
        ['52:8: points.S.room: there is no room "shet"; did you mean "shed"?'],
    ),
    (
        'height = "450 mm"\n',
        "",
        ['48:1: points.S: height is missing; write height = "450 mm" (centre line above the floor)'],
    ),
    (
        'height = "450 mm"',
        'height = "150 mm above bench"',
        [
            '53:10: points.S.height: nothing fitted at wall "left" is called "bench"; it is fitted at back; write '
            "the height above the floor, or name the walls with on or at"
        ],
    ),
    (
        'height = "450 mm"',
        'height = "450 mm above ground"',
        [
            "53:10: points.S.height: only a point outside has a height above ground; write the height above the "
            'floor, or surface = "outside"'
        ],
    ),
    (
        "on = { back = 2, left = 1 }\n",
        "",
        [
            "48:1: points.S: nothing says where the points go; write spread = 12 or on = { back = 5, left = 3 } or "
            'at = [{ wall = "back", along = "0.4 m" }]'
        ],
    ),
    (
        "on = { back = 2, left = 1 }",
        "on = { back = 2, left = 1 }\nspread = 4",
        ["54:6: points.S.on: spread and on both say where the points go; keep one of them"],
    ),
    (
        "on = { back = 2, left = 1 }",
        "rows = 2\ncolumns = 2",
        [
            "54:8: points.S.rows: rows does not fit the surface wall; write spread = 12 or on = { back = 5, left = 3 "
            '} or at = [{ wall = "back", along = "0.4 m" }]'
        ],
    ),
    (
        "on = { back = 2, left = 1 }",
        "on = { back = 2, lefft = 1 }",
        ['54:26: points.S.on.lefft: room "shed" has no wall "lefft"; did you mean "left"?'],
    ),
    (
        "on = { back = 2, left = 1 }",
        'on = { back = "2", left = 1 }',
        ['54:15: points.S.on.back: "2" is text; write the number without quotes: 2'],
    ),
    (
        "on = { back = 2, left = 1 }",
        'at = [["1 m", "2 m"]]',
        ['54:7: points.S.at[1]: this is no place on a wall surface; write { wall = "back", along = "0.4 m" }'],
    ),
    (
        "on = { back = 2, left = 1 }",
        'at = [{ wall = "back", along = "5 m" }]',
        ['54:32: points.S.at[1].along: wall "back" is only 4800 mm long; write at most "4800 mm"'],
    ),
    (
        'surface = "ceiling"\nrows = 1\ncolumns = 2',
        'surface = "ceiling"\nat = [["5 m", "1 m"]]',
        [
            '63:7: points.L.at[1]: 5000, 1000 mm lies outside room "shed"; write x and y from its lowest corner; it '
            "measures 4800 by 3000 mm"
        ],
    ),
    (
        'surface = "ceiling"\nrows = 1\ncolumns = 2',
        'surface = "ceiling"\nrows = 1',
        ["63:8: points.L.rows: rows needs columns; write columns = 4 beside it"],
    ),
    (
        'surface = "ceiling"\nrows = 1\ncolumns = 2',
        'surface = "soffit"\nwall = "back"\nspread = 3',
        [
            '63:8: points.L.wall: room "shed" has no soffit at wall "back"; write [[room.soffit]] with wall = "back" '
            'and depth = "600 mm"'
        ],
    ),
    (
        'surface = "ceiling"\nrows = 1\ncolumns = 2',
        'surface = "soffit"\nspread = 3',
        ['56:1: points.L: nothing says which soffit; write wall = "front" (or the wall it hangs at)'],
    ),
    (
        'surface = "ceiling"\nrows = 1\ncolumns = 2',
        'surface = "soffit"\nwall = "front"\nout = "700 mm"\nspread = 3',
        ['64:7: points.L.out: the soffit is only 600 mm deep; write at most "600 mm"'],
    ),
    (
        'circuit = "sockets"\nroom',
        'circuit = "socket"\nroom',
        [
            '51:11: points.S.circuit: there is no circuit "socket"; did you mean "sockets"?',
        ],
    ),
    (
        'circuit = "sockets"\nroom',
        "room",
        [
            '48:1: points.S: S1, S2, S3 are on no circuit, run or control; write circuit = "..." (or "none" for boxes only)',
            '80:1: circuit.sockets: no point is on this circuit; write circuit = "sockets" in a group of points, or '
            "take the circuit out",
        ],
    ),
    (
        'switched_by = ["W1"]',
        'switched_by = ["W2"]',
        ['60:16: points.L.switched_by[1]: there is no point "W2"; group "W" has W1'],
    ),
    (
        'switched_by = ["W1"]',
        'switched_by = ["W"]',
        ['60:16: points.L.switched_by[1]: there is no point "W"; name one point of the group, such as "W1"'],
    ),
    (
        'switched_by = ["W1"]',
        'switched_by = ["S1"]',
        [
            '60:16: points.L.switched_by[1]: S1 is on circuit "sockets", these points are on "lights"; put switch '
            "and lights on one circuit"
        ],
    ),
    (
        'switched_by = ["W1"]',
        'switched_by = "W1"',
        ['60:15: points.L.switched_by: "W1" is not a list; write it in square brackets: ["W1"]'],
    ),
    (
        'wiring = "radial"',
        'wiring = "radial"\nsequence = ["S1", "S2"]',
        ["85:12: circuit.sockets.sequence: S3 is left out; write all points of the circuit, or use first and last"],
    ),
    (
        'wiring = "radial"',
        'wiring = "radial"\nsequence = ["S1", "S2", "S3", "S2", "S9", "W1"]',
        [
            "85:31: circuit.sockets.sequence[4]: S2 stands in sequence already; take it out",
            '85:37: circuit.sockets.sequence[5]: there is no point "S9"; group "S" has S1 to S3',
            '85:43: circuit.sockets.sequence[6]: W1 is on circuit "lights"; take it out, or change the circuit of its group',
        ],
    ),
    (
        'wiring = "branching"',
        'wiring = "branching"\nfirst = ["W1"]',
        ["92:9: circuit.lights.first: first goes with radial and ring, not with branching; take it out"],
    ),
    (
        'wiring = "radial"',
        'wiring = "raidal"',
        ['84:10: circuit.sockets.wiring: "raidal" is not known here; write "radial", "ring", "branching" or "star"'],
    ),
    (
        'board = "CU"\nwiring = "radial"',
        'board = "house"\nwiring = "radial"',
        [
            '83:9: circuit.sockets.board: board "house" is outside the job, no circuit starts there; name a board in a room'
        ],
    ),
    (
        'name = "W"\n',
        'name = "W2"\n',
        [
            '60:16: points.L.switched_by[1]: there is no point "W1"; did you mean "W21"?',
            '67:8: points.W2.name: a group\'s name does not end in a digit, its points are numbered; write "W" or '
            "another name that ends otherwise",
        ],
    ),
    (
        'name = "CU"\nkind',
        'name = "S2"\nkind',
        [
            '16:8: board.S2.name: a point of group "S" is called "S2" too; give the board another name',
            '18:10: board.S2.fed_by: run "feed" goes from "house" to "CU", not to "S2"; name a run that has this '
            "board at one end",
            '83:9: circuit.sockets.board: there is no board "CU"; known: S2, house',
            '90:9: circuit.lights.board: there is no board "CU"; known: S2, house',
            '98:13: control.stop.contactor: there is no board "CU"; known: S2, house',
            '111:6: run.feed.to: there is no board or point "CU"; known: S2, house; a place beyond the job is '
            'written "outside: ..."',
        ],
    ),
    (
        'name = "lawn"',
        'name = "none"',
        [
            '104:8: trench.none.name: "none" has a meaning of its own; choose another name',
            '112:77: run.feed.stretches[2].trench: there is no trench "lawn"; known: none',
        ],
    ),
    (
        'name = "lights"',
        'name = "sockets"',
        [
            '59:11: points.L.circuit: there is no circuit "lights"; known: sockets',
            '69:11: points.W.circuit: there is no circuit "lights"; known: sockets',
            '89:8: circuit.sockets.name: the circuit in line 82 is called "sockets" too; give each its own name',
        ],
    ),
    ('fed_by = "feed"', 'fed_by = "fed"', ['18:10: board.CU.fed_by: there is no run "fed"; did you mean "feed"?']),
    (
        "outside_job = true",
        'outside_job = "yes"',
        ['12:15: board.house.outside_job: "yes" is neither true nor false; write true'],
    ),
    (
        'outside_job = true\nway = { device = "mcb-b32", spare = true }',
        'outside_job = true\nfed_by = "feed"',
        [
            '13:10: board.house.fed_by: boards feed each other in a circle: "house" <- "CU" <- "house"; take one fed_by out',
            '18:10: board.CU.fed_by: boards feed each other in a circle: "CU" <- "house" <- "CU"; take one fed_by out',
        ],
    ),
    (
        'to = "CU"\n',
        'to = "S1"\n',
        [
            '18:10: board.CU.fed_by: run "feed" goes from "house" to "S1", not to "CU"; name a run that has this '
            "board at one end"
        ],
    ),
    (
        'to = "CU"\n',
        'to = "CU"\ndevice = "mcb-b40"\n',
        [
            '112:10: run.feed.device: the run takes "mcb-b40", but the way of board "house" has "mcb-b32"; keep one '
            "of them, or write the same in both"
        ],
    ),
    (
        'stretches = [{ in = "building", length = "3 m" }, { in = "trench", trench = "lawn" }]\n',
        "",
        [
            '110:8: run.feed.from: "house" has no place in the job, so the run needs stretches; write stretches = [{ '
            'in = "building", length = "4 m" }]'
        ],
    ),
    (
        '{ in = "building", length = "3 m" }',
        '{ in = "building" }',
        ['112:14: run.feed.stretches[1]: length is missing; write length = "4 m" (how far in the building)'],
    ),
    (
        'trench = "lawn" }]',
        'trench = "lawm" }]',
        ['112:77: run.feed.stretches[2].trench: there is no trench "lawm"; did you mean "lawn"?'],
    ),
    (
        'trench = "lawn" }]',
        'trench = "lawn", length = "20 m" }]',
        [
            '112:94: run.feed.stretches[2].length: trench "lawn" is only 18000 mm long; leave length out for the '
            "whole of it"
        ],
    ),
    (
        'buttons = ["ES1"]',
        'buttons = ["S1"]',
        [
            '74:1: points.ES: ES1 is on no circuit, run or control; write circuit = "..." (or "none" for boxes only)',
            '99:12: control.stop.buttons[1]: S1 is on circuit "sockets"; take circuit out of its group: the control '
            "names it",
        ],
    ),
    (
        'buttons = ["ES1"]',
        'buttons = ["ES1", "ES2"]',
        ["99:19: control.stop.buttons[2]: ES2 is named twice; name each point once"],
    ),
    (
        'amount = "£480"',
        'amount = "€480"',
        [
            '117:10: sum.Electrician.amount: "€" is not the sign of GBP, which the job is in; write the amount '
            'without a sign: "480"'
        ],
    ),
    (
        'amount = "£480"',
        "amount = 480",
        ['117:10: sum.Electrician.amount: 480 is a bare number; write it in quotes: "£480"'],
    ),
    (
        'amount = "£480"',
        'amount = { low = "£500", likely = "£480", high = "£600" }',
        [
            "117:35: sum.Electrician.amount.likely: likely is below the amount before it; write low, likely, high so "
            "that they rise"
        ],
    ),
    (
        'length = "1.1 m", count = 4',
        'length = "1.1 m"',
        [
            "121:12: buying.in_hand[1]: count is missing: how many such lengths; write count = 1 for one piece of that length"
        ],
    ),
    ("[frame]", "[[frame]]", ["5:1: frame: [[frame]] makes a list; write [frame], in single brackets, once"]),
    (
        "[[trench]]",
        "[trench]",
        ["103:1: trench: [trench] makes a single table; write [[trench]], in double brackets, for each one"],
    ),
    ('[[points]]\nname = "S"', '[[point]]\nname = "S"', ['48:3: point: unknown key; did you mean "points"?']),
    (
        'stud = "38 x 89 mm"\n',
        "",
        ['23:1: room.shed: nothing says the stud of its frame; write stud = "38 x 89 mm" in [frame]'],
    ),
    (
        'stud = "38 x 89 mm"',
        'stud = "38 mm x 89"',
        [
            '6:8: frame.stud: "38 mm x 89" is not the section of a timber; write thickness x depth, for example "38 '
            'x 89 mm"'
        ],
    ),
    (
        'inside = ["12 mm plywood"]',
        'inside = "12 mm plywood"',
        ['8:10: frame.inside: "12 mm plywood" is not a list; write it in square brackets: ["12 mm plywood"]'],
    ),
    (
        'inside = ["12 mm plywood"]',
        'inside = ["plywood 12 mm"]',
        ['8:11: frame.inside[1]: "plywood 12 mm" is not a layer; write the thickness first: "12 mm plywood"'],
    ),
    (
        'ruleset = "uk"',
        'ruleset = "uk"\ncurrency = "Pounds"',
        [
            '3:12: currency: "Pounds" is not known here; write one of "AUD", "CAD", "CHF", "CZK", "DKK", "EUR", '
            '"GBP", "NOK", "NZD", "PLN", "SEK", "USD", "ZAR"'
        ],
    ),
    (
        '[[board]]\nname = "CU"\nkind = "consumer-unit-6"',
        '[[board]]\nname = "CU"',
        [
            '15:1: board.CU: kind is missing; write kind = "consumer-unit-8", or outside_job = true for one that is '
            "there already"
        ],
    ),
    (
        '[[board]]\nname = "CU"',
        '[[board]]\nname = "barn"\noutside_job = true\n\n[[board]]\nname = "CU"',
        [
            '15:1: board.barn: the supply starts at board "house" already; write fed_by = "..." for one of them, or '
            'make it an end "outside: ..." of its run'
        ],
    ),
    (
        'name = "stop"\n',
        'name = "stop"\nfoo = 1\n',
        ["97:1: control.stop.foo: unknown key; known: buttons, cable, contactor, drops, name, start"],
    ),
    (
        'name = "W"\n',
        'name = "W"\navoid = ["bensh"]\n',
        ['68:10: points.W.avoid[1]: nothing fitted in room "shed" is called "bensh"; did you mean "bench"?'],
    ),
    (
        "[[sum]]",
        '[[circuit]]\nname = "spare"\nboard = "CU"\nwiring = "radial"\ncable = "te-2.5"\ndevice = "rcbo-b20"\n\n[[sum]]',
        [
            '114:1: circuit.spare: no point is on this circuit; write circuit = "spare" in a group of points, or '
            "take the circuit out"
        ],
    ),
]


@pytest.mark.parametrize(("old", "new", "expected"), SPOILED, ids=[repr(case[1])[:60] for case in SPOILED])
def test_a_mistake_is_told_in_whole(old: str, new: str, expected: list[str]) -> None:
    assert expected == messages(changed(old, new))


# Texts that are no TOML, and the one thing that is said about each.
NO_TOML = [
    ("a = 450mm", '1:5: 450mm has no quotes; write "450mm"'),
    ("a = 5 %  # five", '1:5: 5 % has no quotes; write "5 %"'),
    ("a = 38 x 89 mm flat", '1:5: 38 x 89 mm flat has no quotes; write "38 x 89 mm flat"'),
    ('a = ["4 m", 2 m]', '1:15: 2 m has no quotes; write "2 m"'),
    ("a = 4,2", '1:5: 4,2 has a comma; write a point, and a length with its unit in quotes: "4.2 m"'),
    ("a = 1,200", '1:5: 1,200 has a comma; write a point, and a length with its unit in quotes: "1200 mm"'),
    ("a = £5", '1:5: £5 has no quotes; write "£5"'),
    ("a = yes", "1:5: yes is not known; write true"),
    ("a = { b = no }", "1:11: no is not known; write false"),
    ("a = “x”", '1:5: there are curly quotes (“ ”) here; write straight ones: "'),
    ('a = "x”', '1:8: there are curly quotes (”) here; write straight ones: "'),
    ("a = workshop", '1:5: workshop has no quotes; write "workshop"'),
    ("a 5", "1:3: there is no = here; write a = 5"),
    ('a: "x"', '1:2: there is a colon where = belongs; write a = "x"'),
    ('cable waste = "5 %"', '1:1: the key "cable waste" has blanks in it; write cable_waste = "5 %"'),
    ("// hi", "1:1: this is no way to start a remark; start it with #"),
    ("= 5", "1:1: there is no key before the =; write key = value"),
    ("a =", "1:4: there is nothing after the =; write a value, or take the line out"),
    ('a = "x', '1:7: a text in quotes is not closed; write " where it ends, on the same line'),
    ('a = "one\ntwo"', '1:9: a text in quotes is not closed; write " where it ends, on the same line'),
    ('a = "The "Shed""', "1:11: a \" within a text ends it; write ' within the text, or put it in single quotes"),
    (
        r'a = "C:\pots"',
        r"1:10: a \ has a meaning of its own in double quotes; write / or put the text in single quotes",
    ),
    ("a = 0450", "1:5: 0450 starts with 0; write 450"),
    ("a = 5.", "1:5: 5. ends in a point; write 5, or with its unit in quotes"),
    ("a = .5", "1:5: .5 starts with a point; write 0.5, or with its unit in quotes"),
    ('a == "x"', "1:4: there are two = here; write one"),
    ('a = "x",', '1:8: there is a "," after the value; take it out'),
    ('a = "x";', '1:8: there is a ";" after the value; take it out'),
    ('a = "x" b = "y"', "1:9: b stands on the line of another key; write it on a line of its own"),
    ('a = "x"]', "1:8: there is one ] too many; take it out"),
    ("a = 1/10/2026", "1:5: 1/10/2026 is not a date; write year-month-day without quotes, for example 2026-10-01"),
    (
        "a = 2026-13-40",
        "1:5: there is no month 13 (2026-13-40); write year-month-day without quotes, for example 2026-10-01",
    ),
    ('a = ["x" "y"]', "1:10: there is no comma before this in the list; write a comma between two items"),
    ('a = ["x", "y"\nb = 2', "1:5: the list that starts here is not closed; write ] where it ends"),
    ('a = [\n "x",\n\nb = 3', "1:5: the list that starts here is not closed; write ] where it ends"),
    ("a = { b = 1,\n c = 2 }", "1:5: a table in braces { } goes over several lines; write it on one line"),
    ("a = { b = 1, }", "1:14: there is a comma before the }; take it out"),
    ("a = { b = 1, b = 2 }", "1:19: a key is written twice in these braces; keep one of them"),
    ("a = { b = 1\n", "1:5: a table in braces { } goes over several lines; write it on one line"),
    ('a = """x\ny', '1:5: the text that starts with """ is not closed; write """ where it ends'),
    ("[room\nx = 1", "1:1: this line in square brackets is not right; write [room]"),
    ("[my room]", "1:1: this line in square brackets is not right; write [my_room]"),
    ("[]", "1:1: there is no name in the square brackets; write for example [[room]]"),
    ("[a]]", "1:4: there is something after the closing bracket; take it out, or write it on a line of its own"),
    (
        '[room]\nname = "a"\n[[room]]\nname = "b"',
        "3:1: [room] and [[room]] are mixed, see line 1; write [[room]], in double brackets, each time",
    ),
    (
        '[[room]]\nname = "a"\n[room]\nname = "b"',
        "3:1: [room] and [[room]] are mixed, see line 1; write [[room]], in double brackets, each time",
    ),
    (
        '[[room.opening]]\nkind = "door"\n[[room]]\nname = "a"',
        "3:1: [[room.opening]] in line 1 stands before its room; move it below [[room]]",
    ),
    (
        "[frame]\na = 1\n[supply]\n[frame]\nb = 1",
        "4:1: [frame] stands in line 1 already; put all its keys under one [frame]",
    ),
    ("a = 1\nb = 2\na = [\n 3 ]\n", "3:1: a is written twice, first in line 1; keep one of them"),
    ('frame.stud = "x"\n[frame]\n', "2:1: frame is written already, in another way; write all of it in one place"),
    ("a = { b = 1 }\na.c = 2\n", "2:1: this adds to something that is complete already; write all of it in one place"),
    (
        'a = "x"',
        "1:8: a character that cannot be seen ('\\x01') stands after the value; take it out, or write # before it",
    ),
]


@pytest.mark.parametrize(("text", "expected"), NO_TOML, ids=[repr(case[0])[:40] for case in NO_TOML])
def test_a_text_that_cannot_be_read_is_explained_where_it_fails(text: str, expected: str) -> None:
    assert [expected] == messages(text)


def test_an_absurd_number_or_depth_is_refused_and_nothing_breaks() -> None:
    assert ["1:1: a number has thousands of digits; write a shorter one"] == messages("a = " + "9" * 5000)
    assert [" lists lie too deep in one another; take brackets out"] == messages("a = " + "[" * 5000)
    for depth in range(300, 520, 20):
        assert messages("a = " + "[" * depth + "]" * depth)


def test_all_problems_come_at_once_in_the_order_of_the_file() -> None:
    text = SMALL
    for old, new in [
        ("priced_on = 2026-10-01", "priced_on = 2026-10-01T09:00:00"),
        ('centres = "600 mm"', "centres = 600"),
        ('fed_by = "feed"', 'fed_by = "feet"'),
        ('height = "2.4 m"', 'hight = "2.4 m"'),
        ('kind = "door"', 'kind = "hatch"'),
        ("on = { back = 2, left = 1 }", "spread = 3\non = { back = 2 }"),
        ('wiring = "branching"', 'wiring = "tree"'),
        ('trench = "lawn" }', 'trench = "yard" }'),
        ('amount = "£480"', 'amount = "£4,80"'),
    ]:
        assert old in text
        text = text.replace(old, new, 1)
    assert [
        "3:13: priced_on: 2026-10-01 09:00:00 holds a time of day; write 2026-10-01",
        '7:11: frame.centres: 600 has no unit; write the unit, in quotes: "600 mm"',
        '18:10: board.CU.fed_by: there is no run "feet"; did you mean "feed"?',
        '24:1: room.shed: height is missing; write height = "2.4 m" (from floor to ceiling)',
        '28:1: room.shed.hight: unknown key; did you mean "height"?',
        '31:10: room.shed.opening[1].kind: "hatch" is not known here; write "door", "window" or "doorway"',
        "55:6: points.S.on: spread and on both say where the points go; keep one of them",
        '92:10: circuit.lights.wiring: "tree" is not known here; write "radial", "ring", "branching" or "star"',
        '113:77: run.feed.stretches[2].trench: there is no trench "yard"; known: lawn',
        '118:10: sum.Electrician.amount: "£4,80" is no amount of money; write "£480"',
    ] == messages(text)


OUTLINES = {
    '[["0 m", "0 m"], ["4 m", "0 m"], ["4 m", "3 m"], ["0 m", "3 m"]]':
        '10:11: room.L.outline: the corners run anticlockwise seen from above; write them clockwise: outline = '
        '[["0 m", "0 m"], ["0 m", "3 m"], ["4 m", "3 m"], ["4 m", "0 m"]]',
    '[["0 m", "0 m"], ["0 m", "3 m"]]': "10:11: room.L.outline: 2 corners make no room; write at least 3 corners",
    '[["0 m", "0 m"], ["0 m", "3 m"], ["4 m", "3 m"], ["0 m", "0 m"]]':
        "10:60: room.L.outline[4]: the last corner repeats the first; take it out: the last wall leads back by itself",
    '[["0 m", "0 m"], ["0 m", "3 m"], ["0 m", "3 m"], ["4 m", "3 m"]]':
        "10:44: room.L.outline[3]: this corner repeats the one before it; take it out",
    # hand: a bow tie, wall-1 (0,0)-(4,3) and wall-3 (4,0)-(0,3) cross in the middle.
    '[["0 m", "0 m"], ["4 m", "3 m"], ["4 m", "0 m"], ["0 m", "3 m"]]':
        "10:44: room.L.outline[3]: wall-3 meets wall-1 where it must not; "
        "write the corners in the order you meet them walking round the room",
    # hand: wall-2 runs back over wall-1.
    '[["0 m", "0 m"], ["0 m", "3 m"], ["0 m", "1 m"], ["4 m", "1 m"]]':
        "10:28: room.L.outline[2]: wall-2 meets wall-1 where it must not; "
        "write the corners in the order you meet them walking round the room",
    # hand: two squares that share the corner (2, 2) only.
    '[["0 m","0 m"],["0 m","2 m"],["2 m","2 m"],["2 m","4 m"],["4 m","4 m"],["4 m","2 m"],["2 m","2 m"],["2 m","0 m"]]':
        "10:82: room.L.outline[6]: wall-6 meets wall-2 where it must not; "
        "write the corners in the order you meet them walking round the room",
    '[["0 m", "0 m"], "4 m"]':
        '10:28: room.L.outline[2]: "4 m" is not a pair; write two in square brackets: ["3 m", "2 m"]',
}  # fmt: skip


@pytest.mark.parametrize(("outline", "expected"), OUTLINES.items())
def test_an_outline_that_is_no_room_is_told(outline: str, expected: str) -> None:
    text = f"""title = "L"
ruleset = "uk"
priced_on = 2026-10-01
[frame]
stud = "38 x 89 mm"
centres = "600 mm"
inside = "none"
[[room]]
name = "L"
outline = {outline}
height = "2.4 m"
"""
    assert [expected] == messages(text)


# ---- Whatever is written, the answer is a job or a list of problems ------------------------------------------------

JUNK = st.one_of(
    st.sampled_from(["", "none", "x", "S1", "S", "CU", "house", "shed", "back", "outside:", "feed", "lawn", "450 mm", "1"]),
    st.text(max_size=6),
    st.integers(-5, 10**7),
    st.booleans(),
    st.sampled_from([Decimal("0.5"), Decimal("NaN"), Decimal("-Infinity"), Decimal("1e300")]),
    st.dates(),
    st.lists(st.sampled_from(["S1", "450 mm", "back", 4]), max_size=3),
    st.dictionaries(st.sampled_from(["name", "wall", "along", "back", "x.y"]), st.sampled_from(["S1", "4 m", 3]), max_size=2),
    st.lists(st.dictionaries(st.sampled_from(["name", "wall", "along"]), st.sampled_from(["S", "back", 3]), max_size=2),
             max_size=2),
)  # fmt: skip


def problems_of(source: str | Tree) -> tuple[Problem, ...]:
    """What is said about a job: nothing, where it can be read."""
    try:
        job, _ = parse_job(source) if isinstance(source, str) else read_tree(source)
    except Refused as refused:
        return refused.problems
    return () if job.title else (Problem(NOWHERE, "", "", ""),)


def spots(data: Any) -> list[tuple[Any, Any]]:
    """Every place in a tree that holds something: its table or list, and the key or number there."""
    keys = list(data) if isinstance(data, dict) else list(range(len(data))) if isinstance(data, list) else []
    return [(data, key) for key in keys] + [spot for key in keys for spot in spots(data[key])]


@settings(max_examples=400, deadline=None)
@given(st.data())
def test_a_spoilt_job_is_refused_with_problems_or_read_and_never_breaks(data: st.DataObject) -> None:
    tree = tomllib.loads(data.draw(st.sampled_from([SMALL, POTTERY])), parse_float=Decimal)
    for _ in range(data.draw(st.integers(1, 3))):
        places = spots(tree)
        holder, key = places[data.draw(st.integers(0, len(places) - 1))]
        if data.draw(st.booleans()):
            holder[key] = data.draw(JUNK)
        else:
            del holder[key]
    assert all(problem.found and problem.write for problem in problems_of(Tree(tree, "job.toml")))


@given(st.text(alphabet="ab=\"[]{}.,# \n'\\1mé“£"))
def test_any_text_is_read_or_explained(text: str) -> None:
    with pytest.raises(Refused) as refused:
        parse_job(text)
    assert all(problem.found and problem.write for problem in refused.value.problems)


@settings(max_examples=300, deadline=None)
@given(
    st.integers(0, len(POTTERY)),
    st.sampled_from(['"', "[", "]", "=", "{", "}", "\n", ",", " x ", "#", "'", '"""', "\\"]),
)
def test_a_slip_of_the_pen_is_read_or_explained(place: int, slip: str) -> None:
    text = POTTERY[:place] + slip + POTTERY[place:]
    assert all(problem.found and problem.write for problem in problems_of(text))
