"""The golden table of habits: how each ends on one full form, and what is said of it.

Made by `python -m tests.candidates.golden_habits`, then read: each line's last words are the first
reason that the person is given, and a person has read whether it is true of the habit.
"""

import json
from pathlib import Path

from quizzes.candidates.people.everybody import ALL_HABITS, HONEST
from quizzes.candidates.rehearsal import Plan, sit_as
from quizzes.forms.blueprint import READY
from widgets.brake.sizes.sheet import INVENTED

TABLE = Path(__file__).parent / "golden_habits.json"
PLAN = Plan(READY["full"], Path(INVENTED), bytes(range(32)))
NAMES = (*HONEST, *ALL_HABITS)
# From this number on nobody's dice miss three questions on safety: what is told is of the habit.
FIRST = 1200
MOST_TURNS = 20  # sittings in which half of the cases show a habit: it shows in one


def ended(name: str) -> dict[str, object]:
    """Return how somebody ends on the golden form; with a habit of now and then, once it shows."""
    now_and_then = name in ALL_HABITS and ALL_HABITS[name].share < 1
    for turn in range(MOST_TURNS if now_and_then else 1):
        sat = sit_as(name, PLAN, FIRST + NAMES.index(name) + turn * len(NAMES), 0)
        if sat.shown:
            break
    return {
        "passed": sat.passed,
        "unsafe": sorted(sat.unsafe),
        "named": sorted(sat.named),
        "why": sat.reasons[0],
    }


if __name__ == "__main__":
    table = {name: ended(name) for name in NAMES}
    TABLE.write_text(json.dumps(table, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
