"""Lull: the week's enclosed-space entries, clear of every conflict."""
