"""Noting: what the builder asks us to write into the journal; only what was asked, nothing else."""
