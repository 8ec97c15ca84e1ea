"""The Batch page: groups, zones, who gets what, steps, pots and hours."""
