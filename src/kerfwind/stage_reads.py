"""What of a shop each stage reads: the key of its cache, and all that it is given.

A field that is left out is None in what the stage gets, so that an edit of it never makes the
stage run again. Whatever a stage comes to read has to be added here.
"""

from __future__ import annotations

from .kept import Kept
from .shop import Hose, Shop
from .shop.sections import cut_down, names, only_fields

_SEPARATOR_IN_AIR = names("in_use valve", cyclone=names("inlet outlet height"))
_VACUUM_IN_AIR = names("inlet suction filter filter_area filter_class")
_CORD = names("cord")

HOOKUP = names(
    "hoses fittings weights",
    vacuum=_VACUUM_IN_AIR,
    separator=_SEPARATOR_IN_AIR,
    tools=names(
        "name hood operation port needs_airflow measured_suction measured_sealed rise bends hose "
        "place size made opening bored"
    ),
    room=names("length width altitude temperature outlets"),
    circuit=_CORD,
    wishes=names("measures printer largest_length largest_width"),
)
_WAYS = names(
    "fittings",
    hoses=names("name use bore length wall tool_end unit_end"),
    vacuum=names("inlet"),
    separator=names("in_use", cyclone=names("inlet outlet")),
    tools=names("name hood port hose"),
    wishes=names("printer"),
)
NEXT_FITTING = names(
    "",
    hoses=names("name use bore length wall tool_end unit_end"),
    vacuum=_VACUUM_IN_AIR,
    separator=_SEPARATOR_IN_AIR,
    tools=names(
        "name hood operation port needs_airflow measured_suction measured_sealed rise bends opening"
    ),
    room=names("altitude temperature"),
)
_AIR = names(
    "", vacuum=_VACUUM_IN_AIR, separator=_SEPARATOR_IN_AIR, room=names("altitude temperature")
)
_HOSE_KNOWN = names("name use")
TOOL_IN_AIR = names(
    "name hood operation port needs_airflow measured_suction measured_sealed rise bends opening hose"
)
HOSE_IN_AIR = names("name use bore length wall tool_end unit_end")
HAND_HOSES = names("", hoses=HOSE_IN_AIR, room=names("altitude temperature"))
BRANCHES = names(
    "hoses tools branches",
    vacuum=_VACUUM_IN_AIR,
    separator=_SEPARATOR_IN_AIR,
    room=names("altitude temperature"),
)
FLOOR = names(
    "",
    hoses=names("name use bore length wall"),
    tools=names("name place rise size hose hood"),
    room=names("length width outlets"),
    wishes=names("measures largest_length largest_width"),
    circuit=_CORD,
)
POWER = names(
    "circuit sessions", vacuum=names("name amps"), tools=names("name hood operation amps")
)
BUCKET = names(
    "separator", vacuum=names("", suction=names("open_airflow")), room=names("altitude temperature")
)
BREATHING = names(
    "sessions",
    vacuum=names("name amps noise filter filter_class"),
    separator=names("in_use", bucket=None),
    tools=names("name hood operation noise"),
    room=names("length width height air_changes door cleaner"),
    circuit=names("volts"),
)
LOADING = names(
    "",
    vacuum=names("height weight", suction=names("sealed open_airflow points home_test")),
    separator=names(
        "in_use bucket rings valve backed_lid",
        cyclone=names("height inlet_height weight body_diameter"),
    ),
    wishes=names("caster_diameter caster_height caster_load clearance hold_bucket"),
)
WORK = names("", saw=names("kind"))
_BODY = names(
    "shape length width height weight headroom inlet_on inlet_height inlet air_in_on air_out_on "
    "exhaust_height amps",
    suction=names("sealed open_airflow points home_test"),
)
#: What one cart depends on beside its sheet and what it carries.
_CART = names("wishes built separator saw", vacuum=_BODY, room=names("height"))
_FIT_RANGE = names(
    "separator", vacuum=_BODY, wishes=names("clearance caster_diameter caster_load hose_anchor")
)
#: What a search over carts tries and asks of them.
SEARCHED = names("vacuum separator hoses wishes room saw built")
#: Of a sheet, what a cart depends on: not what it costs.
SHEET_IN_CART = names("name material thickness length width")
SHEET_IN_WOOD = names("name")
#: What of a cart that is laid out its parts and steps depend on.
_WOOD = names(
    "",
    vacuum=names("shape length width height inlet_on inlet_height inlet"),
    separator=names(
        "in_use bucket", cyclone=names("height inlet_height body_diameter inlet outlet")
    ),
    wishes=names("caster_diameter hose_anchor"),
)
#: What the carts that are tried for steadiness depend on.
_TRIED = names(
    "built separator saw",
    vacuum=names(
        "length width height weight inlet_on inlet_height air_in_on air_out_on",
        suction=names("sealed points home_test"),
    ),
    room=names("height"),
    wishes=names(
        "form measures second_sheet second_panels largest_length largest_width greatest_height "
        "clearance extra_width extra_depth extra_front ballast outriggers hose_anchor "
        "narrowest_door hold_bucket joint caster_diameter caster_height"
    ),
)
_BARE = names(
    "built separator saw",
    vacuum=_BODY,
    room=names("height"),
    wishes=names(
        "form measures sheet second_sheet second_panels largest_length largest_width "
        "greatest_height clearance extra_width extra_depth extra_front ballast outriggers "
        "hose_anchor narrowest_door under_bench hold_bucket joint caster_diameter caster_height"
    ),
)
#: Of the hose that lies on the cart, and of one that only pulls at it.
_LINK_ON_CART = names("name use bore length wall smallest_bend")
_LINK_IN_WOOD = names("use bore smallest_bend")
_HOSE_PULLING = names("name use bore wall")


#: Of a hose that no tool is on, just its ends are joined.
_LINK_ENDS = names("name use tool_end unit_end")


def ways_view(shop: Shop) -> Shop:
    """What the choice of chains depends on, whatever air they get and wherever the tools stand."""
    view = only_fields(shop, _WAYS)
    return _with_hoses(
        view, tuple(h if h.use == "tool" else cut_down(h, _LINK_ENDS) for h in view.hoses)
    )


def air_view(shop: Shop) -> Shop:
    """What the air at every tool depends on; of the hoses, the one of the home test whole."""
    tested = shop.vacuum.suction.home_test is not None
    hoses = shop.hoses if tested else tuple(cut_down(h, _HOSE_KNOWN) for h in shop.hoses)
    return _with_hoses(only_fields(shop, _AIR), hoses)


def cart_sections(shop: Shop) -> Shop:
    """What one cart depends on."""
    return _with_hoses(only_fields(shop, _CART), _hoses_on_cart(shop))


def fit_range_sections(shop: Shop) -> Shop:
    """What the other vacuums and buckets that a cart carries depend on."""
    return _with_hoses(only_fields(shop, _FIT_RANGE), _hoses_on_cart(shop))


def bare_sections(shop: Shop) -> Shop:
    """What the size of the bare form depends on: of what its options hold nothing is known yet."""
    view = _with_hoses(only_fields(shop, _BARE), _hoses_on_cart(shop, holder=False))

    def bare() -> Shop:
        wishes = view.wishes.model_copy(update={"options": ()})
        return view.model_copy(update={"wishes": wishes})

    return _bare.of((view,), None, bare)


_bare: Kept[Shop] = Kept(8)
_laid: Kept[Shop] = Kept(64)


def _with_hoses(view: Shop, hoses: tuple[Hose, ...]) -> Shop:
    """A view with its hoses; of the same ones the same object again."""
    return _laid.of((view, *hoses), None, lambda: view.model_copy(update={"hoses": hoses}))


def wood_sections(shop: Shop) -> Shop:
    """What the parts and steps of a cart that is laid out depend on; hoses on it are in its options."""
    link = tuple(cut_down(h, _LINK_IN_WOOD) for h in shop.hoses if h.use == "link")
    return _with_hoses(only_fields(shop, _WOOD), link)


def tried_sections(shop: Shop) -> Shop:
    """What the carts that are tried for steadiness depend on, without their options."""
    view = _with_hoses(only_fields(shop, _TRIED), _hoses_on_cart(shop, holder=False))
    return view.model_copy(update={"sheets": shop.sheets})


def _hoses_on_cart(shop: Shop, *, holder: bool = True) -> tuple[Hose, ...]:
    """The hoses, those to the tools with their length only where a holder holds them."""
    held = holder and "hose holder" in shop.wishes.options
    return tuple(
        cut_down(h, _LINK_ON_CART if held or h.use == "link" else _HOSE_PULLING) for h in shop.hoses
    )
