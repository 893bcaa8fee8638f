"""The validation book: every published curve, table and worked example with ours beside it."""
