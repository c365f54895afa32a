"""Sheets on a page: limits sheet, job sheet, results."""
