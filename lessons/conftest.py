"""Lessons keep no count of their runs, but nbval compares only cells that have one."""


def pytest_collection_modifyitems(items):
    """Give each cell with a stored output a count, in memory, so that nbval compares it."""
    for item in items:
        cell = getattr(item, "cell", None)
        if getattr(cell, "outputs", None) and cell.execution_count is None:
            cell.execution_count = 1
