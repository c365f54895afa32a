"""Closing up, proving and handing over, as a virtual candidate does it."""

from quizzes.cases.next_due import next_days
from widgets.bench import actions as do
from widgets.brake.judgement.signs import Finding
from widgets.brake.magnet.coil import coil_resistance_ohm

from .job import Job, made
from .judging import refer_after_all
from .measuring import discs_believed, gauge_as_found
from .own_rules import KNOWN, asks_to_refer, heeded, is_uneven, supply_says

HOIST, TEST = do.Energise("hoist"), do.Energise("test")
CLOSE_BOX = do.CloseBox()
HALF_TURN, QUARTER_TURN = do.TurnShaft(180.0), do.TurnShaft(90.0)
# Hot at low mains it must still release: 0.90 of the voltage over the rise of copper to 100 °C.
HOT_OVER_COLD_C = 100.0
LOW_MAINS = 0.90
_SPOILS_A_RUN = frozenset({"fan-rattles", "smell-of-lining"})


def isolate(job: Job) -> None:
    """Lock the supply off and prove the brake dead; find a second feed where the tester says so."""
    if not job.habits.isolates:
        return
    job.supply_off()
    if not job.habits.proves_dead:
        return
    job.open_box()
    if job.act(made(do.ProveDead)).facts.get("dc_live"):
        job.notice(["hums-at-rest"])
        job.act(made(do.IsolateSecond))
        job.act(made(do.ProveDead))


def try_supply(job: Job) -> None:
    """Energise with the brake open: voltage at the coil, how it applies; turn an uneven one.

    The shaft is turned with the supply locked off again and the coil on the test supply.
    """
    uneven = is_uneven(job.row, job.gaps)
    job.supply_on()
    released = bool(job.act(HOIST).facts.get("released"))
    _read_voltage(job)
    if uneven and released and not job.habits.turns_locked_off:
        job.act(HALF_TURN)
    if job.act(made(do.DeEnergise)).facts.get("applied") == "late":
        job.notice(["late-dull-tap"])
    isolate(job)
    if uneven and released:
        if job.habits.turns_locked_off:
            _released_by_test_supply(job, HALF_TURN)
        gauge_as_found(job)


def _released_by_test_supply(job: Job, *turns: do.TurnShaft) -> tuple[bool, list[object]]:
    """Release by the test supply, turn the shaft by hand; return whether it let go, how it felt."""
    supply = TEST if job.locked_off else HOIST
    released = bool(job.act(supply).facts.get("released"))
    felt = [job.act(wish).facts.get("turns") for wish in turns]
    job.act(made(do.DeEnergise))
    return released, felt


def _read_voltage(job: Job) -> None:
    shown_v = job.act(made(do.MeasureCoil, "voltage")).facts.get("shown_v")
    if shown_v is not None:
        job.act(made(do.WriteValue, "voltage_v", max(0.0, shown_v)))
        job.notice([supply_says(job.plate, shown_v)])


def close_and_hand_over(job: Job, *, into_service: bool) -> None:
    """Put seal, fan and ring on, prove what goes into service, cover, tests, record."""
    if job.habits.closes_up:
        _parts_on(job)
    good = into_service and (_proved_open(job) if job.habits.proves else True)
    if job.habits.closes_up:
        if not job.box_on:
            job.act(CLOSE_BOX)
        job.act(made(do.RefitCover))
    if good:
        job.supply_on()
        good = _tested(job)
    if good and _leaves_the_test(job):
        job.supply_off()
        job.act(do.HandOver(into_service=False, awaits_test=True))
        return
    if good:
        days = next_days(job.row, job.order, job.gaps, discs_left(job))
        job.act(do.HandOver(into_service=True, next_days=days))
        return
    if into_service:
        refer_after_all(job, "It did not pass its tests.", Finding.NO_HOLD)
    job.supply_off()
    job.act(do.HandOver(into_service=False))


def discs_left(job: Job) -> list:  # type: ignore[type-arg]
    """Return the disc readings of what is on the hub now."""
    return [] if job.new_disc else discs_believed(job)


def _parts_on(job: Job) -> None:
    seal = do.RefitSeal("old" if job.band_there else "new")
    fan = do.RefitFan()
    for wish in (seal, fan) if job.habits.order_of_parts else (fan, seal):
        if job.body_on or wish is fan:
            job.act(wish)
    job.act(made(do.RefitRing))


def _proved_open(job: Job) -> bool:
    """Return whether it releases with enough to spare, and the shaft is free at two places."""
    found = job.act(made(do.FindRelease))
    percent = found.facts.get("percent")
    if percent is not None:
        job.act(made(do.WriteValue, "release_percent", percent))
    felt: list[object] = []
    if job.habits.turns_locked_off:
        _, felt = _released_by_test_supply(job, HALF_TURN, QUARTER_TURN)
    job.supply_on()
    released = bool(job.act(HOIST).facts.get("released"))
    _read_voltage(job)
    if not job.habits.turns_locked_off:
        felt = [job.act(wish).facts.get("turns") for wish in (HALF_TURN, QUARTER_TURN)]
    prompt = job.act(made(do.DeEnergise)).facts.get("applied") == "prompt"
    isolate(job)
    free = "rubs" not in felt and "jerks" not in felt
    return released and free and prompt and (not found.done or _spare(job, percent))


def _spare(job: Job, percent: float | None) -> bool:
    """Return whether a pick-up found cold leaves enough for a hot coil at low mains."""
    coil = job.plate.coil
    rise = coil_resistance_ohm(coil, HOT_OVER_COLD_C) / coil_resistance_ohm(coil, job.coil_c)
    return percent is not None and percent <= 100 * LOW_MAINS / rise


def _leaves_the_test(job: Job) -> bool:
    """Return whether the order asks for a load test and leaves it to others."""
    order = job.order
    for_others = order.ends_with != "run" and "load-test" not in order.may
    return for_others and job.habits.heeds_authority and job.habits.proves


def _tested(job: Job) -> bool:
    """Return whether it passed run and load test, or went untested."""
    if job.new_disc:
        job.act(made(do.BedIn))
    if not job.habits.proves:
        return True
    tried = job.act(made(do.TestRun))
    if not tried.done:
        return True  # whoever cannot test hands over untested
    run = tried.facts.get("symptoms", ())
    job.notice(run)
    if not job.habits.heeds_signs:
        return _held(job) is not False
    known = heeded([code for code in run if code in KNOWN], job.habits)
    quiet = _SPOILS_A_RUN.isdisjoint(run) and not asks_to_refer(known)
    return quiet and _held(job) is True


def _held(job: Job) -> bool | None:
    """Return whether the load was held that the order ends with; True where it asks for none."""
    if _leaves_the_test(job) or job.order.ends_with == "run":
        return True
    dynamic = job.order.ends_with == "dynamic"
    if job.order.brakes > 1 and job.habits.each_brake:
        return _lifted(job, do.TestHold(dynamic=dynamic, on="this")) and _lifted(
            job, do.TestHold(dynamic=dynamic, on="other")
        )
    return _lifted(job, do.TestHold(dynamic=dynamic))


def _lifted(job: Job, wish: do.TestHold) -> bool | None:
    seen = job.act(wish).facts
    if seen.get("shaft") == "still":
        job.notice(["clutch-marks-apart"])
    holds: bool | None = seen.get("holds")
    return holds
