"""What a person can do at the bench: a small frozen dataclass an action, each with a JSON form.

The list is all that the bench knows of the trade. `form` reads and writes it.
"""

from .adjusting import (
    ChangeShim,
    LockAdjustingRing,
    LoosenAdjustingRing,
    LoosenLock,
    SetLever,
    TightenLock,
    TryLock,
    TurnAdjustingRing,
    TurnScrew,
    WorkLever,
)
from .measuring import (
    ChangeTool,
    CheckTool,
    Decide,
    FindRelease,
    GaugeGap,
    MeasureCoil,
    MeasureDisc,
    StrikeOut,
    WriteDisc,
    WriteGap,
    WriteValue,
)
from .opening import (
    Clean,
    DryOut,
    Look,
    ReadPlate,
    RefitCover,
    RefitFan,
    RefitRing,
    RefitSeal,
    RemoveCover,
    RemoveFan,
    RemoveRing,
    RemoveSeal,
    StopWater,
)
from .parts import (
    CleanSpline,
    ConnectLeads,
    DisconnectLeads,
    DrawLock,
    FitBody,
    FitDisc,
    FitWearPlate,
    HoldBody,
    RefitLever,
    RemoveBody,
    RemoveDisc,
    RemoveLever,
    RemoveWearPlate,
    StartLock,
)
from .proving import BedIn, DeEnergise, Energise, HandOver, TestHold, TestRun, TurnShaft
from .safety import (
    CloseBox,
    Isolate,
    IsolateSecond,
    KeepClear,
    LandLoad,
    LetCool,
    OpenBox,
    ProveDead,
    RestoreSupply,
)

Action = (
    LandLoad
    | KeepClear
    | LetCool
    | Isolate
    | IsolateSecond
    | OpenBox
    | CloseBox
    | ProveDead
    | RestoreSupply
    | RemoveCover
    | RefitCover
    | RemoveRing
    | RefitRing
    | RemoveFan
    | RefitFan
    | RemoveSeal
    | RefitSeal
    | ReadPlate
    | Look
    | Clean
    | StopWater
    | DryOut
    | CheckTool
    | ChangeTool
    | GaugeGap
    | MeasureDisc
    | MeasureCoil
    | FindRelease
    | WriteGap
    | WriteDisc
    | WriteValue
    | StrikeOut
    | Decide
    | TryLock
    | LoosenLock
    | TightenLock
    | TurnScrew
    | ChangeShim
    | LoosenAdjustingRing
    | TurnAdjustingRing
    | LockAdjustingRing
    | WorkLever
    | SetLever
    | DisconnectLeads
    | ConnectLeads
    | RemoveLever
    | RefitLever
    | HoldBody
    | DrawLock
    | RemoveBody
    | RemoveDisc
    | RemoveWearPlate
    | CleanSpline
    | FitWearPlate
    | FitDisc
    | FitBody
    | StartLock
    | Energise
    | DeEnergise
    | TurnShaft
    | BedIn
    | TestRun
    | TestHold
    | HandOver
)

__all__ = [
    "Action",
    "BedIn",
    "ChangeShim",
    "ChangeTool",
    "CheckTool",
    "Clean",
    "CleanSpline",
    "CloseBox",
    "ConnectLeads",
    "DeEnergise",
    "Decide",
    "DisconnectLeads",
    "DrawLock",
    "DryOut",
    "Energise",
    "FindRelease",
    "FitBody",
    "FitDisc",
    "FitWearPlate",
    "GaugeGap",
    "HandOver",
    "HoldBody",
    "Isolate",
    "IsolateSecond",
    "KeepClear",
    "LandLoad",
    "LetCool",
    "LockAdjustingRing",
    "Look",
    "LoosenAdjustingRing",
    "LoosenLock",
    "MeasureCoil",
    "MeasureDisc",
    "OpenBox",
    "ProveDead",
    "ReadPlate",
    "RefitCover",
    "RefitFan",
    "RefitLever",
    "RefitRing",
    "RefitSeal",
    "RemoveBody",
    "RemoveCover",
    "RemoveDisc",
    "RemoveFan",
    "RemoveLever",
    "RemoveRing",
    "RemoveSeal",
    "RemoveWearPlate",
    "RestoreSupply",
    "SetLever",
    "StartLock",
    "StopWater",
    "StrikeOut",
    "TestHold",
    "TestRun",
    "TightenLock",
    "TryLock",
    "TurnAdjustingRing",
    "TurnScrew",
    "TurnShaft",
    "WorkLever",
    "WriteDisc",
    "WriteGap",
    "WriteValue",
]
