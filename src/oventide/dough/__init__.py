"""What dough does before the oven: mixing, fermentation, proof, butter softening."""
