"""Air: the suction curve, the losses on the way, the network, and the verdicts.

The chain reads as the job does: `room_air`, `suction_curve`, `way` (what the air passes),
`Series.meet` (where path and vacuum agree), then budget, velocities and verdicts;
`tool_air` calls them in that order.
"""

from .afterwards import Afterwards, Compared, Explanation, after_building, gauge_finding
from .apart import tools_apart
from .batch import QuickAir, QuickWay, quick_air, quick_ways
from .branches import BranchAir, BranchRun, BranchTool, branch_air
from .capture import Capture
from .curve import CurveBand, SuctionCurve, from_figures, from_points
from .errors import AirError, CurveError, NetworkError, OrificeError
from .face import FaceAir, face_air
from .hometest import from_home_test
from .network import Duct, NetworkFlow, compile_tree, solve
from .path import Connection, Link, Piece
from .properties import RoomAir, room_air
from .sheet import SheetRow, TestSheet, home_test_gauge_pa, test_sheet
from .tool import Loss, PathPoint, SystemCurve, ToolAir, tool_air
from .vacuum import curve_finding, power_finding, suction_curve
from .verdict import RunAir, Slowest, Verdict, catch_need, slowest_run

__all__ = [
    "Afterwards",
    "AirError",
    "BranchAir",
    "BranchRun",
    "BranchTool",
    "Capture",
    "Compared",
    "Connection",
    "CurveBand",
    "CurveError",
    "Duct",
    "Explanation",
    "FaceAir",
    "Link",
    "Loss",
    "NetworkError",
    "NetworkFlow",
    "OrificeError",
    "PathPoint",
    "Piece",
    "QuickAir",
    "QuickWay",
    "RoomAir",
    "RunAir",
    "SheetRow",
    "Slowest",
    "SuctionCurve",
    "SystemCurve",
    "TestSheet",
    "ToolAir",
    "Verdict",
    "after_building",
    "branch_air",
    "catch_need",
    "compile_tree",
    "curve_finding",
    "face_air",
    "from_figures",
    "from_home_test",
    "from_points",
    "gauge_finding",
    "home_test_gauge_pa",
    "power_finding",
    "quick_air",
    "quick_ways",
    "room_air",
    "slowest_run",
    "solve",
    "suction_curve",
    "test_sheet",
    "tool_air",
    "tools_apart",
]
