"""Keys: who signs, where the secret lies, and whom a verifier trusts from when until when."""
