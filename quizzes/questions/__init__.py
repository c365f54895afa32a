"""The knowledge bank and its question types."""
