"""Orders of work on a lesson's page: a numbered list, with what leaving a step out costs."""

from html import escape

from ipywidgets import HTML

from widgets.bench.orders.catalogue import ORDERS


def order_list(name: str, *, without_slips: bool = False) -> HTML:
    """Return an order of work as a numbered list; under a step stands what leaving it out costs.

    Parameters
    ----------
    name : str
        One of `ORDERS`.
    without_slips : bool
        Whether the steps stand alone.

    Raises
    ------
    KeyError
        If there is no such order.
    """
    lines = []
    for step in ORDERS[name].steps:
        slip = (
            "" if without_slips or not step.if_not else f"<br><small>{_slip(step.if_not)}</small>"
        )
        lines.append(f"<li>{escape(step.words)}{slip}</li>")
    return HTML(f"<ol>{''.join(lines)}</ol>").add_class("suite-order")


def _slip(words: str) -> str:
    return f"If not: {escape(words)}."
