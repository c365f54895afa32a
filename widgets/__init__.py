"""The brake and everything one can touch."""
