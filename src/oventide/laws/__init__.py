"""Rate laws, pure and compiled: cardinal temperature, Arrhenius, osmotic brake, saturating uptake."""
