"""What people decide about a sitting: decisions, appeals, withdrawals, each an entry of its own."""
