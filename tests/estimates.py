"""Estimates for tests of documents: one written out by hand, one whose purchase and sums the stages worked out.

`worked_example` is the example under "Money" in the design: A sells inc VAT, B ex VAT, at 20 %; a greenhouse 120 m long
with six sockets along one wall, prices invented. `rich` has everything a document may have to show.
"""

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from decimal import Decimal

from estimator.building.model import Building
from estimator.buying.model import Basket, Bought, Cut, Order, OrderLine
from estimator.buying.order import order
from estimator.catalogue.model import Basis, Catalogue, Device, Merchant, Part, Price
from estimator.checks.model import Finding
from estimator.costing.budget import budget
from estimator.costing.model import BillLine, Budget, Range, VatLine
from estimator.job.model import Board, Buying, Control, Dig, InHand, Job, Run, Stage, Stretch, Sum, Trench, Way
from estimator.problems import Place
from estimator.result import Estimate
from estimator.routing.model import (
    XYZ,
    CircuitRoute,
    ControlRoute,
    Drilled,
    Leg,
    Passage,
    Path,
    Piece,
    Routes,
    RunRoute,
    Use,
)
from estimator.setout.model import Noggin, PlacedBoard, Point, SetOut
from estimator.takeoff.model import CutPiece, Made, Quantity, TakeOff, Task
from tests import jobs

D = Decimal
ZERO = Decimal(0)
JOB_FILE = Place("job.toml", 40, 1)
SOCKET, CLIP, CABLE = "socket-2g-dp", "clip-te-2.5", "cable-te-2.5"

PARTS = (
    jobs.part(SOCKET, section="Second fix accessories"),
    jobs.part(CLIP, section="First fix wiring"),
    jobs.part(CABLE, "length", "m", section="First fix wiring"),
)
LENGTHS_M = ("22.5", "19.3", "17.1", "20.1", "15.9", "18.7")
"""With tails of 1.2 m at the board's leg and 0.4 m at the others."""
CUTS_M = ("24.0", "20.6", "18.3", "21.5", "17.0", "20.0")
"""hand: length x 1.05 + 0.3, up to 0.1 m; the sum is 121.4."""
ROUTES_MM = (21300, 18900, 16700, 19700, 15500, 18300)
STUDS = (36, 31, 28, 33, 26, 30)


def price(part: str, merchant: str, pack: str, money: str, vat: Basis, match: str = "", code: str = "") -> Price:
    """A price of 1 October 2026, invented."""
    return Price(part, merchant, D(pack), D(money), vat, date(2026, 10, 1), match, code, "invented demo figure")


def merchant(name: str, vat: Basis, delivery: str = "0") -> Merchant:
    """A merchant without a free limit or a smallest order."""
    return Merchant(name, D(delivery), None, None, "GBP", vat, D("0.2"))


PRICES = (
    price(SOCKET, "A", "1", "7.99", "inc"),
    price(CLIP, "A", "100", "3.19", "inc"),
    price(CABLE, "B", "50", "26.50", "ex"),
    price(CABLE, "B", "100", "48.00", "ex"),
)
MERCHANTS = (merchant("A", "inc"), merchant("B", "ex"))


def worked_example() -> Estimate:
    """The design's worked example, every figure written out by hand."""
    job = replace(
        jobs.job(
            rooms=[jobs.room("greenhouse", (120000, 6000))],
            groups=[jobs.group("S", "double-socket", jobs.on(back=6), 1400, room="greenhouse", circuit="sockets")],
            boards=[jobs.board(wall="back", room="greenhouse")],
            circuits=[jobs.circuit("sockets")],
            buying=Buying(("A", "B"), ()),
            title="Long greenhouse",
        ),
        allowances=jobs.allowances(contingency=ZERO),
    )
    catalogue = jobs.catalogue(parts=PARTS, prices=PRICES, merchants=MERCHANTS)
    return Estimate(
        job,
        catalogue,
        Building(()),
        _greenhouse_setout(),
        _greenhouse_routes(),
        _greenhouse_takeoff(),
        _greenhouse_order(),
        _greenhouse_budget(),
        (Finding("certificate", "ask", "job", "Which route to a certificate is agreed, and with whom?"),),
    )


def _greenhouse_setout() -> SetOut:
    points, along = [], 400
    for number, route in enumerate(ROUTES_MM, 1):
        along += route
        points.append(
            Point(
                f"S{number}",
                "S",
                number,
                "double-socket",
                "sockets",
                "greenhouse",
                "wall",
                "back",
                along,
                1400,
                None,
                (along, 6000, 1400),
                (along, 6000, 1400),
                0,
            )
        )
    board = PlacedBoard("CU", "consumer-unit-8", "greenhouse", "back", 400, 1400, (400, 6000, 1400), (400, 6000, 1400))
    return SetOut(tuple(points), (board,), (), ())


def _greenhouse_routes() -> Routes:
    legs, along, before = [], 400, "CU"
    for number, (route, length, cut, studs) in enumerate(zip(ROUTES_MM, LENGTHS_M, CUTS_M, STUDS, strict=True), 1):
        legs.append(leg("sockets", before, f"S{number}", along, route, length, cut, studs))
        along, before = along + route, f"S{number}"
    return Routes(
        (
            CircuitRoute(
                "sockets",
                "CU",
                "radial",
                "te-2.5",
                tuple(f"S{n}" for n in range(1, 7)),
                110400,
                110400,
                True,
                tuple(legs),
            ),
        ),
        (),
        (),
        (),
        (),
    )


def leg(
    owner: str,
    start: str,
    end: str,
    along: int,
    route: int,
    length: str,
    cut: str,
    studs: int,
    use: Use = "feed",
    cable: str = "te-2.5",
    room: str = "greenhouse",
) -> Leg:
    """A leg straight along a back wall at y = 6 m, 1.4 m up."""
    ends: tuple[XYZ, XYZ] = ((along, 6000, 1400), (along + route, 6000, 1400))
    pieces = (Piece("lane", room, "back", "", *ends, route),)
    passages = tuple(
        Passage(
            ("stud", room, "back", str(number), "1400"),
            "stud",
            room,
            "back",
            (along + 600 * number, 6000, 1400),
            f"stud {number}",
            D(89),
        )
        for number in range(1, studs + 1)
    )
    return Leg(
        f"{owner}: {start} to {end}",
        owner,
        start,
        end,
        cable,
        use,
        route,
        int(D(length) * 1000),
        int(D(length) * 1000),
        int(D(cut) * 1000),
        0,
        Path(route, ends, pieces, passages),
    )


def _greenhouse_takeoff() -> TakeOff:
    return TakeOff(
        (
            quantity(CABLE, "first-fix", "113.6", "121.4", "sockets"),
            quantity(CLIP, "first-fix", "40", "40", "sockets"),
            quantity(CLIP, "second-fix", "25", "25", "S1 to S6"),
            quantity(SOCKET, "second-fix", "6", "6", "S1 to S6"),
        ),
        tuple(CutPiece(CABLE, "first-fix", one.id, D(one.cut_mm)) for one in _greenhouse_routes().legs),
        (),
    )


def quantity(part: str, stage: Stage, fixed: str, with_waste: str, of: str, room: str = "greenhouse") -> Quantity:
    """A quantity with one share."""
    return Quantity(part, stage, D(fixed), D(with_waste), (Made(of, room, D(fixed)),), (JOB_FILE,))


def _greenhouse_order() -> Order:
    lines = (
        OrderLine(CLIP, "A", D(100), 1, D("3.19"), "inc", D("0.2"), D("3.19"), D("2.66"), "first-fix", JOB_FILE),
        OrderLine(SOCKET, "A", D(1), 6, D("7.99"), "inc", D("0.2"), D("47.94"), D("39.95"), "second-fix", JOB_FILE),
        OrderLine(CABLE, "B", D(50), 1, D("26.50"), "ex", D("0.2"), D("26.50"), D("26.50"), "first-fix", JOB_FILE),
        OrderLine(CABLE, "B", D(100), 1, D("48.00"), "ex", D("0.2"), D("48.00"), D("48.00"), "first-fix", JOB_FILE),
    )
    pieces = tuple((one.id, D(one.cut_mm)) for one in _greenhouse_routes().legs)
    return Order(
        lines=lines,
        delivery=(),
        baskets=(
            Basket("A", "inc", D("0.2"), D("51.13"), D("42.61"), D("8.52")),
            Basket("B", "ex", D("0.2"), D("74.50"), D("74.50"), D("14.90")),
        ),
        cuts=(
            Cut(CABLE, "B", D(100000), pieces[:4], D(15600)),
            Cut(CABLE, "B", D(50000), pieces[4:], D(13000)),
        ),
        bought=(
            Bought(CABLE, D("74.50"), D(150), ZERO),
            Bought(CLIP, D("2.66"), D(100), ZERO),
            Bought(SOCKET, D("39.95"), D(6), ZERO),
        ),
        cost=D("140.53"),
        bound=D("140.53"),
        proven=True,
        findings=(),
    )


def _greenhouse_budget() -> Budget:
    """hand: clips 2.66 / 100 x 40 = 1.064, 1.06; x 65 = 1.729, 1.73 - 1.06 = 0.67; cable 74.50 / 150 x 121.4 = 60.295,
    half up 60.30; left over 2.66 - 1.73 = 0.93 and 74.50 - 60.30 = 14.20."""
    taken = {(of.part, of.stage): of for of in _greenhouse_takeoff().quantities}

    def line(item: str, part: str, section: str, stage: Stage, unit: str, rate: str, amount: str) -> BillLine:
        of = taken[part, stage]
        return BillLine(
            item,
            part,
            part,
            section,
            stage,
            unit,
            of.quantity,
            of.with_waste,
            D(rate),
            D(amount),
            of.made_of,
            of.source,
        )

    none = Range(ZERO, ZERO, ZERO)
    return Budget(
        bill=(
            line("1.1", CABLE, "First fix wiring", "first-fix", "m", "0.4966666666666666666666666667", "60.30"),
            line("1.2", CLIP, "First fix wiring", "first-fix", "nr", "0.0266", "1.06"),
            line("1.3", CLIP, "First fix wiring", "second-fix", "nr", "0.0266", "0.67"),
            line("2.1", SOCKET, "Second fix accessories", "second-fix", "nr", "6.658333333333333333333333333", "39.95"),
        ),
        left_over=(("First fix wiring", D("15.13")),),
        materials=D("117.11"),
        left_over_total=D("15.13"),
        delivery=ZERO,
        labour=ZERO,
        sums=(),
        sums_total=ZERO,
        contingency=ZERO,
        ex_vat=D("117.11"),
        vat=(VatLine(D("0.2"), D("23.42")),),
        total=D("140.53"),
        labour_priced=False,
        materials_only=True,
        hours_self=none,
        hours_electrician=none,
        oldest_price=("2026-10-01", CABLE),
        invented=(0, 0),
    )


ROSE, BREAKER, TIMBER, BOARD_CASE, ARMOURED = "label-cable", "rcbo-b20", "timber-38x89", "consumer-unit-8", "swa-3c-10"

RICH_PARTS: tuple[Part, ...] = (
    *PARTS,
    replace(jobs.part(ROSE, waste="0.05", section="First fix wiring"), note="two for every leg"),
    replace(jobs.part("screw-wood-5x70", waste="0.1", section="First fix boxes and timber", counter="timber")),
    replace(
        jobs.part("duct-50", unit="m", waste="0.05", section="Supply and groundworks", vat_rate="0.05"),
        counter="ground",
    ),
    jobs.part(BREAKER, section="Boards and protection", match_group="modular"),
    jobs.part(BOARD_CASE, section="Boards and protection", match_group="modular"),
    jobs.timber(TIMBER),
    replace(
        jobs.part(ARMOURED, "length", "m", section="Supply and groundworks"), trade_name='SWA XLPE/PVC, "3 core" 10 mm2'
    ),
)
RICH_PRICES = (
    *PRICES,
    price(ROSE, "B", "1", "0.032", "ex"),
    price("screw-wood-5x70", "A", "100", "3.49", "inc"),
    price("screw-wood-5x70", "A", "200", "6.79", "inc"),
    price("duct-50", "B", "10", "11.05", "ex"),
    price(BREAKER, "B", "1", "21.40", "ex", "k", "BR20"),
    price(BOARD_CASE, "B", "1", "68.15", "ex", "k"),
    price(TIMBER, "A", "2.4", "5.05", "inc"),
    price(TIMBER, "A", "3", "6.10", "inc"),
    price(ARMOURED, "B", "1", "4.85", "ex"),
)
RICH_MERCHANTS = (merchant("A", "inc", "7.50"), merchant("B", "ex"))
LONG_ROOM = "greenhouse"


def rich(
    parts: Iterable[Part] = (),
    prices: Iterable[Price] = (),
    sums: Iterable[Sum] | None = None,
    contingency: str = "0.1",
    vat: str = "0.2",
    title: str = 'Long greenhouse & "potting" shed',
) -> Estimate:
    """Everything a document may have to show; `parts` and `prices` replace those of the same key.

    `vat` is the rate of the job and of all that bears 20 % as it stands.
    """
    job = _rich_job(sums, contingency, vat, title)
    own = D(vat)
    every_part = {part.part: _taxed(part, own) for part in (*RICH_PARTS, *parts)}
    every_price = {(of.part, of.merchant, of.pack): of for of in (*RICH_PRICES, *prices)}
    catalogue = jobs.catalogue(
        parts=every_part.values(),
        prices=every_price.values(),
        merchants=[replace(one, vat_rate=own) for one in RICH_MERCHANTS],
        cables=[replace(jobs.cable(ARMOURED, "10", "10", "20", "20", 3), part=ARMOURED)],
        devices=[Device("contactor-25a", "contactor", "contactor", D(25), None, None, 3, None, "common practice", "")],
    )
    return worked_out(job, catalogue, _rich_setout(), _rich_routes(), _rich_takeoff(catalogue, own))


def worked_out(job: Job, catalogue: Catalogue, placed: SetOut, routes: Routes, taken: TakeOff) -> Estimate:
    """The estimate of quantities given: bought and added up by the stages themselves."""
    bought = order(job, catalogue, taken)
    return Estimate(
        job,
        catalogue,
        Building(()),
        placed,
        routes,
        taken,
        bought,
        budget(job, catalogue, taken, bought),
        RICH_FINDINGS,
    )


RICH_FINDINGS = (
    Finding(
        "board-ways",
        "stop",
        "CU",
        "CU has 8 ways, and 9 are taken: choose a larger board.",
        D(9),
        D(8),
        "nr",
        "common practice",
    ),
    Finding(
        "voltage-drop",
        "ask",
        "sockets",
        "4.1 %, limit 3 %: ask your electrician about a larger cable.",
        D("4.1"),
        D(3),
        "%",
        "a table of the rules",
        "2022",
        'circuit.sockets.cable = "te-4"',
    ),
    Finding("corner", "note", "S1", "=1+1 is near a corner.", D("0.3333333"), D(350), "mm"),
    Finding("insulation", "unchecked", "wall back", "No insulation was given."),
)


def _rich_job(sums: Iterable[Sum] | None, contingency: str, vat: str, title: str) -> Job:
    boards = [
        jobs.board(wall="back", room=LONG_ROOM, fed_by="feed"),
        Board("house", None, None, True, Way("mcb-b40", True), None, None, None, None),
    ]
    trench = Trench("lawn", (Dig(22000, 600, 300, "lawn"),))
    run = Run(
        "feed",
        ARMOURED,
        "house",
        "CU",
        (Stretch(None, 4000), Stretch("lawn", 22000), Stretch(None, 1800)),
        450,
        None,
        (None, None),
    )
    job = jobs.job(
        rooms=[jobs.room(LONG_ROOM, (120000, 6000))],
        groups=[
            jobs.group("S", "double-socket", jobs.on(back=6), 1400, room=LONG_ROOM, circuit="sockets"),
            jobs.group("DL", "downlight", jobs.at_xy((3000, 2000)), surface="ceiling", room=LONG_ROOM),
            jobs.group("ES", "emergency-stop", jobs.at(("back", 2100)), 1200, room=LONG_ROOM, circuit=None),
            jobs.group("GO", "start-button", jobs.at(("back", 2400)), 1200, room=LONG_ROOM, circuit=None),
        ],
        boards=boards,
        circuits=[jobs.circuit("sockets")],
        controls=[Control("machine stop", ("sockets",), "CU", ("ES1",), "GO1", "te3-1.5")],
        trenches=[trench],
        runs=[run],
        sums=RICH_SUMS if sums is None else sums,
        title=title,
        buying=Buying(("A", "B"), (InHand(TIMBER, 1100, 2, None), InHand("screw-wood-5x70", None, 0, D("0.3")))),
    )
    return replace(job, allowances=jobs.allowances(contingency=D(contingency), vat=D(vat)))


RICH_SUMS = (
    Sum("Electrician: inspect, connect, test, certify", "quote", D(420), D(480), D(560), "none", "second-fix"),
    Sum("Digger, one day", "hire", D("138.33"), D("138.33"), D("138.33"), "ex", "supply"),
    Sum("Skip", "hire", D(190), D("199.99"), D(230), "inc", None),
)


def _rich_setout() -> SetOut:
    plain = _greenhouse_setout()
    ceiling = Point(
        "DL1",
        "DL",
        1,
        "downlight",
        "none",
        LONG_ROOM,
        "ceiling",
        None,
        None,
        None,
        None,
        (3000, 2000, 2400),
        (3000, 2000, 2400),
        12,
    )
    stop = Point(
        "ES1",
        "ES",
        1,
        "emergency-stop",
        None,
        LONG_ROOM,
        "wall",
        "back",
        2100,
        1200,
        None,
        (2100, 6000, 1200),
        (2100, 6000, 1200),
        0,
    )
    noggin = Noggin(("S1",), LONG_ROOM, "back", TIMBER, D("21638"), D("562"), 1400, D("22.5"), D("28.5"))
    return SetOut((*plain.points[3:], *plain.points[:3], stop, ceiling), plain.boards, (noggin,), ())


def _rich_routes() -> Routes:
    plain = _greenhouse_routes()
    passage = plain.circuits[0].legs[0].path.passages[0]
    control = ControlRoute(
        "machine stop",
        "CU",
        ("sockets",),
        "te3-1.5",
        (leg("machine stop", "CU", "ES1", 400, 1700, "2.9", "3.4", 3, "control", "te3-1.5"),),
    )
    run = RunRoute(
        "feed",
        "feed",
        ARMOURED,
        "house",
        "CU",
        29900,
        31900,
        31900,
        33800,
        0,
        None,
        (("building", 4000), ("lawn", 22000), ("building", 1800)),
        ("", ""),
    )
    drilled = Drilled(passage, ("sockets: CU to S1", "machine stop: CU to ES1"), ("te-2.5", "te3-1.5"), D(20))
    wall = replace(passage, kind="wall", wall="", member="", at=(0, 1234, -150))
    return Routes(plain.circuits, (control,), (run,), (drilled, Drilled(wall, ("feed",), (ARMOURED,), None)), ())


def _taxed(part: Part, own: Decimal) -> Part:
    """The part at the job's own rate, where it bears the usual one."""
    return replace(part, vat_rate=own) if part.vat_rate == D("0.2") else part


def _rich_takeoff(catalogue: Catalogue, own: Decimal) -> TakeOff:
    rows: list[tuple[str, Stage, str, str]] = [
        (BREAKER, "second-fix", "1", "sockets"),
        (BOARD_CASE, "second-fix", "1", "CU"),
        (CABLE, "first-fix", "113.6", "sockets"),
        (CLIP, "first-fix", "40", "sockets"),
        (CLIP, "second-fix", "25", "S1 to S6"),
        ("duct-50", "supply", "22", "lawn"),
        (ROSE, "first-fix", "14", "sockets"),
        (ROSE, "second-fix", "21", "CU"),
        ("screw-wood-5x70", "first-fix", "118", "S1 to S6"),
        (SOCKET, "second-fix", "6", "S1 to S6"),
        (ARMOURED, "supply", "31.9", "feed"),
        (TIMBER, "first-fix", "3.934", "S1 to S6"),
    ]
    by_length = {CABLE: "121.4", ARMOURED: "33.8", TIMBER: "3.934"}
    quantities = tuple(
        quantity(part, stage, fixed, by_length.get(part) or str(D(fixed) * (1 + catalogue.parts[part].waste)), of)
        for part, stage, fixed, of in rows
    )
    pieces = (
        *_greenhouse_takeoff().pieces,
        CutPiece(ARMOURED, "supply", "feed", D(33800)),
        *(CutPiece(TIMBER, "first-fix", f"noggin S{number}", D(562)) for number in range(1, 8)),
    )
    tasks = (
        Task("Connect a socket", "electrician", "second-fix", D(6), D(60), D(95), D(150), D("38.50"), own),
        Task("Cut and fix a noggin", "self", "first-fix", D(7), D(28), D(42), D(70), None, own),
        Task("Drill and pull", "self", "first-fix", D(6), D(100), D(200), D(400), D("12"), ZERO),
    )
    return TakeOff(quantities, pieces, tasks)


def empty() -> Estimate:
    """A job with nothing in it: no points, nothing to buy."""
    return replace(
        worked_out(
            jobs.job(title="Empty shed"),
            jobs.catalogue(),
            SetOut((), (), (), ()),
            Routes((), (), (), (), ()),
            TakeOff((), (), ()),
        ),
        findings=(),
    )
