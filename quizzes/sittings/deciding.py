"""By which rule the decisions of a form are enough to pass."""

from quizzes.analysis.quality.enough import enough
from quizzes.cases.case import Depth
from quizzes.forms.blueprint import Blueprint
from quizzes.grading.outcome import Enough


def rule_for(blueprint: Blueprint) -> Enough | None:
    """Return the rule for a form; None where each of its cases is a whole job and must be right."""
    short = blueprint.case_count(Depth.READING, Depth.BENCH)
    return enough if short else None
