"""builderlog: a builder's journal of shop notes becomes totals, a site for friends and evidence."""

__version__ = "0.1.0"
