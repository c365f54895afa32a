"""Looking the instruments over, and taking others: leaves, caliper, torque wrench."""

from dataclasses import replace

from widgets.bench.actions import ChangeTool, CheckTool
from widgets.bench.observed import Outcome, seen
from widgets.bench.setup import Setup
from widgets.bench.state import State
from widgets.brake.tools import BENT_FROM_MM, IN_ORDER
from widgets.instruments.feeler import LeafSet

_FIELDS = {
    "leaves": "leaf_kink_mm",
    "caliper": "caliper_zero_mm",
    "wrench": "wrench_share",
}


def check_tool(setup: Setup, state: State, action: CheckTool) -> Outcome:
    """Return what an instrument shows of itself."""
    tools, tool = state.brake.tools, action.tool
    others = tuple(one for one in state.tools_checked if one != tool)
    changed = state._replace(tools_checked=(*others, tool))
    if tool == "leaves":
        return seen(changed, "tool.leaves", tool=tool, straight=tools.leaf_kink_mm == 0)
    if tool == "caliper":
        return seen(changed, "tool.caliper", tool=tool, zero_mm=round(tools.caliper_zero_mm, 2))
    set_nm = setup.size.screws.retaining_torque_nm
    clicks_nm = round(set_nm * tools.wrench_share, 1)
    return seen(changed, "tool.wrench", tool=tool, set_nm=set_nm, clicks_nm=clicks_nm)


def change_tool(_: Setup, state: State, action: ChangeTool) -> Outcome:
    """Return the job with an instrument in order."""
    name = _FIELDS[action.tool]
    tools = replace(state.brake.tools, **{name: getattr(IN_ORDER, name)})
    changed = state._replace(brake=replace(state.brake, tools=tools))
    return seen(changed, "tool.changed", tool=action.tool)


def leaves_now(setup: Setup, state: State) -> LeafSet:
    """Return the leaves as they are: bent ones take up more room."""
    kink_mm = state.brake.tools.leaf_kink_mm
    if not kink_mm:
        return setup.leaves
    key = ("bent leaves", kink_mm)
    if key not in setup.known_gaps:
        bent = (replace(leaf, kink_mm=kink_mm) if leaf.nominal_mm >= BENT_FROM_MM else leaf
                for leaf in setup.leaves.leaves)  # fmt: skip
        setup.known_gaps[key] = LeafSet(bent)
    leaves: LeafSet = setup.known_gaps[key]
    return leaves
