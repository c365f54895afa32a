"""What a work order allows, and what the job ends with, in words."""

from widgets.bench.setup import Order, Start

_BOX = {
    True: "You may open the terminal box.",
    False: "The terminal box is opened by an electrician only.",
}
_TEST = {
    "run": "The job ends with a run without load; no load test is asked for.",
    "static": "The job ends with the static load test of the limits sheet.",
    "dynamic": "The job ends with both load tests of the limits sheet: held, then stopped.",
}
_WHO = {True: "You may do it.", False: "It is done by a person authorised for it, not by you."}


def authority_words(order: Order) -> list[str]:
    """Return what the order allows, one sentence a line; nothing where it ends at the decision."""
    if order.start is not Start.WORK_ORDER and order.ends_at_decision:
        return []
    test = _TEST[order.ends_with]
    if order.ends_with != "run":
        test = f"{test} {_WHO['load-test' in order.may]}"
    return [_BOX["terminals" in order.may], test]
