"""Heads of the ledger: one hash for all of its entries, signed, printed and kept elsewhere."""
