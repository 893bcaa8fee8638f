"""The journal's schema, step by step; run at start by oventide.journal.upgrade."""
