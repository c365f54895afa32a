"""The model of the brake: sizes, gap, torque, magnet, hoist, wear, condition, rules."""
