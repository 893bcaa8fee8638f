"""One module a subject; each has CHECKS, a tuple of `validation.model.Check`."""
