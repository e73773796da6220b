"""Scope items: what a crew does in one house, how much of it each option does, and what it is priced and costs at."""
