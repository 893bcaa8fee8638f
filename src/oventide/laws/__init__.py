"""Rate laws, pure and without knowledge of bread: cardinal temperature, Arrhenius, D and z, osmotic inhibition."""
