"""Sheets: ready words and numbers, frozen; pages, tables and papers print the same."""
