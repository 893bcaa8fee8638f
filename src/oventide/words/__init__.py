"""Languages: what is said at the bench and on paper, by catalogue; figures and dates as a language writes them."""
