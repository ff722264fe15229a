"""The compiled heart of the long search. Imported only when a search is asked for.

A sheet is filled greedily from a *recipe*: a factor on each part's weight, how much a
snug fit counts, which way each leftover is divided, and some first cuts laid at sums of
two sides. Random recipes and small changes to good ones are tried by the thousand.

The improving search holds a set of sheets and a pool of parts that found no place. One
or two sheets are refilled from their own parts and the pool; what leaves less value in
the pool is kept, and parts that stay there long grow in value.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

Ints = NDArray[np.int64]
Floats = NDArray[np.float64]
State = NDArray[np.uint64]

#: First cuts in a recipe, and ways to divide a leftover.
PRECUTS = 12
WAYS = 4


def compiled(function: Callable[..., Any]) -> Callable[..., Any]:
    """Compiled at its first call, and kept on disk."""
    made: Callable[..., Any] = njit(cache=True)(function)
    return made


class Parts(NamedTuple):
    """Parts by kind: sides in ticks, whether they turn, area as a share of a sheet.

    ``spare`` is what a part takes more beside a side that was not sawn to a size.
    """

    w: NDArray[Any]
    h: NDArray[Any]
    turn: NDArray[Any]
    area: NDArray[Any]
    spare: int


class Room(NamedTuple):
    """Work space for filling one sheet: the parts placed, and the free rectangles."""

    part: NDArray[Any]
    x: NDArray[Any]
    y: NDArray[Any]
    turned: NDArray[Any]
    fx: NDArray[Any]
    fy: NDArray[Any]
    fw: NDArray[Any]
    fh: NDArray[Any]
    set_x: NDArray[Any]
    set_y: NDArray[Any]
    key: NDArray[Any]
    cand: NDArray[Any]
    left: NDArray[Any]
    work: NDArray[Any]
    state: NDArray[Any]


class Recipes(NamedTuple):
    """Recipes in rows: factors by part, ways by placement, first cuts, snugness."""

    factor: NDArray[Any]
    way: NDArray[Any]
    cut: NDArray[Any]
    snug: NDArray[Any]


class Sheets(NamedTuple):
    """Sheets in rows: size, number of parts, the parts and where they lie.

    ``firm`` says that a sheet's own sides are sizes, not what is left after a trim.
    """

    w: NDArray[Any]
    h: NDArray[Any]
    firm: NDArray[Any]
    number: NDArray[Any]
    part: NDArray[Any]
    x: NDArray[Any]
    y: NDArray[Any]
    turned: NDArray[Any]


@compiled
def chance(state: State) -> float:
    """A number in [0, 1): xorshift, so that a seed gives the same search anywhere."""
    x = state[0]
    x ^= x << np.uint64(13)
    x ^= x >> np.uint64(7)
    x ^= x << np.uint64(17)
    state[0] = x
    number: float = (x >> np.uint64(11)) * (1.0 / 9007199254740992.0)
    return number


@compiled
def fill(
    w: int,
    h: int,
    firm: bool,
    parts: Parts,
    room: Room,
    n_cand: int,
    snug: float,
    way: Ints,
    cut: Ints,
) -> int:
    """Fill a sheet from ``room.left`` by ``room.key``; returns the number placed."""
    fx, fy, fw, fh = room.fx, room.fy, room.fw, room.fh
    set_x, set_y = room.set_x, room.set_y
    spare = parts.spare
    key, cand, left = room.key, room.cand, room.left
    pw, ph, turn = parts.w, parts.h, parts.turn
    fx[0] = 0
    fy[0] = 0
    fw[0] = w
    fh[0] = h
    set_x[0] = firm or spare == 0
    set_y[0] = firm or spare == 0
    n_free = 1
    placed = 0
    step = -1
    while n_free > 0:
        at = 0
        least = fw[0] * fh[0]
        for k in range(1, n_free):
            area = fw[k] * fh[k]
            if area < least:
                least = area
                at = k
        x = fx[at]
        y = fy[at]
        rw = fw[at]
        rh = fh[at]
        sx = set_x[at]
        sy = set_y[at]
        n_free -= 1
        fx[at] = fx[n_free]
        fy[at] = fy[n_free]
        fw[at] = fw[n_free]
        fh[at] = fh[n_free]
        set_x[at] = set_x[n_free]
        set_y[at] = set_y[n_free]
        step += 1
        if step < PRECUTS and cut[step] != 0:
            line = cut[step]
            if line > 0 and line < rw:
                fx[n_free] = x + line
                fy[n_free] = y
                fw[n_free] = rw - line
                fh[n_free] = rh
                set_x[n_free] = spare == 0
                set_y[n_free] = sy
                n_free += 1
                rw = line
                sx = True
            elif line < 0 and -line < rh:
                fx[n_free] = x
                fy[n_free] = y - line
                fw[n_free] = rw
                fh[n_free] = rh + line
                set_x[n_free] = sx
                set_y[n_free] = spare == 0
                n_free += 1
                rh = -line
                sy = True
        best = -1.0
        where = -1
        turned = False
        room.work[0] += n_cand
        mw = rw - spare
        mh = rh - spare
        ew = rw if sx else -1
        eh = rh if sy else -1
        for c in range(n_cand):
            i = cand[c]
            k = key[i]
            if k * (1.0 + snug) > best:
                if (pw[i] <= mw or pw[i] == ew) and (ph[i] <= mh or ph[i] == eh):
                    s = max(pw[i] / rw, ph[i] / rh)
                    s *= s
                    v = k * (1.0 + snug * s * s)
                    if v > best:
                        best = v
                        where = c
                        turned = False
                if turn[i] and (ph[i] <= mw or ph[i] == ew) and (pw[i] <= mh or pw[i] == eh):
                    s = max(ph[i] / rw, pw[i] / rh)
                    s *= s
                    v = k * (1.0 + snug * s * s)
                    if v > best:
                        best = v
                        where = c
                        turned = True
        if where < 0:
            continue
        i = cand[where]
        left[i] -= 1
        if left[i] == 0:
            n_cand -= 1
            cand[where] = cand[n_cand]
            cand[n_cand] = i
        iw = ph[i] if turned else pw[i]
        ih = pw[i] if turned else ph[i]
        room.part[placed] = i
        room.x[placed] = x
        room.y[placed] = y
        room.turned[placed] = turned
        over_w = rw - iw
        over_h = rh - ih
        how = way[placed]
        placed += 1
        if how == 0:
            along_x = True
        elif how == 1:
            along_x = False
        elif how == 2:
            along_x = over_w >= over_h
        else:
            along_x = over_w < over_h
        if over_w > 0:
            fx[n_free] = x + iw
            fy[n_free] = y
            fw[n_free] = over_w
            fh[n_free] = rh if along_x else ih
            set_x[n_free] = spare == 0
            set_y[n_free] = sy or not along_x
            n_free += 1
        if over_h > 0:
            fx[n_free] = x
            fy[n_free] = y + ih
            fw[n_free] = iw if along_x else rw
            fh[n_free] = over_h
            set_x[n_free] = sx or along_x
            set_y[n_free] = spare == 0
            n_free += 1
    return placed


@compiled
def first_cut(parts: Parts, cand: Ints, n_cand: int, left: Ints, state: State) -> int:
    """A place for a first cut: a few times one side, or the sum of two; minus for y."""
    i = cand[int(chance(state) * n_cand)]
    side = parts.w[i] if chance(state) < 0.5 else parts.h[i]
    if left[i] > 1 and chance(state) < 0.5:
        line = side * (2 + int(chance(state) * min(3, left[i] - 1)))
    else:
        j = cand[int(chance(state) * n_cand)]
        line = side + (parts.w[j] if chance(state) < 0.5 else parts.h[j])
    line += parts.spare
    line = line if chance(state) < 0.5 else -line
    return int(line)


@compiled
def new_recipe(
    parts: Parts, cand: Ints, n_cand: int, left: Ints, recipes: Recipes, row: int, state: State
) -> None:
    """A random recipe in a row."""
    recipes.snug[row] = chance(state)
    spread = chance(state)
    way = int(chance(state) * (WAYS + 1))
    back = chance(state) < 0.5
    share = chance(state) * 0.7
    for c in range(n_cand):
        factor = 1.0 + spread * 2.0 * (chance(state) - 0.5)
        if back and chance(state) < share:
            factor *= 0.02
        recipes.factor[row, cand[c]] = factor
    for j in range(recipes.way.shape[1]):
        recipes.way[row, j] = way if way < WAYS else int(chance(state) * WAYS)
    for j in range(PRECUTS):
        recipes.cut[row, j] = 0
    if chance(state) < 0.5:
        for _ in range(1 + int(chance(state) * 2)):
            j = int(chance(state) * chance(state) * PRECUTS)
            recipes.cut[row, j] = first_cut(parts, cand, n_cand, left, state)


@compiled
def vary_recipe(
    parts: Parts,
    cand: Ints,
    n_cand: int,
    left: Ints,
    recipes: Recipes,
    row: int,
    source: Recipes,
    source_row: int,
    length: int,
    state: State,
) -> None:
    """One to three small changes to a recipe, into another row."""
    recipes.snug[row] = source.snug[source_row]
    for c in range(n_cand):
        recipes.factor[row, cand[c]] = source.factor[source_row, cand[c]]
    for j in range(recipes.way.shape[1]):
        recipes.way[row, j] = source.way[source_row, j]
    for j in range(PRECUTS):
        recipes.cut[row, j] = source.cut[source_row, j]
    for _ in range(1 + int(chance(state) * 3)):
        r = chance(state)
        if r < 0.6:
            i = cand[int(chance(state) * n_cand)]
            factor = recipes.factor[row, i] * np.exp((chance(state) - 0.5) * 2.0)
            recipes.factor[row, i] = min(max(factor, 0.02), 5.0)
        elif r < 0.72:
            j = int(chance(state) * min(PRECUTS, length + 1))
            if chance(state) < 0.6:
                recipes.cut[row, j] = first_cut(parts, cand, n_cand, left, state)
            else:
                recipes.cut[row, j] = 0
        elif r < 0.92:
            recipes.way[row, int(chance(state) * min(length + 1, recipes.way.shape[1]))] = int(
                chance(state) * WAYS
            )
        else:
            recipes.snug[row] = chance(state)


@compiled
def _copy_recipe(
    to: Recipes, to_row: int, source: Recipes, row: int, cand: Ints, n_cand: int
) -> None:
    for c in range(n_cand):
        to.factor[to_row, cand[c]] = source.factor[row, cand[c]]
    to.way[to_row] = source.way[row]
    to.cut[to_row] = source.cut[row]
    to.snug[to_row] = source.snug[row]


@compiled
def improve(
    parts: Parts,
    sheets: Sheets,
    recipes: Recipes,
    n_sheets: int,
    pool: Ints,
    weight: Floats,
    room: Room,
    trial: Recipes,
    kept: Recipes,
    best: Sheets,
    limit: int,
    tries: int,
) -> int:
    """Refill sheets until the pool is empty or ``room.work`` reaches ``limit``.

    ``trial`` and ``kept`` hold two recipes each, ``best`` two sheets. Returns 1 where the
    pool is empty.
    """
    n = len(parts.w)
    state = room.state
    area = parts.area
    cand = np.empty(n, np.int64)
    stock = np.zeros(n, np.int64)
    waiting = 0
    for i in range(n):
        waiting += pool[i]
    turns = 0
    while waiting > 0:
        if room.work[0] >= limit:
            return 0
        turns += 1
        one = int(chance(state) * n_sheets)
        other = -1
        if n_sheets > 1 and chance(state) < 0.5:
            other = int(chance(state) * (n_sheets - 1))
            if other >= one:
                other += 1
        sides = 1 if other < 0 else 2
        now = 0.0
        for i in range(n):
            stock[i] = pool[i]
        for side in range(sides):
            b = one if side == 0 else other
            for j in range(sheets.number[b]):
                i = sheets.part[b, j]
                stock[i] += 1
                now += area[i] * weight[i]
        n_cand = 0
        for i in range(n):
            if stock[i] > 0:
                cand[n_cand] = i
                n_cand += 1
        top = -1.0
        for _ in range(tries):
            for c in range(n_cand):
                room.left[cand[c]] = stock[cand[c]]
            value = 0.0
            room.work[0] += sides * (2 * n_cand + recipes.way.shape[1])
            for side in range(sides):
                b = one if side == 0 else other
                if chance(state) < 0.7:
                    vary_recipe(
                        parts, cand, n_cand, stock, trial, side, recipes, b, sheets.number[b], state
                    )
                else:
                    new_recipe(parts, cand, n_cand, stock, trial, side, state)
                m = 0
                for c in range(n_cand):
                    i = cand[c]
                    if room.left[i] > 0:
                        room.cand[m] = i
                        m += 1
                        room.key[i] = area[i] * weight[i] * trial.factor[side, i]
                placed = fill(
                    sheets.w[b],
                    sheets.h[b],
                    sheets.firm[b],
                    parts,
                    room,
                    m,
                    trial.snug[side],
                    trial.way[side],
                    trial.cut[side],
                )
                for j in range(placed):
                    i = room.part[j]
                    value += area[i] * weight[i]
                    sheets.part[n_sheets + side, j] = i
                    sheets.x[n_sheets + side, j] = room.x[j]
                    sheets.y[n_sheets + side, j] = room.y[j]
                    sheets.turned[n_sheets + side, j] = room.turned[j]
                sheets.number[n_sheets + side] = placed
            if value > top:
                top = value
                for side in range(sides):
                    m = sheets.number[n_sheets + side]
                    best.number[side] = m
                    for j in range(m):
                        best.part[side, j] = sheets.part[n_sheets + side, j]
                        best.x[side, j] = sheets.x[n_sheets + side, j]
                        best.y[side, j] = sheets.y[n_sheets + side, j]
                        best.turned[side, j] = sheets.turned[n_sheets + side, j]
                    _copy_recipe(kept, side, trial, side, cand, n_cand)
                if top > now + 1e-12:
                    break
        if top >= now - 1e-9:
            for i in range(n):
                pool[i] = stock[i]
            for side in range(sides):
                b = one if side == 0 else other
                m = best.number[side]
                sheets.number[b] = m
                for j in range(m):
                    sheets.part[b, j] = best.part[side, j]
                    sheets.x[b, j] = best.x[side, j]
                    sheets.y[b, j] = best.y[side, j]
                    sheets.turned[b, j] = best.turned[side, j]
                    pool[best.part[side, j]] -= 1
                _copy_recipe(recipes, b, kept, side, cand, n_cand)
            waiting = 0
            for i in range(n):
                waiting += pool[i]
        if turns % 50 == 0:
            for i in range(n):
                if pool[i] > 0:
                    weight[i] *= 1.05
    return 1


@compiled
def patterns(
    parts: Parts,
    w: int,
    h: int,
    firm: bool,
    demand: Ints,
    value: Floats,
    least: float,
    found: Sheets,
    worth: Floats,
    recipes: Recipes,
    trial: Recipes,
    room: Room,
    rounds: int,
) -> int:
    """Fillings of one sheet of the greatest value, all different.

    Tries ``rounds`` recipes; keeps in ``found`` those worth more than ``least`` (the first
    few are kept anyhow, to grow better ones from). Returns how many there are.
    """
    n = len(parts.w)
    state = room.state
    most = len(worth)
    cand = np.empty(n, np.int64)
    n_all = 0
    for i in range(n):
        if value[i] > 1e-9 and demand[i] > 0:
            cand[n_all] = i
            n_all += 1
    if n_all == 0:
        return 0
    count = np.zeros(n, np.int64)
    other = np.zeros(n, np.int64)
    have = 0
    for _ in range(rounds):
        room.work[0] += 3 * n_all + recipes.way.shape[1]
        if have > 0 and chance(state) < 0.6:
            source = int(chance(state) * have)
            vary_recipe(
                parts, cand, n_all, demand, trial, 0, recipes, source, found.number[source], state
            )
        else:
            new_recipe(parts, cand, n_all, demand, trial, 0, state)
            power = chance(state) * 1.5
            for c in range(n_all):
                i = cand[c]
                trial.factor[0, i] *= (value[i] / parts.area[i]) ** power
        for c in range(n_all):
            i = cand[c]
            room.left[i] = demand[i]
            room.cand[c] = i
            room.key[i] = value[i] * trial.factor[0, i]
        placed = fill(w, h, firm, parts, room, n_all, trial.snug[0], trial.way[0], trial.cut[0])
        v = 0.0
        for j in range(placed):
            v += value[room.part[j]]
        row = 0
        if have == most:
            for k in range(1, most):
                if worth[k] < worth[row]:
                    row = k
            if v <= worth[row]:
                continue
        elif v <= least and have >= 8:
            continue
        else:
            row = have
        for i in range(n):
            count[i] = 0
        for j in range(placed):
            count[room.part[j]] += 1
        known = False
        for k in range(have):
            if abs(worth[k] - v) < 1e-9:
                for i in range(n):
                    other[i] = 0
                for j in range(found.number[k]):
                    other[found.part[k, j]] += 1
                known = True
                for i in range(n):
                    if other[i] != count[i]:
                        known = False
                        break
                if known:
                    break
        if known:
            continue
        if row == have:
            have += 1
        worth[row] = v
        found.number[row] = placed
        for j in range(placed):
            found.part[row, j] = room.part[j]
            found.x[row, j] = room.x[j]
            found.y[row, j] = room.y[j]
            found.turned[row, j] = room.turned[j]
        _copy_recipe(recipes, row, trial, 0, cand, n_all)
    return have


@compiled
def _most(low: NDArray[np.int32], high: NDArray[np.int32], so_far: Any) -> Any:
    """The most that two rows add up to at one place; plain, so that it runs on whole vectors."""
    for k in range(len(low)):
        so_far = max(so_far, low[k] + high[k])
    return so_far


@compiled
def dearest(
    wx: Ints, wy: Ints, hx: Ints, hy: Ints, turn: NDArray[np.bool_], value: Ints, nx: int, ny: int
) -> NDArray[np.int32]:
    """Value of the dearest edge-to-edge filling of every rectangle of a grid, by y and x.

    Each part may be used as often as wanted. Its sides are given in lines of the grid along x
    and along y.
    """
    # Rows and columns, each also backwards: what is added lies side by side.
    rows = np.zeros((ny + 1, nx + 1), np.int32)
    rows_back = np.zeros((ny + 1, nx + 1), np.int32)
    columns = np.zeros((nx + 1, ny + 1), np.int32)
    columns_back = np.zeros((nx + 1, ny + 1), np.int32)
    least_x, least_y = nx, ny
    for i in range(len(value)):
        if value[i] <= 0:
            continue
        if wx[i] <= nx and hy[i] <= ny:
            rows[hy[i], wx[i]] = max(rows[hy[i], wx[i]], value[i])
            least_x, least_y = min(least_x, wx[i]), min(least_y, hy[i])
        if turn[i] and hx[i] <= nx and wy[i] <= ny:
            rows[wy[i], hx[i]] = max(rows[wy[i], hx[i]], value[i])
            least_x, least_y = min(least_x, hx[i]), min(least_y, wy[i])
    for y in range(1, ny + 1):
        row, back, below = rows[y], rows_back[y], rows[y - 1]
        for x in range(1, nx + 1):
            top = max(row[x], max(row[x - 1], below[x]))
            half = x // 2 + 1
            if half > least_x:
                top = _most(row[least_x:half], back[nx - x + least_x : nx - x + half], top)
            half = y // 2 + 1
            if half > least_y:
                low = columns[x, least_y:half]
                top = _most(low, columns_back[x, ny - y + least_y : ny - y + half], top)
            row[x] = top
            back[nx - x] = top
            columns[x, y] = top
            columns_back[x, ny - y] = top
    return rows
