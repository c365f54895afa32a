"""What the fields of actions may hold."""

from typing import Annotated, Literal

from pydantic import ConfigDict, Field

STRICT = ConfigDict(strict=True, extra="forbid", allow_inf_nan=False)
Angle = Annotated[float, Field(ge=0, lt=360)]
Screw = Annotated[int, Field(ge=1, le=3)]
Leaf = Annotated[float, Field(gt=0, le=5)]
Millimetres = Annotated[float, Field(ge=0, le=1000)]
Words = Annotated[str, Field(max_length=600)]
Name = Annotated[str, Field(max_length=80)]
Number = Annotated[int, Field(ge=0, lt=1000)]
Tool = Literal["leaves", "caliper", "wrench"]
Outcomes = Literal["fit", "adjust", "replace", "refer"]
LookAt = Literal[
    "running", "outside", "fan", "seal", "dust", "edge", "screws", "lever", "leads",
    "springs", "faces", "hub", "wear_plate", "new_disc",
]  # fmt: skip
Finding = Literal[
    "nothing", "gap-large", "gap-small", "gap-uneven", "lock-loose", "warped", "disc-worn",
    "disc-tapered", "oil", "glaze", "heat-cracks", "springs", "spline", "disc-swollen",
    "reversed", "no-wear-plate", "wrong-disc", "coil", "rectifier", "ac-side", "seal",
    "hand-release", "fan", "sticks", "second-supply", "no-hold", "no-release", "clutch", "water",
    "record",
]  # fmt: skip
Quantity = Literal[
    "coil_ohm", "coil_c", "insulation_mohm", "voltage_v", "release_percent", "lever_play_mm",
]  # fmt: skip
