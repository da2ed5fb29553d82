"""The quote: figures of the estimate and no others, inert whatever users wrote, whole on a phone and on paper."""

import os
import re
import shutil
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from decimal import Decimal as D
from functools import cache
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path

import pytest

from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import read_catalogue
from estimator.checks.model import Finding
from estimator.documents.key import ABBREVIATIONS
from estimator.documents.page import css_string
from estimator.documents.quote import render_quote
from estimator.documents.quote_money import bill_sections, cut_rows, ladder, spending
from estimator.documents.words import CAUTIONS, LEVEL_TITLES, MATERIALS_ONLY, PROVEN, money, rate
from estimator.drawings.sheets import plans
from estimator.estimate import estimate
from estimator.job.model import Job
from estimator.job.read import read_job
from estimator.result import Estimate
from tests import estimates, houses
from tests.shed import ROOT, STUDIO

VOID = {"meta", "link", "br", "img", "input", "hr"}


@cache
def studio() -> Estimate:
    job, _ = read_job(STUDIO)
    return estimate(job, read_catalogue(STUDIO))


@cache
def page() -> str:
    return render_quote(studio())


@cache
def house() -> Estimate:
    return estimate(houses.house(), read_catalogue(houses.FOLDER))


@cache
def house_page() -> str:
    return render_quote(house())


class Page(HTMLParser):
    """What a browser would see: tags with their attributes, and text with the tags that it stands in."""

    def __init__(self, text: str) -> None:
        super().__init__(convert_charrefs=True)
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.texts: list[tuple[str, tuple[str, ...]]] = []
        self.open: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag, f"</{tag}> closes something else"

    def handle_data(self, data: str) -> None:
        self.texts.append((data, tuple(self.open)))

    @property
    def visible(self) -> str:
        """The text that is read, with the words of drawings; neither styles nor what describes a drawing."""
        unseen = {"style", "title", "desc"}
        return " ".join(" ".join(data for data, inside in self.texts if not unseen & set(inside)).split())

    def named(self, tag: str) -> list[dict[str, str]]:
        return [attributes for name, attributes in self.tags if name == tag]


def rows_of(text: str, table: str) -> list[list[str]]:
    """The cells of every body row of the tables with that class, as text."""
    found = []
    for body in re.findall(rf'<table class="[^"]*\b{table}\b[^"]*">(.*?)</table>', text, re.S):
        for row in re.findall(r"<tr[^>]*>(.*?)</tr>", body.partition("</thead>")[2], re.S):
            cells = re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.S)
            found.append([" ".join(re.sub(r"<[^>]+>", " ", cell).split()) for cell in cells])
    return found


def pounds(text: str) -> D:
    return D(text.replace("£", "").replace(",", ""))


def test_the_total_of_the_estimate_stands_in_the_page_once() -> None:
    total = money(studio().budget.total)
    assert 1 == Page(page()).visible.count(total)
    assert f'<p class="figure">{total}</p>' in page()


def test_the_order_of_adding_up_comes_to_the_total() -> None:
    amounts = [(row[0], pounds(row[1])) for row in rows_of(page(), "ladder")]
    ex = next(amount for words, amount in amounts if words.startswith("Total ex VAT"))
    vat = sum(amount for words, amount in amounts if words.startswith("VAT at"))
    before = sum(amount for words, amount in amounts if not words.startswith(("VAT at", "Total ex VAT")))
    assert ex == before == studio().budget.ex_vat
    assert ex + vat == studio().budget.total


def test_the_rows_of_the_bill_and_what_is_left_over_come_to_the_materials() -> None:
    lines = [row for row in rows_of(page(), "bill") if len(row) == 7]
    assert len(studio().budget.bill) == len(lines)
    printed = sum(pounds(row[6]) for row in lines)
    assert printed + studio().budget.left_over_total == studio().budget.materials
    heads = sum(pounds(row[1]) for row in rows_of(page(), "bill") if len(row) == 2)
    assert printed == heads
    last = rows_of(page(), "spending")[-1]
    assert [printed, studio().budget.left_over_total, studio().budget.materials] == [pounds(of) for of in last[1:]]
    body = rows_of(page(), "spending")[:-1]
    assert [sum(pounds(row[column]) for row in body) for column in (1, 2, 3)] == [pounds(of) for of in last[1:]]


def test_the_rate_times_the_quantity_that_is_seen_gives_the_amount() -> None:
    rows = {row[0]: row for row in rows_of(render_quote(estimates.worked_example()), "bill") if len(row) == 7}
    # published: the design's example; hand: 121.4 m x 0.4967 is 60.30, 40 clips x 0.0266 are 1.06.
    assert ["113.6", "121.4", "m", "£0.4967", "£60.30"] == rows["1.1"][2:]
    assert ["40", "", "nr", "£0.0266", "£1.06"] == rows["1.2"][2:]
    assert "with waste" not in rows["1.1"][1]


def test_a_rate_is_told_to_the_penny_and_finer_only_where_it_is() -> None:
    rates = ("16.8", "0.6", "0", "0.0266", "6.658333333333333333333333333", "1234.5", "0.49666")
    # hand: half up at the fourth place, idle noughts after the pennies left out
    told = ["£16.80", "£0.60", "£0.00", "£0.0266", "£6.6583", "£1,234.50", "£0.4967"]
    assert told == [rate(D(of)) for of in rates]


def test_hours_are_told_by_task_and_in_all() -> None:
    rows = rows_of(page(), "hours")
    tasks = studio().budget.tasks
    assert 2 + len(tasks) == len(rows)
    assert ["Your own, all of it", "The electrician&#39;s, all of it"] == [row[0] for row in rows[:2]]
    assert [of.work for of in tasks] == [row[0] for row in rows[2:]]
    dig = next(row for row in rows if row[0] == "Dig with a mini digger")
    # hand: 22 x 0.3 x 0.6 m of trench at 20, 33 and 67 minutes a cubic metre are 79.2, 130.68 and 265.32 minutes
    assert ["your own", "Supply", "1.3", "2.2", "4.4"] == dig[1:]


def test_prices_that_are_nobodys_offer_are_told_at_the_total() -> None:
    of = studio()
    told = "{} of 88 prices in this order are invented or samples: put in your own."
    # measured: every price of the example says that it is invented.
    assert told.format(88) in page().partition("</header>")[0]
    few = render_quote(replace(of, budget=replace(of.budget, invented=(1, 88))))
    assert "1 of 88 prices in this order is invented or a sample: put in your own." in Page(few).visible
    none = render_quote(replace(of, budget=replace(of.budget, invented=(0, 88))))
    assert "put in your own" not in none


def test_a_price_list_that_names_no_merchant_is_told_as_not_chosen() -> None:
    seen = Page(page()).visible
    assert "merchant not chosen yet prices" in seen
    assert not re.search(r"\bany prices\b", seen)


def test_sections_told_are_those_of_the_bill_and_add_up_exactly() -> None:
    spent = spending(studio().budget)
    assert studio().budget.materials == sum(of.total for of in spent)
    assert [of.section for of in spent] == [of[1] for of in bill_sections(studio().budget, "GBP")]


def test_tills_are_told_inc_vat_and_come_to_what_the_baskets_hold() -> None:
    tills = [row for row in rows_of(page(), "order") if row[0].startswith("At the till, inc VAT")]
    assert [basket.net + basket.vat for basket in studio().order.baskets] == [pounds(row[1]) for row in tills]
    for basket in studio().order.baskets:
        assert f"prices {basket.basis} VAT" in Page(page()).visible


def test_every_line_of_the_order_and_every_cut_is_told() -> None:
    goods = [row for row in rows_of(page(), "order") if len(row) == 5]
    assert len(studio().order.lines) == len(goods)
    cuts = rows_of(page(), "cuts")
    assert len(studio().order.cuts) == len(cuts)
    for row, cut in zip(cuts, studio().order.cuts, strict=True):
        assert len(cut.pieces) == pieces_told(row[2])
        for name, _ in cut.pieces:
            assert name in row[2] or name.rpartition(" ")[2] in row[2]


def pieces_told(text: str) -> int:
    """How many pieces a row of the cutting list tells of: those cut alike are one, with their number before the length."""
    lengths = (of.rpartition("&ensp;")[2].strip() for of in text.split(";") if not of.endswith("&ensp"))
    told = [of.partition(" x ") for of in lengths if re.fullmatch(r"(\d+ x )?[\d.]+", of)]
    return sum(int(count) if times else 1 for count, times, _ in told)


def test_neighbours_that_are_cut_alike_are_told_together_and_all_others_alone() -> None:
    noggin = D("562")
    pieces = (
        ("noggin S1", noggin),
        ("noggin S4", noggin),
        ("noggin LD1, LT1", noggin),
        ("lights: CU to W1", D("5000")),
        ("lights: W1 to W2", D("5000")),
        ("feed", D("9300")),
        ("link", D("9300")),
    )
    of = estimates.rich()
    cut = replace(studio().order.cuts[0], pieces=pieces, part=next(iter(of.catalogue.parts)))
    (row,) = cut_rows(replace(of, order=replace(of.order, cuts=(cut,))))
    # hand: only pieces for one point each, of one length and one after the other, are drawn together
    assert (
        ("noggin S1, S4", "2 x 0.562"),
        ("noggin LD1, LT1", "0.562"),
        ("lights: CU to W1", "5"),
        ("lights: W1 to W2", "5"),
        ("feed", "9.3"),
        ("link", "9.3"),
    ) == row.pieces


def test_circuits_are_told_with_their_points_metres_and_whether_they_are_proven() -> None:
    rows = {row[1]: row for row in rows_of(page(), "circuits")}
    # hand: from the routes of the example, 22.996 m to two decimals; the letter is the second of the names
    # hand: thirteen legs have a tail of 1 m at the board and 25 of 0.2 m at boxes, 6 m in all
    points = "FA1, S1 to S12"
    assert ["B", "bench sockets", "CU", "radial", "te-2.5", "rcbo-b20", points, "23.00", "29.00", "yes"] == rows[
        "bench sockets"
    ]
    # hand: two legs, tails of 1 and three times 0.2 m
    assert ["H", "wheel stop", "te3-1.5", "CU, GO1, ES1", "wheels", "8.80", "10.40"] == rows["wheel stop"]
    # hand: 4 + 22 + 1.8 + rises of 1.05 twice; with tails of 1 twice
    assert ["29.90", "31.90"] == rows["feed"][-2:]


def test_a_circuit_is_told_with_every_cable_it_is_wired_in() -> None:
    rows = {row[1]: row for row in rows_of(house_page(), "circuits")}
    assert "te-1.5; te3-1.5 straps" == rows["lights down"][4]  # hand: its sets of two switches have a strap each
    assert "te-2.5" == rows["sockets down"][4]


def test_a_line_of_the_bill_tells_what_two_lines_hold_and_how_much_more_there_is() -> None:
    notes = [row.note for _, _, _, rows in bill_sections(house().budget, "GBP") for row in rows]
    assert all(len(note) <= 170 for note in notes)  # hand: 150 and the stage before it
    shortened = {
        line.item: (line, row.note)
        for line, row in zip(
            house().budget.bill,
            (row for _, _, _, rows in bill_sections(house().budget, "GBP") for row in rows),
            strict=True,
        )
        if " more" in row.note
    }
    assert len(shortened) > 10
    for line, note in shortened.values():
        told, _, more = note.rpartition("; and ")
        assert len(line.made_of) == len(told.split("; ")) + int(more.removesuffix(" more"))


def test_a_circuit_that_is_not_proven_says_how_short_it_could_be() -> None:
    of = studio()
    circuits = tuple(replace(one, proven=False, bound_mm=one.bound_mm - 500) for one in of.routes.circuits)
    text = render_quote(replace(of, routes=replace(of.routes, circuits=circuits)))
    assert "no; at least 22.50 m" in Page(text).visible  # hand: 22.996 - 0.5


def test_places_of_points_are_told_in_mm() -> None:
    rows = {row[0]: row for row in rows_of(page(), "where")}
    # hand: WS at 4.4 m and 5.6 m of the back wall, 450 mm up; KL at 3.1 m of the left wall, 1.2 m up
    assert ["WS", "Single socket", "2", "wheels", "450 up: back 4400, 5600"] == rows["WS"]
    assert ["KL", "Cooker outlet", "1", "kiln", "1200 up: left 3100"] == rows["KL"]
    assert "wheel stop" == rows["ES"][3]
    assert "data link" == rows["D"][3]
    house_rows = {row[0]: row for row in rows_of(house_page(), "where")}
    # hand: two runs at the study's outlets; thirteen at the blank plate, whose letters are R to Z and AA to AD
    assert "data study, front, data study, window" == house_rows["SD"][3]
    assert "13 cables: R to AD" == house_rows["DH"][3]
    assert house_rows["MW"][4] == "main bedroom, 1200 up: right 1300 main bedroom, 1000 up: left 2700"


def test_all_that_has_to_be_said_is_said() -> None:
    seen = Page(page()).visible
    for words in (*CAUTIONS, PROVEN, *LEVEL_TITLES.values(), *(meaning for _, meaning in ABBREVIATIONS)):
        assert words in seen
    for words in ("2026-10-15", "The oldest price", "Contingency, 10 %", "£420.00 to £620.00", "The electrician's"):
        assert words in seen
    for finding in studio().findings:
        assert " ".join(finding.message.split()) in seen


def test_findings_stand_under_the_heading_of_their_level_worst_first() -> None:
    text = Page(render_quote(estimates.rich())).visible
    places = [
        text.index(words)
        for words in (
            LEVEL_TITLES["stop"],
            "9 are taken",
            LEVEL_TITLES["ask"],
            "4.1 %, limit 3 %",
            LEVEL_TITLES["note"],
            "near a corner",
            LEVEL_TITLES["unchecked"],
            "No insulation was given",
        )
    ]
    assert sorted(places) == places


def test_a_total_of_materials_only_says_so_at_the_figure() -> None:
    head = render_quote(estimates.worked_example()).partition("</header>")[0]
    assert MATERIALS_ONLY in head
    assert "£140.53" in head  # published: the worked example of the design
    assert MATERIALS_ONLY not in page()


def test_an_empty_job_has_a_page_too() -> None:
    seen = Page(render_quote(estimates.empty())).visible
    assert "Empty shed" in seen
    assert 'href="#plan"' not in render_quote(estimates.empty())  # there is no room, so no plan to go to
    assert "£0.00" in seen


@pytest.mark.parametrize("text", [page, house_page], ids=["studio", "house"])
def test_no_page_says_that_a_job_is_fit(text: object) -> None:
    assert callable(text)
    seen = Page(text()).visible.lower()
    # "Passed through" is what a cable does with a wall, and "live tests" are work; nothing else here may sound like a verdict.
    seen = seen.replace("dead and live tests", "")
    for word in (
        "compliant",
        "complies",
        "safe",
        "safely",
        "certified",
        "pass",
        "passes",
        "live",
        "c1",
        "c2",
        "c3",
        "fi",
    ):
        assert not re.search(rf"\b{word}\b", seen), word


def test_the_page_asks_for_nothing_and_runs_nothing() -> None:
    for text in (page(), house_page()):
        parsed = Page(text)
        policy = [of["content"] for of in parsed.named("meta") if of.get("http-equiv") == "Content-Security-Policy"]
        assert ["default-src 'none'; style-src 'unsafe-inline'; img-src data:"] == policy
        assert not {"script", "iframe", "object", "embed", "form", "img", "base"} & {tag for tag, _ in parsed.tags}
        for tag, attributes in parsed.tags:
            assert not [name for name in attributes if name.startswith("on") or name in ("src", "srcset", "xlink:href")]
            assert attributes.get("href", "#").startswith(("#", "data:,")), tag
        assert "url(" not in text
        assert "@import" not in text
        assert set(re.findall(r"https?://[^\s\"]+", text)) == {"http://www.w3.org/2000/svg"}


EVIL = "</style><script>alert(1)</script><img src=x onerror=alert(2)>\"'&{{ 7*7 }}{% raw %}\u202e"


def hostile() -> Estimate:
    """The studio with markup, quotes and turned text in every field that a user can write freely."""
    job = houses.renamed(read_job(STUDIO)[0], lambda name: EVIL + name)
    catalogue = read_catalogue(STUDIO)
    of = estimate(_hostile_job(job), _hostile_catalogue(catalogue))
    finding = Finding("check", "stop", EVIL, EVIL, D(1), D(2), EVIL, EVIL, EVIL, EVIL)
    return replace(of, findings=(*of.findings, finding))


def _hostile_job(job: Job) -> Job:
    rooms = tuple(
        replace(
            room,
            fitted=tuple(replace(thing, name=EVIL + thing.name) for thing in room.fitted),
            frames=tuple(
                replace(frame, inside=tuple(replace(layer, material=EVIL) for layer in frame.inside))
                for frame in room.frames
            ),
        )
        for room in job.rooms
    )
    sums = tuple(replace(one, name=EVIL + one.name) for one in job.sums)
    runs = tuple(replace(run, start=run.start + EVIL) if run.start.startswith("outside:") else run for run in job.runs)
    return replace(job, title=EVIL, rooms=rooms, sums=sums, runs=runs)


def _hostile_catalogue(of: Catalogue) -> Catalogue:
    parts = {
        name: replace(
            part, description=EVIL + part.description, trade_name=EVIL + part.trade_name, unit=part.unit + "<b>"
        )
        for name, part in of.parts.items()
    }
    kinds = {name: replace(kind, label=EVIL + kind.label, symbol=EVIL) for name, kind in of.points.items()}
    prices = tuple(replace(price, source=EVIL, merchant=EVIL + price.merchant) for price in of.prices)
    merchants = {EVIL + name: replace(one, merchant=EVIL + name) for name, one in of.merchants.items()}
    rules = {key: replace(rule, applies_to=EVIL + rule.applies_to, source=EVIL) for key, rule in of.rules.items()}
    return replace(of, parts=parts, points=kinds, prices=prices, merchants=merchants, rules=rules)


@cache
def hostile_page() -> str:
    return render_quote(hostile())


def test_whatever_users_write_stays_text() -> None:
    parsed, plain = Page(hostile_page()), Page(page())
    assert {tag for tag, _ in plain.tags} >= {tag for tag, _ in parsed.tags}
    assert Counter(tag for tag, _ in parsed.tags)["style"] == 1
    names = {name for _, attributes in parsed.tags for name in attributes}
    assert names <= {name for _, attributes in plain.tags for name in attributes}
    shown = EVIL.replace("\u202e", "\ufffd")
    assert shown in parsed.visible
    assert parsed.visible.count(shown) > 200
    assert "\u202e" not in hostile_page()
    assert "{{ 7*7 }}" in parsed.visible


def test_a_title_in_a_style_is_a_string_and_nothing_else() -> None:
    # hand: code points of < / ' " \ and a line end; each escape ends in a space
    assert '"a\\3c \\2f b\\27 \\22 \\5c \\a c"' == css_string("a</b'\"\\\nc")
    assert '"Shed 2"' == css_string("Shed 2")
    style = hostile_page().partition("<style>")[2].partition("</style>")[0]
    assert "<" not in style
    assert "alert(1)" not in style
    assert style.count("{") == style.count("}")


def test_tables_headings_and_language_are_marked_as_what_they_are() -> None:
    for text in (page(), house_page()):
        parsed = Page(text)
        assert [{"lang": "en-GB"}] == parsed.named("html")
        tables = re.findall(r"<table.*?</table>", text, re.S)
        assert len(tables) >= 10
        for table in tables:
            assert "<caption>" in table
            assert 'scope="col"' in table
        assert all(of.get("scope") in ("col", "row", "rowgroup") for of in parsed.named("th"))
        levels = [int(tag[1]) for tag, _ in parsed.tags if re.fullmatch("h[1-6]", tag)]
        assert 1 == levels[0]
        assert 1 == levels.count(1)
        assert all(after - before <= 1 for before, after in pairwise(levels))
        ids = [of["id"] for _, of in parsed.tags if "id" in of]
        assert len(ids) == len(set(ids))
        targets = {of["href"][1:] for of in parsed.named("a")}
        assert targets <= set(ids)


def test_the_same_estimate_gives_the_same_bytes_whatever_the_hash_seed() -> None:
    assert page() == render_quote(studio())
    code = "import hashlib; from tests.test_quote import page; print(hashlib.sha256(page().encode()).hexdigest())"
    seen = {
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=ROOT,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "4711")
    }
    assert 1 == len(seen)


# ---- in a browser ----


@pytest.fixture(scope="module")
def browser() -> str:
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        assert os.environ.get("CI") != "true", "Chromium is missing"
        pytest.skip("Chromium is missing")
    return found


def run(browser: str, *words: str) -> str:
    command = [browser, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", *words]
    return subprocess.run(command, capture_output=True, text=True, check=True, timeout=120).stdout


def tool(name: str, *words: str) -> str:
    if shutil.which(name) is None:
        assert os.environ.get("CI") != "true", f"{name} is missing"
        pytest.skip(f"{name} is missing")
    return subprocess.run([name, *words], capture_output=True, text=True, check=True).stdout


MEASURE = """<script>
addEventListener("load", () => {
  const wide = [...document.querySelectorAll("body *")].filter(
    one => !one.closest(".plan svg") && one.getBoundingClientRect().right > innerWidth + 1);
  parent.postMessage([innerWidth, document.documentElement.scrollWidth,
    wide.map(one => one.tagName + "." + one.className).slice(0, 5).join(" ")].join("|"), "*");
});
</script>"""
FRAME = """<!DOCTYPE html><title>frame</title><body><script>
addEventListener("message", got => { document.body.setAttribute("data-got", got.data); });
</script><iframe src="inner.html" style="border:0;width:WIDTHpx;height:640px"></iframe></body>"""


@pytest.mark.browser
@pytest.mark.parametrize(
    ("text", "width"),
    [
        *((page, width) for width in (320, 390, 768, 1280)),
        (house_page, 320),
        *((hostile_page, width) for width in (320, 768)),
    ],
    ids=lambda of: str(of) if isinstance(of, int) else of.__name__,
)
def test_nothing_reaches_beyond_the_window(browser: str, tmp_path: Path, text: object, width: int) -> None:
    """A copy of the page, with a script of ours in place of its policy, in a frame as wide as the window would be."""
    assert callable(text)
    copy = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text())
    (tmp_path / "inner.html").write_text(copy.replace("</body>", MEASURE + "</body>"), encoding="utf-8")
    frame = tmp_path / "frame.html"
    frame.write_text(FRAME.replace("WIDTH", str(width)), encoding="utf-8")
    dom = run(
        browser,
        "--virtual-time-budget=4000",
        f"--window-size={max(width, 500) + 100},900",
        "--dump-dom",
        frame.as_uri(),
    )
    found = re.search(r'data-got="(\d+)\|(\d+)\|([^"]*)"', dom)
    assert found is not None
    assert (str(width), str(width), "") == found.groups()


CELLS = """<script>
addEventListener("load", () => {
  const narrow = [...document.querySelectorAll(".cuts tbody th, .cuts .pieces, .rows tbody th, .rows td")].filter(
    one => one.getBoundingClientRect().width < 0.8 * innerWidth);
  parent.postMessage([innerWidth, narrow.length, narrow.map(one => one.textContent).slice(0, 3).join(" ")].join("|"), "*");
});
</script>"""


@pytest.mark.browser
def test_on_a_phone_names_of_cuts_and_assumptions_have_the_whole_line(browser: str, tmp_path: Path) -> None:
    copy = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", page())
    (tmp_path / "inner.html").write_text(copy.replace("</body>", CELLS + "</body>"), encoding="utf-8")
    (tmp_path / "frame.html").write_text(FRAME.replace("WIDTH", "390"), encoding="utf-8")
    frame = (tmp_path / "frame.html").as_uri()
    dom = run(browser, "--virtual-time-budget=4000", "--window-size=500,900", "--dump-dom", frame)
    found = re.search(r'data-got="(\d+)\|(\d+)\|([^"]*)"', dom)
    assert found is not None
    assert ("390", "0", "") == found.groups()


def print_of(browser: str, folder: Path, text: str) -> Path:
    (folder / "quote.html").write_text(text, encoding="utf-8")
    run(browser, "--no-pdf-header-footer", f"--print-to-pdf={folder / 'quote.pdf'}", (folder / "quote.html").as_uri())
    return folder / "quote.pdf"


@pytest.fixture(scope="module")
def printed(browser: str, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return print_of(browser, tmp_path_factory.mktemp("printed"), page())


@pytest.fixture(scope="module")
def printed_house(browser: str, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return print_of(browser, tmp_path_factory.mktemp("house"), house_page())


def pages_of(pdf: Path) -> list[str]:
    return tool("pdftotext", "-layout", str(pdf), "-").split("\f")[:-1]


@pytest.mark.browser
def test_printed_it_is_a4_with_the_plan_on_a_sheet_of_its_own(printed: Path) -> None:
    told = tool("pdfinfo", "-f", "1", "-l", "99", str(printed))
    sizes = [(float(w), float(h)) for w, h in re.findall(r"Page +\d+ size: +([\d.]+) x ([\d.]+)", told)]
    # published: ISO 216, A4 is 210 x 297 mm; a point is 25.4 / 72 mm
    upright, flat = (595.28, 841.89), (841.89, 595.28)
    assert all(of in (pytest.approx(upright, abs=1), pytest.approx(flat, abs=1)) for of in sizes)
    assert 1 == sum(of == pytest.approx(flat, abs=1) for of in sizes)
    pages = pages_of(printed)
    assert len(sizes) == len(pages)
    for number, text in enumerate(pages, 1):
        assert f"Page {number} of {len(pages)}" in text
    plan = pages[next(index for index, of in enumerate(sizes) if of[0] > of[1])]
    assert "Plan of studio" in plan
    assert "wheel stop" in plan  # the key is beside it


@pytest.mark.browser
def test_printed_the_total_stands_there_once(printed: Path) -> None:
    assert 1 == tool("pdftotext", "-layout", str(printed), "-").count(money(studio().budget.total))


@pytest.mark.browser
@pytest.mark.parametrize("which", ["studio", "house"])
def test_printed_no_heading_is_the_last_thing_on_a_page(which: str, request: pytest.FixtureRequest) -> None:
    text, pdf = (page(), "printed") if which == "studio" else (house_page(), "printed_house")
    ends = {
        " ".join(re.sub(r"<[^>]+>", " ", of).split())
        for of in (*re.findall(r"<h[23][^>]*>(.*?)</h[23]>", text), *re.findall(r"<thead>(.*?)</thead>", text, re.S))
    }
    for printed_page in pages_of(request.getfixturevalue(pdf)):
        lines = [" ".join(line.split()) for line in printed_page.splitlines() if line.strip()]
        body = [line for line in lines if not line.startswith("For budgeting and buying; no design")]
        assert body[-1] not in ends


@pytest.mark.browser
def test_printed_the_house_is_short_and_every_plan_is_whole_on_one_page(printed_house: Path) -> None:
    pages = pages_of(printed_house)
    assert len(pages) <= 27  # measured: 27 with walls of two rooms asked about; 40 with a sheet for every room
    # Where a sheet went on over a second page, what is below its bar would be on that.
    bars = [text for text in pages for _ in range(text.count("this bar is 100 mm long when printed at 100 %"))]
    sheets = plans(house()).sheets
    assert len(sheets) == len(bars)
    for sheet, text in zip(sheets, bars, strict=True):
        words = set(text.split())
        for plan in sheet.plans:
            level = re.findall(r"<text(?![^>]*transform)[^>]*>([^< ]+)</text>", plan.drawing.svg)
            assert set(level) <= words, plan.drawing.title
            assert {letter for letter, _ in plan.notes.cables} <= words
            assert {group for groups, _ in plan.notes.points for group in groups.split(", ")} <= {
                of.rstrip(",") for of in words
            }


@pytest.mark.browser
def test_printed_the_check_bar_is_100_mm(printed: Path, tmp_path: Path) -> None:
    """Measured on the page as a picture of 300 dots an inch: 10 mm are 118.1 dots."""
    told = tool("pdfinfo", "-f", "1", "-l", "99", str(printed))
    sizes = re.findall(r"Page +(\d+) size: +([\d.]+) x ([\d.]+)", told)
    number = next(number for number, w, h in sizes if float(w) > float(h))
    tool("pdftoppm", "-gray", "-r", "300", "-f", number, "-l", number, str(printed), str(tmp_path / "plan"))
    (picture,) = tmp_path.glob("plan*.pgm")
    raw = picture.read_bytes()
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", raw)
    assert head is not None
    width, height = int(head[1]), int(head[2])
    rows = (raw[head.end() + y * width : head.end() + (y + 1) * width] for y in range(height - 1, -1, -1))
    runs = next(found for row in rows if len(found := black_runs(row, 100)) == 5)
    for start, end in runs:
        assert 118.1 == pytest.approx(end - start, abs=3)  # the outline is 0.13 mm wide, 1.5 dots
    # hand: five filled tenths of ten, the first and the ninth 80 mm apart, 80 / 25.4 x 300
    assert 944.9 == pytest.approx(runs[4][0] - runs[0][0], abs=1.5)


def black_runs(row: bytes, least: int) -> list[tuple[int, int]]:
    """Stretches of at least so many black dots."""
    return [(of.start(), of.end()) for of in re.finditer(rb"[\x00-\x60]{%d,}" % least, row)]


def test_the_vat_that_labour_bears_stands_beside_it() -> None:
    worked = studio()
    told = ("VAT at 20 %", "VAT at 0 % and 20 %", "bears no VAT")
    for expected, rates in zip(told, ((D("0.2"),), (D(0), D("0.2")), (D(0),)), strict=True):
        of = replace(worked.budget, labour_priced=True, labour_vat=rates)
        assert [expected] == [step.note for step in ladder(of, worked.job) if step.words == "Labour"]
