"""Air: the suction curve, the losses on the way, the network, and the verdicts.

The chain reads as the job does: `room_air`, `suction_curve`, `way` (what the air passes),
`Series.meet` (where path and vacuum agree), then budget, velocities and verdicts;
`tool_air` calls them in that order.
"""

from .curve import CurveBand, CurveError, SuctionCurve, from_label, from_points
from .hometest import from_home_test
from .network import Duct, NetworkError, NetworkFlow, compile_tree, solve
from .orifice import OrificeError
from .path import Piece
from .properties import RoomAir, room_air
from .tool import Loss, PathPoint, SystemCurve, ToolAir, tool_air
from .vacuum import suction_curve
from .verdict import RunAir, Verdict

__all__ = [
    "CurveBand", "CurveError", "Duct", "Loss", "NetworkError", "NetworkFlow", "OrificeError",
    "PathPoint", "Piece", "RoomAir", "RunAir", "SuctionCurve", "SystemCurve", "ToolAir", "Verdict",
    "compile_tree", "from_home_test", "from_label", "from_points", "room_air", "solve",
    "suction_curve", "tool_air",
]  # fmt: skip
