"""What can be erased: words about one person and photographs, kept beside the ledger."""
