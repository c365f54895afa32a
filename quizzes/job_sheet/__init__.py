"""Readings from a real brake, judged: entry, findings, history, words. No widgets."""
