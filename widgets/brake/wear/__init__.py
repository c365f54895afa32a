"""Wear of the lining: growth of the gap, trend of readings, duty, next inspection."""
