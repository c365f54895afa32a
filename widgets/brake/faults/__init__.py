"""The fault catalogue: what each fault changes, and laying one or several on a brake."""

from .catalogue import FAULTS, Dose, Fault, apply, apply_all, dose_of, fault

__all__ = ["FAULTS", "Dose", "Fault", "apply", "apply_all", "dose_of", "fault"]
