"""The section of a printed reducer shows the sizes to measure back."""

import re

from kerfwind.drawing import Paper, layout, overlaps, svg
from kerfwind.drawing.reducer import reducer_drawing
from kerfwind.facts import Ref
from kerfwind.hookup.reducer import design
from kerfwind.shop import parse_shop
from kerfwind.words import Voice


def test_both_ends_sizes_stand_on_the_drawing():
    shop = parse_shop(
        '[[tools]]\nname = "s"\nhood = "pad holes"\n'
        'port = { inside = "30 mm", outside = "35 mm", length = "28 mm" }\n'
        '[[tools]]\nname = "m"\nhood = "mitre boot"\n'
        'port = { inside = "58 mm", outside = "63.5 mm", length = "35 mm" }\n'
    ).shop
    reducer = design(shop.tools[0].port, shop.tools[1].port, (Ref("tool", "s"), Ref("tool", "m")))
    placed = layout(reducer_drawing(reducer, Voice(units="mm")), Paper(178, 85), Voice(units="mm"))
    assert overlaps(placed) == []
    texts = " ".join(re.findall(r">([^<]+)<", svg(placed)))
    for end in (reducer.first, reducer.last):
        for size in (end.inside, end.outside):
            assert f"Ø {1000 * size:.1f} " in texts
    assert f"{1000 * reducer.length:.0f}" in texts
