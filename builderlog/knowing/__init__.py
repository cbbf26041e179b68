"""Knowing: raw notes to the ledger, the trade's nouns, frozen, each with its place."""
