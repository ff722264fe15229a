"""A shop cut down to what one stage may depend on."""

from __future__ import annotations

from functools import cache

from .model import Shop
from .reading import parse_shop

#: Any would do.
_HOOD = "floor nozzle"


@cache
def _blank() -> Shop:
    return parse_shop("\n".join(("[[tools]]", 'name = "-"', f'hood = "{_HOOD}"'))).shop


def only_sections(shop: Shop, *sections: str) -> Shop:
    """The same shop with every section but ``sections`` set to one fixed blank.

    A stage that is given the result cannot depend on anything else, so a digest of it
    is a true key for the stage's cache.
    """
    return _blank().model_copy(update={name: getattr(shop, name) for name in sections})
