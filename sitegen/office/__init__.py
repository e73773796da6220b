"""The office's own view of one job: what it costs, what it earns, what moves that.  Private; no sheet can reach it."""
