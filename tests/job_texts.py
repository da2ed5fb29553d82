"""Job files as text for tests of the reader: the design's own example, and a small job to spoil in one place."""

POTTERY = """\
title    = "Pottery studio"
ruleset  = "uk"
currency = "GBP"
priced_on = 2026-10-01
test_on  = 2027-02-01

[allowances]
cable_waste = "5 %"
leg_extra = "300 mm"
contingency = "10 %"
vat = "20 %"
tails = { box = "200 mm", light = "500 mm", board = "1 m", outside = "300 mm", run = "1 m" }

[frame]
stud = "38 x 89 mm"
centres = "600 mm"
inside = ["12.5 mm plasterboard", "2 mm skim"]
outside = ["11 mm sheathing", "25 mm batten", "20 mm cladding"]
insulation = "80 mm rigid foam"
vapour_layer = true
gap = "0 mm"
noggin = "38 x 89 mm flat"
hole = "20 mm from back"
cable_zones = "keep"
support = "clip"

[supply]
earthing = "TN-C-S"
external_impedance = { value = "0.35 ohm", basis = "typical maximum" }
voltage = "230 V"
main_fuse = "80 A"

[[board]]
name = "house"
outside_job = true
way = { device = "mcb-b40", spare = true }

[[board]]
name = "CU"
kind = "consumer-unit-8"
fed_by = "feed"
room = "studio"
wall = "left"
along = "0.4 m"
height = "1.4 m"

[[room]]
name = "studio"
size = ["6.0 m", "4.0 m"]
at = ["0 m", "0 m"]
floor_level = "0 m"
ground = "-150 mm"
height = "2.4 m"
ceiling = { joist = "47 x 145 mm", centres = "400 mm", span = "along y", insulation = "100 mm" }
lighting = { target = "300 lx", plane = "0.9 m", maintenance = 0.8 }

  [[room.opening]]
  kind = "door"
  wall = "front"
  along = "0.6 m"
  width = "0.9 m"
  sill = "0 m"
  head = "2.1 m"

  [[room.fitted]]
  name = "bench"
  wall = "back"
  along = "0.3 m"
  width = "2.4 m"
  from = "0 m"
  to = "0.9 m"
  fixings = "80 mm at 0.85 m"

  [[room.soffit]]
  wall = "front"
  depth = "600 mm"

[[points]]
name = "S"
kind = "double-socket"
circuit = "bench sockets"
room = "studio"
height = "1.1 m"
spread = 12

[[points]]
name = "DL"
kind = "downlight"
circuit = "lights"
switched_by = ["W1"]
room = "studio"
surface = "ceiling"
rows = 2
columns = 4
edge = ["700 mm", "900 mm"]

[[points]]
name = "W"
kind = "switch"
circuit = "lights"
room = "studio"
height = "1.2 m"
at = [ { wall = "front", along = "1.7 m" } ]

[[points]]
name = "ES"
kind = "emergency-stop"
room = "studio"
height = "1.2 m"
at = [ { wall = "front", along = "2.1 m" } ]

[[points]]
name = "GO"
kind = "start-button"
room = "studio"
height = "1.2 m"
at = [ { wall = "left", along = "0.9 m" } ]

[[circuit]]
name = "lights"
board = "CU"
wiring = "branching"
cable = "te-1.5"
device = "rcbo-b6"

[[circuit]]
name = "bench sockets"
board = "CU"
wiring = "radial"
cable = "te-2.5"
device = "rcbo-b20"

[[control]]
name = "machine stop"
drops = ["bench sockets"]
contactor = "CU"
buttons = ["ES1"]
start = "GO1"
cable = "te3-1.5"

[[trench]]
name = "lawn"
stretches = [ { length = "22 m", depth = "600 mm", width = "300 mm", surface = "lawn" } ]

[[run]]
name = "feed"
cable = "swa-3c-10"
from = "house"
to = "CU"
stretches = [ { in = "building", length = "4 m" }, { in = "trench", trench = "lawn" }, { in = "building", length = "1.8 m" } ]
entry = "450 mm"

[[sum]]
name = "Electrician: inspect, connect, test, certify"
kind = "quote"
amount = "£480"
vat = "none"
stage = "second-fix"

[certificate]
nation = "England"
route = "registered electrician"
agreed_on = 2026-09-20

[[as_built]]
from = "S3"
to = "S4"
length = "2.7 m"

[[scenario]]
name = "sixteen sockets"
change = { "points.S.spread" = 16 }

[buying]
merchants = ["any"]
in_hand = [ { part = "timber-38x89", length = "1.1 m", count = 4 } ]
"""
"""The example of the design, its remarks and alternatives left out."""

SMALL = """\
title = "Shed"
ruleset = "uk"
priced_on = 2026-10-01

[frame]
stud = "38 x 89 mm"
centres = "600 mm"
inside = ["12 mm plywood"]

[[board]]
name = "house"
outside_job = true
way = { device = "mcb-b32", spare = true }

[[board]]
name = "CU"
kind = "consumer-unit-6"
fed_by = "feed"
room = "shed"
wall = "left"
along = "0.4 m"
height = "1.4 m"

[[room]]
name = "shed"
size = ["4.8 m", "3.0 m"]
ground = "-150 mm"
height = "2.4 m"

  [[room.opening]]
  kind = "door"
  wall = "front"
  along = "0.5 m"
  width = "0.9 m"
  head = "2.0 m"

  [[room.fitted]]
  name = "bench"
  wall = "back"
  along = "0.6 m"
  width = "3 m"
  to = "0.9 m"

  [[room.soffit]]
  wall = "front"
  depth = "600 mm"

[[points]]
name = "S"
kind = "double-socket"
circuit = "sockets"
room = "shed"
height = "450 mm"
on = { back = 2, left = 1 }

[[points]]
name = "L"
kind = "downlight"
circuit = "lights"
switched_by = ["W1"]
room = "shed"
surface = "ceiling"
rows = 1
columns = 2

[[points]]
name = "W"
kind = "switch"
circuit = "lights"
room = "shed"
height = "1.2 m"
at = [{ wall = "front", along = "1.7 m" }]

[[points]]
name = "ES"
kind = "emergency-stop"
room = "shed"
height = "1.2 m"
at = [{ wall = "front", along = "2.3 m" }, { wall = "front", along = "2.9 m" }]

[[circuit]]
name = "sockets"
board = "CU"
wiring = "radial"
cable = "te-2.5"
device = "rcbo-b20"

[[circuit]]
name = "lights"
board = "CU"
wiring = "branching"
cable = "te-1.5"
device = "rcbo-b6"

[[control]]
name = "stop"
drops = ["sockets"]
contactor = "CU"
buttons = ["ES1"]
start = "ES2"
cable = "te3-1.5"

[[trench]]
name = "lawn"
stretches = [{ length = "18 m", depth = "600 mm" }]

[[run]]
name = "feed"
cable = "swa-3c-6"
from = "house"
to = "CU"
stretches = [{ in = "building", length = "3 m" }, { in = "trench", trench = "lawn" }]

[[sum]]
name = "Electrician"
kind = "quote"
amount = "£480"
vat = "none"

[buying]
in_hand = [{ part = "timber-38x89", length = "1.1 m", count = 4 }]
"""


def changed(old: str, new: str) -> str:
    """The small job with one piece of it written otherwise."""
    assert old in SMALL, old
    return SMALL.replace(old, new, 1)
