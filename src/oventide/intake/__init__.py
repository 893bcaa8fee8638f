"""Pasted text, our TOML and schema.org JSON-LD, in and out."""
