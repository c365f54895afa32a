"""Sheets for paper: PDF in A4 and Letter, the same bytes for the same facts and date."""
