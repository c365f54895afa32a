"""What the fields of a limits sheet are called in words, with their units."""

LABELS = {
    "name": "name of the size",
    "design": "what sets the gap",
    "gap_max_mm": "largest gap, mm",
    "disc_min_mm": "least thickness of the disc, mm",
    "gap_setting_mm": "gap to be set, mm",
    "gap_min_mm": "least gap, mm",
    "gap_evenness_mm": "largest difference of the gap round the rim, mm",
    "disc_new_mm": "thickness of a new disc, mm",
    "lining_new_mm": "thickness of a new lining, mm",
    "lining_min_mm": "least thickness of a lining, mm",
    "wear_plate_mm": "thickness of the wear plate, mm",
    "torque_nm": "braking torque, N·m",
    "lining_inner_radius_mm": "inner radius of the lining, mm",
    "lining_outer_radius_mm": "outer radius of the lining, mm",
    "friction": "coefficient of friction",
    "spring_count": "number of springs",
    "spring_force_each_n": "force of one spring, N",
    "spring_rate_each_n_per_mm": "rate of one spring, N/mm",
    "screw_thread": "thread of the hollow screws",
    "screw_pitch_mm": "pitch of the hollow screws, mm",
    "shim_step_mm": "thinnest shim, mm",
    "ring_notch_mm": "what one notch of the adjusting ring moves, mm",
    "screw_circle_mm": "diameter on which the screws stand, mm",
    "gauging_circle_mm": "diameter on which the gap is gauged, mm",
    "retaining_thread": "thread of the retaining screws",
    "retaining_torque_nm": "tightening torque of the retaining screws, N·m",
    "coil_voltage_v": "voltage of the coil, V",
    "coil_resistance_20_ohm": "resistance of the coil at 20 °C, Ω",
    "coil_turns": "turns of the coil",
    "pole_area_cm2": "area of each pole, cm²",
    "residual_gap_mm": "gap that stays open at each pole, mm",
    "iron_path_mm": "length of the path in iron, mm",
    "hoist_load_kg": "rated load of the hoist, kg",
    "hoist_speed_m_per_min": "lifting speed, m/min",
    "motor_rpm": "speed of the motor, rpm",
    "motor_inertia_kgm2": "inertia of the motor with fan and disc, kg·m²",
    "torque_rise_ms": "rise time of the torque, ms",
    "test_static": "load of the static test over the rated load",
    "test_dynamic": "load of the dynamic test over the rated load",
}


def labelled(key: str) -> str:
    """Return a field's label with its key, by which it is found in the file.

    Examples
    --------
    >>> labelled("torque_nm")
    'braking torque, N·m (torque_nm)'
    >>> labelled("colour")
    'colour'
    """
    return f"{LABELS[key]} ({key})" if key in LABELS else key
