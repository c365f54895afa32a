"""The glossary: every word of the trade that the suite uses, explained."""
