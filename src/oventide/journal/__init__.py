"""Storage: revisions of products and kitchens in SQLite."""
