"""The pages of the three people, and the server that carries them."""
