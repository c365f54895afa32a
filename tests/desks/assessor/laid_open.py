"""A sitting laid open at the assessor's desk, a wish on its panels, and what they show."""

import datetime as dt

from quizzes.desks.assessor.results import Results
from tests.desks.pages import tell

GOOD, BAD = "Ilka Torvane", "Tobiah Fenwright"
NOW = dt.datetime.now(dt.UTC)
SAID = {"role": "assessor", "reasons": "Careful throughout.", "second": "no"}


def opened(name, sent):
    page = Results()
    rows = {row["cells"][0]: row["id"] for row in sent[-1]["form"]["list"]["rows"]}
    tell(page, {"open": rows[name]})
    return page, rows[name]


def wish(page, send, **values):
    page._decision.form.heard({"send": send, "values": {**SAID, **values}})


def form_of(sent, title):
    return [one["form"] for one in sent if one.get("form", {}).get("title", "").startswith(title)][
        -1
    ]
