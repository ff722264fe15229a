"""Air: the suction curve, the losses on the way, the network, and the verdicts.

The chain reads as the job does: `room_air`, `suction_curve`, `way` (what the air passes),
`Series.meet` (where path and vacuum agree), then budget, velocities and verdicts;
`tool_air` calls them in that order.
"""

from .curve import CurveError, SuctionCurve, from_label, from_points, suction_curve
from .path import Piece
from .properties import RoomAir, room_air
from .tool import Loss, PathPoint, SystemCurve, ToolAir, tool_air
from .verdict import RunAir, Verdict

__all__ = [
    "CurveError", "Loss", "PathPoint", "Piece", "RoomAir", "RunAir", "SuctionCurve",
    "SystemCurve", "ToolAir", "Verdict", "from_label", "from_points", "room_air",
    "suction_curve", "tool_air",
]  # fmt: skip
