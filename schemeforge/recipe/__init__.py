"""Recipes from a target, and what stands in for a paint that is not there."""
