"""Recipes in the window: asked from any colour, found beside the window, put into a coat."""
