"""Handover: sheets and originals to the inspector."""
