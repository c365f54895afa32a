"""From readings and findings to a conclusion: limits, guard bands, chances, risks, standards."""

from .chance import (
    ACCEPTABLE,
    CLOSE_CALL,
    COST_RATIO,
    COVERAGE_FACTOR,
    ONE_SIDED_95,
    Action,
    Zone,
    conformance_probability,
    distance,
    either_way,
    guard_band,
    is_accepted,
    least_distance,
    zone,
)
from .risk import (
    TAILS,
    Prior,
    Risks,
    global_risks,
    specific_risks,
)

__all__ = [
    "ACCEPTABLE",
    "CLOSE_CALL",
    "COST_RATIO",
    "COVERAGE_FACTOR",
    "ONE_SIDED_95",
    "TAILS",
    "Action",
    "Prior",
    "Risks",
    "Zone",
    "conformance_probability",
    "distance",
    "either_way",
    "global_risks",
    "guard_band",
    "is_accepted",
    "least_distance",
    "specific_risks",
    "zone",
]
