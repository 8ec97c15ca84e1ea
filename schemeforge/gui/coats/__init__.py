"""The Coats page: the cutaway of one zone and all that belongs to it."""
