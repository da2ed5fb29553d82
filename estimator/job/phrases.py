"""Short phrases of the job file -> values: "38 x 89 mm flat", "80 mm rigid foam", "150 mm above bench" and the like.

Like `quantities`, strict patterns and `Wrong` for what does not fit.
"""

import re
from dataclasses import dataclass
from decimal import Decimal

from estimator.job.model import Fixings, Height, Layer, NogginTimber, Section
from estimator.quantities import Wrong, length_mm, show, size_mm

NO_LAYER = "none"
TIMBER_MM = ((15, 300), (30, 800))
"""Thickness and depth of any stud or joist, metal and glued ones too (common practice); beyond, the unit is wrong."""
LOWEST_MM = 25
"""No box has its middle so near the floor; a height below that has the wrong unit."""
INCHES = 12
"""Sides of a timber that are no more than this are inches, in which timber is called after what it measured once."""
_SIZE = r"-?[\d.,]+ *[A-Za-z]*"
_SECTION = re.compile(r"(?P<thickness>[\d.]+) *(?P<unit>mm|cm|in)? *[x×X*] *(?P<depth>[\d.]+) *(?P<units>mm|cm|in)")
_LAYER = re.compile(r"(?P<size>[\d.]+ *(?:mm|cm|in))(?: +(?P<material>\S.*))?")
_HEIGHT = re.compile(r"(?P<size>.*?) +above +(?P<above>\S.*)")
_FIXINGS = re.compile(rf"(?P<screw>{_SIZE}) +at +(?P<height>{_SIZE})")
_HOLE = re.compile(rf"(?P<size>{_SIZE}) +from +back")
_LIES = {"flat": False, "on edge": True}


@dataclass(frozen=True, slots=True)
class Insulation:
    """What fills a frame; `layer` None: the user says that there is none."""

    layer: Layer | None


@dataclass(frozen=True, slots=True)
class Hole:
    """Where cables pass in the depth of a stud; None: in the middle."""

    from_back_mm: Decimal | None


def section(value: object) -> Section | Wrong:
    """The cross-section of a timber, thickness x depth."""
    example = 'write thickness x depth, for example "38 x 89 mm"'
    match = _SECTION.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None or match["unit"] not in (None, match["units"]):
        return Wrong(f"{show(value)} is not the section of a timber", _section_advice(value) or example)
    sides = [size_mm(f"{match[side]} {match['units']}") for side in ("thickness", "depth")]
    thickness, depth = sides
    if isinstance(thickness, Wrong) or isinstance(depth, Wrong) or not (thickness and depth):
        return Wrong(f"{show(value)} is not the section of a timber", example)
    return Section(thickness, depth)


def timber(value: object) -> Section | Wrong:
    """The cross-section of a stud or joist, of sizes that there are; what is only unlikely is taken."""
    found = section(value)
    if isinstance(found, Wrong):
        return found
    sides = found.thickness_mm, found.depth_mm
    if all(low <= side <= high for side, (low, high) in zip(sides, TIMBER_MM, strict=True)):
        return found
    said = " x ".join(f"{side:f}".rstrip("0").rstrip(".") if "." in f"{side:f}" else f"{side:f}" for side in sides)
    (thin, thick), (shallow, deep) = TIMBER_MM
    hint = f"check the unit: write a thickness from {thin} to {thick} mm and a depth from {shallow} to {deep} mm"
    return Wrong(f"{show(value)} is no timber: it would be {said} mm", hint)


def _section_advice(value: object) -> str | None:
    """What to write for two numbers without a unit; inches by name are no measure."""
    bare = re.fullmatch(r"(\d+(?:\.\d+)?) *[x×X*] *(\d+(?:\.\d+)?)", value.strip()) if isinstance(value, str) else None
    if bare is None:
        return None
    if max(Decimal(bare[1]), Decimal(bare[2])) <= INCHES:
        return 'measure the timber, and write thickness x depth, for example "38 x 89 mm"'
    return f'write the unit: "{bare[1]} x {bare[2]} mm"'


def noggin(value: object) -> NogginTimber | Wrong:
    """A timber and how it lies: "38 x 89 mm flat", or "on edge"."""
    text = value.strip() if isinstance(value, str) else ""
    for words, on_edge in _LIES.items():
        if text.endswith(words):
            timber = section(text.removesuffix(words).strip())
            return (
                Wrong(f"{show(value)} is not a noggin", _NOGGIN)
                if isinstance(timber, Wrong)
                else (NogginTimber(timber, on_edge))
            )
    timber = section(value)
    if isinstance(timber, Wrong):
        return Wrong(f"{show(value)} is not a noggin", _NOGGIN)
    return Wrong(f"{show(value)} does not say how it lies", f'write "{text} flat" or "{text} on edge"')


_NOGGIN = 'write for example "38 x 89 mm flat" or "38 x 89 mm on edge"'


def layer(value: object) -> Layer | Wrong:
    """A layer of a wall: its thickness, then what it is made of."""
    match = _LAYER.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None:
        return Wrong(f"{show(value)} is not a layer", _layer_advice(value))
    thickness = size_mm(match["size"])
    if isinstance(thickness, Wrong) or not thickness:
        return Wrong(f"{show(value)} has no thickness", 'write for example "12.5 mm plasterboard"')
    return Layer(thickness, match["material"] or "")


def _layer_advice(value: object) -> str:
    if isinstance(value, str) and value.strip() == NO_LAYER:
        return 'for no layers at all write [] or "none" in place of the list'
    if isinstance(value, str) and (turned := re.fullmatch(r"(\D+?) +([\d.]+) *(mm|cm|in)", value.strip())):
        return f'write the thickness first: "{turned[2]} {turned[3]} {turned[1]}"'
    return 'write thickness and material, for example "12.5 mm plasterboard"'


def insulation(value: object) -> Insulation | Wrong:
    """What fills a frame, or "none"."""
    if isinstance(value, str) and value.strip() == NO_LAYER:
        return Insulation(None)
    found = layer(value)
    if isinstance(found, Wrong):
        return Wrong(f"{show(value)} is not insulation", 'write for example "80 mm rigid foam", or "none"')
    return Insulation(found)


def height(value: object) -> Height | Wrong:
    """A centre line: "1.1 m" above the floor, "450 mm above ground", or "150 mm above bench" (something fitted)."""
    match = _HEIGHT.fullmatch(value.strip()) if isinstance(value, str) else None
    size = length_mm(value if match is None else match["size"])
    if isinstance(size, Wrong):
        if match is None and isinstance(value, str) and value.strip().startswith("above "):
            return Wrong(f"{show(value)} is not a height", f'write how far, for example "150 mm {value.strip()}"')
        if match is None:
            return Wrong(size.found.replace("a length", "a height"), size.write)
        return Wrong(f"{show(value)} is not a height", f'write for example "150 mm above {match["above"]}"')
    if size < 0:
        return Wrong(f"{show(value)} is below zero", 'write a height such as "450 mm"')
    if match is None and 0 < size < LOWEST_MM:
        meant = f'write "{value.split(" ")[0].rstrip("cm")} m" if metres are meant' if isinstance(value, str) else ""
        return Wrong(f"{show(value)} is lower than the middle of any box can be", f"check the unit: {meant}")
    above = "floor" if match is None else re.sub(r"^the +", "", match["above"])
    return Height(size, above)


def fixings(value: object) -> Fixings | Wrong:
    """Screws of something fitted: their length and how high they stand."""
    wrong = Wrong(f"{show(value)} does not say screw length and height", 'write for example "80 mm at 0.85 m"')
    match = _FIXINGS.fullmatch(value.strip()) if isinstance(value, str) else None
    if match is None:
        return wrong
    screw, high = size_mm(match["screw"]), length_mm(match["height"])
    if isinstance(screw, Wrong) or isinstance(high, Wrong) or screw <= 0 or high < 0:
        return wrong
    return Fixings(screw, high)


def hole(value: object) -> Hole | Wrong:
    """Where a cable passes in the depth of a stud: so far from its back, or its centre."""
    if isinstance(value, str) and value.strip() in ("centre", "center"):
        return Hole(None)
    match = _HOLE.fullmatch(value.strip()) if isinstance(value, str) else None
    size = size_mm(match["size"]) if match else None
    if size is None or isinstance(size, Wrong) or size <= 0:
        return Wrong(f"{show(value)} is not a place for a hole", 'write "20 mm from back" or "centre"')
    return Hole(size)
