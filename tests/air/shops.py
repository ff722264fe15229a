"""Small shops for the tests of the air room."""

from kerfwind.shop import Shop, parse_shop

PLAIN = """
[vacuum]
tank = "9 US gal"
amps = "9.5 A"
suction = { sealed = "65 inH2O" }
[[tools]]
name = "Sander"
hood = "pad holes"
[[tools]]
name = "Planer"
hood = "planer hood"
"""

# Everything measured: nothing the verdicts rest on is assumed but what no one measures.
MEASURED = """
[vacuum]
inlet = { inside = "58 mm", outside = "62 mm" }
filter = "clean"
[vacuum.suction]
points = [
  { airflow = "0 L/s", suction = "18 kPa" },
  { airflow = "20 L/s", suction = "12 kPa" },
  { airflow = "40 L/s", suction = "5 kPa" },
]
[separator.cyclone]
inlet = { inside = "50 mm", outside = "54 mm" }
outlet = { inside = "50 mm", outside = "54 mm" }
height = "280 mm"
[room]
altitude = "100 m"
temperature = "20 °C"
[[hoses]]
name = "thin"
bore = "36 mm"
length = "3 m"
tool_end = { inside = "34 mm", outside = "38 mm" }
unit_end = { inside = "50 mm", outside = "54 mm" }
[[hoses]]
name = "wide"
bore = "57 mm"
length = "2.5 m"
tool_end = { inside = "54 mm", outside = "58 mm" }
unit_end = { inside = "50 mm", outside = "54 mm" }
[[hoses]]
name = "link"
use = "link"
bore = "57 mm"
length = "1 m"
tool_end = { inside = "50 mm", outside = "54 mm" }
unit_end = { inside = "54 mm", outside = "58 mm" }
[[tools]]
name = "Sander"
hood = "pad holes"
port = { inside = "30 mm", outside = "34 mm" }
rise = "0.5 m"
[[tools]]
name = "Router"
hood = "router base"
port = { inside = "34 mm", outside = "38 mm" }
rise = "0 m"
[[tools]]
name = "Planer"
hood = "planer hood"
port = { inside = "98 mm", outside = "102 mm" }
rise = "0 m"
[[fittings]]
name = "4 to 2-1/2 reducer"
end_a = { inside = "102 mm", outside = "106 mm" }
end_b = { inside = "54 mm", outside = "58 mm" }
length = "110 mm"
[[fittings]]
name = "elbow"
kind = "elbow"
end_a = { inside = "34 mm", outside = "38 mm" }
end_b = { inside = "34 mm", outside = "38 mm" }
"""

BRANCHES = """
[[branches]]
name = "main"
bore = "63 mm"
length = "3 m"
bends = 2
[[branches]]
name = "to the sander"
to = "main"
bore = "50 mm"
length = "2 m"
gate = "open"
tool = "Sander"
[[branches]]
name = "to the planer"
to = "main"
bore = "63 mm"
length = "2 m"
angle = "0 °"
gate = "closed"
tool = "Planer"
[[branches]]
name = "sweep"
bore = "50 mm"
length = "1 m"
gate = "closed"
sweep = true
"""


def shop(text: str) -> Shop:
    """The shop in a text."""
    return parse_shop(text).shop


def hose(of: Shop, name: str):
    """One of its hoses."""
    return next(h for h in of.hoses if h.name == name)


def tool(of: Shop, name: str):
    """One of its tools."""
    return next(t for t in of.tools if t.name == name)
