"""Habits that somebody thought of who had not read the rules of grading first."""

from .stranger import Stranger

OUTSIDERS: dict[str, Stranger] = {}
