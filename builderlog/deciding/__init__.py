"""Deciding: pure sums and judgements; no files, no HTML, no clock."""
