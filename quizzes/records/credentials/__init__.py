"""Competency records: what one says, how it leaves the house signed, how anybody checks it."""
