"""Hypothesis: searching on a desk, always the same search where a run must be repeatable."""

import os

from hypothesis import HealthCheck, settings

# A shared machine stalls now and then; that is no fault of the code under test.
_PATIENT = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}

settings.register_profile("desk", **_PATIENT)
settings.register_profile("ci", derandomize=True, print_blob=True, **_PATIENT)
settings.load_profile("ci" if os.environ.get("CI") else "desk")
