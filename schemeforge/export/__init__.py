"""Desk sheets and recipe strips as PDF, PNG and CSV: everything without a screen."""
