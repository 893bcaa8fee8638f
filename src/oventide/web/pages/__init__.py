"""One module a page: what it shows (a context), and how a request becomes it (a handler)."""
