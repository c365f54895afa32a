"""The whole ledger audited: against itself, against the heads that this house and others keep."""
