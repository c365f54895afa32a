"""The room's network: the address that the class opens, and its certificate for a day."""
