"""A rule that knows no brakes: it learns from words, length and place which option is right."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.sparse import hstack
from sklearn.feature_extraction.text import TfidfVectorizer
from sklearn.linear_model import LogisticRegression
from sklearn.model_selection import GroupKFold

from quizzes.questions.answers import right_json
from quizzes.questions.items import Choice, Decide, Item
from quizzes.questions.lint_drawn import draw_question_once
from tests.questions.bank_texts import SHEET

FOLDS = 10
SEED = 20_261_128  # of the folds, so that the figure is the same each time
CAUTIOUS = re.compile(
    r"(?i)\b(no|not|never|until|before|first|refer|tag|lock|withdraw|stop|wait|find out|ask|"
    r"prove|check|measure|look|maker|data|code|authori\w+|responsible|written|clean|safe|"
    r"support\w*|held|clear|again|both|each|all|every)\b"
)
REASONED = re.compile(r"(?i)(\b(as|because|since|so|for|if|unless|while|when|though)\b|:)")
SWEEPING = re.compile(r"(?i)\b(always|never|only|just|nothing|everything|enough|anyway|at once)\b")


@dataclass(frozen=True, slots=True)
class Read:
    """A question as somebody reads it who looks at words only: options in the order shown."""

    id: str
    several: bool
    fixed: bool
    stem: str
    options: tuple[str, ...]
    right: tuple[bool, ...]
    weight: float


def as_read(bank: Iterable[Item]) -> list[Read]:
    """Return every question with options to choose, once for each situation it draws."""
    found = []
    for item in bank:
        settled = item.settled()
        for number, one in enumerate(settled):
            if isinstance(one.body, Choice | Decide):
                found.append(_read(one, number, len(settled)))
    return found


def _read(item: Item, number: int, of: int) -> Read:
    posed = draw_question_once(item, SHEET, number)
    answer = right_json(posed.hidden)
    right = set(answer.get("choices", [answer.get("choice")]))
    options = posed.shown["options"]
    return Read(
        item.id,
        isinstance(item.body, Choice) and item.body.several,
        of == 1,
        str(posed.shown["text"]),
        tuple(one["text"] for one in options),
        tuple(one["id"] in right for one in options),
        1 / of,
    )


def _numbers_out(text: str) -> str:
    return re.sub(r"[\d.,−]*\d", "#", text)


def _looks(one: Read) -> np.ndarray:
    """Return what can be counted of each option: length, caution, reasons, place, the stem's words."""
    lengths = np.array([len(text) for text in one.options], dtype=float)
    stem = set(re.findall(r"\w{4,}", one.stem.casefold()))
    rows = []
    for at, text in enumerate(one.options):
        words = re.findall(r"\w{4,}", text.casefold())
        rows.append([
            lengths[at] / lengths.mean() - 1,
            float(lengths[at] == lengths.max()),
            float(lengths[at] == lengths.min()),
            len(CAUTIOUS.findall(text)),
            len(REASONED.findall(text)),
            len(SWEEPING.findall(text)),
            float("," in text),
            float(bool(re.search(r"\d", text))),
            float(at == 0),
            float(at == len(one.options) - 1),
            len(stem & set(words)) / max(1, len(words)),
        ])  # fmt: skip
    return np.array(rows)


def chances(reads: Sequence[Read]) -> list[np.ndarray]:
    """Return for each question how likely the rule holds each option to be right.

    It is trained on the other questions only: no question is in both parts.
    """
    texts = [_numbers_out(text) for one in reads for text in one.options]
    looks = np.vstack([_looks(one) for one in reads])
    right = np.array([flag for one in reads for flag in one.right])
    weight = np.array([one.weight / len(one.options) for one in reads for _ in one.options])
    groups = np.array([one.id for one in reads for _ in one.options])
    found = np.zeros(len(texts))
    folds = GroupKFold(FOLDS, shuffle=True, random_state=SEED)
    for train, test in folds.split(texts, right, groups):
        words = TfidfVectorizer(ngram_range=(1, 2), min_df=2, sublinear_tf=True)
        learnt = hstack([words.fit_transform([texts[n] for n in train]), looks[train]])
        seen = hstack([words.transform([texts[n] for n in test]), looks[test]])
        rule = LogisticRegression(max_iter=2000, C=0.3)
        rule.fit(learnt, right[train], sample_weight=weight[train] / weight[train].mean())
        found[test] = rule.predict_proba(seen)[:, 1]
    cuts = np.cumsum([len(one.options) for one in reads])[:-1]
    return list(np.split(found, cuts))


@dataclass(frozen=True, slots=True)
class Score:
    """How often the rule is right, and the 95 % interval of somebody who throws dice."""

    questions: int
    rule: float
    chance: float
    half: float

    @property
    def by_chance(self) -> bool:
        """Whether the rule does no better than dice may."""
        return self.rule <= self.chance + self.half

    def __str__(self) -> str:
        return f"{self.rule:.1%} of {self.questions}, dice {self.chance:.1%} ± {self.half:.1%}"


def score_singles(reads: Sequence[Read]) -> Score:
    """Return the share of single choices that the rule gets right, against dice."""
    singles = [one for one in reads if not one.several]
    found = chances(singles)
    weights = np.array([one.weight for one in singles])
    hits = np.array([one.right[int(p.argmax())] for one, p in zip(singles, found, strict=True)])
    luck = np.array([1 / len(one.options) for one in singles])
    number = len({one.id for one in singles})
    chance = float((weights * luck).sum() / weights.sum())
    half = 1.96 * (chance * (1 - chance) / number) ** 0.5
    return Score(number, float((weights * hits).sum() / weights.sum()), chance, half)


def score_lists(reads: Sequence[Read]) -> Score:
    """Return how often the rule ranks a right option of a list above a wrong one, against dice.

    The spread of a mean of areas under the curve, by Hanley & McNeil (1982), Radiology 143,
    for one that does not tell: (r + w + 1) / (12 r w) each.
    """
    lists = [one for one in reads if one.several]
    found = chances(lists)
    areas, spreads, weights = [], [], []
    for one, p in zip(lists, found, strict=True):
        right, wrong = p[np.array(one.right)], p[~np.array(one.right)]
        wins = (right[:, None] > wrong) + 0.5 * (right[:, None] == wrong)
        areas.append(wins.mean())
        spreads.append((len(right) + len(wrong) + 1) / (12 * len(right) * len(wrong)))
        weights.append(one.weight)
    share = np.array(weights) / sum(weights)
    number = len({one.id for one in lists})
    half = 1.96 * (float((share * spreads).sum()) / number) ** 0.5
    return Score(number, float((share * areas).sum()), 0.5, half)
