"""Putting the pages on a screen: the server, its page template's facts and its guards."""
