"""Gauge a hidden gap again and again, write it down, and learn how good one's own hand is."""

import secrets
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from widgets.brake.draws import Draws
from widgets.brake.gap.profile import GapField, Plane
from widgets.brake.ranges import in_range
from widgets.brake.sizes.size import BrakeSize
from widgets.instruments.feeler import (
    MOST_LEAVES,
    WIDEST_MM,
    Feel,
    GapReading,
    insert,
    leaf_set,
    read_gap,
)
from widgets.page.joining import joined_file
from widgets.page.panel import Panel
from widgets.page.style import joined_style

from .brake_explorers import USUAL_SIZE, lesson_size
from .hand_check import HandCheck, check_hand

_HERE = Path(__file__).parent
PLACES_DEG = (0.0, 120.0, 240.0)
ROUNDS = 3
CAREFUL_STEP_MM = 0.01  # the careful hand uses stacks of two leaves
FELT_WORDS = {
    Feel.SLIDES: "slides in, and you feel nothing. There is room to spare.",
    Feel.DRAGS: "goes in with a light drag. It fits.",
    Feel.WILL_NOT_ENTER: "will not enter.",
}


class OwnHand(Panel):
    """A gap to be gauged at three places in three rounds; nothing is told before it is asked.

    The gap, the dice and the careful hand's readings are plain attributes. They
    reach the page as results only after the last reading, and on request.

    Parameters
    ----------
    size : BrakeSize
        Whose gap.
    seed : bytes, optional
        16 or more, for tests; fresh ones, if not given.
    """

    _esm = joined_file(_HERE / "own_hand.js")
    _css = joined_style(_HERE / "explorer.css", _HERE / "own_hand.css")

    def __init__(self, size: BrakeSize, seed: bytes | None = None) -> None:
        self._size = size
        self._start(seed or secrets.token_bytes(32))
        super().__init__()

    def heard(self, content: Mapping[str, Any]) -> None:
        """Answer one wish of the page; one that cannot be is answered with a sentence."""
        if content.get("ask") == "everything":
            self.send({"leaves": sorted(self._leaves.marks_mm), **self._scene()})
            return
        wishes: dict[str, Callable[[Any], None]] = {
            "try": self._try,
            "write": self._write,
            "show": self._show,
            "again": self._again,
        }
        for name, do in wishes.items():
            if name in content:
                try:
                    do(content[name])
                except ValueError as error:
                    self._said = f"{str(error)[:1].upper()}{str(error)[1:]}."
                break
        self.send(self._scene())

    def _start(self, seed: bytes) -> None:
        draws = Draws(seed)
        limits = self._size.gap
        mean_mm = limits.setting_mm + (0.3 + 0.5 * draws.uniform("mean")) * (
            limits.max_mm - limits.setting_mm
        )
        tilt_mm = 0.15 * mean_mm * draws.uniform("tilt")
        plane = Plane(mean_mm, tilt_mm * draws.normal("cos") / 2, tilt_mm * draws.normal("sin") / 2)
        self._field = GapField(plane)
        self._draws, self._leaves = draws, leaf_set(draws.child("leaves"))
        self._notes: list[GapReading] = []
        self._attempt, self._shown, self._said = 0, False, ""

    @property
    def _place_deg(self) -> float:
        return PLACES_DEG[len(self._notes) % len(PLACES_DEG)]

    @property
    def _finished(self) -> bool:
        return len(self._notes) >= ROUNDS * len(PLACES_DEG)

    def _try(self, sent: object) -> None:
        """Put up to three leaves into the gap at the place in hand and tell what is felt."""
        if self._finished:
            raise ValueError("all readings are written down")
        marks = _marks(sent, self._leaves.marks_mm)
        stack = self._leaves.stack(marks)
        felt = insert(
            stack,
            self._field.at_mm(self._place_deg),
            self._draws.child("hand"),
            visit=len(self._notes),
            attempt=self._attempt,
        )
        self._attempt += 1
        total = sum(marks)
        named = " + ".join(f"{mark:.2f}" for mark in marks)
        name = f"{named} = {total:.2f} mm" if len(marks) > 1 else f"{total:.2f} mm"
        self._said = f"{name} {FELT_WORDS[felt.feel]}"

    def _write(self, sent: object) -> None:
        """Keep a bracket for the place in hand and walk on to the next."""
        if self._finished:
            raise ValueError("all readings are written down")
        if not isinstance(sent, Mapping):
            raise ValueError("a reading must be two numbers, mm")  # noqa: TRY004 -- a refusal
        go_mm = in_range(
            "the thickest that goes", _number(sent.get("go")), "mm", low=0, high=WIDEST_MM
        )
        no_go_mm = in_range(
            "the thinnest that does not",
            _number(sent.get("no_go")),
            "mm",
            above=go_mm,
            high=WIDEST_MM,
        )
        fine = no_go_mm - go_mm < 0.05 - 1e-9
        self._notes.append(GapReading(go_mm, no_go_mm, 2 if fine else 1))
        self._attempt, self._said = 0, "Written down. Next place." if not self._finished else ""

    def _show(self, _sent: object) -> None:
        if not self._finished:
            raise ValueError("the gap is shown when all readings are written down")
        self._shown = True

    def _again(self, _sent: object) -> None:
        self._start(secrets.token_bytes(32))

    def _scene(self) -> dict[str, Any]:
        """Return what the page may know now."""
        count, places = len(self._notes), len(PLACES_DEG)
        scene: dict[str, Any] = {
            "said": self._said,
            "done": count,
            "of": ROUNDS * places,
            "notes": [
                [
                    f"{PLACES_DEG[n % places]:.0f}°",
                    n // places + 1,
                    f"{r.go_mm:.2f}",
                    f"{r.no_go_mm:.2f}",
                ]
                for n, r in enumerate(self._notes)
            ],
        }
        if not self._finished:
            scene["task"] = (
                f"Round {count // places + 1} of {ROUNDS}, place {self._place_deg:.0f}°. Find the "
                "thickest stack that goes in and the thinnest that does not."
            )
            return scene
        scene["results"] = self._results()
        return scene

    def _results(self) -> dict[str, Any]:
        from widgets.charts.own_hand import own_hand_figure  # noqa: PLC0415 (late: slow to import)

        true_mm = [self._field.at_mm(angle) for angle in PLACES_DEG]
        rounds = _in_rounds(self._notes)
        mine = check_hand(rounds, true_mm)
        careful = check_hand(_in_rounds(self.careful_readings()), true_mm)
        drawn = own_hand_figure(PLACES_DEG, rounds, true_mm if self._shown else ())
        return {
            "sentences": list(mine.sentences),
            "rows": [
                [
                    "Bias, reading minus gap",
                    f"{mine.bias_mm:+.3f} mm",
                    f"{careful.bias_mm:+.3f} mm",
                ],
                _scatter_row("Repeatability (1 standard deviation)", mine, careful),
                [
                    "Two readings differ by up to (95 of 100)",
                    f"{mine.limit_mm:.3f} mm",
                    f"{careful.limit_mm:.3f} mm",
                ],
                [
                    "Readings within ± 2 u of the gap",
                    f"{mine.held} of {mine.count}",
                    f"{careful.held} of {careful.count}",
                ],
            ],
            "figure": {"url": drawn.data_url, "alt": drawn.alt},
            "shown": self._shown,
        }

    def careful_readings(self) -> list[GapReading]:
        """Return what a careful person reads at the same places, with the same leaves, mm."""
        dice = self._draws.child("careful hand")
        return [
            read_gap(
                self._leaves,
                self._field.at_mm(PLACES_DEG[visit % len(PLACES_DEG)]),
                dice,
                visit=visit,
                step_mm=CAREFUL_STEP_MM,
            )
            for visit in range(ROUNDS * len(PLACES_DEG))
        ]


def _scatter_row(name: str, mine: HandCheck, careful: HandCheck) -> list[str]:
    return [name, f"{mine.repeatability_mm:.4f} mm", f"{careful.repeatability_mm:.4f} mm"]


def _in_rounds(notes: list[GapReading]) -> list[list[GapReading]]:
    places = len(PLACES_DEG)
    return [notes[start : start + places] for start in range(0, len(notes), places)]


def _number(sent: object) -> float:
    if isinstance(sent, bool) or not isinstance(sent, (int, float)):
        raise ValueError("a reading must be two numbers, mm: goes in, and does not")  # noqa: TRY004 -- a refusal
    return float(sent)


def _marks(sent: object, at_hand: Sequence[float]) -> tuple[float, ...]:
    """Return the marks of one to three leaves that the page sent, mm."""
    if not isinstance(sent, list) or not 1 <= len(sent) <= MOST_LEAVES:
        raise ValueError(f"choose one leaf, or a stack of up to {MOST_LEAVES}")
    marks = tuple(_number(mark) for mark in sent)
    for mark in marks:
        if mark not in at_hand:
            raise ValueError(f"there is no leaf of {mark:g} mm in this set")
    if len(set(marks)) < len(marks):
        twice = next(mark for mark in marks if marks.count(mark) > 1)
        raise ValueError(f"there is one leaf of {twice:.2f} mm in this set, not two")
    return marks


def own_hand(size_name: str = USUAL_SIZE) -> OwnHand:
    """Return the panel on which one measures one's own repeatability."""
    return OwnHand(lesson_size(size_name))
