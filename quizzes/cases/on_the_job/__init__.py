"""Families of whole jobs: what hoist, instruments and people at it decide beside the brake."""
