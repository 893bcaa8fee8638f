"""Readings of a timeline as windows with reasons."""
