"""An invented competency record for the tests of this folder."""

import datetime as dt

from quizzes.records.credentials.record import (
    Basis,
    CompetencyRecord,
    ElementShown,
    Outcome,
    Person,
    Scope,
    StatusPlace,
)

HOUSE = "Quince Lane Hoist Training"
DECIDED = dt.datetime(2026, 11, 28, 9, 30, tzinfo=dt.UTC)
UNTIL = dt.datetime(2027, 11, 28, 9, 30, tzinfo=dt.UTC)
LIST = "7d3f0a52-0000-4000-8000-00000000aaaa"


def person(number, name, role):
    """Return somebody with an identity of their own."""
    return Person(f"00000000-0000-4000-8000-{number:012d}", name, role)


def record(**changes):
    """Return the record, with some parts of it changed."""
    parts = {
        "id": "3f8b2a54-6f3e-4f0b-9d3e-2f1c5b7a9e10",
        "holder": person(1, "Robin Ashdown", "candidate"),
        "assessor": person(2, "Sam Okoro", "assessor"),
        "second": person(3, "Wren Halloway", "second assessor"),
        "outcome": Outcome.COMPETENT,
        "scheme": "Inspecting, adjusting and re-lining spring-applied hoist brakes",
        "scheme_edition": "3",
        "criteria": "21 of 24 cases right, every critical element shown, no unsafe brake passed.",
        "scope": Scope(
            "Spring-applied, electromagnetically released disc brake on a hoist motor",
            ("QL 16", "QL 40"),
            ("inspect", "adjust", "re-line"),
        ),
        "elements": (
            ElementShown(
                "S1",
                "Load landed and hoist isolated",
                24,
                24,
                ("Landed the load, switched off, locked and proved dead in all 24 cases.",),
                critical=True,
            ),
            ElementShown(
                "M1",
                "Air gap measured round the rim",
                22,
                24,
                ("Gauged at three places or more in 22 cases.", "Twice at two places only."),
            ),
        ),
        "basis": Basis(
            "9a1e3c70-1111-4222-8333-444455556666",
            "full",
            "2026-11",
            "3",
            "Quince Lane, mark 5d0e9c55",
            "web",
            "812-7K3M-XQ2P-9RTB-2345-6789-ABCD",
            "12 November 2026 on a QL 40, observed by Sam Okoro and Wren Halloway.",
        ),
        "shows": ("Of 20 unsafe brakes none was passed: at most 14 % would be, 95 % sure.",),
        "shows_not": ("It does not show work on brakes of another design, or at height.",),
        "reasons": "Careful throughout; two gaps were read at too few places and said so.",
        "decided_at": DECIDED,
        "valid_until": UNTIL,
        "status": StatusPlace(LIST, 94_567),
    }
    return CompetencyRecord(**(parts | changes))
