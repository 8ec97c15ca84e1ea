"""Paints of one's own, and one's own hand: from readings, photographs and colours. Made lazily."""
