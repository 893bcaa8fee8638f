"""Use cases: what the two faces ask for. Clock and seed enter here, and nowhere below."""
