"""Schemes: candidates side by side, and what tells them apart."""
