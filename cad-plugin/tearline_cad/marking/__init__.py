"""Marking the damage by clicks on the hull."""
