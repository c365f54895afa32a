"""What springs, magnet and coil of one size do over gap, current and heat: the still tables."""

import numpy as np

from widgets.brake.magnet import dropout_voltage_v, flux_density_t, pull_n, release_voltage_v
from widgets.brake.magnet.coil import coil_ampere_turns
from widgets.brake.sizes.size import BrakeSize
from widgets.brake.torque.braking import torque_at_gap_nm
from widgets.brake.torque.clamping import clamping_force_n
from widgets.charts.release_over_gap import WIDEST_SHARE
from widgets.charts.torque_over_gap import load_nm

from .tables import Array, Axis, Table, crowded

MOST_SUPPLY = 120.0  # % of rated voltage, end of the slider
COIL_C = (0.0, 130.0)  # °C, coldest and hottest coil that can be asked for
LEAST_GAP_MM = 0.02


def widest_gap_mm(size: BrakeSize) -> float:
    """Return the widest gap that is drawn, mm: beyond it the model is not to be trusted."""
    return round(WIDEST_SHARE * size.gap.max_mm, 2)


def coil_axis() -> Axis:
    """Return the temperatures of the coil, °C."""
    return Axis("coil_c", "°C", np.linspace(*COIL_C, 14))


def gap_axis(size: BrakeSize, count: int = 41) -> Axis:
    """Return gaps from nearly none to the widest, mm."""
    return Axis("gap_mm", "mm", np.linspace(LEAST_GAP_MM, widest_gap_mm(size), count))


def drive_table(size: BrakeSize) -> Table:
    """Return ampere-turns and current of the coil over supply, % of rated, and temperature, °C."""
    supply, coil = Axis("supply", "%", np.array([0.0, MOST_SUPPLY])), coil_axis()
    voltage_v = supply.points[:, None] / 100 * size.coil.voltage_v
    drive = np.asarray(coil_ampere_turns(size.coil, voltage_v, coil.points[None, :]))
    return Table((supply, coil), {"ampere_turns": drive, "current_a": drive / size.coil.turns})


def magnet_table(size: BrakeSize) -> Table:
    """Return flux density, T, and pull, N, over the open gap, mm, and the ampere-turns."""
    most = float(np.max(drive_table(size).columns["ampere_turns"]))
    opened = Axis("open_mm", "mm", crowded(widest_gap_mm(size), 41))
    drive = Axis("ampere_turns", "A", crowded(most, 73, power=1.5))
    grid = (opened.points[:, None], drive.points[None, :])
    density = flux_density_t(*grid, size.magnet)
    return Table((opened, drive), {"flux_t": density, "pull_n": pull_n(*grid, size.magnet)})


def springs_table(size: BrakeSize) -> Table:
    """Return the force of the springs, N, over the distance of the plate from the poles, mm."""
    opened = Axis("open_mm", "mm", np.linspace(0.0, widest_gap_mm(size), 13))
    return Table((opened,), {"spring_n": _springs_n(size, opened.points)})


def hold_table(size: BrakeSize) -> Table:
    """Return braking torque, N·m, and how many times the load that is, over the gap, mm."""
    gap = gap_axis(size, 13)
    torque = np.asarray(torque_at_gap_nm(size, gap.points))
    return Table((gap,), {"torque_nm": torque, "times_load": torque / load_nm(size)})


def release_table(size: BrakeSize) -> Table:
    """Return the voltage that pulls the plate in, % of rated, over gap, mm, and heat, °C."""
    gap, coil = gap_axis(size), coil_axis()
    force_n = _springs_n(size, gap.points)[:, None]
    needed_v = release_voltage_v(
        gap.points[:, None], force_n, size.magnet, size.coil, coil.points[None, :]
    )
    return Table((gap, coil), {"release": 100 * np.asarray(needed_v) / size.coil.voltage_v})


def let_go_table(size: BrakeSize) -> Table:
    """Return the falling voltage at which the plate lets go, % of rated, over heat, °C."""
    coil = coil_axis()
    force_n = float(clamping_force_n(0.0, size.springs, size.gap.setting_mm))
    let_go_v = [dropout_voltage_v(force_n, size.magnet, size.coil, c) for c in coil.points.tolist()]
    return Table((coil,), {"let_go": 100 * np.array(let_go_v) / size.coil.voltage_v})


def still_tables(size: BrakeSize) -> dict[str, Table]:
    """Return all tables that need no time, by name."""
    return {
        "drive": drive_table(size),
        "magnet": magnet_table(size),
        "springs": springs_table(size),
        "hold": hold_table(size),
        "release": release_table(size),
        "let_go": let_go_table(size),
    }


def _springs_n(size: BrakeSize, opened_mm: Array) -> Array:
    return np.asarray(clamping_force_n(opened_mm, size.springs, size.gap.setting_mm))
