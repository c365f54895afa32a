"""Words of the bench: codes and facts become sentences here, when they are shown."""

from collections.abc import Mapping
from typing import Any

from widgets.bench.notes import Line
from widgets.bench.observed import Observation

from .alarms import ALARMS
from .done import DONE
from .log import altered_words, notice_words
from .names import DECISION_WORDS, FEEL_WORDS, LOOKS, SYMPTOM_WORDS
from .refused import REFUSED
from .sights import NAMED, PICTURED, noticed_words, sight_words
from .wishes import FIELD_WORDS, WISHES

__all__ = [
    "ALARMS", "DECISION_WORDS", "DONE", "FEEL_WORDS", "LOOKS", "NAMED", "REFUSED", "SYMPTOM_WORDS",
    "WISHES", "alarm_words", "altered_words", "line_words", "notice_words", "noticed_words",
    "reply", "said", "sight", "words_of",
]  # fmt: skip

_UNITS = {"shown_ohm": "Ω", "shown_mohm": "MΩ", "shown_v": "V"}


def words_of(code: str, facts: Mapping[str, Any]) -> str:
    """Return the sentence of a code with its facts.

    Raises
    ------
    KeyError
        If there is no such code, or a fact is missing.
    """
    if code == "wish.bad-field":
        head = str(facts["field"]).split(".", 1)[0]
        facts = {**facts, "field": FIELD_WORDS.get(head, "One of its details")}
    if code in WISHES:
        return WISHES[code].format(**facts)
    words = REFUSED.get(code) or DONE[code]
    return words.format(**facts) if isinstance(words, str) else words(facts)


def alarm_words(code: str) -> str:
    """Return how somebody could have been hurt; nothing for no alarm."""
    return ALARMS[code] if code else ""


def said(observation: Observation | Mapping[str, Any]) -> str:
    """Return an observation, or its JSON form, in words, with its alarm."""
    told = observation.to_json() if isinstance(observation, Observation) else observation
    words = words_of(told["code"], told["facts"])
    return " ".join(filter(None, [words, alarm_words(told["alarm"])]))


def sight(code: str, facts: Mapping[str, Any]) -> dict[str, Any]:
    """Return a look as the page shows it: facts that its picture is drawn from, and words.

    `pictured` says for the ear what the picture says for the eye, `told` what no picture
    shows; `printed` is the line that answers the press. None of them judges.
    """
    if code != "look.seen" or facts["at"] not in PICTURED:
        words = words_of(code, facts)
        return {"seen": dict(facts), "pictured": "", "told": words, "printed": words}
    pictured, told = sight_words(facts)
    printed = " ".join(filter(None, [f"{LOOKS[facts['at']]}: see the picture.", told]))
    return {"seen": dict(facts), "pictured": pictured, "told": told, "printed": printed}


def reply(observation: Observation | Mapping[str, Any]) -> dict[str, Any]:
    """Return an observation, or its JSON form, as the page gets it: in words, with its facts."""
    told = observation.to_json() if isinstance(observation, Observation) else observation
    facts = dict(told["facts"])
    for name, unit in _UNITS.items():
        if name in facts:
            facts |= {"shown": facts.pop(name), "unit": unit, "over": facts.pop("over_scale")}
    if "feel" in facts:
        facts["feel"] = facts["feel"].replace("-", " ")  # shown under the leaf as it stands
    shown = sight(told["code"], facts) if told["code"].startswith("look.") and told["done"] else {}
    return {
        "done": told["done"],
        "words": said(told),
        "seen": facts,
        "alarm": alarm_words(told["alarm"]),
    } | shown


def line_words(line: Line) -> str:
    """Return a line of a colleague's notes in words."""
    if line.code == "noted.symptom":
        return SYMPTOM_WORDS[line.name]
    return _NOTED[line.code].format(name=line.name)


_NOTED = {
    "noted.size": "The nameplate says: {name}.",
    "noted.coil-open": "Across the coil the meter stays over its scale.",
    "noted.nothing": "Nothing out of the ordinary was seen or heard.",
}
