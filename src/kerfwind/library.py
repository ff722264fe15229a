"""What a program or a notebook asks that a shop file would else ask."""

from __future__ import annotations

from collections.abc import Mapping

from .hookup import Fit
from .hookup import fit as fit_ends
from .quantity import Draw
from .shop import parse_shop


def fit(
    end_a: Mapping[str, str], end_b: Mapping[str, str], *, samples: int = 2048, seed: int = 20
) -> Fit:
    """Whether two ends of hoses or fittings join, and how: by themselves, with a clamp, not at all.

    Parameters
    ----------
    end_a, end_b
        Each as in a shop file: ``nominal``, ``inside``, ``outside``, ``length``, ``taper``,
        ``material``, ``joint``, ``goes``; sizes with their units, such as ``57.2 mm`` or
        ``2-1/4 in``. What is missing is assumed as in a shop file.
    samples, seed
        Of the draw of all that is uncertain.

    Returns
    -------
    Fit
        ``kind`` and ``likelihood`` (0 to 1) say how; ``play_m`` and ``depth_m`` [m] have one
        value a sample.

    Raises
    ------
    Faults
        Something that an end may not have.

    Examples
    --------
    >>> import kerfwind as kw
    >>> cuff = {"outside": "57.2 mm", "inside": "53 mm", "length": "40 mm", "taper": "1 °"}
    >>> port = {"inside": "57.6 mm", "outside": "62 mm", "length": "35 mm", "taper": "0 °"}
    >>> answer = kw.fit(cuff, port)
    >>> answer.kind, answer.inner, round(float(answer.play_m[0]) * 1000, 1)
    ('press', 'a', 0.4)
    """
    import tomlkit

    both = {"name": "both", "end_a": dict(end_a), "end_b": dict(end_b)}
    # A shop has a tool at least; what it is changes nothing here.
    shop = {"tools": [{"name": "any", "hood": "pad holes"}], "fittings": [both]}
    part = parse_shop(tomlkit.dumps(shop), "fit").shop.fittings[0]
    return fit_ends(part.end_a, part.end_b, Draw(samples, seed))
