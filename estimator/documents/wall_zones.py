"""wall-zones.html: an `Estimate` goes in; one page comes out with every wall drawn, what may go where in it, and why.

The head is a template; the walls are written here, since a house has fifty of them with a thousand cells.
"""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from html import escape
from itertools import groupby

from estimator.checks.model import Finding
from estimator.documents.hole_words import which_of_several
from estimator.documents.key import ABBREVIATIONS, WALL_ZONES, key_of
from estimator.documents.page import render_page
from estimator.documents.words import CAUTIONS, LEVEL_TITLES
from estimator.drawings.letters import Owner, letters
from estimator.drawings.svg import printable
from estimator.drawings.wall_network import wall_drawing
from estimator.drawings.wall_network_behind import Behind
from estimator.drawings.wall_network_key import wall_key
from estimator.drawings.wall_network_view import Band, Beside, View, Way, wall_views
from estimator.result import Estimate
from estimator.routing.hole_spacing import OFF
from estimator.routing.model import Drilled
from estimator.routing.words import as_text
from estimator.routing.zone_findings import CHECK
from estimator.routing.zones import width_rule

Cables = Mapping[str, tuple[str, str, str]]
"""By id of a leg or run: letter and name of what it belongs to, and from where to where (empty for a run)."""

COLUMNS = (
    ("name", "What"),
    ("along", "Along"),
    ("up", "Up"),
    ("why", "Why it is there"),
    ("cables", "Cables along it"),
)


def render_wall_zones(estimate: Estimate) -> str:
    """The whole of wall-zones.html: HTML 5, no script, nothing fetched; the same estimate gives the same text."""
    views = wall_views(estimate)
    rooms = {room: tuple(of) for room, of in groupby(views, key=lambda view: view.wall.room)}
    subjects = {_subject(view) for view in views}
    return render_page(
        "wall-zones.html.j2",
        {
            "job": estimate.job,
            "cautions": CAUTIONS,
            "prescribed": _prescribed(estimate),
            "about_all": tuple((LEVEL_TITLES[of.level], of) for of in _told(estimate) if of.subject not in subjects),
            "rooms": tuple(rooms),
            "words": (*key_of(WALL_ZONES), *(of for of in ABBREVIATIONS if of[0] == "m, mm")),
            "key": wall_key(),
            "walls": "\n".join(_rooms(estimate, rooms)),
        },
    )


def _prescribed(estimate: Estimate) -> str:
    """Whose rule the zones are."""
    rule = width_rule(estimate.catalogue, estimate.job.ruleset)
    if rule is None:
        return f'The rules table has no cable zones in ruleset "{estimate.job.ruleset}", so none are drawn.'
    source = ", ".join(of for of in (rule.source, rule.edition) if of)
    return f'The zones are drawn as the rules table prescribes them (ruleset "{rule.ruleset}": {source}).'


def _told(estimate: Estimate) -> Iterator[Finding]:
    return (finding for finding in estimate.findings if finding.check in (CHECK, OFF))


def _subject(view: View) -> str:
    """What a finding about a wall is told of."""
    return f"{view.wall.room}, {view.wall.name}"


def _rooms(estimate: Estimate, rooms: Mapping[str, Sequence[View]]) -> Iterator[str]:
    """Rooms in the order of the plans, walls clockwise; of each room those last that are not drawn."""
    cables = _cables(estimate)
    findings: dict[str, list[Finding]] = {}
    for finding in _told(estimate):
        findings.setdefault(finding.subject, []).append(finding)
    for index, (room, views) in enumerate(rooms.items(), 1):
        yield f'<h2 id="room-{index}">{_inert(room)}</h2>'
        for view in sorted(views, key=lambda view: (view.bare, view.wall.index)):
            prefix = f"wall-{index}-{view.wall.index + 1}"
            yield from _wall(view, prefix, findings.get(_subject(view), ()), cables)


def _wall(view: View, prefix: str, findings: Sequence[Finding], cables: Cables) -> Iterator[str]:
    """A wall's drawing, findings and table; one line where there is nothing to draw."""
    wall = view.wall
    title = f"{_called(wall.name)} of {wall.room}"
    name, size = _inert(title), f"{wall.length_mm} long, {view.height_mm} high"
    if view.bare:
        yield f'<p class="free bare"><b>{name}</b>, {size}. {_inert(_bare(view))}</p>'
        yield from _findings(findings)
        return
    drawn = wall_drawing(view, prefix, f"{title}, seen from inside")
    of = drawn.drawing
    yield f'<section class="wall{" flat" if drawn.flat else ""}">\n<figure>\n<h3>{name}</h3>'
    yield (
        f"<figcaption>{size}; seen from inside, 1:{of.scale}. "
        '<span class="slide">Slide the drawing sideways to see all of it.</span></figcaption>'
    )
    yield (
        f'<div class="drawing" tabindex="0" role="region" aria-label="{name}" style="--w: {of.width_mm}mm">{of.svg}</div>\n'
        "</figure>"
    )
    yield from _findings(findings)
    rows = (*map(_zone_row, view.bands), *(_way_row(way, cables) for way in view.ways))
    yield from _table(name, [*rows, *_hole_rows(view.beside, cables), *_behind_rows(view.behind, cables)])
    yield "</section>"


def _called(wall: str) -> str:
    """`Back wall`, `Wall-2`."""
    return wall.capitalize() if wall.startswith("wall") else f"{wall.capitalize()} wall"


def _in_words(wall: str) -> str:
    """`the back wall`, `wall-2`."""
    return wall if wall.startswith("wall") else f"the {wall} wall"


def _bare(view: View) -> str:
    """What there is to say of a wall that is not drawn."""
    words = "Nothing is fixed to it and no cable runs along it, so it is not drawn."
    if view.bands:
        words += f" Cable zones: {'; '.join(_why(band.reasons) for band in view.bands)}."
    if view.ways:
        words += (
            f" Risers at {', '.join(str(way.line.at_mm) for way in view.ways)} along, beside the studs at its ends."
        )
    return words


def _findings(findings: Sequence[Finding]) -> Iterator[str]:
    if findings:
        yield '<ul class="findings">'
        for of in findings:
            source = ", ".join(one for one in (of.source, of.edition) if one)
            yield (
                f"<li><b>{LEVEL_TITLES[of.level]}</b>: {_inert(of.message)}"
                f"{f' <small>{_inert(source)}</small>' if source else ''}</li>"
            )
        yield "</ul>"


def _table(wall: str, rows: Sequence[str]) -> Iterator[str]:
    """What the drawing shows, in words; `wall` and rows are marked up."""
    heads = "".join(f'<th scope="col" class="{name}">{words}</th>' for name, words in COLUMNS)
    yield f'<table class="reflow network">\n<caption class="hidden">{wall}: zones, lanes, risers, holes beside them, and what is behind</caption>'
    yield f"<thead><tr>{heads}</tr></thead>\n<tbody>"
    yield from rows
    yield "</tbody>\n</table>"


def _zone_row(band: Band) -> str:
    zone = band.zone
    along = f"{as_text(zone.low_along_mm)} to {as_text(zone.high_along_mm)}"
    up = f"{as_text(zone.low_mm)} to {as_text(zone.high_mm)}"
    return _row(f"zone {band.number}", along, up, _why(band.reasons), "")


def _way_row(way: Way, cables: Cables) -> str:
    line = way.line
    spans = ", ".join(f"{low} to {high}" for low, high in line.stretches) or "nothing is left of it"
    name = f"{line.kind} {way.number}" if way.number else line.kind
    along, up = (spans, str(line.at_mm)) if line.kind == "lane" else (str(line.at_mm), spans)
    return _row(name, along, up, line.reason, "; ".join(_by_owner(way.cables, cables)))


def _hole_rows(beside: Sequence[Beside], cables: Cables) -> Iterator[str]:
    """Holes that are not on the way of their cables, those alike but for where along (or up) they are as one."""
    alike: dict[tuple[str, str, Decimal | None], list[Drilled]] = {}
    for of in beside:
        passage, set_off = of.hole.passage, of.hole.set_off
        kind, which = str(passage.kind), which_of_several(set_off, passage) if set_off else ""
        level = of.hole.height_mm if kind in ("stud", "plate") else None
        alike.setdefault((kind, which, level), []).append(of.hole)
    for (kind, why, _), holes in alike.items():
        along = ", ".join(as_text(hole.along_mm) for hole in holes)
        up = ", ".join(dict.fromkeys(as_text(hole.height_mm or Decimal(0)) for hole in holes))
        legs = dict.fromkeys(leg for hole in holes for leg in hole.legs)
        name = f"{'hole' if len(holes) == 1 else 'holes'}, {kind}"
        yield _row(name, along, up, why, "; ".join(_by_owner(tuple(legs), cables)))


def _behind_rows(behind: Sequence[Behind], cables: Cables) -> Iterator[str]:
    """What the wall of the room behind holds, at places as seen from this room."""
    for far in behind:
        where = f"in {_in_words(far.wall)} of {far.room}, {far.gap_mm} mm from face to face of the frames"
        for thing in far.things:
            yield _row("behind", str(thing.along_mm), str(thing.up_mm), f"{thing.name}, {where}", "")
        for of, ids in far.cables:
            span, at = f"{of.low_mm} to {of.high_mm}", str(of.at_mm)
            along, up = (span, at) if of.kind == "lane" else (at, span)
            yield _row("behind", along, up, f"cable {where}", "; ".join(_by_owner(ids, cables)))


def _row(name: str, along: str, up: str, why: str, cables: str) -> str:
    """One zone, lane or riser; `cables` is marked up."""
    return (
        f'<tr><th scope="row" class="name">{name}</th><td class="along" data-label="along">{along}</td>'
        f'<td class="up" data-label="up">{up}</td><td class="why free">{_inert(why)}</td>'
        f'<td class="cables free">{cables}</td></tr>'
    )


def _why(reasons: Sequence[str]) -> str:
    """Reasons that begin alike told as one: `level with S1, S2`."""
    heads = {reason.partition(" with ")[0] for reason in reasons}
    if len(reasons) == 1 or len(heads) > 1:
        return "; ".join(reasons)
    return f"{heads.pop()} with {', '.join(reason.partition(' with ')[2] for reason in reasons)}"


def _by_owner(ids: Sequence[str], cables: Cables) -> Iterator[str]:
    """Legs of one owner together, owners by letter as the quote has them."""
    found: dict[tuple[str, str], list[str]] = {}
    for one in ids:
        letter, name, way = cables[one]
        found.setdefault((letter, name), []).append(way)
    for (letter, name), ways in sorted(found.items(), key=lambda one: (len(one[0][0]), one[0])):
        words = ": ".join(of for of in (name, ", ".join(ways)) if of)
        yield f'<b class="letter">{letter}</b> {_inert(words)}'


def _cables(estimate: Estimate) -> Cables:
    marks, routes = letters(estimate.routes), estimate.routes
    owners = [(Owner("circuit", of.name), of.legs) for of in routes.circuits]
    owners += [(Owner("control", of.name), of.legs) for of in routes.controls]
    found = {
        leg.id: (marks[owner], owner.name, leg.id.removeprefix(f"{owner.name}: "))
        for owner, legs in owners
        for leg in legs
    }
    return found | {run.id: (marks[Owner("run", run.name)], run.name, "") for run in routes.runs}


def _inert(text: str) -> str:
    """Text as a page may hold it."""
    return escape(printable(text))
