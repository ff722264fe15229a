"""Speaking as a shop file asks for, where the program knows the language."""

from __future__ import annotations

from ..facts import Listing, Name
from ..faults import Faults, refusal
from ..shop import ShopFile
from ..shop.positions import KeyLines
from ..words import Voice, languages
from .findings import voice_for


def voice_in(file: ShopFile) -> Voice:
    """The language, units and money that a shop file asks for.

    Raises
    ------
    Faults
        There are no messages in that language.
    """
    asked, known = file.shop.about.language, languages()
    if asked in known:
        return voice_for(file.shop)
    line = KeyLines(file.text).of(("about", "language"))
    raise Faults(
        [
            refusal(
                "view.language",
                "about.language",
                file=file.path,
                line=line,
                asked=Name(asked),
                languages=Listing(tuple(map(Name, known)), "or"),
            )
        ]
    )
