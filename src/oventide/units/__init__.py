"""Units at the edge: exact factors, spoons and cups by country, numbers as people write them."""
