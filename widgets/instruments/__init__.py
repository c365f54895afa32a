"""How a reading comes about: gauges, caliper, rule, meter, and their uncertainty."""
