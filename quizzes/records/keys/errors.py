"""What is said when a key cannot be used: one sentence, and never the key."""


class KeyFileError(Exception):
    """A key's file or a list of trusted keys cannot be used: which, what is wrong, what to do."""
