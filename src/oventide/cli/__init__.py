"""The terminal face."""
