"""The air gap round the rim: its profile, levelling with three screws, reversal, clearance."""
