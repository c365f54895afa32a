"""Cases: a brake with a hidden condition and a work order, drawn from a seed."""
