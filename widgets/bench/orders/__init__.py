"""Orders of work: the one place that says what comes after what, and why."""
