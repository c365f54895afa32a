"""What a page shows next, and an end to what it showed before.

The kernel keeps every widget until it is closed, and a bench keeps its brake.
"""

from ipywidgets import Box, Widget


def show_only(page: Box, *parts: Widget, keep: tuple[Widget, ...] = ()) -> None:
    """Let a page show these parts, and close for good what it showed before.

    Parameters
    ----------
    page : Box
        The page.
    *parts : Widget
        All that it shows from now on, in order.
    keep : tuple of Widget
        What is not shown now and comes back later.
    """
    before = page.children
    page.children = parts
    for old in before:
        if not any(old is one for one in (*parts, *keep)):
            close_whole(old)


def close_whole(widget: Widget) -> None:
    """Close a widget with its parts, and with the layout and style that each has to itself."""
    held = [getattr(widget, name, None) for name in ("children", "layout", "style")]
    widget.close()
    for one in held:
        for inner in one if isinstance(one, tuple) else (one,):
            if isinstance(inner, Widget):
                close_whole(inner)
